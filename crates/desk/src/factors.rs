//! The loft's factors for orders that bring none: the `[loft]` table of an
//! order, set once.
//!
//! An order with a `[loft]` table of its own is left as it is, also where that
//! table is short: whoever wrote it meant the rest to be the usual. The text
//! is put behind the order's own, so that every line of it keeps its number.

use crate::problem::Problem;
use crate::text::Text;

/// The factors that can be set, each with its words and an example.
pub const FACTORS: [(&str, &str, &str); 8] = [
    ("bury_diameters", "bury of a long-bury eye, diameters", "72"),
    ("design_factor", "breaking strength over peak load", "3"),
    ("loss_per_cut", "rope lost with each cut", "10 mm"),
    ("loss_per_end", "cut off a reel's free end first", "50 mm"),
    ("smallest_remnant", "shortest remnant kept", "2 m"),
    ("most_remnants", "most remnants of one rope", "4"),
    ("cut_tolerance", "tolerance of a finished length", "10 mm"),
    ("reference_tension", "pull under which lengths are measured", "150 N"),
];

/// Factors as the table of an order; nothing where none is given.
///
/// ```
/// let text = desk::factors_text([("design_factor", "4".to_owned()), ("loss_per_cut", "15 mm".to_owned())]);
/// assert_eq!(text, "[loft]\ndesign_factor = 4\nloss_per_cut = \"15 mm\"\n");
/// assert_eq!(desk::factors_text([]), "");
/// ```
#[must_use]
pub fn factors_text<'a>(factors: impl IntoIterator<Item = (&'a str, String)>) -> String {
    let mut text = String::new();
    for (name, value) in factors {
        if text.is_empty() {
            text.push_str("[loft]\n");
        }
        let plain = value.trim().parse::<f64>().is_ok();
        let value = if plain { value.trim().to_owned() } else { quoted(value.trim()) };
        text.push_str(&format!("{name} = {value}\n"));
    }
    text
}

/// A text as TOML writes it.
fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for c in text.chars() {
        match c {
            '"' | '\\' => out.extend(['\\', c]),
            c if c.is_control() => out.push_str(&format!("\\u{:04X}", u32::from(c))),
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

/// Can these factors be read?
///
/// # Errors
/// Every mistake.
pub fn check_factors(factors: &str) -> Result<(), Problem> {
    if factors.is_empty() {
        return Ok(());
    }
    let order = with_factors(&crate::blank_order("2026-01-01"), factors);
    crate::boat(&Text::held("the loft's factors", &order), None).map(drop)
}

/// An order with the loft's factors, where it has none of its own.
#[must_use]
pub fn with_factors(order: &str, factors: &str) -> String {
    if factors.is_empty() || files::read_order(order.as_bytes()).record.is_none_or(|order| order.loft.is_some()) {
        return order.to_owned();
    }
    let end = if order.ends_with('\n') { "" } else { "\n" };
    format!("{order}{end}\n{factors}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn factors_are_read_and_told() {
        let given =
            |pairs: &[(&'static str, &str)]| factors_text(pairs.iter().map(|(name, text)| (*name, (*text).to_owned())));
        check_factors(&given(&[])).expect("nothing is allowed");
        check_factors(&given(&FACTORS.map(|(name, _, example)| (name, example)))).expect("the examples can be read");
        for (name, text) in
            [("design_factor", "0.5"), ("loss_per_cut", "10"), ("bury_diameters", "many"), ("loss_per_cut", "a\"b")]
        {
            let problem = check_factors(&given(&[(name, text)])).expect_err("refused");
            assert_eq!(problem.mistakes.len(), 1, "{name} {text}: {problem}");
        }
    }

    #[test]
    fn an_order_of_its_own_mind_is_left_alone() {
        let factors = factors_text([("design_factor", "4".to_owned())]);
        let bare = crate::blank_order("2026-01-01");
        let with = with_factors(&bare, &factors);
        assert!(with.starts_with(&bare) && with.ends_with("design_factor = 4\n"));
        assert_eq!(with_factors(&with, &factors_text([("design_factor", "9".to_owned())])), with);
        assert_eq!(with_factors("no order", &factors), "no order");
    }
}
