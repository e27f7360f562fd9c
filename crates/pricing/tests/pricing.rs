//! Money read, rounded and summed exactly.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

use pricing::*;
use units::Millimetres;

fn used(rope: &str, pieces: i64, spoiled: i64, price: &str) -> Used {
    Used {
        rope: rope.to_owned(),
        pieces: Millimetres::new(pieces),
        spoiled: Millimetres::new(spoiled),
        per_metre: Money::read(price).unwrap(),
    }
}

#[test]
fn a_total_is_the_sum_of_its_printed_lines() {
    let cost =
        rope_cost(&[used("a", 3_335, 0, "1.00 EUR"), used("b", 3_335, 0, "1.00 EUR")], Rounding::HalfUp).unwrap();
    assert_eq!(cost.lines[0].amount.to_string(), "3.34 EUR");
    assert_eq!(cost.total.unwrap().to_string(), "6.68 EUR");
    let even = rope_cost(&[used("a", 3_325, 0, "1.00 EUR")], Rounding::HalfEven).unwrap();
    assert_eq!(even.total.unwrap().to_string(), "3.32 EUR");
}

#[test]
fn coins_follow_the_currency() {
    let yen = rope_cost(&[used("a", 1_500, 0, "99 JPY")], Rounding::HalfUp).unwrap();
    assert_eq!(yen.total.unwrap().to_string(), "149 JPY");
    let dinar = rope_cost(&[used("a", 1_000, 1, "1.2345 KWD")], Rounding::HalfUp).unwrap();
    assert_eq!(dinar.total.unwrap().to_string(), "1.236 KWD");
}

#[test]
fn what_cannot_be_added_is_refused() {
    let mixed = rope_cost(&[used("a", 1, 0, "1 EUR"), used("b", 1, 0, "1 USD")], Rounding::HalfUp);
    assert!(matches!(mixed, Err(MoneyError::Currencies { .. })));
    for text in ["", "4.20", "EUR 4.20", "4,20 EUR", "4.20 euro", "4.20 EU"] {
        assert!(Money::read(text).is_err(), "{text}");
    }
    assert_eq!(rope_cost(&[], Rounding::HalfUp).unwrap().total, None);
}
