//! Pieces of white film that go behind the label, for who cannot print white.

use super::{Design, Mark, Plate, Role};
use crate::finding::{Finding, Findings};
use crate::shape::Outline;
use crate::spec::{Applied, Film, Label, LabelKind, Spec, Split, White};
use kurbo::{Affine, BezPath, Shape as _};
use std::collections::BTreeSet;

/// Width of the line round a backing, mm: what any printer class can print (common practice, no source).
const LINE_MM: f64 = 0.25;

/// Film narrower than this tears when it is slid, mm (common practice, no source).
const LEAST_FILM_MM: f64 = 1.0;

/// The backings that labels of a job ask for: a label of its own for each, and its design, named after the
/// design it goes behind.
///
/// A backing has the outline of what is painted without its holes, drawn in by the choke. Nothing is printed on
/// it; a line round it says where to cut. Seen through its label's film, it is cut the other way round.
#[must_use]
pub(crate) fn backings(
    spec: &Spec,
    designs: &[Design],
    findings: &mut Findings,
) -> Vec<(Label, Design)> {
    let mut names: BTreeSet<String> = spec.labels.iter().map(|label| label.name.clone()).collect();
    let mut all = Vec::new();
    for design in designs {
        let Some(whole) = &design.backing else { continue };
        let Some(label @ Label { white: White::Backing { choke_mm }, .. }) =
            spec.labels.get(design.label)
        else {
            debug_assert!(false, "only a design of a label that asks for a backing has one");
            continue;
        };
        let trim = whole.common(&design.trim).grown(-choke_mm);
        if let Some(finding) = unfit(&trim, *choke_mm, design) {
            findings.push(finding.at(label.place).label(&label.name));
        }
        if trim.is_empty() {
            continue;
        }
        let mirrored = label.applied.mirrored();
        let trim = if mirrored { trim.placed(Affine::FLIP_X) } else { trim };
        let name = free_name(&format!("{}-backing", design.name), &mut names);
        let index = spec.labels.len() + all.len();
        let backing = of_design(design, trim.snug(), name.clone(), index);
        all.push((of_label(label, design, name), backing));
    }
    all
}

/// What a backing covers before its edge is drawn in: everything painted, holes filled.
pub(super) fn covered_area(label: &Label, painted: &Outline, marks: &[Mark]) -> Option<Outline> {
    if label.film != Film::Clear || !matches!(label.white, White::Backing { .. }) {
        return None;
    }
    let inks = marks.iter().filter(|mark| matches!(mark.plate, Plate::Ink(_)));
    let paths = inks.map(|mark| &mark.path).chain([painted]);
    let all = Outline::of(&paths.flat_map(|path| path.elements()).collect());
    // Outer contours run from +x to +y and have a positive area, holes a negative one.
    let outer = all.contours().filter(|contour| contour.area() > 0.0);
    Some(Outline::of(&outer.flat_map(BezPath::into_iter).collect()))
}

/// A name nothing else has: the one requested, else that with a number.
fn free_name(requested: &str, names: &mut BTreeSet<String>) -> String {
    let (mut name, mut number) = (requested.to_owned(), 1);
    while !names.insert(name.clone()) {
        number += 1;
        name = format!("{requested}-{number}");
    }
    name
}

/// What is wrong with a backing of this outline: nothing left of it, loose pieces or narrow ones.
fn unfit(trim: &Outline, choke_mm: f64, design: &Design) -> Option<Finding> {
    let pieces = trim.contours().filter(|contour| contour.area() > 0.0).count();
    if pieces == 0 {
        let message =
            format!("nothing is left of the backing {choke_mm:.2} mm inside what is painted");
        let help =
            "put the words into a filled box, make the choke smaller, or print on film: white";
        return Some(Finding::error("loose-backing", message).help(help));
    }
    if pieces > 1 {
        let message = format!("the backing would be {pieces} loose pieces of film");
        let help = "put what is painted into one box, or print on film: white";
        return Some(Finding::warning("loose-backing", message).help(help));
    }
    let worst = trim.thin_places(LEAST_FILM_MM).into_iter().next()?;
    let message = format!(
        "the backing is {:.2} mm wide there; film under {LEAST_FILM_MM:.0} mm tears",
        worst.width_mm
    );
    let spot = worst.at - design.size().origin();
    let finding = Finding::warning("loose-backing", message).spot(spot.x, spot.y);
    let help = "make what is painted there bolder, or the choke smaller";
    Some(finding.measured(worst.width_mm, LEAST_FILM_MM).help(help))
}

