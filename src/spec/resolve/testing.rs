//! Jobs for tests: YAML in, spec and findings out.

use super::{Desk, resolve};
use crate::files::Error;
use crate::finding::Place;
use crate::finding::{Findings, Sources};
use crate::font::Faces;
use crate::spec::Spec;
use crate::spec::draft::JobDraft;
use crate::spec::typed::Typed;
use serde_yaml::Value;

fn draft(text: &str, file: u16) -> JobDraft {
    let value: Value = serde_yaml::from_str(text).unwrap();
    let mut cursor = 0;
    let mut out = String::new();
    canonical(&value, text, file, &mut cursor, &mut out);
    serde_yaml::from_str(&out).unwrap()
}

fn canonical(value: &Value, text: &str, file: u16, cursor: &mut usize, out: &mut String) {
    let shown = match value {
        Value::Sequence(list) => {
            out.push('[');
            for item in list {
                canonical(item, text, file, cursor, out);
                out.push(',');
            }
            out.push(']');
            return;
        }
        Value::Mapping(map) => {
            out.push('{');
            for (key, item) in map {
                out.push_str(&format!("{:?}: ", key.as_str().unwrap()));
                canonical(item, text, file, cursor, out);
                out.push(',');
            }
            out.push('}');
            return;
        }
        Value::String(text) => text.clone(),
        Value::Number(number) => number.to_string(),
        Value::Bool(true) => "yes".into(),
        Value::Bool(false) => "no".into(),
        other => panic!("{other:?}"),
    };
    let start = text[*cursor..].find(&shown).map_or(*cursor, |at| at + *cursor);
    *cursor = start + shown.len().min(text.len() - start);
    let place = Place { file, start: start as u32, end: *cursor as u32 };
    out.push_str(&format!("{:?}", Typed::canonical(&shown, place)));
}

pub(super) fn job(text: &str) -> (Spec, Findings) {
    let (mut faces, mut sources, mut findings) =
        (Faces::bundled(), Sources::default(), Findings::default());
    let file = sources.add("job.yaml", text);
    let job = draft(text, file);
    let bundled = draft(include_str!("../../../styles/bundled.yaml"), 1).styles;
    let mut fetch = |name: &str| Err(Error::Outside(name.into()));
    let spec = resolve(
        "job.yaml",
        job,
        bundled,
        &mut Desk {
            faces: &mut faces,
            fetch: &mut fetch,
            sources: &mut sources,
            findings: &mut findings,
        },
    );
    (spec, findings)
}

#[test]
fn four_lines_are_a_job() {
    let (spec, findings) = job("title: Tide gauge\nsheet: {film: white}\nlabels:\n- RUN\n");
    assert_eq!(findings.list(), []);
    assert_eq!(spec.labels.len(), 1);
}
