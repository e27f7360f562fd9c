//! What a case gives: texts with units, counts, words and lists, each read
//! once and none left over.

use crate::Trouble;
use crate::amount::{self, Amount};
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};

/// One value as the case file has it.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// A text: a quantity, a share or a word.
    Text(String),
    /// A count.
    Count(i64),
    /// Several values.
    List(Vec<Value>),
}

impl Value {
    /// From the case file; floats are refused, because they lose the digits
    /// that were printed.
    pub(crate) fn from_toml(value: &toml::Value) -> Result<Value, String> {
        match value {
            toml::Value::String(text) => Ok(Value::Text(text.clone())),
            toml::Value::Integer(count) => Ok(Value::Count(*count)),
            toml::Value::Array(values) => {
                values.iter().map(Value::from_toml).collect::<Result<_, _>>().map(Value::List)
            }
            other => Err(format!("{other}: write a number as text, so that its digits stay")),
        }
    }
}

/// The inputs of one case.
#[derive(Debug, Clone, Default)]
pub struct Given {
    values: BTreeMap<String, Value>,
    read: RefCell<BTreeSet<String>>,
}

macro_rules! quantity_getters {
    ($($method:ident: $name:ident),+ $(,)?) => {$(
        #[doc = concat!("A ", stringify!($method), " of this name.")]
        ///
        /// # Errors
        /// When it is missing or of another quantity.
        pub fn $method(&self, name: &str) -> Result<units::$name, Trouble> {
            self.text(name)?.parse().map_err(|fault| Trouble::malformed(format!("{name}: {fault}")))
        }
    )+};
}

impl Given {
    /// The inputs by name.
    #[must_use]
    pub fn new(values: BTreeMap<String, Value>) -> Self {
        Given { values, read: RefCell::default() }
    }

    /// The values by name.
    #[must_use]
    pub fn values(&self) -> &BTreeMap<String, Value> {
        &self.values
    }

    /// The same inputs with one replaced.
    #[must_use]
    pub fn with(&self, name: &str, value: Value) -> Given {
        let mut values = self.values.clone();
        values.insert(name.to_owned(), value);
        Given::new(values)
    }

    /// Names that nobody read.
    #[must_use]
    pub fn unread(&self) -> Vec<String> {
        self.values.keys().filter(|name| !self.read.borrow().contains(*name)).cloned().collect()
    }

    fn value(&self, name: &str) -> Result<&Value, Trouble> {
        self.read.borrow_mut().insert(name.to_owned());
        self.values.get(name).ok_or_else(|| Trouble::malformed(format!("given.{name} is missing")))
    }

    /// Is there an input of this name?
    #[must_use]
    pub fn has(&self, name: &str) -> bool {
        self.values.contains_key(name)
    }

    /// A text or word.
    ///
    /// # Errors
    /// When it is missing or no text.
    pub fn text(&self, name: &str) -> Result<&str, Trouble> {
        match self.value(name)? {
            Value::Text(text) => Ok(text),
            other => Err(Trouble::malformed(format!("given.{name} is {other:?}: a text is wanted"))),
        }
    }

    /// A count, negative ones included.
    ///
    /// # Errors
    /// When it is missing or no whole number.
    pub fn count(&self, name: &str) -> Result<i64, Trouble> {
        match self.value(name)? {
            Value::Count(count) => Ok(*count),
            other => Err(Trouble::malformed(format!("given.{name} is {other:?}: a whole number is wanted"))),
        }
    }

    /// A count of things, zero or more.
    ///
    /// # Errors
    /// As refused when negative: no room takes a negative count.
    pub fn tally(&self, name: &str) -> Result<u32, Trouble> {
        let count = self.count(name)?;
        u32::try_from(count).map_err(|_| Trouble::Refused(format!("{name} is {count}")))
    }

    /// A plain number or share.
    ///
    /// # Errors
    /// When it is missing or has a unit.
    pub fn ratio(&self, name: &str) -> Result<f64, Trouble> {
        let text = self.text(name)?;
        match amount::read(text) {
            Some(Amount { dimension: amount::Dimension::Ratio, si }) => Ok(si),
            _ => Err(Trouble::malformed(format!("given.{name} is {text:?}: a plain number is wanted"))),
        }
    }

    quantity_getters! {
        length: Length,
        area: Area,
        force: Force,
        speed: Speed,
        angle: Angle,
        pressure: Pressure,
        moment: Moment,
        mass: Mass,
        linear_density: LinearDensity,
    }

    /// Several lengths.
    ///
    /// # Errors
    /// When missing, no list, or not all lengths.
    pub fn lengths(&self, name: &str) -> Result<Vec<units::Length>, Trouble> {
        let wrong = |what: &dyn std::fmt::Debug| Trouble::malformed(format!("given.{name}: {what:?} is no length"));
        match self.value(name)? {
            Value::List(values) => values
                .iter()
                .map(|value| match value {
                    Value::Text(text) => text.parse().map_err(|_| wrong(text)),
                    other => Err(wrong(other)),
                })
                .collect(),
            other => Err(wrong(other)),
        }
    }

    /// Several plain numbers; none where there is no such input.
    ///
    /// # Errors
    /// When it is no list, or not all plain numbers.
    pub fn ratios(&self, name: &str) -> Result<Vec<f64>, Trouble> {
        let wrong = |what: &dyn std::fmt::Debug| Trouble::malformed(format!("given.{name}: {what:?} is no number"));
        if !self.has(name) {
            return Ok(Vec::new());
        }
        let Value::List(values) = self.value(name)? else { return Err(wrong(&"what is given")) };
        let number = |value: &Value| match value {
            Value::Text(text) => match amount::read(text) {
                Some(Amount { dimension: amount::Dimension::Ratio, si }) => Ok(si),
                _ => Err(wrong(text)),
            },
            Value::Count(count) => Ok(*count as f64),
            Value::List(_) => Err(wrong(value)),
        };
        values.iter().map(number).collect()
    }

    /// Several counts.
    ///
    /// # Errors
    /// When missing, no list, or not all whole numbers above zero.
    pub fn tallies(&self, name: &str) -> Result<Vec<u32>, Trouble> {
        let wrong = |what: &dyn std::fmt::Debug| Trouble::malformed(format!("given.{name}: {what:?} is no count"));
        match self.value(name)? {
            Value::List(values) => values
                .iter()
                .map(|value| match value {
                    Value::Count(count) => u32::try_from(*count).map_err(|_| wrong(count)),
                    other => Err(wrong(other)),
                })
                .collect(),
            other => Err(wrong(other)),
        }
    }
}
