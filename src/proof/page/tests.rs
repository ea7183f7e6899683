use super::*;

#[test]
fn what_is_filled_in_is_not_looked_at_again() {
    let filled = fill("<a>{{one}}</a>{{two}}", &[("one", "{{two}}".into()), ("two", "2".into())]);
    assert_eq!(filled, "<a>{{two}}</a>2");
}

#[test]
fn the_frame_asks_for_every_part_once() {
    let asked: Vec<&str> =
        FRAME.split("{{").skip(1).filter_map(|part| part.split("}}").next()).collect();
    for part in ["style", "script", "style-hash", "script-hash", "drawings", "views", "findings"] {
        assert_eq!(asked.iter().filter(|name| **name == part).count(), 1, "{part}");
    }
}

#[test]
fn script_and_style_hold_nothing_that_ends_them_or_fetches() {
    for text in [SCRIPT, STYLE] {
        for word in ["</", "http:", "https:", "@import", "fetch(", "XMLHttp", "eval("] {
            let found = text.replace("http://www.w3.org/2000/svg", "").contains(word);
            assert!(!found, "{word}");
        }
    }
}
