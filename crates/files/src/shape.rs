//! What may stand in a field: the one description from which the reader's
//! messages, the JSON schema and the reference are made.

use crate::problem::listed;
use serde_json::{Map, Value as Json, json};

/// Whether a key must be there.
#[derive(Debug, Clone, PartialEq)]
pub enum Need {
    /// It must.
    Required,
    /// It may be left out.
    Optional,
    /// It may be left out, and then this is assumed.
    Assumed(String),
}

/// One key of a table, or one column.
#[derive(Debug, Clone)]
pub struct Field {
    /// The key as written.
    pub key: &'static str,
    /// Whether it must be there.
    pub need: Need,
    /// What it is.
    pub about: &'static str,
    /// What may stand there.
    pub shape: Shape,
}

/// A table: its title, what it is, its keys.
#[derive(Debug, Clone)]
pub struct Description {
    /// What it is.
    pub about: &'static str,
    /// Its keys.
    pub fields: Vec<Field>,
}

/// What may stand in a field.
#[derive(Debug, Clone)]
pub enum Shape {
    /// Text of the writer's own, up to so many characters.
    Text {
        /// Longest allowed, in characters.
        longest: usize,
        /// Whether it may run over several lines.
        lines: bool,
    },
    /// A plain number without quotes.
    Number {
        /// Only whole numbers.
        whole: bool,
        /// Smallest and largest.
        limits: Option<(f64, f64)>,
    },
    /// `true` or `false`.
    Flag,
    /// A day.
    Date,
    /// A number with its unit, in quotes.
    Quantity {
        /// What it measures, with its article.
        what: &'static str,
        /// The units read.
        units: Vec<&'static str>,
        /// A text that would be read.
        example: &'static str,
        /// Smallest and largest, as text.
        limits: Option<(String, String)>,
    },
    /// One of fixed words, each with its meaning.
    Words(Vec<(&'static str, &'static str)>),
    /// Text of a fixed form.
    Form {
        /// What it is, with its article.
        what: &'static str,
        /// A text that would be read.
        example: &'static str,
    },
    /// A list.
    List(Box<Shape>),
    /// A list of three lengths.
    Point,
    /// A table of its own.
    Table(Description),
}

impl Shape {
    /// What may stand there, as a sentence says it.
    #[must_use]
    pub fn allowed(&self) -> String {
        match self {
            Shape::Text { longest, .. } => format!("text in quotes, up to {longest} characters"),
            Shape::Number { whole, limits } => {
                let kind = if *whole { "a whole number" } else { "a plain number" };
                match limits {
                    Some((low, high)) => format!("{kind} from {low} to {high}, without quotes"),
                    None => format!("{kind}, without quotes"),
                }
            }
            Shape::Flag => "true or false, without quotes".to_owned(),
            Shape::Date => "a day, written 2026-03-31".to_owned(),
            Shape::Quantity { what, units, limits, .. } => {
                let within = limits.as_ref().map_or(String::new(), |(low, high)| format!(" from {low} to {high}"));
                format!("{what}{within}, in {}", listed(units))
            }
            Shape::Words(words) => listed(&words.iter().map(|(word, _)| *word).collect::<Vec<_>>()),
            Shape::Form { what, example } => format!("{what}, such as {example:?}"),
            Shape::List(item) => format!("a list in square brackets; in it: {}", item.allowed()),
            Shape::Point => "three lengths [x aft, y to starboard, z up] from the mast at deck".to_owned(),
            Shape::Table(_) => "a table of its own".to_owned(),
        }
    }

    /// A value that would be read, as the order file writes it.
    #[must_use]
    pub fn example(&self) -> String {
        match self {
            Shape::Text { .. } => "\"any text\"".to_owned(),
            Shape::Number { whole, limits } => match limits {
                Some((low, high)) if *whole => format!("{}", ((low + high) / 2.0).floor()),
                Some((low, high)) => format!("{:?}", (low + high) / 2.0),
                None => "1".to_owned(),
            },
            Shape::Flag => "true".to_owned(),
            Shape::Date => "2026-03-31".to_owned(),
            // A limit is always a value that would be read; the example of the kind need not be within it.
            Shape::Quantity { example, limits, .. } => match limits {
                Some((_, high)) => format!("{high:?}"),
                None => format!("{example:?}"),
            },
            Shape::Words(words) => words.first().map_or(String::new(), |(word, _)| format!("{word:?}")),
            Shape::Form { example, .. } => format!("{example:?}"),
            Shape::List(item) => format!("[{}]", item.example()),
            Shape::Point => "[\"100 mm\", \"-20 mm\", \"1.2 m\"]".to_owned(),
            Shape::Table(description) => {
                let parts: Vec<_> = description
                    .fields
                    .iter()
                    .filter(|field| field.need == Need::Required)
                    .map(|field| format!("{} = {}", field.key, field.shape.example()))
                    .collect();
                format!("{{ {} }}", parts.join(", "))
            }
        }
    }

    /// As JSON schema, draft 2020-12.
    #[must_use]
    pub fn schema(&self) -> Json {
        match self {
            Shape::Text { longest, .. } => json!({"type": "string", "minLength": 1, "maxLength": longest}),
            Shape::Number { whole, limits } => {
                let mut schema = json!({"type": if *whole { "integer" } else { "number" }});
                if let Some((low, high)) = limits {
                    schema["minimum"] = json!(low);
                    schema["maximum"] = json!(high);
                }
                schema
            }
            Shape::Flag => json!({"type": "boolean"}),
            Shape::Date => json!({"type": "string", "format": "date"}),
            Shape::Quantity { example, .. } => {
                json!({"type": "string", "minLength": 2, "description": self.allowed(), "examples": [example]})
            }
            Shape::Words(words) => json!({"enum": words.iter().map(|(word, _)| *word).collect::<Vec<_>>()}),
            Shape::Form { example, .. } => {
                json!({"type": "string", "description": self.allowed(), "examples": [example]})
            }
            Shape::List(item) => json!({"type": "array", "items": item.schema()}),
            Shape::Point => json!({
                "type": "array", "items": {"type": "string"}, "minItems": 3, "maxItems": 3,
                "description": self.allowed(),
            }),
            Shape::Table(description) => description.schema(),
        }
    }
}

impl Description {
    /// As JSON schema, draft 2020-12.
    #[must_use]
    pub fn schema(&self) -> Json {
        let mut properties = Map::new();
        for field in &self.fields {
            properties.insert(field.key.to_owned(), field.schema());
        }
        let required: Vec<_> =
            self.fields.iter().filter(|field| field.need == Need::Required).map(|field| field.key).collect();
        json!({
            "type": "object", "description": self.about, "additionalProperties": false,
            "required": required, "properties": properties,
        })
    }
}

impl Field {
    fn schema(&self) -> Json {
        let mut schema = self.shape.schema();
        let about = match schema.get("description").and_then(Json::as_str) {
            Some(allowed) if !matches!(self.shape, Shape::Table(_)) => format!("{}: {allowed}", self.about),
            _ => self.about.to_owned(),
        };
        schema["description"] = json!(about);
        if let Need::Assumed(value) = &self.need {
            schema["default"] = match &self.shape {
                Shape::Number { .. } => value.parse::<f64>().map_or(json!(value), |number| json!(number)),
                Shape::Flag => json!(value == "true"),
                _ => json!(value),
            };
        }
        schema
    }
}
