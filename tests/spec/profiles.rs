//! What the answers of a printer's profile come to.

use super::read_with;
use decalwright::files::Error;
use decalwright::finding::{Findings, Severity};
use decalwright::{Profile, job};

fn answers(text: &str) -> (Profile, Findings) {
    let mut fetch = |name: &str| Err(Error::Outside(name.into()));
    let read = job::profile("answers.yaml", text.as_bytes(), &mut fetch);
    (read.found.unwrap(), read.findings)
}

fn codes(findings: &Findings) -> Vec<&'static str> {
    findings.list().iter().map(|one| one.code).collect()
}

#[test]
fn whole_answers_make_a_profile() {
    let (profile, findings) = answers(
        "printer: Lodge laser\npaper: A5\ndate: 14 March\nclass: laser-600\nbars: [97.3, 99.1]\nsquare: [48.6, 49.6]\n\
         diagonals: [69.5, 69.4]\nmiddle: [74.5, 104.6]\nmargins: [4, 3, 6, 3]\nthinnest_ink: 0.1\n\
         smallest_cap: 1.2\nopacity: 8 %\ncolours:\n  beacon: {shown: \"#ad2b24\", print: C2}\n",
    );
    assert_eq!(findings.list(), []);
    let correction = profile.correction().unwrap();
    assert!((correction.across - 1.02775).abs() < 5e-5 && (correction.down - 1.00908).abs() < 5e-5);
    // A5 is 148 x 210 mm (ISO 216).
    assert!((correction.shift - kurbo::Vec2::new(0.5, -0.4)).hypot() < 1e-9);
    assert_eq!((profile.opacity, profile.thinnest_ink), (Some(0.08), Some(0.1)));
    let picked = profile.picked["beacon"];
    assert_eq!(picked.shown.to_string(), "#ad2b24");
    assert!(picked.print.lab().l > picked.shown.lab().l);
}

#[test]
fn impossible_answers_are_questioned_all_at_once() {
    let (profile, findings) = answers(
        "paper: A4\nsquare: [47.0, 47.0]\nmiddle: [120, 148.5]\nmargins: [4, 3, 60, 3]\nthinnest_ink: 5\n\
         opacity: 80\ncolours:\n  beacon: {shown: \"#ad2b24\", print: F9}\n  reef: {shown: \"#2f6f73\"}\n",
    );
    assert_eq!(
        codes(&findings),
        [
            "scale-refused",
            "scale-refused",
            "bad-margin",
            "bad-length",
            "bad-number",
            "bad-colour",
            "missing"
        ]
    );
    // 279.4 / 297 = 94.07 %: A4 (ISO 216) on Letter (8.5 x 11 in).
    assert!(
        findings.list()[0]
            .message
            .contains("an A4 page fitted to Letter paper (279.4 / 297 = 94.07 %)")
    );
    assert_eq!(profile.correction(), None);
}

#[test]
fn what_no_printer_does_is_refused_and_says_what_it_may_be() {
    for (given, said) in [
        ("bars: [91.0, 91.0]", "no printer errs so far"),
        ("bars: [3.94, 3.94]", "that looks like in"),
        ("bars: [10, 10]", "that looks like cm"),
        ("bars: [103.1, 100]", "no printer errs so far"),
        ("bars: [97.3, 99.1]\nsquare: [50, 50]", "the bar across gives 97.3 %, the square 100 %"),
        ("bars: [100, 100]\ndiagonals: [72.5, 68.9]", "leans so far"),
        ("square: [50, 50]\ndiagonals: [60, 60]", "near 70.71 mm"),
    ] {
        let (_, findings) = answers(given);
        let first = &findings.list()[0];
        assert_eq!((first.code, first.severity), ("scale-refused", Severity::Error), "{given}");
        assert!(first.message.contains(said), "{given}: {}", first.message);
        assert!(!first.help.is_empty());
    }
}

#[test]
fn a_ratio_of_papers_within_bounds_is_a_warning() {
    // 210 / 215.9 = 97.27 %: Letter fitted to A4.
    let (profile, findings) = answers("paper: Letter\nbars: [97.3, 97.2]\n");
    assert_eq!(codes(&findings), ["measured-oddly"]);
    assert!(findings.list()[0].message.contains("a Letter page fitted to A4 paper"));
    assert!(profile.correction().is_some());
    for sound in ["bars: [97.0, 103.0]", "bars: [100.4, 99.8]", "square: [50.0, 50.0]"] {
        assert_eq!(answers(sound).1.list(), [], "{sound}");
    }
}

#[test]
fn a_job_takes_what_its_profile_says_unless_it_says_so_itself() {
    let profile = b"printer: Lodge laser\npaper: A5\nclass: laser-1200\nbars: [97.3, 99.1]\nmargins: [4, 3, 6, 2]\nthinnest_ink: 0.12\n";
    let job = |rest: &str| {
        let text = format!(
            "sheet: {{paper: A5}}\nprinter: {{profile: lodge.yaml{rest}}}\nlabels: [QUAY]\n"
        );
        read_with(&text, &[("lodge.yaml", profile)])
    };
    let own = job("");
    assert_eq!(own.findings, []);
    assert_eq!(own.spec.printer.name, "Lodge laser");
    assert_eq!((own.spec.printer.thinnest_ink, own.spec.printer.thinnest_clear), (0.12, 0.2));
    assert_eq!((own.spec.sheet.margins.top, own.spec.sheet.margins.left), (4.0, 2.0));
    let over = job(", thinnest_ink: 0.3 mm, name: Attic");
    assert_eq!((over.spec.printer.thinnest_ink, over.spec.printer.name.as_str()), (0.3, "Attic"));
    let missing = read_with("printer: {profile: none.yaml}\nlabels: [QUAY]\n", &[]);
    assert_eq!(missing.slips(), [("profile-file", 1)]);
    let wrong = read_with(
        "sheet: {paper: A5}\nprinter: {profile: lodge.yaml}\nlabels: [QUAY]\n",
        &[("lodge.yaml", b"paper: A5\nbars: [94, 94]\nbarz: 1\n")],
    );
    assert_eq!(wrong.slips(), [("scale-refused", 2), ("unknown-key", 3)]);
}

#[test]
fn answers_that_no_common_printer_gives_are_asked_about() {
    // Printers' published minima have clear wider than ink and reversed letters higher, in every class of ours;
    // inks of process printing are made to let light through (ISO 2846-1 measures their transparency; from memory).
    let (profile, findings) = answers(
        "thinnest_ink: 0.25\nthinnest_clear: 0.15\nsmallest_cap: 1.6\nsmallest_cap_reversed: 1.2\nopacity: 100 %\n",
    );
    let told: Vec<_> = findings.list().iter().map(|one| (one.code, one.severity)).collect();
    assert_eq!(told, [("measured-oddly", Severity::Warning); 3]);
    let said =
        findings.list().iter().map(|one| one.message.as_str()).collect::<Vec<_>>().join("\n");
    assert!(said.contains("0.15") && said.contains("0.25") && said.contains("1.2"), "{said}");
    // They are used all the same.
    assert_eq!((profile.thinnest_clear, profile.opacity), (Some(0.15), Some(1.0)));
    let usual =
        "thinnest_ink: 0.15\nthinnest_clear: 0.15\nsmallest_cap_reversed: 1.2\nopacity: 30 %\n";
    assert_eq!(answers(usual).1.list(), []);
}
