//! A label no sheet can take: by how much, and which paper could.

use crate::design::Design;
use crate::finding::Finding;
use crate::spec::{Label, Paper, Spec, Split};
use crate::units::fixed;
use kurbo::Size;

/// Papers a person can buy, smallest first.
const PAPERS: [&str; 5] = ["A5", "Letter", "A4", "Legal", "A3"];

/// What two lengths may differ by and still be equal, mm: a nanometre, so that 203.2 mm fit into 203.2 mm.
const SLACK_MM: f64 = 1e-6;

/// The finding about a design that does not fit inside the margins, however it may be laid; its ink
/// reaches `past` mm past its trim.
pub(super) fn found(spec: &Spec, design: &Design, label: &Label, past: f64) -> Option<Finding> {
    let room = spec.printable().size();
    let past = 2.0 * past;
    let size = design.size().size() + Size::new(past, past);
    if fits(size, room, spec.sheet.turn) {
        return None;
    }
    // How much too wide and too high, mm; never negative.
    let over = |size: Size| (size - room).max(Size::ZERO);
    let (as_given, turned) = (over(size), over(turn(size)));
    let lie_turned =
        spec.sheet.turn && turned.width.max(turned.height) < as_given.width.max(as_given.height);
    let (lying, over) = if lie_turned { (turn(size), turned) } else { (size, as_given) };
    let across = over.width >= over.height;
    let (measured, needed) =
        if across { (lying.width, room.width) } else { (lying.height, room.height) };
    let with_ink = if past > 0.0 { " with its bleed" } else { "" };
    let message = format!(
        "{} is {} x {} mm{with_ink}; {} leaves {} x {} mm inside its margins: {} too much",
        design.name,
        fixed(size.width, 2),
        fixed(size.height, 2),
        spec.sheet.paper.name,
        fixed(room.width, 2),
        fixed(room.height, 2),
        too_much(over, lie_turned),
    );
    Some(
        Finding::error("too-large-for-sheet", message)
            .at(design.from)
            .label(design.name.as_str())
            .measured(measured, needed)
            .help(help(spec, design, label, size)),
    )
}

fn turn(size: Size) -> Size {
    Size::new(size.height, size.width)
}

fn fits(size: Size, room: Size, turns: bool) -> bool {
    let within =
        |size: Size| size.width <= room.width + SLACK_MM && size.height <= room.height + SLACK_MM;
    within(size) || (turns && within(turn(size)))
}

/// Whether two papers are one, as near as anyone measures a sheet.
fn is_same(one: Size, other: Size) -> bool {
    let apart = one - other;
    apart.width.abs() < 0.5 && apart.height.abs() < 0.5
}

fn too_much(over: Size, turned: bool) -> String {
    let across = format!("{} mm across", fixed(over.width, 2));
    let down = format!("{} mm down", fixed(over.height, 2));
    let sum = match (over.width > SLACK_MM, over.height > SLACK_MM) {
        (true, true) => format!("{across} and {down}"),
        (true, false) => across,
        _ => down,
    };
    if turned { format!("{sum}, laid with a quarter turn,") } else { sum }
}

fn help(spec: &Spec, design: &Design, label: &Label, size: Size) -> String {
    let mut others: Vec<Paper> = PAPERS.iter().filter_map(|name| Paper::named(name)).collect();
    // The paper in use has been tried, whatever the job calls it.
    others.retain(|paper| !is_same(paper.size, spec.sheet.paper.size));
    let taking = |turns: bool| {
        let taking =
            others.iter().filter(|paper| fits(size, spec.printable_on(paper.size).size(), turns));
        taking.map(|paper| paper.name.as_str()).collect::<Vec<_>>().join(", ")
    };
    let mut ways = Vec::new();
    let (as_allowed, turned) = (taking(spec.sheet.turn), taking(true));
    let turned_here = !spec.sheet.turn && fits(size, spec.printable().size(), true);
    if !as_allowed.is_empty() {
        ways.push(format!("with these margins it fits on {as_allowed}"));
    } else if !turned.is_empty() {
        ways.push(format!("with turn: true it fits on {turned}"));
    } else if !turned_here {
        ways.push("no paper up to A3 takes it with these margins; make it smaller".to_owned());
    }
    if turned_here {
        ways.push("allow quarter turns here (sheet: turn: true)".to_owned());
    }
    let words: usize = design.words.iter().map(|words| words.text.split_whitespace().count()).sum();
    if label.split == Split::Never && words > 1 {
        ways.push("have it cut in two between words (split: words)".to_owned());
    }
    ways.join("; or ")
}

