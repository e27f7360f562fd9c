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
    for text in ["", "4.20", "EUR 4.20", "4,20 EUR", "4.20 euro", "4.20 EU", "4.20 EUX", "4.20 XAU"] {
        assert!(Money::read(text).is_err(), "{text}");
    }
    assert_eq!(rope_cost(&[], Rounding::HalfUp).unwrap().total, None);
}

fn decimal(text: &str) -> Decimal {
    text.parse().unwrap()
}

fn asked(items: Vec<Item>) -> QuoteRequest {
    QuoteRequest {
        currency: Currency::from_code("EUR").unwrap(),
        items,
        waste: decimal("0.05"),
        margin: Margin::OnCost(decimal("0.25")),
        tax: decimal("0.20"),
        rounding: Rounding::HalfEven,
    }
}

fn item(kind: ItemKind, quantity: &str, price: &str) -> Item {
    Item { kind, name: kind.word().to_owned(), quantity: decimal(quantity), price: Money::read(price).unwrap() }
}

#[test]
fn halves_go_up_or_to_the_even_coin() {
    let rounded = |text: &str, rule| Money::read(text).unwrap().rounded(rule).to_string();
    for (exact, up, even) in [
        ("0.125 EUR", "0.13 EUR", "0.12 EUR"),
        ("0.135 EUR", "0.14 EUR", "0.14 EUR"),
        ("2.5 JPY", "3 JPY", "2 JPY"),
        ("3.5 JPY", "4 JPY", "4 JPY"),
        ("1.0005 KWD", "1.001 KWD", "1.000 KWD"),
        ("1.00005 CLF", "1.0001 CLF", "1.0000 CLF"),
        ("-0.125 EUR", "-0.13 EUR", "-0.12 EUR"),
        ("0.1250001 EUR", "0.13 EUR", "0.13 EUR"),
    ] {
        assert_eq!(
            (rounded(exact, Rounding::HalfUp), rounded(exact, Rounding::HalfEven)),
            (up.to_owned(), even.to_owned())
        );
    }
}

#[test]
fn the_list_has_every_code_once() {
    let codes = currency_codes();
    assert!(codes.windows(2).all(|pair| pair[0] < pair[1]), "sorted, none twice");
    assert_eq!(codes.len(), 165);
    assert!(codes.iter().all(|code| Currency::from_code(code).is_some_and(|currency| currency.code() == *code)));
}

#[test]
fn what_cannot_be_priced_is_refused_at_its_place() {
    let free = quote(&asked(vec![
        item(ItemKind::Rope, "10", "2 EUR"),
        item(ItemKind::Hardware, "1", "0 EUR"),
        item(ItemKind::Twine, "0", "1 EUR"),
        item(ItemKind::Labour, "10", "40 USD"),
    ]))
    .unwrap();
    let places: Vec<_> = free.refused.iter().map(|fault| (fault.item, fault.field)).collect();
    assert_eq!(places, [(Some(1), "price"), (Some(2), "quantity"), (Some(3), "price")]);
    assert_eq!((free.lines.len(), free.total), (1, None), "the rest is kept, and there is no total");
    let mut taxed = asked(vec![item(ItemKind::Rope, "10", "2 EUR")]);
    taxed.tax = decimal("1.01");
    let taxed = quote(&taxed).unwrap();
    assert_eq!((taxed.refused[0].field, taxed.total), ("tax", None));
    assert!(taxed.refused[0].why.to_string().contains("101 %"), "{}", taxed.refused[0].why);
    let mut all = asked(vec![item(ItemKind::Rope, "10", "2 EUR")]);
    all.tax = decimal("1");
    assert!(quote(&all).unwrap().total.is_some(), "100 % is allowed");
}

#[test]
fn a_margin_of_the_price_is_that_share_of_the_net() {
    let mut request = asked(vec![item(ItemKind::Hardware, "3", "25 EUR")]);
    request.margin = Margin::OfPrice(decimal("0.25"));
    let found = quote(&request).unwrap();
    assert_eq!((found.margin.to_string(), found.net.to_string()), ("25.00 EUR".to_owned(), "100.00 EUR".to_owned()));
}

proptest::proptest! {
    #[test]
    fn totals_are_sums_of_printed_lines(
        rows in proptest::collection::vec((0usize..5, 1i64..500_000, 1i64..500_000), 1..12),
        shares in (0i64..=1000, 0i64..=3000, 0i64..=1000),
        which in 0usize..4,
        up: bool,
    ) {
        let currency = Currency::from_code(["EUR", "JPY", "KWD", "CLF"][which]).unwrap();
        let items = rows.iter().map(|(kind, quantity, price)| Item {
            kind: ItemKind::ALL[*kind],
            name: "a".to_owned(),
            quantity: Decimal::new(*quantity, 3),
            price: Money::of(Decimal::new(*price, 3), currency),
        });
        let request = QuoteRequest {
            currency,
            items: items.collect(),
            waste: Decimal::new(shares.0, 3),
            margin: Margin::OnCost(Decimal::new(shares.1, 3)),
            tax: Decimal::new(shares.2, 3),
            rounding: if up { Rounding::HalfUp } else { Rounding::HalfEven },
        };
        let found = quote(&request).unwrap();
        let coins = |money: Money| {
            assert!(money.amount().scale() == currency.decimals(), "{money}");
            money.amount().mantissa()
        };
        let lines: i128 = found.lines.iter().map(|line| coins(line.amount)).sum();
        proptest::prop_assert_eq!(coins(found.cost), lines + coins(found.waste));
        proptest::prop_assert_eq!(coins(found.net), coins(found.cost) + coins(found.margin));
        proptest::prop_assert_eq!(coins(found.total.unwrap()), coins(found.net) + coins(found.tax));
    }
}
