//! A quote: what is made, what it takes, waste, margin and tax.
//!
//! Every printed line is rounded once to the smallest coin, by the rule that
//! the quote prints, and every sum is the sum of printed lines, so that a
//! customer who adds them up finds the total. Waste is a share of the rope's
//! lines, margin a share of cost or of the price, tax a share of the net.
//! What is priced at nothing, or taxed at more than all, is refused at its
//! place; the other lines are worked out, and there is no total.

use crate::{Currency, Money, MoneyError, Rounding};
use rust_decimal::Decimal;
use thiserror::Error;

/// What a line of a quote is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ItemKind {
    /// Rope, by the metre.
    Rope,
    /// Thimbles, shackles, blocks, by the piece.
    Hardware,
    /// Twine, by the metre.
    Twine,
    /// Work, by the minute at a rate for an hour.
    Labour,
    /// Anything else, by the piece.
    Other,
}

impl ItemKind {
    /// Every kind.
    pub const ALL: [ItemKind; 5] =
        [ItemKind::Rope, ItemKind::Hardware, ItemKind::Twine, ItemKind::Labour, ItemKind::Other];

    /// The word of records and printing.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            ItemKind::Rope => "rope",
            ItemKind::Hardware => "hardware",
            ItemKind::Twine => "twine",
            ItemKind::Labour => "labour",
            ItemKind::Other => "other",
        }
    }

    /// From its word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<ItemKind> {
        ItemKind::ALL.into_iter().find(|kind| kind.word().eq_ignore_ascii_case(word.trim()))
    }

    /// What it is counted in, and what its price is for.
    #[must_use]
    pub const fn units(self) -> (&'static str, &'static str) {
        match self {
            ItemKind::Rope | ItemKind::Twine => ("m", "1 m"),
            ItemKind::Hardware | ItemKind::Other => ("", "1"),
            ItemKind::Labour => ("min", "1 h"),
        }
    }
}

/// One thing that the order takes.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// What kind.
    pub kind: ItemKind,
    /// What it is.
    pub name: String,
    /// How much: metres, pieces or minutes.
    pub quantity: Decimal,
    /// Price of a metre, a piece or an hour.
    pub price: Money,
}

/// How the margin is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Margin {
    /// A share of the cost, added to it.
    OnCost(Decimal),
    /// A share of the price asked, before tax.
    OfPrice(Decimal),
}

/// What is asked.
#[derive(Debug, Clone, PartialEq)]
pub struct QuoteRequest {
    /// The currency that every price must be in.
    pub currency: Currency,
    /// What it takes.
    pub items: Vec<Item>,
    /// Rope spoiled, as a share of the rope's lines.
    pub waste: Decimal,
    /// The margin.
    pub margin: Margin,
    /// Tax, as a share of the net.
    pub tax: Decimal,
    /// How lines are rounded.
    pub rounding: Rounding,
}

/// One printed line.
#[derive(Debug, Clone, PartialEq)]
pub struct QuoteLine {
    /// What kind.
    pub kind: ItemKind,
    /// What it is.
    pub name: String,
    /// How much.
    pub quantity: Decimal,
    /// At what price.
    pub price: Money,
    /// Quantity times price, rounded.
    pub amount: Money,
}

/// A quote.
#[derive(Debug, Clone, PartialEq)]
pub struct Quote {
    /// Line by line; a refused item has none.
    pub lines: Vec<QuoteLine>,
    /// Rope spoiled.
    pub waste: Money,
    /// Lines and waste together.
    pub cost: Money,
    /// The margin.
    pub margin: Money,
    /// Cost and margin.
    pub net: Money,
    /// The tax.
    pub tax: Money,
    /// What is to be paid; `None` while something is refused.
    pub total: Option<Money>,
    /// What is refused, and where.
    pub refused: Vec<PriceFault>,
    /// The rule of rounding.
    pub rounding: Rounding,
}

/// A refusal with its place.
#[derive(Debug, Clone, PartialEq)]
pub struct PriceFault {
    /// The item, counted from 0; `None` for a share of the quote.
    pub item: Option<usize>,
    /// Which field.
    pub field: &'static str,
    /// Why.
    pub why: PriceError,
}

/// Why a price or share is refused.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum PriceError {
    /// A price of nothing or less.
    #[error("{name}: a price of {given}: it must be above zero")]
    Price {
        /// Of what.
        name: String,
        /// As given.
        given: Money,
    },
    /// Nothing or less of it.
    #[error("{name}: a quantity of {given}: it must be above zero")]
    Quantity {
        /// Of what.
        name: String,
        /// As given.
        given: Decimal,
    },
    /// A share out of its range.
    #[error("{what} of {given} %: from {low} to {high} %")]
    Share {
        /// Waste, margin or tax.
        what: &'static str,
        /// As given, per cent.
        given: Decimal,
        /// The lowest allowed, per cent.
        low: u32,
        /// The highest allowed, per cent.
        high: u32,
    },
    /// Two currencies, or an amount too large.
    #[error("{name}: {why}")]
    Money {
        /// Of what.
        name: String,
        /// Why.
        why: MoneyError,
    },
}

impl PriceError {
    /// What to do instead.
    #[must_use]
    pub const fn hint(&self) -> &'static str {
        match self {
            PriceError::Price { .. } => "give the price; leave the line out if nothing is asked for it",
            PriceError::Quantity { .. } => "give metres, pieces or minutes; leave the line out if there is none",
            PriceError::Share { .. } => "write it in per cent: 20 %",
            PriceError::Money { .. } => "price every line in the quote's currency",
        }
    }
}