#[cfg(test)]
mod tests {
    use super::super::testing::{design, spec, stretching};
    use super::*;

    fn finding(width: f64, height: f64, turn: bool) -> Option<Finding> {
        let mut spec = spec(1);
        spec.sheet.turn = turn;
        let design = design(0, width, height, 0.0);
        found(&spec, &design, spec.labels.first().unwrap(), 0.0)
    }

    #[test]
    fn says_by_how_much_and_which_paper_takes_it() {
        // A4 297 mm high with 10 mm margins prints 277 (ISO 216): 312 mm are 35 too many; Legal prints 335.6, A3 400.
        let found = finding(12.0, 312.0, false).unwrap();
        assert_eq!(found.code, "too-large-for-sheet");
        assert_eq!(found.measured, Some((312.0, 277.0)));
        assert!(found.message.contains("35 mm down"), "{}", found.message);
        assert!(found.help.contains("Legal, A3"), "{}", found.help);
    }

    #[test]
    fn a_paper_that_is_stretched_is_not_advised() {
        // A5 is 148 x 210 mm (ISO 216), 128 mm inside margins of 10 mm, 128 x 0.973 = 124.544 mm where a printer
        // prints 97.3 mm for 100; Letter, 215.9 mm wide, prints 195.9 x 0.973 = 190.61 mm.
        let mut spec = spec(1);
        spec.printer.profile = Some(stretching());
        spec.sheet.paper = Paper::named("A5").unwrap();
        let design = design(0, 126.0, 150.0, 0.0);
        let found = found(&spec, &design, &spec.labels[0], 0.0).unwrap();
        let (measured, needed) = found.measured.unwrap();
        assert!((measured - 126.0).abs() < 1e-9 && (needed - 124.544).abs() < 1e-9);
        assert_eq!(found.help, "with these margins it fits on Letter, A4, Legal, A3");
    }

    #[test]
    fn the_paper_in_use_is_not_advised_by_any_name() {
        // A3 is 297 x 420 mm (ISO 216): inside margins of 10 mm 277 x 400 mm, and only turned for 390 x 20 mm.
        let mut spec = spec(1);
        spec.sheet.turn = false;
        spec.sheet.paper = Paper { name: "297 x 420 mm".into(), size: Size::new(297.0, 420.0) };
        let found = found(&spec, &design(0, 390.0, 20.0, 0.0), &spec.labels[0], 0.0).unwrap();
        assert_eq!(found.help, "allow quarter turns here (sheet: turn: true)");
    }

    #[test]
    fn an_exact_fit_fits() {
        assert_eq!(finding(190.0, 277.0, false), None);
        assert_eq!(finding(277.0, 190.0, true), None);
        assert!(finding(190.001, 277.0, false).is_some());
        let turnable = finding(277.0, 190.0, false).unwrap();
        assert!(turnable.help.contains("turn: true"), "{}", turnable.help);
    }

    #[test]
    fn what_no_paper_takes_is_said_so() {
        let found = finding(500.0, 12.0, true).unwrap();
        assert!(found.help.starts_with("no paper up to A3"), "{}", found.help);
        assert!(found.message.contains("quarter turn"), "{}", found.message);
    }

    #[test]
    fn two_words_may_be_split() {
        let spec = spec(1);
        let mut sign = design(0, 300.0, 20.0, 0.0);
        assert!(!found(&spec, &sign, &spec.labels[0], 0.0).unwrap().help.contains("split"));
        sign.words.push(super::super::testing::words("WATER LEVEL"));
        assert!(found(&spec, &sign, &spec.labels[0], 0.0).unwrap().help.contains("split: words"));
    }
}
