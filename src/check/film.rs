//! Paint that does nothing, or not what was meant, on the film it is printed on.

use super::Checked;
use crate::colour::Colour;
use crate::design::{Mark, Role};
use crate::finding::{Finding, Findings, Place};
use crate::spec::{Applied, Film, Label, Paint, Part, White};

pub(super) fn white_on_clear(job: Checked<'_>, findings: &mut Findings) {
    let unprinted = |label: &&Label| label.film == Film::Clear && label.white == White::None;
    for label in job.spec.labels.iter().filter(unprinted) {
        for place in painted(&label.parts, Paint::Ink(Colour::WHITE)) {
            findings.push(
                Finding::error(
                    "white-on-clear",
                    "white prints as nothing on clear film: the surface would show",
                )
                .at(place)
                .label(&label.name)
                .help(
                    "print it on film: white, or with white: under where the printer has white; write clear where the surface shall show",
                ),
            );
        }
    }
}

pub(super) fn clear_on_white(job: Checked<'_>, findings: &mut Findings) {
    for label in &job.spec.labels {
        let shows = match (&label.white, label.film) {
            (White::Backing { .. }, Film::Clear) => "the white of its backing".to_owned(),
            (_, Film::Clear) => continue,
            (_, film) => format!("white on {} film", film.word()),
        };
        for place in painted(&label.parts, Paint::Clear) {
            findings.push(
                Finding::note("clear-on-white", format!("clear shows {shows}, not the surface"))
                    .at(place)
                    .label(&label.name)
                    .help("write white if that is what you want, or print it on film: clear"),
            );
        }
    }
}

pub(super) fn hidden_by_film(job: Checked<'_>, findings: &mut Findings) {
    for label in job.spec.labels.iter().filter(|label| label.film != Film::Clear) {
        let how = match label.applied {
            Applied::InsideWindow => "inside a window is seen from behind, through the film",
            Applied::FaceDown => "laid face down covers its own ink",
            Applied::FaceUp | Applied::HeatTransfer => continue,
        };
        findings.push(
            Finding::error(
                "hidden-by-film",
                format!(
                    "label {} on {} film {how}: nothing would show",
                    label.name,
                    label.film.word()
                ),
            )
            .at(label.film_place)
            .label(&label.name)
            .help("print it on film: clear, or apply it face-up"),
        );
    }
}

/// Ink that ends this near the trim, mm, is meant to reach it; a bleed below the second does not outlast the hand's
/// error at the knife. Common practice, no source.
const AT_THE_TRIM_MM: f64 = 0.05;
const LEAST_BLEED_MM: f64 = 0.3;

pub(super) fn white_edge(job: Checked<'_>, findings: &mut Findings) {
    for design in job.designs.iter().filter(|design| design.bleed_mm < LEAST_BLEED_MM) {
        let Some(label) = job.spec.labels.get(design.label) else { continue };
        if !matches!(label.film, Film::White | Film::Sticker) {
            continue;
        }
        let inner = design.size().inset(-AT_THE_TRIM_MM);
        let reaches = |mark: &&Mark| {
            let ink = mark.path.bounds();
            mark.role == Role::Fill && ink.union(inner) == ink
        };
        if let Some(mark) = design.marks.iter().find(reaches) {
            let message = format!(
                "ink ends at the trim with {:.2} mm of bleed: the knife leaves a white edge on {} film",
                design.bleed_mm,
                label.film.word()
            );
            let finding = Finding::warning("white-edge", message).measured(design.bleed_mm, 1.0);
            let help = "write bleed: 1 mm, so that the ground runs past the cut in its own colour";
            findings.push(finding.at(mark.from).label(&label.name).help(help));
        }
    }
}

pub(super) fn no_white(job: Checked<'_>, findings: &mut Findings) {
    let printer = &job.spec.printer;
    let under = |label: &&Label| matches!(label.white, White::Under(_));
    for label in job.spec.labels.iter().filter(under) {
        if printer.white_passes.is_none() {
            let message = format!("{} is not said to print white", printer.name);
            let help = "write white_passes: 2 under `printer:` if it prints white when fed again, 1 if it \
                        prints it with the colours; else write white: backing, or print on film: white";
            let finding = Finding::warning("no-white", message).help(help);
            findings.push(finding.at(label.place).label(&label.name));
        }
        if label.film != Film::Clear {
            let message = format!("white under the ink does nothing on {} film", label.film.word());
            let help = "take `white:` away, or print it on film: clear";
            let finding = Finding::note("no-white", message).help(help);
            findings.push(finding.at(label.film_place).label(&label.name));
        }
    }
}

pub(super) fn reads_backwards_unsaid(job: Checked<'_>, findings: &mut Findings) {
    if job.spec.sheet.guides {
        return;
    }
    for label in job.spec.labels.iter().filter(|label| label.applied.mirrored()) {
        findings.push(
            Finding::warning(
                "reads-backwards-unsaid",
                "the label is printed mirrored, and with guides off the sheet does not say so",
            )
            .at(label.place)
            .label(&label.name)
            .help("write guides: yes"),
        );
    }
}

/// Where parts ask for a paint.
fn painted(parts: &[Part], wanted: Paint) -> Vec<Place> {
    let mut places = Vec::new();
    Part::each(parts, &mut |part| {
        if part.element.any().paints().contains(&wanted) {
            places.push(part.place);
        }
    });
    places
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::spec::{Direction, Element, Group, GroupAlign, Ring};

    fn disc(paint: Paint) -> Part {
        Part::new(Element::Ring(Ring { outer: 5.0, inner: 0.0, paint }), Place::default())
    }

    #[test]
    fn paints_are_found_however_deep_they_stand() {
        let group = |parts| {
            let (direction, align) = (Direction::Row, GroupAlign::Centre);
            let group = Group { direction, gap: 1.0, align, parts };
            Part::new(Element::Group(group), Place::default())
        };
        let parts =
            vec![group(vec![group(vec![disc(Paint::Clear)])]), disc(Paint::Ink(Colour::BLACK))];
        assert_eq!(painted(&parts, Paint::Clear).len(), 1);
        assert_eq!(painted(&parts, Paint::Ink(Colour::WHITE)).len(), 0);
    }
}
