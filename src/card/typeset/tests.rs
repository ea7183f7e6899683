use super::*;

#[test]
fn a_word_of_letters_is_the_word_set_whole() {
    // text::set on the whole word is the outside measure; AV, To and P. are kerned pairs.
    let faces = Faces::bundled();
    let mut setter = Typesetter::new(&faces, 0);
    for (level, text) in [
        (Level::Strong, "AVATAR"),
        (Level::Spoken, "To.P.7"),
        (Level::Spoken, "Überlauf"),
        (Level::Quiet, "1074"),
    ] {
        let (whole, width) = setter.set(level, text);
        let word = setter.word(level, text);
        assert_eq!(word.drawn.len(), text.chars().count());
        assert!((word.width - width).abs() < 1e-6, "{text}: {} {width}", word.width);
        let letters = word.drawn.iter().map(|(x, design)| {
            setter.drawings[*design].marks[0].path.bounds() + kurbo::Vec2::new(*x, 0.0)
        });
        let bounds = letters.reduce(|all, one| all.union(one)).unwrap();
        assert!((bounds.x0 - whole.bounds().x0).abs() < 1e-6, "{text}");
        assert!((bounds.x1 - whole.bounds().x1).abs() < 1e-6, "{text}");
    }
}

#[test]
fn thousands_of_names_take_a_handful_of_drawings() {
    let faces = Faces::bundled();
    let mut setter = Typesetter::new(&faces, 7);
    for number in 0..3000 {
        setter.lines(Level::Strong, &format!("channel-{number}"), 60.0);
    }
    let drawings = setter.into_drawings();
    // c h a n e l - and ten figures.
    assert_eq!(drawings.len(), 17);
}

#[test]
fn long_names_are_parted_before_their_signs() {
    let faces = Faces::bundled();
    let mut setter = Typesetter::new(&faces, 0);
    let mut parted = |text: &str| -> Vec<String> {
        let lines = setter.lines(Level::Body, text, 20.0);
        lines.into_iter().map(|line| line.text).collect()
    };
    assert_eq!(parted("=MOLE1+CAB2-K24:13"), ["=MOLE1+CAB2", "-K24:13"]);
    assert_eq!(parted("=MOLE1+CABIN2:13"), ["=MOLE1", "+CABIN2:13"]);
    assert_eq!(parted(&"-".repeat(60)).concat(), "-".repeat(60));
    assert_eq!(parted("X-MMMMMMMMMMMMMMMM").concat(), "X-MMMMMMMMMMMMMMMM");
}

#[test]
fn a_frequent_word_becomes_one_piece_of_the_same_width() {
    let faces = Faces::bundled();
    let mut setter = Typesetter::new(&faces, 0);
    let words: Vec<SetLine> = (0..30).map(|_| setter.word(Level::Body, "ground")).collect();
    assert!(words.iter().all(|word| (word.width - words[0].width).abs() < 1e-6));
    let pieces: usize = words.iter().map(|word| word.drawn.len()).sum();
    assert_eq!(pieces, 12 * "ground".len() + 18);
}

#[test]
fn lines_are_no_wider_than_asked() {
    let faces = Faces::bundled();
    let mut setter = Typesetter::new(&faces, 0);
    let text = "read every row aloud against the part Donaudampfschiffahrtsgesellschaft";
    for level in [Level::Body, Level::Spoken] {
        let lines = setter.lines(level, text, 20.0);
        assert!(lines.iter().all(|line| line.width <= 20.0 + 0.1), "{lines:?}");
        assert!(lines.len() > 4);
        let read: String = lines.iter().map(|line| line.text.as_str()).collect();
        assert_eq!(read.replace(' ', ""), text.replace(' ', ""));
    }
}
