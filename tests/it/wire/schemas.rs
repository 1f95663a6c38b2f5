//! The published schemas and the strict reader say the same.

use super::{
    ANSWER, CALL, CLEARS, DEMAND, OWN_TABLE, SHOT, SHOT3, answer, call, clear_item, item,
    item_text, leave_item, leave_text, sets, shot,
};
use crate::harness::published;
use jsonschema::{Registry, Validator};
use leaveline::Error;
use leaveline::layout::deal_eye;
use leaveline::memory::{Answered, By, Worth, record};
use leaveline::physics::MODEL_VERSION;
use leaveline::plan::Called;
use leaveline::practice::{Call, LeaveAnswer};
use leaveline::shot::HANDS;
use leaveline::table::{PocketId, TableSize};
use leaveline::wire::{compact, parse, read_record, read_set, write_record};
use serde_json::{Value, json};

const BASE: &str = "leaveline:///schema/";

/// The validator of one schema; every schema knows the others, and nothing is fetched.
pub fn schema(name: &str) -> Validator {
    let read = |file: &str| -> Value {
        let path = format!("{}/www/schema/{file}", env!("CARGO_MANIFEST_DIR"));
        let text = std::fs::read_to_string(path).expect("the schema is there");
        serde_json::from_str(&text).expect("the schema is JSON")
    };
    let file = format!("{name}.schema.json");
    let schema = read(&file);
    jsonschema::meta::validate(&schema).expect("the schema is a schema");
    let mut registry = Registry::new();
    for known in ["shot", "item", "call", "outcome", "eye"] {
        let known = format!("{known}.schema.json");
        registry = registry.add(format!("{BASE}{known}"), read(&known)).expect("a resource");
    }
    let registry = registry.prepare().expect("a registry");
    jsonschema::options()
        .with_base_uri(BASE)
        .with_registry(&registry)
        .offline()
        .build(&schema)
        .expect("a validator")
}

/// `form` with one thing changed, in every way and at every place.
fn mutants(form: &Value) -> Vec<(String, Value)> {
    let mut found = Vec::new();
    collect(form, "", &mut |path, changed| found.push((path, changed)));
    found
}

fn collect(form: &Value, path: &str, keep: &mut dyn FnMut(String, Value)) {
    for other in
        [json!(null), json!(true), json!("x"), json!("1"), json!([]), json!({}), json!(-0.5)]
    {
        if other != *form {
            keep(format!("{path} = {other}"), other);
        }
    }
    match form {
        Value::Object(fields) => {
            let mut more = fields.clone();
            more.insert("extra".into(), json!(0));
            keep(format!("{path}.extra added"), Value::Object(more));
            for (name, value) in fields {
                let mut fewer = fields.clone();
                fewer.remove(name);
                keep(format!("{path}.{name} removed"), Value::Object(fewer));
                collect(value, &format!("{path}.{name}"), &mut |path, changed| {
                    let mut other = fields.clone();
                    other.insert(name.clone(), changed);
                    keep(path, Value::Object(other));
                });
            }
        }
        Value::Array(list) => {
            for n in [1, 16, 17, 32, 33] {
                let longer: Vec<_> = list.iter().cycle().take(n).cloned().collect();
                keep(format!("{path} with {n} entries"), Value::Array(longer));
            }
            for (k, value) in list.iter().enumerate() {
                collect(value, &format!("{path}[{k}]"), &mut |path, changed| {
                    let mut other = list.clone();
                    other[k] = changed;
                    keep(path, Value::Array(other));
                });
            }
        }
        Value::Number(_) => {
            for number in [
                0.0,
                0.5,
                0.9,
                1.0,
                1.000_001,
                1.5,
                2.0,
                6.0,
                7.0,
                10.0,
                10.1,
                15.0,
                15.1,
                85.0,
                85.01,
                89.9,
                90.0,
                100.0,
                100.1,
                134.9,
                135.0,
                135.1,
                180.0,
                180.1,
                1e4,
                10_001.0,
                1e6,
                1e7,
                4_294_967_295.0,
                4_294_967_296.0,
                1e300,
                -1.0,
                -100.1,
            ] {
                keep(format!("{path} = {number}"), json!(number));
            }
        }
        _ => {}
    }
}

