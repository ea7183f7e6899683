//! What editors are told about files.

use decalwright::job::{FileKind, schema};

#[test]
fn schema_is_draft_07_and_takes_any_scalar_for_text() {
    let schema: serde_json::Value = serde_json::from_str(&schema(FileKind::Job)).expect("JSON");
    assert_eq!(schema["$schema"], "http://json-schema.org/draft-07/schema#");
    let definitions = &schema["definitions"];
    for text in [&definitions["TextKeys"], &definitions["PartKeys"], &definitions["LabelKeys"]] {
        let kinds = text["properties"]["text"]["anyOf"][0]["type"].clone();
        assert_eq!(kinds, serde_json::json!(["string", "number", "boolean", "null"]));
    }
    let copies = &definitions["LabelKeys"]["properties"]["copies"];
    assert_eq!(copies["type"], serde_json::json!(["string", "number", "boolean"]));
    assert_eq!(copies["description"], "How many are needed.");
}

#[test]
fn the_schema_of_profiles_names_and_explains_every_key_of_the_answers() {
    let schema: serde_json::Value = serde_json::from_str(&schema(FileKind::Profile)).expect("JSON");
    let keys = schema["properties"].as_object().expect("keys");
    for key in ["printer", "paper", "bars", "margins", "thinnest_clear", "opacity", "colours"] {
        assert!(keys[key]["description"].as_str().is_some_and(|words| words.len() > 10), "{key}");
    }
    assert_eq!(schema["additionalProperties"], false);
}
