//! Orders: their file's text is the truth, and every version of it is kept.
//!
//! Two people may edit one order. Each save says which revision it was made
//! from. If the order has moved on, the save changes nothing, the text that
//! was refused is laid aside in the same transaction, and both versions come
//! back: neither is lost, and people decide.

use crate::Store;
use crate::cell::Cell;
use crate::error::Error;
use crate::record::{record, words};
use crate::stamp::Stamp;

words! {
    /// How far an order is.
    OrderState {
        /// Being worked on.
        "open" => Open,
        /// Delivered.
        "done" => Done,
        /// Not shown unless asked for.
        "put_away" => PutAway,
    }
}

record! {
    /// An order as it is now.
    Order "order" in "orders" by [id] {
        /// Its name in links: short, never changed.
        id: String,
        /// What people call it.
        name: String,
        /// How far it is.
        state: OrderState,
        /// The order file, TOML.
        text: String,
        /// How often it has been saved; 1 at first.
        revision: i64,
        /// When it was first saved.
        made_at: String,
        /// Who first saved it.
        made_by: String,
        /// When it was last saved.
        at: String,
        /// Who saved it last.
        who: String,
    }
}

record! {
    /// An order as it was saved once.
    OrderVersion "order version" in "order_versions" by [order_id, revision] {
        /// Which order.
        order_id: String,
        /// Which save, from 1.
        revision: i64,
        /// Its name then.
        name: String,
        /// Its file then.
        text: String,
        /// When.
        at: String,
        /// Who.
        who: String,
    }
}

record! {
    /// A text that could not be saved because the order had moved on.
    Aside "text laid aside" in "order_asides" by [seq] {
        /// Its number.
        seq: i64,
        /// Which order.
        order_id: String,
        /// The revision it was made from.
        based_on: i64,
        /// The revision that stood in the way.
        found: i64,
        /// The name in it.
        name: String,
        /// The text.
        text: String,
        /// When it was laid aside.
        at: String,
        /// Whose it is.
        who: String,
    }
}

/// What came of a save.
#[derive(Debug, Clone, PartialEq, Eq)]
#[expect(clippy::large_enum_variant, reason = "made once for each save, and taken apart at once")]
pub enum Saved {
    /// It is the order now.
    Saved(Order),
    /// Somebody else had saved; theirs is the order, yours is laid aside.
    Changed {
        /// The order as it is.
        theirs: Order,
        /// What you wanted to save.
        yours: Aside,
        /// The version that both began from; none when it never was.
        from: Option<OrderVersion>,
    },
}

/// What is to be saved.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OrderText<'a> {
    /// The order's id.
    pub id: &'a str,
    /// Its name.
    pub name: &'a str,
    /// Its file, TOML.
    pub text: &'a str,
}

impl Store {
    /// A new order, at revision 1.
    ///
    /// # Errors
    /// [`Error::Taken`] when the id is.
    pub async fn add_order(&self, new: OrderText<'_>, stamp: &Stamp) -> Result<Order, Error> {
        let order = Order {
            id: new.id.to_owned(),
            name: new.name.to_owned(),
            state: OrderState::Open,
            text: new.text.to_owned(),
            revision: 1,
            made_at: stamp.at().to_owned(),
            made_by: stamp.who().to_owned(),
            at: stamp.at().to_owned(),
            who: stamp.who().to_owned(),
        };
        let mut work = self.writing().await?;
        work.insert(stamp, &order).await?;
        work.put(&version(&order)).await?;
        work.commit().await?;
        Ok(order)
    }

    /// Saves an order that was read at the revision `based_on`.
    ///
    /// # Errors
    /// [`Error::Missing`]. That somebody else saved in between is no error
    /// but an answer: [`Saved::Changed`].
    pub async fn save_order(&self, new: OrderText<'_>, based_on: i64, stamp: &Stamp) -> Result<Saved, Error> {
        let mut work = self.writing().await?;
        let before: Order = work.hold(&[Cell::text(new.id)]).await?;
        if before.revision != based_on {
            let mut yours = Aside {
                seq: 0,
                order_id: new.id.to_owned(),
                based_on,
                found: before.revision,
                name: new.name.to_owned(),
                text: new.text.to_owned(),
                at: stamp.at().to_owned(),
                who: stamp.who().to_owned(),
            };
            yours.seq = work.append(&yours).await?;
            let from = work.find(&[Cell::text(new.id), Cell::whole(based_on)]).await?;
            work.commit().await?;
            return Ok(Saved::Changed { theirs: before, yours, from });
        }
        let after = Order {
            name: new.name.to_owned(),
            text: new.text.to_owned(),
            revision: before.revision + 1,
            at: stamp.at().to_owned(),
            who: stamp.who().to_owned(),
            ..before.clone()
        };
        work.replace(stamp, &before, &after).await?;
        work.put(&version(&after)).await?;
        work.commit().await?;
        Ok(Saved::Saved(after))
    }

    /// Moves an order to another state; its text and revision stay.
    ///
    /// # Errors
    /// [`Error::Missing`].
    pub async fn set_order_state(&self, id: &str, state: OrderState, stamp: &Stamp) -> Result<Order, Error> {
        let mut work = self.writing().await?;
        let before: Order = work.hold(&[Cell::text(id)]).await?;
        let after = Order { state, at: stamp.at().to_owned(), who: stamp.who().to_owned(), ..before.clone() };
        work.replace(stamp, &before, &after).await?;
        work.commit().await?;
        Ok(after)
    }

    /// One order.
    ///
    /// # Errors
    /// [`Error::Missing`].
    pub async fn order(&self, id: &str) -> Result<Order, Error> {
        let found = self.reading().await?.find(&[Cell::text(id)]).await?;
        found.ok_or_else(|| Error::Missing { kind: "order", id: id.to_owned() })
    }

    /// The orders in a state, by name.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn orders(&self, state: OrderState) -> Result<Vec<Order>, Error> {
        self.reading().await?.list("WHERE state = $1 ORDER BY name, id", &[Cell::text(state.word())]).await
    }

    /// Every version of an order, oldest first.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn order_versions(&self, id: &str) -> Result<Vec<OrderVersion>, Error> {
        self.reading().await?.list("WHERE order_id = $1 ORDER BY revision", &[Cell::text(id)]).await
    }

    /// What was laid aside for an order and is not settled, oldest first.
    /// Whoever has taken over what is wanted strikes it out as a "text laid
    /// aside" ([`Store::strike_out`]).
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn order_asides(&self, id: &str) -> Result<Vec<Aside>, Error> {
        let rest = "WHERE order_id = $1 AND NOT EXISTS \
             (SELECT 1 FROM struck WHERE what = 'text laid aside' AND id = CAST(order_asides.seq AS TEXT)) ORDER BY seq";
        self.reading().await?.list(rest, &[Cell::text(id)]).await
    }
}

fn version(order: &Order) -> OrderVersion {
    OrderVersion {
        order_id: order.id.clone(),
        revision: order.revision,
        name: order.name.clone(),
        text: order.text.clone(),
        at: order.at.clone(),
        who: order.who.clone(),
    }
}
