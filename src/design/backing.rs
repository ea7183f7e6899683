//! Pieces of white film that are laid on the part before the label, for who cannot print white.

use super::{Design, Mark, Plate, Role};
use crate::finding::{Finding, Findings};
use crate::shape::Outline;
use crate::spec::{Applied, Film, Label, Spec, Split, White};
use kurbo::{BezPath, Shape as _};

/// Width of the line round a backing, mm: what any printer class can print (common practice, no source).
const LINE_MM: f64 = 0.25;

/// The backings that labels of a job ask for: a label of its own for each, and its design, named after the
/// design it goes under.
///
/// A backing has the outline of the ink without its holes, drawn in by the choke. Nothing is printed on it; a
/// line round it says where to cut.
#[must_use]
pub fn backings(spec: &Spec, designs: &[Design], findings: &mut Findings) -> Vec<(Label, Design)> {
    let mut all = Vec::new();
    for design in designs {
        let Some(label) = spec.labels.get(design.label) else { continue };
        let White::Backing { choke_mm } = label.white else { continue };
        let silhouette = silhouette(design);
        let pieces = silhouette.contours().count();
        let trim = silhouette.common(&design.trim).grown(-choke_mm);
        if trim.is_empty() || pieces > 1 {
            findings.push(unfit(pieces, choke_mm).at(label.place).label(&label.name));
        }
        if !trim.is_empty() {
            let index = spec.labels.len() + all.len();
            all.push((of_label(label, design), of_design(design, trim.snug(), index)));
        }
    }
    all
}

fn unfit(pieces: usize, choke_mm: f64) -> Finding {
    if pieces > 1 {
        let message = format!("the backing would be {pieces} loose pieces of film");
        return Finding::warning("loose-backing", message)
            .help("put the ink into one box, or print on film: white");
    }
    let message = format!("nothing is left of the backing {choke_mm:.2} mm inside the ink");
    Finding::error("loose-backing", message).help("make the choke smaller, or print on film: white")
}

/// The outline of all ink, its holes filled.
fn silhouette(design: &Design) -> Outline {
    let inks = design.marks.iter().filter(|mark| matches!(mark.plate, Plate::Ink(_)));
    let all = inks.fold(Outline::default(), |all, mark| all.union(&mark.path));
    // Outer contours run from +x to +y and have a positive area, holes a negative one.
    let outer = all.contours().filter(|contour| contour.area() > 0.0);
    Outline::of(&outer.flat_map(BezPath::into_iter).collect())
}

fn of_label(label: &Label, design: &Design) -> Label {
    Label {
        name: format!("{}-backing", design.name),
        film: Film::White,
        applied: Applied::FaceUp,
        viewed: None,
        white: White::None,
        handed_pair: false,
        overlay_of: None,
        parts: Vec::new(),
        split: Split::Never,
        note: Some(format!("nothing printed; lay it first, {} over it", design.name)),
        ..label.clone()
    }
}

/// A white piece on white film needs a line to cut along: it runs outside the trim, so that none of it stays.
fn of_design(design: &Design, trim: Outline, label: usize) -> Design {
    let line = trim.grown(LINE_MM).minus(&trim);
    Design {
        name: format!("{}-backing", design.name),
        label,
        trim,
        bleed_mm: 0.0,
        marks: vec![Mark { path: line, plate: Plate::Guide, role: Role::Line, from: design.from }],
        white: None,
        words: Vec::new(),
        codes: Vec::new(),
        ..*design
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::colour::Colour;
    use crate::output::samples;
    use crate::shape::rectangle;
    use kurbo::{Rect, Size};

    fn backed(marks: Vec<Mark>, choke_mm: f64) -> (Vec<(Label, Design)>, Findings) {
        let mut spec = samples::empty_spec();
        let label = Label { copies: 3, ..samples::label("horn") };
        spec.labels = vec![Label { white: White::Backing { choke_mm }, ..label }];
        let designs = [samples::design("horn", 0, Size::new(22.0, 12.0), marks)];
        let mut findings = Findings::default();
        (backings(&spec, &designs, &mut findings), findings)
    }

    fn boxed(rect: Rect, hole: Rect) -> Mark {
        samples::ink(rectangle(rect).minus(&rectangle(hole)), Colour::BLACK, Role::Fill)
    }

    #[test]
    fn a_backing_is_the_ink_without_its_holes_drawn_in_by_the_choke() {
        let (rect, hole) = (Rect::new(-10.0, -5.0, 10.0, 5.0), Rect::new(-2.0, -1.0, 2.0, 1.0));
        let (made, findings) = backed(vec![boxed(rect, hole)], 0.3);
        let [(label, design)] = made.as_slice() else { panic!("one backing") };
        // (20 - 0.6) x (10 - 0.6) = 182.36, the corners of a shrunk rectangle stay sharp.
        assert!((design.trim.area() - 182.36).abs() < 0.01, "{}", design.trim.area());
        assert_eq!((label.film, label.copies, design.label), (Film::White, 3, 1));
        assert!(design.marks.iter().all(|mark| mark.path.common(&design.trim).area() < 1e-6));
        assert!(findings.list().is_empty());
    }

    #[test]
    fn loose_pieces_and_nothing_left_are_told() {
        let rect = |x: f64| boxed(Rect::new(x, 0.0, x + 2.0, 2.0), Rect::ZERO);
        let (made, findings) = backed(vec![rect(0.0), rect(4.0)], 0.3);
        assert_eq!((made.len(), findings.list()[0].code), (1, "loose-backing"));
        let (made, findings) = backed(vec![rect(0.0)], 1.5);
        assert!(made.is_empty() && findings.any_error());
    }
}
