//! What the keys of a job come to.

use super::{job, read_with, sound};
use decalwright::{
    Applied, Colour, Corners, Direction, Edge, Element, Film, Frame, GroupAlign, Label, LineEnd,
    Paint, Part, Process, Split, Text, TextSize,
};
use kurbo::{Size, Vec2};

fn text(label: &Label) -> &Text {
    let mut texts = label.parts.iter().filter_map(|part| match &part.element {
        Element::Text(text) => Some(text),
        _ => None,
    });
    texts.next_back().unwrap()
}

fn frame(label: &Label) -> &Frame {
    match &label.parts[0].element {
        Element::Box(frame) => frame,
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_job_with_too_many_labels_draws_none_of_them() {
    let outcome = job(&format!("labels: [{}]\n", "A, ".repeat(20_001)));
    assert!(outcome.spec.labels.is_empty());
    assert_eq!(outcome.slips()[0].0, "too-many");
}

#[test]
fn words_printed_on_every_sheet_are_bounded() {
    let outcome = job(&format!("title: {}\nlabels: [A]\n", "A".repeat(201)));
    assert_eq!(outcome.slips()[0].0, "too-long");
}

#[test]
fn four_lines_are_a_job() {
    let outcome = sound("title: Tide gauge\nsheet: {film: white}\nlabels:\n- RUN\n");
    let label = outcome.label("run");
    assert_eq!((label.film, label.copies, label.spares), (Film::White, 1, 1));
    assert_eq!(text(label).lines, ["RUN"]);
    assert_eq!(text(label).size, TextSize::CapHeight(3.0));
    assert_eq!(outcome.spec.title, "Tide gauge");
    assert_eq!(outcome.spec.sheet.paper.size, Size::new(210.0, 297.0));
    assert_eq!(outcome.spec.printer.name, "ink-jet (assumed)");
}

const CONSOLE: &str = r##"title: Tide gauge console
sheet: {film: clear, paper: A5, margin: 6 mm, gap: 2 mm, cuts: straight}
printer: {process: ink-jet}
colours:
  beacon: "#ad2b24"
surfaces:
  housing: {colour: "#aeb4b8", finish: metallic}
  funnel: "#202428"
words: {go: RUN}
styles:
  key: {text: {font: label-reversed, cap_height: 3 mm, paint: clear}, box: {radius: 1.2 mm, padding: [1 mm, 2 mm], fill: beacon}}
labels:
  - {text: "{go}", style: key, bleed: 0.5 mm, on: housing, copies: 2}
  - {text: REST, style: key, bleed: 0.5 mm, on: housing}
  - name: level
    on: funnel
    film_border: 1 mm
    style: key
    box: none
    parts:
      - text: {text: LEVEL, at: [0, 24 mm], cap_height: 2.5 mm}
"##;

#[test]
fn one_change_reaches_all_labels() {
    let before = sound(CONSOLE);
    let run = before.label("run");
    assert_eq!(frame(run).fill, Some(Paint::Ink(Colour { rgb: [0xad, 0x2b, 0x24] })));
    assert_eq!(frame(run).corners, Corners::Radius(1.2));
    assert_eq!((frame(run).padding.x, frame(run).padding.y), (1.0, 2.0));
    assert_eq!((text(run).paint, run.edge), (Paint::Clear, Edge::Bleed(0.5)));
    let level = before.label("level");
    assert_eq!((level.edge, level.parts.len()), (Edge::FilmBorder(1.0), 1));
    assert_eq!(text(level).paint, Paint::Clear);

    let changed = CONSOLE
        .replace("#ad2b24", "#0a3")
        .replace("go: RUN", "go: START")
        .replace("cap_height: 3 mm", "cap_height: 3.5 mm");
    let after = sound(&changed);
    assert_eq!(after.names(), ["start", "rest", "level"]);
    for name in ["start", "rest"] {
        let label = after.label(name);
        assert_eq!(frame(label).fill, Some(Paint::Ink(Colour { rgb: [0x00, 0xaa, 0x33] })));
        assert_eq!(text(label).size, TextSize::CapHeight(3.5));
    }
}

#[test]
fn a_label_stands_over_its_style_and_that_over_the_bundled_one() {
    let outcome = sound(
        "styles:\n  key: {film_border: 1 mm, box: {fill: white}}\n  small: {style: key, text: {em: 2 mm}}\n\
         labels:\n- {text: A, style: small, bleed: 2 mm}\n- {text: B, style: small, text: {text: B, fit: [9, 3]}, box: {shape: round-ended}}\n"
            .replace("text: B, style: small, ", "style: small, ")
            .as_str(),
    );
    let [a, b] = outcome.spec.labels.as_slice() else { panic!() };
    assert_eq!((a.edge, b.edge), (Edge::Bleed(2.0), Edge::FilmBorder(1.0)));
    assert_eq!(text(a).size, TextSize::Em(2.0));
    assert_eq!(text(b).size, TextSize::FillBox(Size::new(9.0, 3.0)));
    assert_eq!((frame(a).corners, frame(b).corners), (Corners::Radius(1.2), Corners::RoundEnded));
    assert_eq!(frame(a).fill, Some(Paint::Ink(Colour::WHITE)));
    // Clear letters get the bolder face unless a font is named (FONTS.md: reversed text).
    assert_eq!(text(a).font, "label-reversed");
}

#[test]
fn prototype_lengths_are_divided_by_the_scale() {
    // 260 mm / 87 = 2.98851 mm, by division.
    let outcome = sound(
        "scale: 1:87\nlabels:\n- text: {text: '12', cap_height: 260 mm prototype}\n  size: [1 m prototype, 87]\n",
    );
    let label = outcome.label("12");
    let TextSize::CapHeight(mm) = text(label).size else { panic!() };
    assert!((mm - 2.988_505_7).abs() < 1e-6, "{mm}");
    assert!((label.size.unwrap().width - 11.494_253).abs() < 1e-6);
    let without = job("labels:\n- text: {text: '12', cap_height: 260 mm prototype}\n");
    assert_eq!(without.slips(), [("no-scale", 2)]);
}

#[test]
fn printer_numbers_follow_class_and_process() {
    // TRADE.md section 2, common practice, no source.
    for (printer, numbers) in [
        ("class: laser-1200", [0.10, 0.20, 1.0, 1.5]),
        ("class: laser-600", [0.15, 0.25, 1.2, 1.6]),
        ("class: ink-jet", [0.20, 0.35, 1.5, 2.1]),
        ("class: ink-jet-uncoated", [0.25, 0.50, 1.8, 2.5]),
        ("class: white-ink", [0.50, 0.50, 2.0, 2.8]),
        ("process: laser", [0.15, 0.25, 1.2, 1.6]),
        ("process: laser, thinnest_ink: 0.12 mm", [0.12, 0.25, 1.2, 1.6]),
    ] {
        let outcome = sound(&format!("printer: {{{printer}}}\nlabels: [RUN]\n"));
        let found = &outcome.spec.printer;
        let measured = [
            found.thinnest_ink,
            found.thinnest_clear,
            found.smallest_cap,
            found.smallest_cap_reversed,
        ];
        for (measured, number) in measured.into_iter().zip(numbers) {
            assert!((measured - number).abs() < 1e-9, "{printer}: {measured}");
        }
        let laser = printer.contains("laser");
        assert_eq!(found.process == Process::Laser, laser, "{printer}");
    }
}

#[test]
fn papers_have_their_standard_sizes() {
    // A series: ISO 216. Letter 8.5 x 11 in, Legal 8.5 x 14 in, 1 in = 25.4 mm.
    for (paper, name, width, height) in [
        ("A3", "A3", 297.0, 420.0),
        ("A4", "A4", 210.0, 297.0),
        ("a5 landscape", "A5 landscape", 210.0, 148.0),
        ("A6", "A6", 105.0, 148.0),
        ("Letter", "Letter", 8.5 * 25.4, 11.0 * 25.4),
        ("Legal", "Legal", 8.5 * 25.4, 14.0 * 25.4),
        ("[12 cm, 80 mm]", "120 x 80 mm", 120.0, 80.0),
    ] {
        let outcome = sound(&format!("sheet: {{paper: {paper}}}\nlabels: [RUN]\n"));
        let found = &outcome.spec.sheet.paper;
        assert_eq!(found.name, name);
        assert!((found.size.width - width).abs() < 1e-9, "{paper}");
        assert!((found.size.height - height).abs() < 1e-9, "{paper}");
    }
}

#[test]
fn applied_and_film_come_from_the_nearest_that_says() {
    let outcome = sound(
        "sheet: {film: white, applied: heat-transfer}\n\
         surfaces:\n  pane: {colour: white, applied: inside-window}\n\
         labels:\n- A\n- {text: B, on: pane}\n- {text: C, on: pane, applied: face-down, film: clear}\n",
    );
    let ways: Vec<_> =
        outcome.spec.labels.iter().map(|label| (label.applied, label.film)).collect();
    assert_eq!(
        ways,
        [
            (Applied::HeatTransfer, Film::White),
            (Applied::InsideWindow, Film::White),
            (Applied::FaceDown, Film::Clear)
        ]
    );
}

#[test]
fn spares_are_a_number_or_a_share() {
    // A tenth rounded up, at least one: common practice, no source.
    let outcome = sound(
        "labels:\n- {text: A, copies: 4}\n- {text: B, copies: 12}\n- {text: C, copies: 24}\n\
         - {text: D, copies: 24, spares: 0}\n- {text: E, copies: 30, spares: 5 %}\n",
    );
    let spares: Vec<u32> = outcome.spec.labels.iter().map(|label| label.spares).collect();
    assert_eq!(spares, [1, 2, 3, 0, 2]);
}

#[test]
fn names_are_one_each() {
    let outcome = sound("labels:\n- RUN\n- Run\n- {text: X, name: run-2}\n- run!\n- '!'\n");
    assert_eq!(outcome.names(), ["run", "run-3", "run-2", "run-4", "label-5"]);
    let twice = job("labels:\n- {text: A, name: x}\n- {text: B, name: x}\n");
    assert_eq!(twice.slips(), [("same-name", 3)]);
    assert!(twice.findings[0].message.contains("line 2"));
}

#[test]
fn a_series_makes_labels_and_numbers_a_plain_name() {
    let outcome = sound(
        "labels:\n- {text: 'CELL {n}', series: 008..011}\n- {text: '{n}', name: tag, series: 1..2}\n",
    );
    assert_eq!(outcome.names(), ["cell-008", "cell-009", "cell-010", "cell-011", "tag-1", "tag-2"]);
    let both = sound("labels:\n- {text: '{row}{seat}', series: {row: 1..2, seat: 1..3}}\n");
    assert_eq!(both.names(), ["11", "12", "13", "21", "22", "23"]);
}

#[test]
fn rows_fill_columns_first_and_words_after() {
    let yaml = "words: {open: VENT OPEN}\n\
                labels:\n- {text: '{legend}', name: '{id}', copies: '{count}', rows: vents.csv, note: 'by {{hand}} {open}'}\n";
    let table = "id,legend,count\nv1,{open} 1,2\nv2,SHUT,3\n";
    let outcome = read_with(yaml, &[("vents.csv", table.as_bytes())]);
    assert_eq!(outcome.findings, []);
    let v1 = outcome.label("v1");
    assert_eq!((text(v1).lines[0].as_str(), v1.copies), ("VENT OPEN 1", 2));
    assert_eq!(v1.note.as_deref(), Some("by {hand} VENT OPEN"));

    let wrong = read_with(yaml, &[("vents.csv", table.replace(",3\n", ",three\n").as_bytes())]);
    let found = &wrong.findings[0];
    let (file, line, column) = wrong.sources.position(found.place.unwrap()).unwrap();
    assert_eq!((found.code, file, line, column), ("bad-number", "vents.csv", 3, 9));
    assert_eq!(found.label.as_deref(), Some("v2"));
}

#[test]
fn splits_and_hands() {
    let outcome = sound(
        "labels:\n- {text: A B, split: words, handed: pair}\n- {text: C, size: [30, 8], split: [5, 9 mm]}\n",
    );
    let (ab, c) = (outcome.label("a-b"), outcome.label("c"));
    assert_eq!((&ab.split, ab.handed_pair), (&Split::BetweenWords, true));
    assert_eq!(c.split, Split::At(vec![5.0, 9.0]));
}

#[test]
fn a_font_beside_the_job_is_pinned_by_its_sum() {
    let bytes = include_bytes!("../../fonts-free/krona-one/KronaOne-Regular.ttf");
    // SHA-256 by coreutils' sha256sum.
    let sum = "6f708fb72914e09244b186297c402ace84a014fc578435ce5144c7c7cd475fc9";
    let yaml = format!(
        "fonts: {{mine: {{file: mine.ttf, sha256: {sum}}}}}\nlabels:\n- text: {{text: RUN, font: mine}}\n"
    );
    let files: &[(&str, &[u8])] = &[("mine.ttf", bytes)];
    let outcome = read_with(&yaml, files);
    assert_eq!(outcome.findings, []);
    assert_eq!(text(outcome.label("run")).font, "mine");
    // A label that asks for the font would be told of it once more.
    let yaml = yaml.replace(", font: mine", "");
    let other = read_with(&yaml.replace(&sum[..4], "0000"), files);
    assert_eq!(other.slips(), [("other-file", 1)]);
    let none = read_with(&yaml, &[]);
    assert_eq!(none.slips(), [("font-file", 1)]);
    let junk: &[(&str, &[u8])] = &[("mine.ttf", b"no font")];
    let junk = read_with("fonts: {mine: {file: mine.ttf}}\nlabels: [RUN]\n", junk);
    assert_eq!(junk.slips(), [("font-file", 1)]);
}

#[test]
fn every_bundled_style_makes_a_label() {
    let bundled = include_str!("../../styles/bundled.yaml");
    let bundled: serde_yaml::Value = serde_yaml::from_str(bundled).unwrap();
    for (name, _) in bundled["styles"].as_mapping().unwrap() {
        let name = name.as_str().unwrap();
        let outcome = sound(&format!("labels:\n- {{text: A1, style: {name}}}\n"));
        assert_eq!(text(outcome.label("a1")).lines, ["A1"], "{name}");
    }
}

#[test]
fn parts_are_painted_box_first_and_text_last() {
    let outcome = sound(
        r##"labels:
- name: gauge
  text: {text: [LEVEL, cm], case: upper, turned: 90°}
  box: {size: 20 mm, shape: ellipse, line: {width: 0.3 mm, inset: 1 mm}}
  parts:
  - line: {length: 20 mm, width: 1 mm, count: 3, ends: [square, arrow], paint: ["#f00", clear]}
  - ring: {outer: 8 mm, inner: 6 mm, at: [-2 mm, 1 mm]}
  - disc: {diameter: 3 mm}
  - chevron: {count: 2, width: 2 mm, height: 9 mm, turned: 45 deg}
  - row: {gap: 2 mm, align: base-line, parts: [text: A, text: {text: B, em: 2 mm}, column: {parts: [box: black]}]}
"##,
    );
    let label = outcome.label("gauge");
    let kind = |part: &Part| format!("{:?}", part.element).to_lowercase();
    let kinds: Vec<String> = label.parts.iter().map(kind).collect();
    let kinds: Vec<&str> = kinds.iter().filter_map(|kind| kind.split('(').next()).collect();
    assert_eq!(kinds, ["box", "line", "ring", "ring", "chevron", "group", "text"]);
    assert_eq!(text(label).lines, ["LEVEL", "CM"]);
    assert!((label.parts[6].turned - 90.0).abs() < 1e-9);
    assert!((label.parts[4].turned - 45.0).abs() < 1e-9);
    let Element::Line(line) = &label.parts[1].element else { panic!() };
    assert_eq!((line.count, line.paints.len(), line.ends[0]), (3, 2, LineEnd::Square));
    assert!(matches!(line.ends[1], LineEnd::Arrow(_)));
    assert_eq!(label.parts[2].at, Vec2::new(-2.0, 1.0));
    let Element::Group(group) = &label.parts[5].element else { panic!() };
    assert_eq!((group.direction, group.align), (Direction::Row, GroupAlign::BaseLine));
    assert_eq!(group.parts.len(), 3);
}

#[test]
fn an_empty_line_among_others_stays() {
    let outcome = sound("labels:\n- text: [A, '', B]\n");
    assert_eq!(text(&outcome.spec.labels[0]).lines, ["A", "", "B"]);
}

#[test]
fn a_level_in_a_style_sets_the_legends_and_is_an_error_elsewhere() {
    let job = |own: &str| {
        format!(
            "styles: {{names: {{level: 2}}}}\nlabels:\n- name: f\n  size: [80, 40]\n  panel:\n    deliver: pieces\n    cap_height: 2 mm\n    legends: [{{text: {own}, style: names, at: [20, 20]}}]\n"
        )
    };
    // Level 2 is a quarter larger than level 1 (README): 2 x 1.25.
    let outcome = sound(&job("GAIN"));
    assert_eq!(text(outcome.label("gain")).size, TextSize::CapHeight(2.5));
    // What the legend says itself wins over its style, level or not.
    let outcome = sound(&job("{text: GAIN, cap_height: 4}"));
    assert_eq!(text(outcome.label("gain")).size, TextSize::CapHeight(4.0));
    let plain = self::job("styles:\n  names: {level: 2}\nlabels:\n- {text: A, style: names}\n");
    assert_eq!(plain.slips(), [("not-on-a-panel", 2)]);
}

#[test]
fn a_label_adds_to_what_its_style_allows() {
    let outcome = sound(
        "styles: {quiet: {allow: small-text}}\nlabels:\n- {text: A, style: quiet, allow: [no-spare]}\n- {text: B, style: quiet}\n",
    );
    let allowed = |name: &str| {
        let codes = outcome.label(name).allow.iter().map(|allowed| allowed.code.as_str());
        codes.collect::<Vec<_>>()
    };
    assert_eq!(allowed("a"), ["no-spare", "small-text"]);
    assert_eq!(allowed("b"), ["small-text"]);
}

#[test]
fn blanks_stay_as_typed_and_are_noted() {
    let outcome = job("labels:\n- {text: '  GAIN  '}\n- {text: 'GA IN'}\n");
    assert_eq!(text(outcome.label("gain")).lines, ["  GAIN  "]);
    assert_eq!(outcome.slips(), [("outer-blanks", 2)]);
}

#[test]
fn every_part_of_a_job_has_a_number_of_its_own() {
    let outcome = sound(
        "labels:\n- {text: '{n}', series: 1..3, box: black}\n- name: f\n  size: [80, 40]\n  panel: {legends: [{at: [9, 9], parts: [row: {parts: [text: A, text: B]}]}]}\n",
    );
    let mut numbers = Vec::new();
    for label in &outcome.spec.labels {
        Part::each(&label.parts, &mut |part| numbers.push(part.id.0));
    }
    // Three labels of box and text, a legend, its row and two texts in it.
    assert_eq!(numbers, (1..=10).collect::<Vec<u32>>());
}
