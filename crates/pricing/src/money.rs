//! Money: an exact decimal and its currency.

use crate::currencies;
use rust_decimal::{Decimal, RoundingStrategy};
use std::fmt;
use thiserror::Error;

/// A currency by its three-letter code, with the decimals of its coins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Currency {
    code: [u8; 3],
    decimals: u32,
}

/// How an amount between two coins is rounded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rounding {
    /// Half a coin goes up, away from zero.
    HalfUp,
    /// Half a coin goes to the even neighbour.
    HalfEven,
}

impl Rounding {
    /// The rule in words, as a quote prints it.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Rounding::HalfUp => "each line rounded to the smallest coin, half a coin up",
            Rounding::HalfEven => "each line rounded to the smallest coin, half a coin to the even one",
        }
    }

    /// From its word: `half-up` or `half-even`.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Rounding> {
        match word.trim().to_ascii_lowercase().as_str() {
            "half-up" => Some(Rounding::HalfUp),
            "half-even" => Some(Rounding::HalfEven),
            _ => None,
        }
    }
}

/// An amount in a currency.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Money {
    amount: Decimal,
    currency: Currency,
}

/// Why a text is no money, or two amounts cannot be added.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum MoneyError {
    /// Not an amount and a code.
    #[error("{given:?} is no price: write an amount and a currency of ISO 4217, such as 4.20 EUR")]
    Text {
        /// The text as given.
        given: String,
    },
    /// Two currencies in one sum.
    #[error("{first} and {second} cannot be added: one order has one currency")]
    Currencies {
        /// One of them.
        first: Currency,
        /// The other.
        second: Currency,
    },
    /// Too large for an exact decimal.
    #[error("the amount is too large to be kept exactly")]
    TooLarge,
}

impl Currency {
    /// From its ISO 4217 code: three capital letters that are on the list.
    #[must_use]
    pub fn from_code(code: &str) -> Option<Currency> {
        let bytes: [u8; 3] = code.as_bytes().try_into().ok()?;
        currencies::decimals(code).map(|decimals| Currency { code: bytes, decimals })
    }

    /// Its code.
    #[must_use]
    pub fn code(&self) -> &str {
        std::str::from_utf8(&self.code).unwrap_or("???")
    }

    /// Decimals of its smallest coin, by ISO 4217: none, two, three or four.
    #[must_use]
    pub const fn decimals(&self) -> u32 {
        self.decimals
    }
}

impl fmt::Display for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.code())
    }
}

impl Money {
    /// Nothing, in a currency.
    #[must_use]
    pub const fn zero(currency: Currency) -> Money {
        Money { amount: Decimal::ZERO, currency }
    }

    /// From text: `4.20 EUR`.
    ///
    /// # Errors
    /// When it is not an amount, a space and a code.
    ///
    /// # Example
    /// ```
    /// use pricing::{Money, Rounding};
    /// let price = Money::read("2.005 EUR")?;
    /// assert_eq!(price.rounded(Rounding::HalfUp).to_string(), "2.01 EUR");
    /// assert_eq!(price.rounded(Rounding::HalfEven).to_string(), "2.00 EUR");
    /// # Ok::<(), pricing::MoneyError>(())
    /// ```
    pub fn read(text: &str) -> Result<Money, MoneyError> {
        let fault = || MoneyError::Text { given: text.chars().take(40).collect() };
        let (amount, code) = text.trim().split_once(' ').ok_or_else(fault)?;
        let amount: Decimal = amount.parse().map_err(|_| fault())?;
        let currency = Currency::from_code(code.trim()).ok_or_else(fault)?;
        Ok(Money { amount, currency })
    }

    /// An amount in a currency.
    #[must_use]
    pub const fn of(amount: Decimal, currency: Currency) -> Money {
        Money { amount, currency }
    }

    /// Its currency.
    #[must_use]
    pub const fn currency(&self) -> Currency {
        self.currency
    }

    /// The exact amount.
    #[must_use]
    pub const fn amount(&self) -> Decimal {
        self.amount
    }

    /// So many times it, exactly.
    ///
    /// # Errors
    /// When the result is too large to be exact.
    pub fn times(&self, factor: Decimal) -> Result<Money, MoneyError> {
        let amount = self.amount.checked_mul(factor).ok_or(MoneyError::TooLarge)?;
        Ok(Money { amount, ..*self })
    }

    /// The sum of two amounts.
    ///
    /// # Errors
    /// When the currencies differ, or the sum is too large.
    pub fn plus(&self, other: Money) -> Result<Money, MoneyError> {
        if self.currency != other.currency {
            return Err(MoneyError::Currencies { first: self.currency, second: other.currency });
        }
        let amount = self.amount.checked_add(other.amount).ok_or(MoneyError::TooLarge)?;
        Ok(Money { amount, ..*self })
    }

    /// Rounded to whole coins.
    #[must_use]
    pub fn rounded(&self, rule: Rounding) -> Money {
        let strategy = match rule {
            Rounding::HalfUp => RoundingStrategy::MidpointAwayFromZero,
            Rounding::HalfEven => RoundingStrategy::MidpointNearestEven,
        };
        let mut amount = self.amount.round_dp_with_strategy(self.currency.decimals(), strategy);
        amount.rescale(self.currency.decimals());
        Money { amount, ..*self }
    }
}

impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&format!("{} {}", self.amount, self.currency))
    }
}
