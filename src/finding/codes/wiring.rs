//! Codes of wires and their markers.

use super::Severity::{Error, Note, Warning};
use super::{FILE_FORMAT, FindingCode, row};

const UNREAD: &str = "which wire is meant, and where it goes, is not known until it is put right";

const IEC_62491: &str = "IEC 62491: a wire is identified at each end";

const ILL_FITTING: &str = "a marker would not fit its wire";

pub(super) const CODES: &[FindingCode] = &[
    // The table and the markers as they are read.
    row("no-wires", &[Error])
        .means("The job has no wires.")
        .mend("Name a `table:` under `wires:`, or `list:` them.")
        .source(FILE_FORMAT)
        .never("there would be nothing to print"),
    row("no-column", &[Error, Warning])
        .means("A table lacks a column it needs, or a drill table has a heading close to `name` and no names.")
        .mend("Add the column, or rename the one that is meant.")
        .source(FILE_FORMAT)
        .never(UNREAD),
    row("same-column", &[Error])
        .means("Two columns of a table of wires mean the same.")
        .mend("Rename or delete one of them.")
        .source(FILE_FORMAT)
        .never(UNREAD),
    row("no-wire-name", &[Error])
        .means("A wire has no name.")
        .mend("Give every wire a name of its own.")
        .source(IEC_62491)
        .never(UNREAD),
    row("same-rail", &[Error])
        .means("A rail is named twice or not at all.")
        .mend("Name each rail once.")
        .source(FILE_FORMAT)
        .never(UNREAD),
    row("bad-grid", &[Error])
        .means("The grid of pre-cut stickers cannot be read, or cannot be right.")
        .mend("Write columns, rows, size, first and pitch as measured on the sheet.")
        .source(FILE_FORMAT)
        .never("stickers would be missed"),
    row("bad-gauge", &[Error])
        .means("A wire's gauge cannot be read.")
        .mend("Write 22 AWG or 0.5 mm2.")
        .source(FILE_FORMAT)
        .never(ILL_FITTING),
    row("no-diameter", &[Error])
        .means("A wire's thickness is not known from its gauge and insulation.")
        .mend("Measure it over the insulation and give its `diameter`.")
        .source("published by wire makers")
        .never(ILL_FITTING),
    row("absurd-length", &[Error])
        .means("A length or thickness is no wire's.")
        .mend("Check the number and its unit.")
        .never(ILL_FITTING),
    row("unknown-wire-colour", &[Error])
        .means("A wire's colour is not known; the wire is listed without one.")
        .mend("Use a code of IEC 60757 such as RD or GNYE, or a plain name.")
        .source("IEC 60757")
        .of_wires(),
    // What the markers come to.
    row("small-marker", &[Warning])
        .means("Letters on a marker are lower than can be printed and read.")
        .mend("Use fewer or shorter lines, or another kind of marker.")
        .source("printers' published minima; 0.05 in at least: a published ordnance course")
        .of_wires(),
    row("marker-too-small", &[Error])
        .means("Words do not fit on a marker at the cap height asked for.")
        .mend("Use fewer or shorter lines, leave `cap_height` out, or take another kind.")
        .of_wires(),
    row("turn-to-read", &[Note])
        .means("Letters go so far round a wire that it must be turned to read them.")
        .mend("Make them smaller, or take a flag.")
        .of_wires(),
    row("no-sleeve", &[Error])
        .means("No sleeve of the table both slips over a wire and grips it.")
        .mend("Measure the wire, or take another kind of marker.")
        .source("published by makers of heat-shrink sleeves")
        .of_wires(),
    row("tail-not-clear", &[Error])
        .means("The tail of a laminated wrap would hide its words: the film is not clear.")
        .mend("Print it on clear film, or use a plain wrap.")
        .of_wires(),
    row("too-large-for-sticker", &[Error])
        .means("A marker is larger than the pre-cut stickers.")
        .mend("Take larger stickers, shorter texts, or another kind of marker.")
        .never("it would be cut off"),
    // The wiring as a whole.
    row("end-missing", &[Error])
        .means("A wire has an end missing, or both ends on one terminal.")
        .mend("Write the terminal at each end: J2:4.")
        .of_wires(),
    row("same-wire", &[Error])
        .means("Two wires have one name.")
        .mend("Give every wire a name of its own.")
        .source(IEC_62491)
        .of_wires(),
    row("crowded-terminal", &[Warning])
        .means("More wires meet at a terminal than it takes; rails may take many.")
        .mend("Check the table, or declare it under `takes:` or `rails:`.")
        .of_wires(),
    row("rails-joined", &[Error])
        .means("Two supplies, or a supply and ground, are on one net.")
        .mend("Look for the wire of this net that has a wrong end.")
        .of_wires(),
    row("unknown-rail", &[Warning])
        .means("A rail, or a terminal under `takes`, names nothing in the table.")
        .mend("Write it as in the table: a pin, a function or a terminal.")
        .of_wires(),
    row("earth-colour", &[Error])
        .means("Green-and-yellow is on anything but protective earth, or earth is not.")
        .mend("Use GNYE for protective earth and for nothing else.")
        .source("IEC 60757 and IEC 60445")
        .of_wires(),
    row("mains-role", &[Warning])
        .means("A wire seems to carry mains; these markers are no safety marking.")
        .mend("Follow the local code, leave mains to those who may, isolate before any test.")
        .source("IEC 60445 for the names; the caution is common practice")
        .of_wires(),
    row("alike-wires", &[Note])
        .means("Wires of one colour run between the same devices.")
        .mend("Mark both ends before the first is joined, or use different colours.")
        .of_wires(),
    row("same-marker", &[Error])
        .means("Markers of different wires read the same.")
        .mend("Let the text tell the wires apart: put `{wire}` into it.")
        .source(IEC_62491)
        .of_wires(),
];
