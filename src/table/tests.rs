//! The reader of tables, against the csv crate where a table is sound.

use super::{Table, read};
use crate::finding::{Findings, Sources};

fn sound(bytes: &[u8]) -> (Table, Sources) {
    let (mut sources, mut findings) = (Sources::default(), Findings::default());
    let table = read("legends.csv", bytes, &mut sources, &mut findings);
    assert_eq!(findings.list(), []);
    (table.unwrap(), sources)
}

fn cells(table: &Table) -> Vec<Vec<&str>> {
    table.rows.iter().map(|row| row.iter().map(|cell| cell.text.as_str()).collect()).collect()
}

/// Each finding as `line:column message`.
fn slips(text: &str) -> Vec<String> {
    let (mut sources, mut findings) = (Sources::default(), Findings::default());
    assert_eq!(read("legends.csv", text.as_bytes(), &mut sources, &mut findings), None);
    let say = |finding: &crate::finding::Finding| {
        assert_eq!(finding.code, "bad-table");
        assert!(!finding.help.is_empty());
        let position = finding.place.and_then(|place| sources.position(place));
        let (line, column) = position.map_or((0, 0), |(_, line, column)| (line, column));
        format!("{line}:{column} {}", finding.message)
    };
    findings.list().iter().map(say).collect()
}

/// The csv crate is the reference for what the cells of a sound table are.
#[test]
fn reads_cells_as_the_csv_crate_does() {
    for text in [
        "name,text\nrun,RUN\nrest,REST\n",
        "name,text\r\nrun,RUN\r\n\r\nrest,REST",
        "name,text\n\"a,b\",\"say \"\"on\"\"\"\n\"two\nlines\",\"\"\nlast,",
        "name,text,note\n5\" pipe, spaced ,x\n,,x\n\"\",y,\n",
        "a\n\n\n1\n2",
        "höhe,größe\n\"ü\",ß\n",
    ] {
        let mut reader = csv::ReaderBuilder::new().from_reader(text.as_bytes());
        let names: Vec<String> = reader.headers().unwrap().iter().map(str::to_owned).collect();
        let records: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
        let records: Vec<Vec<&str>> =
            records.iter().map(|record| record.iter().collect()).collect();
        let (table, _) = sound(text.as_bytes());
        assert_eq!(table.columns, names, "{text:?}");
        assert_eq!(cells(&table), records, "{text:?}");
    }
}

#[test]
fn finds_the_separator() {
    for text in [
        "name;text\nrun;1,5 mm\n",
        "name\ttext\nrun\t1,5 mm\n",
        "sep=;\nname;text\nrun;1,5 mm\n",
        "\"sep=;\"\r\n\"name\";\"text\"\r\n\"run\";\"1,5 mm\"\r\n",
        "sep=|\nname|text\nrun|1,5 mm\n",
        "\n\n\"name\";text\nrun;1,5 mm\n",
    ] {
        let (table, _) = sound(text.as_bytes());
        assert_eq!(table.columns, ["name", "text"], "{text:?}");
        assert_eq!(cells(&table), [["run", "1,5 mm"]], "{text:?}");
    }
}

#[test]
fn reads_what_spreadsheets_save() {
    let text = "\u{feff}höhe,text\r\nrun,RÜN\r\n,\r\n";
    let little: Vec<u8> = text.encode_utf16().flat_map(u16::to_le_bytes).collect();
    let big: Vec<u8> = text.encode_utf16().flat_map(u16::to_be_bytes).collect();
    for bytes in [text.as_bytes(), &little, &big, "höhe,text\rrun,RÜN\r".as_bytes()] {
        let (table, _) = sound(bytes);
        assert_eq!(table.columns, ["höhe", "text"]);
        assert_eq!(cells(&table), [["run", "RÜN"]]);
    }
}

#[test]
fn every_cell_knows_its_place() {
    let (table, sources) = sound("a,b\r\n\r\nü,\"x\r\ny\"\r\n1,\"q\"\r\n".as_bytes());
    let at = |row: usize, column: usize| {
        let place = table.rows[row][column].place;
        let text = &sources.file(0).unwrap().1[place.start as usize..place.end as usize];
        let (_, line, column) = sources.position(place).unwrap();
        (text, line, column)
    };
    assert_eq!(at(0, 0), ("ü", 3, 1));
    assert_eq!(at(0, 1), ("x\r\ny", 3, 4));
    assert_eq!(at(1, 0), ("1", 5, 1));
    assert_eq!(at(1, 1), ("q", 5, 4));
    assert_eq!(table.rows[0][1].text, "x\ny");
}

#[test]
fn says_all_that_is_wrong_at_once() {
    let text = "name,,name\nrun\n\"a\"b,2,3\n1,2,3,4\nx,\u{1b}[2J,3\nlast,2,\"open\nmore,2,3\n";
    let expected = [
        "3:4 there is text after the closing quote",
        "5:3 this cell holds a control character, U+001B",
        "6:8 this quote is never closed",
        "1:6 column 2 has no name",
        "1:7 columns 1 and 3 are both called \"name\"",
        "2:1 this row has 1 cell; the first row has 3",
        "4:1 this row has 4 cells; the first row has 3",
    ];
    assert_eq!(slips(text), expected);
}

#[test]
fn refuses_empty_and_boundless_tables() {
    assert_eq!(slips(""), ["1:1 the table is empty"]);
    assert_eq!(slips("\n , \n"), ["1:1 the table is empty"]);
    assert_eq!(slips("name,text\n\n"), ["1:1 the table has no rows"]);
    let long = "a\n".to_owned() + &"1\n".repeat(20_001);
    assert_eq!(slips(&long), ["20002:1 the table has 20001 rows; 20000 is the most"]);
    let wide: Vec<String> = (0..201).map(|n| format!("c{n}")).collect();
    let wide = format!("{0}\n{0}\n", wide.join(","));
    assert_eq!(slips(&wide), ["1:891 the table has 201 columns; 200 is the most"]);
    let huge = "a".repeat(super::MOST_BYTES + 1);
    assert_eq!(slips(&huge), ["0:0 legends.csv is larger than 8 MiB"]);
}

#[test]
fn never_guesses_an_encoding() {
    for bytes in [&b"name\nR\xdcN\n"[..], b"\xff\xfea", b"\xff\xfe\x00\xd8", b"n\0a\0\n\0"] {
        let (mut sources, mut findings) = (Sources::default(), Findings::default());
        assert_eq!(read("legends.csv", bytes, &mut sources, &mut findings), None);
        let help: Vec<&str> = findings.list().iter().map(|slip| slip.help.as_str()).collect();
        assert_eq!(help, ["save it from the spreadsheet as CSV UTF-8"]);
    }
}