/// Whether a refusal is of a kind that a schema cannot say: a rule between
/// several values, or a range that depends on one.
fn beyond_a_schema(error: &Error) -> bool {
    matches!(error, Error::Invalid { .. }) || error.field().ends_with("table.noseHeight")
}

/// Holds every mutant of `form` against schema and reader; gives how many each
/// of them refused.
fn compare(
    validator: &Validator,
    form: &Value,
    read: impl Fn(&str) -> Result<(), Error>,
) -> (usize, usize) {
    let (mut by_schema, mut by_reader) = (0, 0);
    for (what, mutant) in mutants(form) {
        let valid = validator.is_valid(&mutant);
        let answer = read(&mutant.to_string());
        by_schema += usize::from(!valid);
        by_reader += usize::from(answer.is_err());
        match answer {
            Ok(()) => assert!(valid, "{what}: read, but the schema refuses it"),
            Err(error) => assert!(
                !valid || beyond_a_schema(&error),
                "{what}: the schema accepts it, the reader says {error}"
            ),
        }
    }
    (by_schema, by_reader)
}

#[test]
fn shots_are_accepted_and_refused_alike() {
    let validator = schema("shot");
    for text in [SHOT, OWN_TABLE] {
        let form: Value = serde_json::from_str(text).expect("JSON");
        assert!(validator.is_valid(&form), "the form itself is sound");
        let (by_schema, by_reader) = compare(&validator, &form, |text| shot(text).map(|_| ()));
        assert!(by_schema > 100 && by_reader >= by_schema, "{by_schema} and {by_reader} refused");
    }
}

#[test]
fn items_are_accepted_and_refused_alike() {
    let validator = schema("item");
    let form: Value = serde_json::from_str(&item_text(SHOT)).expect("JSON");
    assert!(validator.is_valid(&form), "the form itself is sound");
    // Each kind has its reader.
    let read = |text: &str| match item(text) {
        Err(error) if leave_item(text).is_err() && clear_item(text).is_err() => Err(error),
        _ => Ok(()),
    };
    let (by_schema, by_reader) = compare(&validator, &form, read);
    assert!(by_schema > 150 && by_reader >= by_schema, "{by_schema} and {by_reader} refused");
}

#[test]
fn leave_items_are_accepted_and_refused_alike() {
    let validator = schema("item");
    let form: Value = serde_json::from_str(&leave_text(SHOT3, DEMAND)).expect("JSON");
    assert!(validator.is_valid(&form), "the form itself is sound");
    let (by_schema, by_reader) = compare(&validator, &form, |text| leave_item(text).map(|_| ()));
    assert!(by_schema > 200 && by_reader >= by_schema, "{by_schema} and {by_reader} refused");
}

#[test]
fn clear_items_are_accepted_and_refused_alike() {
    let validator = schema("item");
    for text in CLEARS {
        let form: Value = serde_json::from_str(text).expect("JSON");
        assert!(validator.is_valid(&form), "the form itself is sound");
        let (by_schema, by_reader) =
            compare(&validator, &form, |text| clear_item(text).map(|_| ()));
        assert!(by_schema > 200 && by_reader >= by_schema, "{by_schema} and {by_reader} refused");
    }
}

#[test]
fn answers_are_accepted_and_refused_alike() {
    let validator = schema("answer");
    let form: Value = serde_json::from_str(ANSWER).expect("JSON");
    assert!(validator.is_valid(&form), "the form itself is sound");
    let (by_schema, by_reader) = compare(&validator, &form, |text| answer(text).map(|_| ()));
    assert!(by_schema > 100 && by_reader >= by_schema, "{by_schema} and {by_reader} refused");
}

#[test]
fn sets_are_accepted_and_refused_alike() {
    let validator = schema("set");
    let form: Value = serde_json::from_str(&sets::example()).expect("JSON");
    assert!(validator.is_valid(&form), "the form itself is sound");
    let read = |text: &str| read_set(text).map(|_| ());
    let (by_schema, by_reader) = compare(&validator, &form, read);
    assert!(by_schema > 400 && by_reader >= by_schema, "{by_schema} and {by_reader} refused");
}

