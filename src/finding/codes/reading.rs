//! Codes of reading: what is wrong with a job's file, or with one beside it.

use super::Severity::{Error, Note, Warning};
use super::{FILE_FORMAT, FindingCode, row};

/// A slip of a file.
const fn slip(code: &'static str) -> FindingCode {
    row(code, &[Error]).source(FILE_FORMAT).never(UNREAD)
}

const UNREAD: &str = "what was meant is not known until it is put right";

const IDLE: &str = "an `allow` that accepts nothing only looks as if it did";

const UNBOUNDED: &str = "without a bound a slip could fill memory or disk";

pub(super) const CODES: &[FindingCode] = &[
    // The file as a whole, and its YAML.
    slip("file-too-large")
        .means("The file is larger than any job needs to be.")
        .mend("Split it into several jobs.")
        .never(UNBOUNDED),
    slip("not-utf-8")
        .means("A byte of the file is not UTF-8 text.")
        .mend("Save the file as UTF-8."),
    slip("control-character")
        .means("The file, or a text in it, holds a control character, which nobody sees.")
        .mend("Take it out."),
    slip("tab").means("A line is set in with a tab, which YAML does not take.").mend("Use spaces."),
    slip("empty-job")
        .means("There is nothing in the file.")
        .mend("Write at least `labels:`, for instance `labels: [{text: RUN}]`."),
    slip("bad-yaml")
        .means(
            "The file cannot be read as YAML from here on: a quote, a bracket or a colon is amiss.",
        )
        .mend("Look at this line and the one before it."),
    slip("second-document")
        .means("A second document starts after a line `---`; one file holds one job.")
        .mend("Take the line out, or put the second job into a file of its own."),
    slip("too-deep")
        .means("Lists and maps are nested deeper than any job needs.")
        .mend("Look for a stray bracket.")
        .never(UNBOUNDED),
    slip("too-much")
        .means("The job holds too many values, counting what aliases repeat.")
        .mend("Split it into several jobs, or let `rows` or `series` repeat a label.")
        .never(UNBOUNDED),
    slip("too-many-slips")
        .means("The file has more slips than are shown.")
        .mend("Put the first ones right and run it again."),
    row("quote-it", &[Error, Warning])
        .means("YAML takes a text, or a part of it, for a comment, a tag, an alias or a map.")
        .mend("Put the whole text in quotes; put a space after the # of a comment.")
        .source("YAML 1.2")
        .never("quotes, or a space after the #, say what is meant"),
    slip("merge-key")
        .means("Merge keys (`<<:`) are not read.")
        .mend("Put the shared keys under `styles` and name the style."),
    slip("alias-in-itself")
        .means("An alias repeats the very thing it stands in.")
        .mend("Take it out."),
    slip("bad-key").means("A key is a list, a map or an alias.").mend("Write a word."),
    slip("no-key").means("There is no key before a colon.").mend("Write one."),
    slip("no-value")
        .means("A key or a list entry has no value.")
        .mend("Write one, or take the line out."),
    slip("twice").means("A key is in one map twice.").mend("Keep one of the two."),
    slip("unknown-key")
        .means("There is no such key here.")
        .mend("Correct its name or its indent; `decalwright schema` lists every key."),
    slip("wrong-kind")
        .means("A value, a list or a map stands where another of them is needed.")
        .mend("Write it as the example in the message shows."),
    // Single values.
    slip("missing").means("Something lacks a key it cannot do without.").mend("Add the key."),
    slip("bad-length").means("A length cannot be read, or cannot be right here.").mend(
        "Write a number and a unit: 3 mm, 0.1 in, 8 pt, 250 um; a bare number is millimetres.",
    ),
    slip("bad-number")
        .means("A number cannot be read, or is out of bounds.")
        .mend("Write a number between the bounds the message names."),
    slip("bad-pair")
        .means("There are too few or too many values where two are needed.")
        .mend("Write two in a list: [20 mm, 5 mm]."),
    slip("bad-value")
        .means("A word is none of those a key knows, or goes with something else.")
        .mend("Write one of the words the message lists."),
    slip("bad-colour")
        .means("A colour cannot be read, or clashes with another.")
        .mend("Write it as six digits in quotes: \"#ad2b24\"."),
    slip("bad-margin")
        .means("Margins leave nothing of the sheet, are not one, two or four, or are no printer's.")
        .mend("Write one length, [top and bottom, left and right], or all four from the top."),
    slip("bad-scale").means("The job's scale cannot be read.").mend("Write it as 1:87."),
    slip("no-scale")
        .means("A length is given of the prototype, and the job has no scale.")
        .mend("Add `scale: 1:87` (your model's own) at the top of the job."),
    slip("no-effect")
        .means("A key has no effect where it stands.")
        .mend("Take it out, or choose what it is for."),
    slip("too-long")
        .means("A name or a text is longer than can be used.")
        .mend("Shorten it.")
        .never(UNBOUNDED),
    slip("too-many")
        .means("There are more of something than can be handled, or than anyone can have meant.")
        .mend("Make two jobs of it, or look for the slip that makes so many.")
        .never(UNBOUNDED),
    // Keys that exclude each other.
    slip("bleed-and-border")
        .means("A label has both a bleed and a film border.")
        .mend("Keep one: a bleed carries ink past the trim, a film border keeps ink inside it."),
    slip("rows-and-series")
        .means("A label has both `rows` and a `series`.")
        .mend("Put the numbers into a column of the table, or leave the table out."),
    slip("two-areas")
        .means("White has both `area` and `of`, and both say where it is printed.")
        .mend("Keep one of them."),
    slip("two-gaps").means("A legend has both `gap` and `from_middle`.").mend(
        "Keep one: a gap counts from what covers the panel, `from_middle` from the hole's middle.",
    ),
    slip("two-sizes")
        .means("The size of a text or of art is given twice.")
        .mend("Keep one of them."),
    // Names.
    slip("unknown-colour")
        .means("No colour has this name.")
        .mend("Correct it, or add it under `colours:`."),
    slip("unknown-font")
        .means("No face has this role, family or name.")
        .mend("Name a role such as label or wire, a family, or a font under `fonts:`."),
    slip("unknown-paper")
        .means("No paper has this name.")
        .mend("Use A3, A4, A5, A6, Letter or Legal, or [width, height]."),
    slip("unknown-style")
        .means("No style has this name.")
        .mend("Correct it, or add it under `styles:`."),
    slip("unknown-surface")
        .means("No surface has this name.")
        .mend("Correct it, or add it under `surfaces:` with its colour."),
    slip("unknown-symbol")
        .means("No symbol of the built-in set has this name.")
        .mend("Take one of the names the message lists."),
    slip("unknown-word")
        .means("No word or column has the name in braces.")
        .mend("Correct it, add it under `words:`, or write {{ and }} for braces."),
    slip("lone-brace")
        .means("A brace in a text has no partner.")
        .mend("Write it twice for a brace in the text."),
    slip("word-in-word")
        .means("A word under `words:` holds another.")
        .mend("Write it out, or put both names into the label."),
    slip("style-circle")
        .means("Styles start from each other in a circle, or more than 64 of them do.")
        .mend("Take one `style:` out."),
    slip("empty-name").means("A label's name is empty.").mend("Write one, or leave `name` out."),
    slip("same-name")
        .means("Two labels, or two holes of a panel, have one name.")
        .mend("Give one of them another name."),
    row("unknown-code", &[Warning])
        .means("`allow` names a code that no finding has.")
        .mend("Correct it; `decalwright list findings` lists all codes.")
        .source(FILE_FORMAT)
        .never(IDLE),
    row("cannot-allow", &[Warning])
        .means("`allow` names a code that cannot be accepted, or not there.")
        .mend("Take it out, or move it to where it can be accepted.")
        .source(FILE_FORMAT)
        .never(IDLE),
    // Labels and parts.
    slip("no-labels")
        .means("The job has no labels and no wires.")
        .mend("Add `labels: [RUN, REST]`."),
    slip("empty-label")
        .means("A label has nothing on it, or draws nothing.")
        .mend("Give it `text:`, `parts:`, or a box with a fill or a line."),
    slip("empty-text")
        .means("A text or a code has no words.")
        .mend("Write them; quote a text that starts with # or !."),
    slip("one-element")
        .means("A map under `parts:` has no element, or more than one.")
        .mend("Start a new `- ` line for each element."),
    slip("bad-ring")
        .means("A ring's inner diameter is not less than its outer one.")
        .mend("Make `inner` smaller than `outer`."),
    slip("bad-series")
        .means("A series of numbers cannot be read.")
        .mend("Write its first and last: 1..12, or 01..12."),
    slip("bad-split")
        .means("A label cannot be cut there: the distances do not rise, or a letter is in the way.")
        .mend("List distances from the left edge in order, through gaps between words."),
    // Files beside the job.
    slip("table-file")
        .means("A table cannot be opened.")
        .mend("Put it beside the job, or correct its name."),
    slip("bad-table")
        .means("A table cannot be read, or its rows cannot be right.")
        .mend("Save it again as CSV UTF-8 and look at the line the message names."),
    slip("font-file")
        .means("A font file cannot be opened or read.")
        .mend("Put it beside the job, or name another."),
    slip("other-file")
        .means("A font file is not the one the job was made with: its SHA-256 differs.")
        .mend("Get that file, or take the new number once you have looked at the result."),
    row("outer-blanks", &[Note])
        .means("A text starts or ends with blanks; they are kept, and move it.")
        .mend("Take them out of the quotes, or leave them if the words shall stand so."),
    row("font-licence", &[Note])
        .means("A font's maker restricts its embedding; outlines of it are used.")
        .mend("Check that its licence allows that; nothing else is to be done.")
        .source("OpenType, OS/2 table: fsType")
        .of_job(),
    slip("art-file")
        .means("A drawing cannot be opened.")
        .mend("Put it beside the job, or correct its name."),
    slip("bad-art")
        .means("An SVG file holds what cannot be printed as outlines, or is no SVG file.")
        .mend("Change it in the drawing as the message says, and save it as plain SVG."),
    slip("bitmap")
        .means("A drawing is a picture made of dots; only outlines are printed.")
        .mend("Trace it to an SVG."),
    slip("art-size")
        .means("A drawing does not say how large it is, or would be far too large or small.")
        .mend("Give the size it shall have: `width: 40 mm`, or `fit: [40 mm, 15 mm]`."),
    row("art-unit", &[Note])
        .means("A drawing gives its size without a unit; it is taken at 96 to the inch.")
        .mend("Measure it in the proof, or write `width:`.")
        .source("CSS 2.1, 4.3.2: 96 px to the inch"),
    row("art-stretched", &[Warning])
        .means("A drawing is stretched more one way than the other.")
        .mend("Write `fit:` or `width:` to keep its shape."),
    // Dials and scales.
    slip("empty-scale")
        .means("A dial or scale has no marks.")
        .mend("Add `step`, `values` or a `table`."),
    slip("bad-range")
        .means("A dial or scale runs from a value to itself.")
        .mend("Give `from` and `to` different values."),
    slip("value-outside")
        .means("A value lies outside its dial or scale.")
        .mend("Take it out, or widen the scale."),
    slip("log-of-nought")
        .means("A log scale starts at nought or below, which has no logarithm.")
        .mend("Start above nought: at 0.1, 1 or 10, for example."),
    // Panels.
    slip("bad-panel")
        .means("A panel has no size, stands in a panel, or cannot be made as asked.")
        .mend("Change it as the message says."),
    slip("not-on-a-panel")
        .means("A key that only legends of a panel have stands on another label.")
        .mend("List the label under `panel: {legends: …}`, or take the key out."),
    row("not-printed", &[Note])
        .means("A panel's own text, box and parts are not printed when its legends are pieces.")
        .mend("Write them under `legends:` with `at`, or `deliver: overlay`."),
    slip("unknown-hole")
        .means("A panel has no hole, and no kind of hole, of this name.")
        .mend("Correct it."),
    slip("unknown-fitting")
        .means("A hole's kind is not known, so nothing gives its diameter.")
        .mend("Add `diameter`, or the kind under `fittings:`."),
    slip("drawing-file")
        .means("A panel's drawing cannot be opened.")
        .mend("Put it beside the job, or correct its name."),
    slip("bad-drawing")
        .means("A panel's drawing cannot be read.")
        .mend("Save it again as a DXF in text form, or as SVG."),
    slip("drawing-unit")
        .means("A panel's drawing does not say its unit.")
        .mend("Add `unit: mm` or `unit: in` to the panel; measure one hole to be sure."),
    slip("drawing-layer")
        .means("A panel's drawing has nothing on this layer.")
        .mend("Correct `layer`, or leave it out."),
    slip("no-holes")
        .means("A panel's drawing has no circles there.")
        .mend("Draw holes as circles, and check `layer`."),
    row("drawing-blocks", &[Warning])
        .means("A panel's drawing places blocks; circles in them are not read.")
        .mend("Explode the blocks in the drawing, unless they hold no holes.")
        .of_job(),
    // Printers' profiles.
    slip("profile-file")
        .means("A printer's profile cannot be opened.")
        .mend("Put it beside the job, or correct its name."),
    slip("scale-refused")
        .means("What was measured on a test print is no printer's doing, or contradicts itself.")
        .mend("Print again at 100 % (no fitting), and measure again.")
        .source(super::COMMON_PRACTICE)
        .never("a profile made of it would spoil every sheet"),
    row("measured-oddly", &[Warning])
        .means("What was read off a test print is hardly so: a scaled page, swapped answers.")
        .mend("Look again; keep it if it stays the same.")
        .of_job(),
];
