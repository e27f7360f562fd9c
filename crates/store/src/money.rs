//! The loft's price list and its quotes. Amounts are decimal text and stay
//! exactly as they were written.

use crate::Store;
use crate::cell::Cell;
use crate::error::Error;
use crate::record::{record, words};
use crate::stamp::{Stamp, check_day};

words! {
    /// What is priced.
    PriceKind {
        /// A rope in the rope list.
        "rope" => Rope,
        /// Thimbles, shackles, blocks.
        "hardware" => Hardware,
        /// Whipping and stitching twine.
        "twine" => Twine,
        /// Time at the bench.
        "labour" => Labour,
        /// Anything else.
        "other" => Other,
    }
}

words! {
    /// How far a quote is.
    QuoteState {
        /// Not yet sent.
        "draft" => Draft,
        /// Sent.
        "sent" => Sent,
        /// Accepted.
        "accepted" => Accepted,
        /// Declined.
        "declined" => Declined,
        /// Taken back by the loft.
        "withdrawn" => Withdrawn,
    }
}

record! {
    /// One line of the price list.
    Price "price" in "prices" by [id] {
        /// Its name in links.
        id: String,
        /// What is priced.
        kind: PriceKind,
        /// Of what: the name in the rope list, or what people call it.
        name: String,
        /// Per metre, piece, hour …
        per: String,
        /// How much, decimal.
        amount: String,
        /// In which currency, three letters.
        currency: String,
        /// Anything else.
        note: String,
        /// How often it has been set; 1 at first.
        revision: i64,
        /// When it was set.
        at: String,
        /// Who set it.
        who: String,
    }
}

record! {
    /// A quote.
    Quote "quote" in "quotes" by [number] {
        /// The loft's number of it.
        number: String,
        /// The order it is for.
        order_id: Option<String>,
        /// The revision of the order that was priced.
        order_revision: Option<i64>,
        /// How far it is.
        state: QuoteState,
        /// In which currency, three letters.
        currency: String,
        /// Its total, decimal.
        total: String,
        /// The whole answer, JSON.
        answer: String,
        /// Its day.
        day: String,
        /// Until when it holds.
        valid_until: Option<String>,
        /// Anything else.
        note: String,
        /// How often it has changed; 1 at first.
        revision: i64,
        /// When it changed last.
        at: String,
        /// Who changed it last.
        who: String,
    }
}

impl Store {
    /// Sets a price, new (`based_on` 0) or read at the revision `based_on`.
    ///
    /// # Errors
    /// [`Error::Changed`]; [`Error::Value`] for an amount that is no decimal,
    /// or a currency that is not three capital letters.
    pub async fn set_price(&self, price: &Price, based_on: i64, stamp: &Stamp) -> Result<Price, Error> {
        check_amount("amount", &price.amount)?;
        check_currency(&price.currency)?;
        let mut work = self.writing().await?;
        work.turn(&format!("price/{}", price.id)).await?;
        let before: Option<Price> = work.find(&[Cell::text(&price.id)]).await?;
        let revision = before.as_ref().map_or(0, |before| before.revision);
        if revision != based_on {
            let (by, at) = before.map_or((String::new(), String::new()), |before| (before.who, before.at));
            let id = price.id.clone();
            return Err(Error::Changed { kind: "price", id, yours: based_on, theirs: revision, by, at });
        }
        let after =
            Price { revision: revision + 1, at: stamp.at().to_owned(), who: stamp.who().to_owned(), ..price.clone() };
        match before {
            Some(before) => work.replace(stamp, &before, &after).await?,
            None => work.insert(stamp, &after).await?,
        }
        work.commit().await?;
        Ok(after)
    }

    /// The price list, by kind and name.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn prices(&self) -> Result<Vec<Price>, Error> {
        self.reading().await?.list("ORDER BY kind, name, id", &[]).await
    }

    /// Keeps a quote, as a draft.
    ///
    /// # Errors
    /// [`Error::Taken`] when the number is; [`Error::Value`] as for a price.
    pub async fn add_quote(&self, quote: &Quote, stamp: &Stamp) -> Result<Quote, Error> {
        check_amount("total", &quote.total)?;
        check_currency(&quote.currency)?;
        check_day("day", &quote.day)?;
        quote.valid_until.as_deref().map_or(Ok(()), |day| check_day("valid until", day))?;
        let quote = Quote {
            state: QuoteState::Draft,
            revision: 1,
            at: stamp.at().to_owned(),
            who: stamp.who().to_owned(),
            ..quote.clone()
        };
        let mut work = self.writing().await?;
        work.insert(stamp, &quote).await?;
        work.commit().await?;
        Ok(quote)
    }

    /// Moves a quote on. What it says never changes: another quote does.
    ///
    /// # Errors
    /// [`Error::Missing`]; [`Error::NotFrom`]: a draft is sent or withdrawn, a
    /// sent one is accepted, declined or withdrawn.
    pub async fn move_quote(&self, number: &str, to: QuoteState, stamp: &Stamp) -> Result<Quote, Error> {
        use QuoteState::{Accepted, Declined, Draft, Sent, Withdrawn};
        let mut work = self.writing().await?;
        let before: Quote = work.hold(&[Cell::text(number)]).await?;
        if !matches!((before.state, to), (Draft, Sent | Withdrawn) | (Sent, Accepted | Declined | Withdrawn)) {
            let (state, wanted) = (before.state.word(), to.word());
            return Err(Error::NotFrom { kind: "quote", id: number.to_owned(), state, wanted });
        }
        let after = Quote {
            state: to,
            revision: before.revision + 1,
            at: stamp.at().to_owned(),
            who: stamp.who().to_owned(),
            ..before.clone()
        };
        work.replace(stamp, &before, &after).await?;
        work.commit().await?;
        Ok(after)
    }

    /// One quote.
    ///
    /// # Errors
    /// [`Error::Missing`].
    pub async fn quote(&self, number: &str) -> Result<Quote, Error> {
        let found = self.reading().await?.find(&[Cell::text(number)]).await?;
        found.ok_or_else(|| Error::Missing { kind: "quote", id: number.to_owned() })
    }

    /// All quotes, the latest day first, at most `most`.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn quotes(&self, most: u32) -> Result<Vec<Quote>, Error> {
        let cells = [Cell::whole(i64::from(most))];
        self.reading().await?.list("ORDER BY day DESC, number DESC LIMIT $1", &cells).await
    }
}

/// Digits with at most one point among them, and a sign before them or not.
fn check_amount(field: &'static str, amount: &str) -> Result<(), Error> {
    let digits = amount.strip_prefix('-').unwrap_or(amount);
    let (whole, part) = digits.split_once('.').unwrap_or((digits, "0"));
    let all = |text: &str| (1..=20).contains(&text.len()) && text.bytes().all(|c| c.is_ascii_digit());
    if all(whole) && all(part) {
        return Ok(());
    }
    Err(Error::Value { field, given: amount.to_owned(), allowed: "a decimal number as 12.50".to_owned() })
}

fn check_currency(currency: &str) -> Result<(), Error> {
    if currency.len() == 3 && currency.bytes().all(|c| c.is_ascii_uppercase()) {
        return Ok(());
    }
    let allowed = "three capital letters as EUR".to_owned();
    Err(Error::Value { field: "currency", given: currency.to_owned(), allowed })
}