/// A quote from what the order takes.
///
/// # Errors
/// Only when a sum is too large to be exact; everything else is told in
/// [`Quote::refused`].
///
/// # Example
/// ```
/// use pricing::{Currency, Decimal, Item, ItemKind, Margin, Money, QuoteRequest, Rounding, quote};
/// let item = |kind, name: &str, quantity: &str, price: &str| Item {
///     kind,
///     name: name.to_owned(),
///     quantity: quantity.parse().unwrap(),
///     price: Money::read(price).unwrap(),
/// };
/// let asked = QuoteRequest {
///     currency: Currency::from_code("EUR").unwrap(),
///     items: vec![
///         item(ItemKind::Rope, "10 mm 12-strand HMPE", "33.525", "7.45 EUR"),
///         item(ItemKind::Labour, "long-bury eye", "25", "48 EUR"),
///     ],
///     waste: Decimal::new(4, 2),
///     margin: Margin::OnCost(Decimal::new(20, 2)),
///     tax: Decimal::new(19, 2),
///     rounding: Rounding::HalfUp,
/// };
/// let found = quote(&asked)?;
/// let text = |money: pricing::Money| money.to_string();
/// assert_eq!(found.lines.iter().map(|line| text(line.amount)).collect::<Vec<_>>(), ["249.76 EUR", "20.00 EUR"]);
/// assert_eq!([text(found.waste), text(found.margin), text(found.tax)], ["9.99 EUR", "55.95 EUR", "63.78 EUR"]);
/// assert_eq!(found.total.map(text), Some("399.48 EUR".to_owned()));
/// # Ok::<(), pricing::MoneyError>(())
/// ```
pub fn quote(asked: &QuoteRequest) -> Result<Quote, MoneyError> {
    let zero = Money::zero(asked.currency).rounded(asked.rounding);
    let mut refused = shares_refused(asked);
    let mut lines = Vec::with_capacity(asked.items.len());
    for (index, item) in asked.items.iter().enumerate() {
        match line_of(item, asked) {
            Ok(line) => lines.push(line),
            Err((field, why)) => refused.push(PriceFault { item: Some(index), field, why }),
        }
    }
    let share = |share: Decimal, allowed: bool, of: Money| {
        if allowed { Ok(of.times(share)?.rounded(asked.rounding)) } else { Ok(zero) }
    };
    let good = |field: &str| !refused.iter().any(|fault| fault.item.is_none() && fault.field == field);
    let rope = sum(zero, lines.iter().filter(|line| line.kind == ItemKind::Rope).map(|line| line.amount))?;
    let waste = share(asked.waste, good("waste"), rope)?;
    let cost = sum(zero, lines.iter().map(|line| line.amount).chain([waste]))?;
    let margin = share(margin_share(asked.margin), good("margin"), cost)?;
    let net = cost.plus(margin)?;
    let tax = share(asked.tax, good("tax"), net)?;
    let total = if refused.is_empty() { Some(net.plus(tax)?) } else { None };
    Ok(Quote { lines, waste, cost, margin, net, tax, total, refused, rounding: asked.rounding })
}

/// What the margin adds to the cost, as a share of it.
fn margin_share(margin: Margin) -> Decimal {
    match margin {
        Margin::OnCost(share) => share,
        Margin::OfPrice(share) => share.checked_div(Decimal::ONE - share).unwrap_or(Decimal::ZERO),
    }
}

fn sum(zero: Money, mut amounts: impl Iterator<Item = Money>) -> Result<Money, MoneyError> {
    amounts.try_fold(zero, |total, amount| total.plus(amount))
}

fn line_of(item: &Item, asked: &QuoteRequest) -> Result<QuoteLine, (&'static str, PriceError)> {
    let name = || item.name.clone();
    if item.price.amount() <= Decimal::ZERO {
        return Err(("price", PriceError::Price { name: name(), given: item.price }));
    }
    if item.quantity <= Decimal::ZERO {
        return Err(("quantity", PriceError::Quantity { name: name(), given: item.quantity }));
    }
    let wrong = |why| ("price", PriceError::Money { name: name(), why });
    if item.price.currency() != asked.currency {
        return Err(wrong(MoneyError::Currencies { first: asked.currency, second: item.price.currency() }));
    }
    let product = item.price.times(item.quantity).map_err(wrong)?;
    let exact = match item.kind {
        // Minutes at a price for an hour: divided last, so that a whole
        // number of coins stays one.
        ItemKind::Labour => Money::of(product.amount() / Decimal::from(60), asked.currency),
        _ => product,
    };
    Ok(QuoteLine {
        kind: item.kind,
        name: name(),
        quantity: item.quantity,
        price: item.price,
        amount: exact.rounded(asked.rounding),
    })
}

fn shares_refused(asked: &QuoteRequest) -> Vec<PriceFault> {
    let hundred = Decimal::ONE_HUNDRED;
    let (margin, most) = match asked.margin {
        Margin::OnCost(share) => (share, 1000),
        Margin::OfPrice(share) => (share, 95),
    };
    [("waste", asked.waste, 100), ("margin", margin, most), ("tax", asked.tax, 100)]
        .into_iter()
        .filter(|(_, share, high)| *share < Decimal::ZERO || *share > Decimal::from(*high) / hundred)
        .map(|(what, share, high)| PriceFault {
            item: None,
            field: what,
            why: PriceError::Share { what, given: (share * hundred).normalize(), low: 0, high },
        })
        .collect()
}