#[test]
fn kept_calls_are_accepted_and_refused_alike() {
    let validator = schema("log");
    let by = By { hand: HANDS[1], drawn: Some((7, 0)) };
    let read_item = item(&item_text(SHOT3)).expect("an item");
    let clear = clear_item(CLEARS[0]).expect("an item");
    let ball = clear.rack().expect("a rack").targets().balls().next().expect("a ball");
    let called = Called { ball, pocket: PocketId::FootLeft };
    let worth = Some(Worth { best: 0.6, own: 0.5 });
    let leave = leave_item(&leave_text(SHOT3, DEMAND)).expect("an item");
    // Points of a call lie on one table; a stop lies on all.
    let plain = Call { points: vec![], stop: call(CALL).expect("a call").stop };
    let answer = LeaveAnswer { call: None, ..answer(ANSWER).expect("an answer") };
    let estimate = deal_eye(1, 0, TableSize::NineFoot).expect("an estimate");
    for (answered, least) in [
        (Answered::Read { item: read_item, call: plain }, 200),
        (Answered::Leave { item: leave, answer, by }, 200),
        (Answered::Clear { item: clear, called, zone: None, by, worth }, 200),
        (Answered::Eye { item: estimate, answer: 20.0 }, 150),
    ] {
        let kept = record(1_790_000_000_000.0, answered).expect("a call");
        let text = compact(&write_record(&kept).expect("a form")).expect("text");
        let form: Value = serde_json::from_str(&text).expect("JSON");
        let errors: Vec<_> = validator.iter_errors(&form).map(|error| error.to_string()).collect();
        assert!(errors.is_empty(), "the form itself is sound: {errors:?}");
        let (by_schema, by_reader) =
            compare(&validator, &form, |text| read_record(&parse(text)?).map(|_| ()));
        assert!(by_schema > least && by_reader >= by_schema, "{by_schema} and {by_reader} refused");
    }
}

#[test]
fn the_schema_knows_every_version_of_the_model() {
    let text = published("www/schema/item.schema.json");
    let schema: Value = serde_json::from_str(&text).expect("JSON");
    assert_eq!(schema["$defs"]["model"]["maximum"], json!(MODEL_VERSION), "the latest one");
}

#[test]
fn calls_are_accepted_and_refused_alike() {
    let validator = schema("call");
    let form: Value = serde_json::from_str(CALL).expect("JSON");
    assert!(validator.is_valid(&form), "the form itself is sound");
    let (by_schema, by_reader) = compare(&validator, &form, |text| call(text).map(|_| ()));
    assert_eq!(by_schema, by_reader, "a schema can say all that is asked of a call alone");
    assert!(by_schema > 50, "{by_schema} refused");
}

/// Walks a schema and gives every part that describes an object.
fn object_schemas<'a>(part: &'a Value, found: &mut Vec<&'a Value>) {
    match part {
        Value::Object(fields) => {
            if fields.get("type") == Some(&json!("object")) {
                found.push(part);
            }
            fields.values().for_each(|inner| object_schemas(inner, found));
        }
        Value::Array(list) => list.iter().for_each(|inner| object_schemas(inner, found)),
        _ => {}
    }
}

#[test]
fn every_object_is_closed_and_every_property_described() {
    for name in ["shot", "outcome", "item", "call", "answer", "set", "eye", "log"] {
        let path = format!("{}/www/schema/{name}.schema.json", env!("CARGO_MANIFEST_DIR"));
        let text = std::fs::read_to_string(path).expect("the schema is there");
        let schema: Value = serde_json::from_str(&text).expect("JSON");
        let mut objects = Vec::new();
        object_schemas(&schema, &mut objects);
        assert!(!objects.is_empty(), "{name} describes objects");
        for object in objects {
            let title = &object["description"];
            assert!(title.is_string(), "{name}: {object} has a description");
            let open = object.get("additionalProperties");
            assert!(open.is_some_and(|rule| *rule != json!(true)), "{name}: {title} is closed");
            let none = serde_json::Map::new();
            let properties = object.get("properties").and_then(Value::as_object);
            for (field, rule) in properties.unwrap_or(&none) {
                let described = rule.get("description").is_some() || rule.get("$ref").is_some();
                assert!(described, "{name}: {title} {field} has a description");
            }
        }
    }
}
