//! Codes of what is drawn, laid out and checked: labels, texts, codes, panels, sheets.

use super::Severity::{Error, Note, Warning};
use super::{FindingCode, PRINTERS, row};

const NOTHING_DRAWN: &str = "there would be nothing to print";

pub(super) const CODES: &[FindingCode] = &[
    // Texts as they are set.
    row("missing-glyph", &[Error])
        .means("No face has a letter of the text.")
        .mend("Use the font the message names, or another letter.")
        .never("the letter would be missing"),
    row("fallback-letter", &[Warning])
        .means("A letter among others is taken from another face, and looks different.")
        .mend("Use a face that has all of them."),
    row("fallback-word", &[Note])
        .means("A whole word is taken from another face.")
        .mend("Look at it in the proof, or use a face that has it."),
    row("fallback-symbol", &[Note])
        .means("A symbol is taken from another face.")
        .mend("Look at its weight in the proof."),
    row("mixed-direction", &[Error])
        .means("A line holds words that read to the right and words that read to the left.")
        .mend("Put each direction on a line of its own.")
        .source("Unicode UAX 9")
        .never("which words come first cannot be known"),
    row("confusable-letters", &[Warning])
        .means("Letters of the text look alike in its face, such as O and 0, or I, l and 1.")
        .mend("Use a face that tells them apart, such as wire."),
    row("text-too-wide", &[Error])
        .means("A text is wider than the room it was given.")
        .mend("Make it smaller or shorter, or its room wider."),
    row("text-too-tall", &[Error])
        .means("A text is higher than its box, or its accents and descenders reach out of it.")
        .mend("Make it smaller, or the box higher."),
    row("cannot-spread", &[Warning])
        .means("A text of one letter cannot be spaced out to a width.")
        .mend("Take `spread` or `sweep` out."),
    row("letters-touch", &[Warning])
        .means("Letters that stand clear on a straight line touch on their arc.")
        .mend("Add tracking, or make the radius larger."),
    row("arc-too-long", &[Error])
        .means("A text is longer than its whole circle.")
        .mend("Make it smaller, or the radius larger.")
        .never("its ends would lie over each other"),
    // Single labels as they are drawn.
    row("lifted", &[Note])
        .means("`lift` draws lines thicker than asked, so that the printer can print them.")
        .mend("Take `lift` away to keep their true width."),
    row("loose-backing", &[Error, Warning])
        .means("A white backing would be nothing, loose pieces, or film so narrow that it tears.")
        .mend("Put what is painted into one box, make the choke smaller, or print on white film."),
    row("covered-words", &[Error, Warning])
        .means("Words lie under what is painted after them, or under another decal of their panel.")
        .mend("Write them after what covers them, or move one of them."),
    row("numbers-touch", &[Warning])
        .means("Numbers of a scale come nearer to each other or to the marks than one stroke.")
        .mend("Make the radius or the step larger, or the numbers smaller.")
        .source("NUREG-0700 11.4.1.5, DOD-HDBK-791"),
    row("zones-alike", &[Warning])
        .means("Zones of a scale differ in colour only; not everybody sees colours alike.")
        .mend("Make one `look: hatched`, or a fifth wider."),
    row("odd-step", &[Warning])
        .means("The numbers of a scale do not go up by 1, 2 or 5 or their tens.")
        .mend("Take the nearest such step.")
        .source("MIL-HDBK-759B"),
    row("crowded-marks", &[Warning])
        .means("A scale has more marks between two numbers than can be counted at a glance.")
        .mend("Leave out short marks, or give more numbers.")
        .source("MIL-HDBK-759B"),
    // Codes for machines.
    row("code-text", &[Error])
        .means("A code cannot hold its text: it is too long, or has a letter the kind lacks.")
        .mend("Shorten it, or choose another kind.")
        .source("ISO/IEC 18004, 16022 and 15417")
        .never(NOTHING_DRAWN),
    row("code-too-large", &[Error])
        .means("A code with its quiet zone is larger than its `size`.")
        .mend("Make `size` larger, or its text shorter.")
        .never("it would reach over what stands beside it"),
    row("small-module", &[Error, Warning])
        .means("A code's modules are smaller than four dots or 0.4 mm (0.5 mm on an ink-jet).")
        .mend("Make its `module` or `size` larger, or its text shorter.")
        .source("ISO/IEC 18004 for the dots; the sizes are common practice, no source"),
    row("quiet-zone", &[Error, Warning])
        .means("Ink or the trim comes within the free space a code needs round it.")
        .mend("Move it away, or make the label larger.")
        .source("ISO/IEC 18004, 16022 and 15417"),
    row("code-reversed", &[Warning])
        .means("A code is light on dark; many readers want dark on light.")
        .mend("Print it in dark ink on film or in a light box.")
        .source("ISO/IEC 15415, symbol contrast"),
    row("faint-code", &[Error])
        .means("A code is hardly darker than its ground.")
        .mend("Print it darker, on white film, or with white under the whole label.")
        .source("ISO/IEC 15415, symbol contrast"),
    row("code-unreadable", &[Error])
        .means("A code does not read back from its drawn outlines.")
        .mend("Keep other parts off it; give a clear code a filled box to stand in.")
        .source("ISO/IEC 18004, 16022 and 15417")
        .never("a code that does not read back says nothing, or something false"),
    // What the printer can print.
    row("small-text", &[Warning])
        .means("Text is lower than the printer's smallest cap height, in ink or reversed.")
        .mend("Make it higher, or leave it out.")
        .source(PRINTERS),
    row("thin-ink", &[Warning])
        .means("Strokes, lines or necks of ink are thinner than the printer's thinnest ink.")
        .mend("Make them wider, the text higher, or take a bolder face.")
        .source(PRINTERS),
    row("clear-gap", &[Warning, Note])
        .means("Clear strokes, lines or gaps are thinner than the printer keeps open.")
        .mend("Make them wider, add tracking, or take another face.")
        .source(PRINTERS),
    row("thin-white", &[Warning])
        .means("White under the ink is too thin to print, or gone, once its edge is drawn in.")
        .mend("Make the ink bolder or the choke smaller.")
        .source(PRINTERS),
    // Film and white.
    row("white-on-clear", &[Error])
        .means("White paint on clear film: nothing would be printed.")
        .mend("Print it on white film, or with `white: under` where the printer has white."),
    row("clear-on-white", &[Note])
        .means("Clear paint on white film or paper shows white, not the surface.")
        .mend("Write white if that is meant, or print it on clear film."),
    row("hidden-by-film", &[Error])
        .means("White film lies between the ink and the eye: inside a window or face down.")
        .mend("Print it on clear film, or apply it face-up."),
    row("white-edge", &[Warning])
        .means("Ink ends at the trim of white film: the cut leaves a white edge.")
        .mend("Write `bleed: 1 mm`."),
    row("no-white", &[Warning, Note])
        .means("White under the ink where the printer has none, or on white film.")
        .mend("Write `white_passes` of the printer, `white: backing`, or take `white` away."),
    row("reads-backwards-unsaid", &[Warning])
        .means("Labels are printed mirrored on sheets whose guides are switched off.")
        .mend("Write `guides: yes`."),
    // How it is seen and read.
    row("low-contrast", &[Error, Warning])
        .means("Letters, lines or areas hardly stand out from what is round them on the part.")
        .mend("Take one of the cures the message names.")
        .source("WCAG 2.2, 1.4.3 and 1.4.11, made for screens; used on the colours as seen"),
    row("colour-shift", &[Warning, Note])
        .means("An ink looks another colour on what it lies on.")
        .mend("Print white under it, or on white film, or pick its print colour by eye.")
        .source("ISO/CIE 11664-6 (CIEDE2000); the limits are common practice, no source"),
    row("surface-unknown", &[Note])
        .means("Labels on clear film do not say what they go on, so contrast is not checked.")
        .mend("Add `on:`, and the paint's colour under `surfaces:`."),
    row("hard-to-read", &[Error, Note])
        .means("Capitals are low for the distance they are read from.")
        .mend("Make them higher.")
        .source("ISO 9241-303, NUREG-0700 11.4.1.5; signs: ANSI Z535.2"),
    row("tight-words", &[Note])
        .means("Strokes, or gaps between letters, words or lines, make reading from afar hard.")
        .mend("Add tracking or line pitch, or take another face.")
        .source("DOD-HDBK-791 6-5.3.2, NUREG-0700 11.4.1.5"),
    row("legends-touch", &[Warning])
        .means("Letters of two legends come nearer to each other than the printer keeps open.")
        .mend("Move one of them, or make it smaller.")
        .source(PRINTERS),
    row("two-spellings", &[Note])
        .means("One word is shortened in two ways.")
        .mend("Use one form of it everywhere; `words:` keeps it in one place.")
        .source("MIL-STD-1472, 5.5; ASME Y14.38"),
    // At the bench.
    row("no-spare", &[Warning])
        .means("A water-slide label has no spare; they tear and get lost.")
        .mend("Write `spares: 1`."),
    row("large-label", &[Warning])
        .means("A label is larger than A5 and hard to slide in one piece.")
        .mend("Cut it with `split`, or have a second pair of hands.")
        .source("ISO 216 for A5; the limit is common practice, no source"),
    row("near-cut", &[Error, Warning])
        .means("Letters are cut by the knife, or within a hand's error of it.")
        .mend("Make the label larger or the text smaller."),
    // Symbols.
    row("stand-by-off", &[Warning])
        .means("The symbol off stands beside the words stand-by.")
        .mend("Take the symbol stand-by, or other words.")
        .source("IEC 60417-5008 and -5009, from memory"),
    row("protective-earth", &[Note])
        .means("The symbol protective earth is only for the protective conductor's terminal.")
        .mend("Take `earth`, `functional-earth` or `frame` for anything else.")
        .source("IEC 60417-5019, from memory"),
    row("no-safety-sign", &[Note])
        .means("A warning symbol is used: a decal made at home is no safety sign.")
        .mend("Where there is a real danger use signs to the standards and the local law.")
        .source("ISO 7010, ANSI Z535"),
    // Panels.
    row("hole-off-panel", &[Error])
        .means("A hole reaches past the edge of its panel.")
        .mend("Check its place, the panel's `size` and where `origin` counts from."),
    row("holes-meet", &[Error, Warning])
        .means("Holes, nuts or knobs are too near to each other.")
        .mend("Move one of them, or fit something smaller."),
    row("under-knob", &[Error, Warning])
        .means("Legends, marks or a drawing are covered by a knob, nut or bezel.")
        .mend("Move them out: a larger gap, radius or `from_middle`, or a smaller knob.")
        .source("MIL-HDBK-759B: markings stay visible"),
    row("legend-off-panel", &[Warning])
        .means("A legend reaches past the edge of its panel.")
        .mend("Move it in, or stand it on another side of its hole."),
    row("turned-legend", &[Note])
        .means("A legend on a panel is not level.")
        .mend("Make room and take `turned` out; level words are read fastest.")
        .source("MIL-STD-1472, from memory: labels read level"),
    row("uneven-gap", &[Note])
        .means("A hole is a little out of its place in an even row.")
        .mend("Check its place."),
    // Sheets and printers.
    row("too-large-for-sheet", &[Error])
        .means("A label is larger than what the margins leave of a sheet.")
        .mend("Take a larger paper, let it turn, or have it cut with `split`.")
        .never("it cannot be laid"),
    row("off-sheet", &[Error])
        .means("Ink reaches outside the printable area of its sheet.")
        .mend("Make its bleed or its ink smaller, or the sheet's margins."),
    row("no-room-for-marks", &[Note])
        .means("Sheets are too full for the foot line and the bars to measure.")
        .mend("Measure a label instead, or take a larger paper.")
        .of_job(),
    row("no-room-for-square", &[Note])
        .means("No sheet of a film has room for the 50 mm square.")
        .mend("Measure the bars both ways instead.")
        .of_job(),
    row("no-registration", &[Warning])
        .means("Sheets that are fed twice have no room for all three register marks.")
        .mend("Take a larger paper, or a printer that lays white with the colours.")
        .of_job(),
    row("other-paper", &[Warning])
        .means("The printer's profile was made on another paper.")
        .mend("Make a profile on this paper.")
        .of_job(),
    row("narrow-margin", &[Warning])
        .means("A margin is narrower than the printer was measured to leave.")
        .mend("Make it larger, or leave `margin` out: the profile's are then taken.")
        .source("the user's own test print")
        .of_job(),
    row("correction-unsaid", &[Warning])
        .means("Sheets are corrected for their printer and, with guides off, do not say so.")
        .mend("Write `guides: yes`.")
        .of_job(),
];