/// The label of a backing: as many as of the label it goes behind, with nothing on them.
fn of_label(label: &Label, design: &Design, name: String) -> Label {
    let order = if label.applied.mirrored() { "last, over" } else { "first, under" };
    Label {
        name,
        film: Film::White,
        applied: Applied::FaceUp,
        viewed: None,
        white: White::None,
        handed_pair: false,
        kind: LabelKind::Backing(label.stands().cloned()),
        parts: Vec::new(),
        split: Split::Never,
        note: Some(format!("nothing printed; lay it {order} {}", design.name)),
        ..label.clone()
    }
}

/// A white piece on white film needs a line to cut along: it runs outside the trim, so that none of it stays.
fn of_design(design: &Design, trim: Outline, name: String, label: usize) -> Design {
    let line = trim.grown(LINE_MM).minus(&trim);
    let marks = vec![Mark::new(line, Plate::Guide, Role::Line, design.from)];
    let plain = Design::plain(name, label, trim, marks);
    Design { on_panel: design.on_panel, from: design.from, ..plain }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::colour::Colour;
    use crate::finding::Place;
    use crate::shape::rectangle;
    use crate::spec::samples;
    use kurbo::Rect;

    fn backed(
        marks: Vec<Mark>,
        choke_mm: f64,
        applied: Applied,
    ) -> (Vec<(Label, Design)>, Findings) {
        let white = White::Backing { choke_mm };
        let label = Label { copies: 3, applied, white, ..samples::label("horn") };
        let backing = covered_area(&label, &Outline::default(), &marks);
        let spec = Spec { labels: vec![label], ..samples::spec() };
        let trim = rectangle(Rect::new(-11.0, -6.0, 11.0, 6.0));
        let design = Design { backing, ..Design::plain("horn".to_owned(), 0, trim, marks) };
        let mut findings = Findings::default();
        (backings(&spec, &[design], &mut findings), findings)
    }

    fn boxed(rect: Rect, hole: Rect) -> Mark {
        let path = rectangle(rect).minus(&rectangle(hole));
        Mark::new(path, Plate::Ink(Colour::BLACK), Role::Fill, Place::default())
    }

    #[test]
    fn a_backing_is_the_ink_without_its_holes_drawn_in_by_the_choke() {
        let (rect, hole) = (Rect::new(-10.0, -5.0, 10.0, 5.0), Rect::new(-2.0, -1.0, 2.0, 1.0));
        let (made, findings) = backed(vec![boxed(rect, hole)], 0.3, Applied::FaceUp);
        let [(label, design)] = made.as_slice() else { panic!("one backing") };
        // (20 - 0.6) x (10 - 0.6) = 182.36, the corners of a shrunk rectangle stay sharp.
        assert!((design.trim.area() - 182.36).abs() < 0.01, "{}", design.trim.area());
        assert_eq!((label.film, label.copies, design.label), (Film::White, 3, 1));
        assert!(design.marks.iter().all(|mark| mark.path.common(&design.trim).area() < 1e-6));
        assert!(findings.list().is_empty());
    }

    #[test]
    fn behind_glass_a_backing_is_cut_the_other_way_round_and_goes_on_last() {
        let marks = vec![boxed(Rect::new(-10.0, -5.0, 4.0, 5.0), Rect::ZERO)];
        let (made, _) = backed(marks, 0.5, Applied::InsideWindow);
        let bounds = made[0].1.size();
        assert!((bounds.x0 + 3.5).abs() < 1e-6 && (bounds.x1 - 9.5).abs() < 1e-6, "{bounds:?}");
        assert!(made[0].0.note.as_ref().unwrap().contains("last, over horn"));
    }

    #[test]
    fn loose_narrow_and_vanished_pieces_are_reported() {
        let rect = |x: f64| boxed(Rect::new(x, 0.0, x + 3.0, 3.0), Rect::ZERO);
        let bar = boxed(Rect::new(2.0, 1.1, 6.0, 1.8), Rect::ZERO);
        for (marks, choke, made, message) in [
            (vec![rect(0.0), rect(5.0)], 0.3, 1, "2 loose pieces"),
            (vec![rect(0.0), bar.clone(), rect(5.0)], 0.1, 1, "0.50 mm wide"),
            (vec![rect(0.0), bar, rect(5.0)], 0.5, 1, "2 loose pieces"),
            (vec![rect(0.0)], 1.6, 0, "nothing is left"),
        ] {
            let (backings, findings) = backed(marks, choke, Applied::FaceUp);
            assert_eq!(backings.len(), made, "{message}");
            assert!(findings.list()[0].message.contains(message), "{findings:?}");
        }
    }
}
