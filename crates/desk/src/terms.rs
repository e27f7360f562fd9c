//! The loft's terms of a quote, and lists of items, checked before they are
//! kept: what cannot be read is told while it can still be mended.

use crate::input::open;
use crate::problem::{Fault, Problem};
use crate::quote::{margin, money, rounding, share};
use crate::text::Text;

/// The loft's terms, each with what is written: name, words, example.
pub const TERMS: [(&str, &str, &str); 6] = [
    ("labour", "price of an hour", "48 EUR"),
    ("twine", "price of a metre of twine", "0.40 EUR"),
    ("waste", "rope spoiled, as a share of the rope", "4 %"),
    ("margin", "margin", "20 % on cost, or 20 % of price"),
    ("tax", "tax", "19 %"),
    ("rounding", "rounding", "half-up or half-even"),
];

/// Can every term that is given be read? `of` gives a term by its name.
///
/// # Errors
/// The first that cannot.
///
/// ```
/// let given = |name: &str| (name == "labour").then(|| "48".to_owned());
/// assert!(desk::check_terms(&given).unwrap_err().message.starts_with("labour"));
/// assert!(desk::check_terms(&|_| None).is_ok());
/// ```
pub fn check_terms(of: &dyn Fn(&str) -> Option<String>) -> Result<(), Problem> {
    for name in ["labour", "twine"] {
        of(name).map(|text| money(name, &text)).transpose()?;
    }
    for name in ["waste", "tax"] {
        let text = of(name);
        share(name, text.as_deref())?;
    }
    margin(of("margin").as_deref())?;
    rounding(of("rounding").as_deref()).map(drop)
}

/// Is it a list of items, every row of it?
///
/// # Errors
/// Every mistake, with its place.
pub fn check_items(text: &Text) -> Result<usize, Problem> {
    let input = open(text, files::LARGEST_TABLE)?;
    let rows = input.complete(files::read_items(&input.bytes))?;
    if rows.is_empty() {
        return Err(
            Problem::new(Fault::File, "no-rows", "the list has no row").hint("one item a row, or nothing at all")
        );
    }
    Ok(rows.len())
}
