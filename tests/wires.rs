//! Tables of wires that cannot be right.

use decalwright::files::Error;
use decalwright::finding::Severity;
use decalwright::job;

/// Codes and messages of a wiring with these keys and rows (wire, from, to, colour, function).
fn found(keys: &str, rows: &[[&str; 5]]) -> Vec<(Severity, &'static str, String)> {
    let mut table = "wire,from,to,colour,function\n".to_owned();
    rows.iter().for_each(|row| table += &format!("{}\n", row.join(",")));
    let yaml = format!(
        "printer: {{class: laser-600, thinnest_clear: 0.1 mm}}\nwires:\n  table: wiring.csv\n{keys}"
    );
    let mut fetch = |_: &str| Ok::<_, Error>(table.clone().into_bytes());
    let outcome = job::lay("test.yaml", yaml.as_bytes(), &mut fetch);
    let list = outcome.findings.list();
    list.iter().map(|one| (one.severity, one.code, one.message.clone())).collect()
}

fn codes(keys: &str, rows: &[[&str; 5]]) -> Vec<&'static str> {
    found(keys, rows).iter().map(|one| one.1).collect()
}

const SOUND: [[&str; 5]; 3] = [
    ["W1", "U1:P1", "X1:1", "BU", "horn"],
    ["W2", "U1:GND", "X1:2", "BK", "GND"],
    ["W3", "U1:GND", "X2:1", "BK", "GND"],
];

#[test]
fn a_sound_table_is_sound() {
    assert_eq!(codes("  rails: [GND]\n", &SOUND), Vec::<&str>::new());
}

#[test]
fn a_misspelt_rail_is_told() {
    assert_eq!(codes("  rails: [GND, horn]\n", &SOUND), [""; 0]);
    let told = found("  rails: [GND, HORM]\n  takes: {\"X9:1\": 2}\n", &SOUND);
    let messages: Vec<(&str, &str)> = told.iter().map(|one| (one.1, one.2.as_str())).collect();
    assert_eq!(messages.len(), 2, "{messages:?}");
    assert!(messages.iter().all(|one| one.0 == "unknown-rail"), "{messages:?}");
    assert!(messages.iter().any(|one| one.1.contains("HORM")), "{messages:?}");
}

#[test]
fn ground_may_be_shared_when_it_is_said() {
    assert_eq!(codes("", &SOUND), ["crowded-terminal"]);
    assert_eq!(codes("  takes: {'U1:GND': 2}\n", &SOUND), Vec::<&str>::new());
    assert_eq!(codes("  allow: [crowded-terminal]\n", &SOUND), Vec::<&str>::new());
    assert_eq!(
        codes("  allow: [crowded-terminals]\n", &SOUND),
        ["unknown-code", "crowded-terminal"]
    );
}

#[test]
fn ends_and_names_must_be_there_and_once() {
    let rows = [
        ["W1", "U1:P1", "", "BU", ""],
        ["W2", "", "X1:2", "BK", ""],
        ["W3", "X1:3", "-X1:3", "BK", ""],
        ["W3", "U1:P4", "X1:4", "RD", ""],
    ];
    let found = found("", &rows);
    let told: Vec<&str> = found.iter().map(|one| one.2.as_str()).collect();
    assert_eq!(
        told,
        [
            "W1 comes from U1:P1 and goes nowhere",
            "W2 goes to X1:2 and comes from nowhere",
            "W3 goes from X1:3 back to -X1:3",
            "2 wires meet at X1:3, which takes 1: W3, W3",
            "two wires are called W3",
        ]
    );
}

#[test]
fn two_rails_on_one_net_are_told_with_their_wires() {
    let rows = [
        ["W1", "PS1:V12", "U1:VIN", "RD", "V12"],
        ["W2", "PS1:GND", "U1:GND", "BK", "GND"],
        ["W3", "U1:VIN", "U1:GND", "BK", ""],
    ];
    let found = found("  rails: [GND, V12]\n", &rows);
    let joined: Vec<_> = found.iter().filter(|one| one.1 == "rails-joined").collect();
    assert_eq!(joined.len(), 1, "{found:?}");
    assert_eq!(joined[0].0, Severity::Error);
    assert!(joined[0].2.contains("W3"), "{found:?}");
}

#[test]
fn green_and_yellow_is_for_protective_earth_alone() {
    // IEC 60757 and IEC 60445: GNYE for the protective conductor only.
    assert_eq!(codes("", &[["W1", "U1:1", "X1:1", "GNYE", "horn"]]), ["earth-colour"]);
    assert_eq!(codes("", &[["W1", "U1:1", "X1:1", "RD", "protective earth"]]), ["earth-colour"]);
    assert_eq!(codes("", &[["W1", "U1:PE", "X1:PE", "GNYE", ""]]), ["mains-role"]);
}

#[test]
fn mains_is_left_to_those_who_may() {
    for (function, mains) in [
        ("mains live", true),
        ("mains voltage", true),
        ("neutral via fuse", true),
        ("230VAC", true),
        ("115 VAC", true),
        ("230", false),
        ("12 V, 230 mA", false),
        ("230 V lamp", true),
        ("L1", true),
        ("alive lamp", false),
        ("12 V lamp", false),
        ("lamp L", false),
    ] {
        let codes = codes("", &[["W1", "U1:1", "X1:1", "RD", function]]);
        assert_eq!(codes.contains(&"mains-role"), mains, "{function}");
    }
    let rows = [["W1", "T1:L", "X1:1", "BN", ""], ["W2", "T1:N", "X1:2", "BU", ""]];
    assert_eq!(codes("", &rows), ["mains-role", "mains-role"]);
}

#[test]
fn what_would_be_confused_is_told() {
    let rows = [["W1", "U1:1", "X1:1", "RD", ""], ["W2", "X1:2", "U1:2", "red", ""]];
    assert_eq!(codes("", &rows), ["alike-wires"]);
    assert_eq!(
        codes("  text: '{colour}'\n", &[rows[0], ["W2", "A1:1", "B1:1", "RD", ""]]),
        ["same-marker"]
    );
}
