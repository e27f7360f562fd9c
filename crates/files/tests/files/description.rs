//! Reader, description and JSON schema say the same: an order is written from
//! the description alone, with every key, and then taken apart key by key.

use files::{Description, Field, Need, Shape, order_description, order_schema, read_order};
use serde_json::Value as Json;

/// A value of an order written from the description.
#[derive(Debug, Clone)]
enum Made {
    Text(String),
    Table(Vec<(&'static str, Made)>),
    List(Box<Made>),
}

fn made(shape: &Shape) -> Made {
    match shape {
        Shape::Table(description) => {
            Made::Table(description.fields.iter().map(|field| (field.key, made(&field.shape))).collect())
        }
        Shape::List(item) => Made::List(Box::new(made(item))),
        shape => Made::Text(shape.example()),
    }
}

fn written(value: &Made) -> String {
    match value {
        Made::Text(text) => text.clone(),
        Made::List(item) => format!("[{}]", written(item)),
        Made::Table(entries) => {
            let parts: Vec<_> = entries.iter().map(|(key, value)| format!("{key} = {}", written(value))).collect();
            format!("{{ {} }}", parts.join(", "))
        }
    }
}

fn file(entries: &[(&'static str, Made)]) -> String {
    entries.iter().map(|(key, value)| format!("{key} = {}\n", written(value))).collect()
}

/// Entries of the table that `path` leads to; list items are passed through.
fn table<'m>(entries: &'m mut Vec<(&'static str, Made)>, path: &[&str]) -> &'m mut Vec<(&'static str, Made)> {
    let Some((first, rest)) = path.split_first() else { return entries };
    let (_, value) = entries.iter_mut().find(|(key, _)| key == first).expect("the key is there");
    let mut value = value;
    while let Made::List(item) = value {
        value = item;
    }
    let Made::Table(below) = value else { panic!("{first} is a table") };
    table(below, rest)
}

/// An order with every key that does not exclude another: twice, for those that do.
fn full_orders() -> [Vec<(&'static str, Made)>; 2] {
    let Made::Table(mut order) = made(&Shape::Table(order_description())) else { panic!("an order is a table") };
    // The example of a limit is its upper end, and a strip must run forward.
    let strip = table(&mut order, &["line", "strip"]);
    strip[0].1 = Made::Text("\"1 m\"".to_owned());
    let without = |keys: &[&str]| {
        let mut order = order.clone();
        table(&mut order, &["line"]).retain(|(key, _)| !keys.contains(key));
        order
    };
    let (mut one, mut other) =
        (without(&["candidates", "copied_from", "strip"]), without(&["rope", "length", "cover"]));
    // A sheave has a groove, jaws hold from a thickness on.
    table(&mut one, &["line", "lead"]).retain(|(key, _)| *key != "min_rope");
    let jaws = table(&mut other, &["line", "lead"]);
    jaws.retain(|(key, _)| *key != "groove");
    jaws.iter_mut().filter(|(key, _)| *key == "on").for_each(|on| on.1 = Made::Text("\"clutch\"".to_owned()));
    [one, other]
}

/// Every field with the path of its table.
fn fields(description: &Description, path: &[&'static str], found: &mut Vec<(Vec<&'static str>, Field)>) {
    for field in &description.fields {
        found.push((path.to_vec(), field.clone()));
        let mut shape = &field.shape;
        while let Shape::List(item) = shape {
            shape = item;
        }
        if let Shape::Table(below) = shape {
            fields(below, &[path, &[field.key]].concat(), found);
        }
    }
}

fn all_fields() -> Vec<(Vec<&'static str>, Field)> {
    let mut found = Vec::new();
    fields(&order_description(), &[], &mut found);
    found
}

#[test]
fn every_key_of_the_description_is_read() {
    for order in full_orders() {
        let text = file(&order);
        assert_eq!(read_order(text.as_bytes()).problems, [], "{text}");
    }
    let count = all_fields().len();
    assert!(count > 110, "{count}");
}

/// What the message calls the table of a path.
fn named(path: &[&str]) -> String {
    match path {
        [] => "in the file".to_owned(),
        ["line"] => "in [[line]] 1".to_owned(),
        ["line", rest @ ..] => {
            let rest = rest.join(".").replace("lead", "lead 1").replace("marks", "marks 1");
            format!("in [[line]] 1: {rest}")
        }
        path => format!("in [{}]", path.join(".")),
    }
}

#[test]
fn each_required_key_left_out_is_one_problem_at_its_table() {
    let mut tried = 0;
    for (path, field) in all_fields().into_iter().filter(|(_, field)| field.need == Need::Required) {
        for mut order in full_orders() {
            if path.first() == Some(&"line")
                && path.len() > 1
                && !table(&mut order, &["line"]).iter().any(|(key, _)| *key == path[1])
            {
                continue;
            }
            let entries = table(&mut order, &path);
            entries.retain(|(key, _)| *key != field.key);
            let text = file(&order);
            let read = read_order(text.as_bytes());
            let [problem] = &read.problems[..] else { panic!("{path:?} {} {:#?}", field.key, read.problems) };
            assert_eq!(problem.code, "missing-key");
            assert_eq!(problem.message, format!("{} is missing {}", field.key, named(&path)));
            let start = path.first().map_or(0, |first| text.find(&format!("{first} = ")).expect("it is there"));
            let place = problem.place.expect("it has a place");
            let line_end = start + text[start..].find('\n').expect("a line");
            assert!((start..=line_end).contains(&place.start), "{path:?} {place:?}");
            tried += 1;
        }
    }
    assert!(tried > 40, "{tried}");
}

#[test]
fn each_optional_key_may_be_left_out() {
    for (path, field) in all_fields().into_iter().filter(|(_, field)| field.need != Need::Required) {
        for mut order in full_orders() {
            if path.len() > 1
                && path[0] == "line"
                && !table(&mut order, &["line"]).iter().any(|(key, _)| *key == path[1])
            {
                continue;
            }
            // A strip without its wish and a pair without its count mean something else.
            if ["strip", "count"].contains(&field.key) {
                continue;
            }
            table(&mut order, &path).retain(|(key, _)| *key != field.key);
            let codes: Vec<_> =
                read_order(file(&order).as_bytes()).problems.iter().map(|problem| problem.code).collect();
            assert!(codes.is_empty() || codes == ["contradiction"], "{path:?} {} {codes:?}", field.key);
        }
    }
}

#[test]
fn an_unknown_key_in_any_table_is_one_problem() {
    let mut paths: Vec<_> = all_fields().into_iter().map(|(path, _)| path).collect();
    paths.dedup();
    paths.sort();
    paths.dedup();
    for path in paths {
        for mut order in full_orders() {
            if path.len() > 1
                && path[0] == "line"
                && !table(&mut order, &["line"]).iter().any(|(key, _)| *key == path[1])
            {
                continue;
            }
            table(&mut order, &path).push(("zzzzzzzz", Made::Text("1".to_owned())));
            let read = read_order(file(&order).as_bytes());
            let [problem] = &read.problems[..] else { panic!("{path:?} {:#?}", read.problems) };
            assert_eq!(
                (problem.code, problem.message.as_str()),
                ("unknown-key", &*format!("\"zzzzzzzz\" is not known {}", named(&path)))
            );
        }
    }
}

/// The part of the schema that describes the table of a path.
fn part<'s>(schema: &'s Json, path: &[&str]) -> &'s Json {
    let schema = if schema["type"] == "array" { &schema["items"] } else { schema };
    match path.split_first() {
        Some((first, rest)) => part(&schema["properties"][*first], rest),
        None => schema,
    }
}

#[test]
fn the_schema_has_the_same_keys_needs_and_words() {
    let schema = order_schema();
    let mut count = 0;
    for (path, field) in all_fields() {
        let table = part(&schema, &path);
        assert_eq!(table["additionalProperties"], Json::Bool(false), "{path:?}");
        let required = table["required"].as_array().expect("a list").iter().any(|key| key == field.key);
        assert_eq!(required, field.need == Need::Required, "{path:?} {}", field.key);
        let property = &table["properties"][field.key];
        assert!(property["description"].as_str().is_some_and(|text| !text.is_empty()), "{path:?} {}", field.key);
        assert_eq!(property.get("default").is_some(), matches!(field.need, Need::Assumed(_)), "{path:?} {}", field.key);
        if let Shape::Words(words) = &field.shape {
            let listed: Vec<_> = property["enum"].as_array().expect("a list").iter().filter_map(Json::as_str).collect();
            assert_eq!(listed, words.iter().map(|(word, _)| *word).collect::<Vec<_>>());
        }
        count += 1;
    }
    // The other way round: the schema has no key that the description has not.
    assert_eq!(keys(&schema), count);
}

fn keys(schema: &Json) -> usize {
    let schema = if schema["type"] == "array" { &schema["items"] } else { schema };
    schema["properties"]
        .as_object()
        .map_or(0, |properties| properties.len() + properties.values().map(keys).sum::<usize>())
}

#[test]
fn every_word_of_the_schema_is_read_and_no_other() {
    for (path, field) in all_fields() {
        let Shape::Words(words) = &field.shape else { continue };
        for order in full_orders() {
            let mut probe = order.clone();
            if path.len() > 1
                && path[0] == "line"
                && !table(&mut probe, &["line"]).iter().any(|(key, _)| *key == path[1])
            {
                continue;
            }
            for word in words.iter().map(|(word, _)| *word).chain(["no-such-word"]) {
                let mut order = order.clone();
                let Some((_, value)) = table(&mut order, &path).iter_mut().find(|(key, _)| *key == field.key) else {
                    continue;
                };
                *value = Made::Text(format!("{word:?}"));
                let read = read_order(file(&order).as_bytes());
                let unknown = read.problems.iter().filter(|problem| problem.code == "unknown-word").count();
                assert_eq!(unknown, usize::from(word == "no-such-word"), "{path:?} {} {word}", field.key);
            }
        }
    }
}

#[test]
fn limits_of_the_schema_are_those_of_the_reader() {
    let mut tried = 0;
    for (path, field) in all_fields() {
        let Shape::Number { limits: Some((low, high)), .. } = field.shape else { continue };
        for (value, good) in [(low, true), (high, true), (low - 1.0, false), (high + 1.0, false)] {
            for mut order in full_orders() {
                let Some((_, slot)) = table(&mut order, &path).iter_mut().find(|(key, _)| *key == field.key) else {
                    continue;
                };
                *slot = Made::Text(value.to_string());
                let read = read_order(file(&order).as_bytes());
                let refused = read.problems.iter().any(|problem| problem.code == "out-of-range");
                assert_eq!(refused, !good, "{path:?} {} = {value}", field.key);
                tried += 1;
            }
        }
    }
    assert!(tried > 40, "{tried}");
}
