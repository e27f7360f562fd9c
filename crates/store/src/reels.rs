//! The rack: every reel and remnant, its length in whole millimetres, and
//! who holds it.
//!
//! A reel is free, reserved by one plan, used up, or gone (sold, given away,
//! condemned). What is left after a cut stays the same reel, shorter. Only a
//! plan reserves and cuts (see [`crate::Plan`]); a person may correct
//! everything else of a reel that nobody has reserved.

use crate::Store;
use crate::cell::Cell;
use crate::error::Error;
use crate::record::{record, words};
use crate::stamp::Stamp;
use sha2::{Digest, Sha256};

words! {
    /// In whose hands a reel is.
    ReelState {
        /// Anybody may plan with it.
        "free" => Free,
        /// One plan has it.
        "reserved" => Reserved,
        /// Nothing worth keeping is left on it.
        "used_up" => UsedUp,
        /// It left the rack uncut.
        "gone" => Gone,
    }
}

words! {
    /// Whether a reel has been cut before.
    ReelKind {
        /// As it was bought.
        "whole" => Whole,
        /// What was left of one, to be used up first.
        "remnant" => Remnant,
    }
}

record! {
    /// A reel or a remnant.
    Reel "reel" in "reels" by [id] {
        /// Its label in the rack.
        id: String,
        /// The rope on it: a name in the rope list.
        rope: String,
        /// Its colour; empty when nobody said.
        colour: String,
        /// Its batch; empty when nobody said.
        batch: String,
        /// What is on it, whole millimetres.
        length_mm: i64,
        /// In whose hands it is.
        state: ReelState,
        /// The plan that reserved it.
        plan: Option<String>,
        /// Flaws as JSON, where they begin and end; an empty list as a rule.
        flaws: String,
        /// What a metre of it costs, as typed; none when nobody said.
        price: Option<String>,
        /// Where in the loft it is.
        place: String,
        /// Anything else.
        note: String,
        /// How often it has changed; 1 at first.
        revision: i64,
        /// When it changed last.
        at: String,
        /// Who changed it last.
        who: String,
        /// Whether it has been cut before.
        kind: ReelKind,
    }
}

/// What a person says of a reel.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ReelFacts {
    /// Its label in the rack.
    pub id: String,
    /// The rope on it.
    pub rope: String,
    /// Its colour.
    pub colour: String,
    /// Its batch.
    pub batch: String,
    /// What is on it, whole millimetres, 0 or more.
    pub length_mm: i64,
    /// Flaws as JSON.
    pub flaws: String,
    /// What a metre costs.
    pub price: Option<String>,
    /// Where it is.
    pub place: String,
    /// Anything else.
    pub note: String,
    /// Whether it has been cut before.
    pub kind: ReelKind,
}

impl Store {
    /// Puts reels on the rack, all or none.
    ///
    /// # Errors
    /// [`Error::Taken`] when a label is; [`Error::Value`] for a negative length.
    pub async fn add_reels(&self, reels: &[ReelFacts], stamp: &Stamp) -> Result<Vec<Reel>, Error> {
        let mut work = self.writing().await?;
        let mut added = Vec::new();
        for facts in reels {
            let reel = of_facts(facts, 1, stamp)?;
            work.insert(stamp, &reel).await?;
            added.push(reel);
        }
        work.commit().await?;
        Ok(added)
    }

    /// Corrects what is known of a reel, read at the revision `based_on`.
    ///
    /// # Errors
    /// [`Error::Changed`], [`Error::Missing`]; [`Error::NotFrom`] while a plan
    /// has it reserved.
    pub async fn correct_reel(&self, facts: &ReelFacts, based_on: i64, stamp: &Stamp) -> Result<Reel, Error> {
        let mut work = self.writing().await?;
        let before: Reel = work.hold(&[Cell::text(&facts.id)]).await?;
        check_revision(&before, based_on)?;
        check_unreserved(&before, "corrected")?;
        let after = of_facts(facts, before.revision + 1, stamp)?;
        work.replace(stamp, &before, &after).await?;
        work.commit().await?;
        Ok(after)
    }

    /// Takes a reel off the rack uncut, read at the revision `based_on`.
    ///
    /// # Errors
    /// As [`Store::correct_reel`].
    pub async fn take_reel_away(&self, id: &str, based_on: i64, stamp: &Stamp) -> Result<Reel, Error> {
        let mut work = self.writing().await?;
        let before: Reel = work.hold(&[Cell::text(id)]).await?;
        check_revision(&before, based_on)?;
        check_unreserved(&before, "taken away")?;
        let after = Reel { state: ReelState::Gone, ..before.clone() }.changed(stamp);
        work.replace(stamp, &before, &after).await?;
        work.commit().await?;
        Ok(after)
    }

    /// One reel.
    ///
    /// # Errors
    /// [`Error::Missing`].
    pub async fn reel(&self, id: &str) -> Result<Reel, Error> {
        let found = self.reading().await?.find(&[Cell::text(id)]).await?;
        found.ok_or_else(|| Error::Missing { kind: "reel", id: id.to_owned() })
    }

    /// The rack: free and reserved reels, by rope and label.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn rack(&self) -> Result<Vec<Reel>, Error> {
        self.reading().await?.list("WHERE state IN ('free', 'reserved') ORDER BY rope, id", &[]).await
    }

    /// Every reel that ever was, by label.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn reels(&self) -> Result<Vec<Reel>, Error> {
        self.reading().await?.list("ORDER BY id", &[]).await
    }
}

/// A checksum over what a plan may count on: label, rope, colour, batch,
/// length, flaws and state of each reel, in the order given. Two racks with
/// one fingerprint are the same rack.
#[must_use]
pub fn rack_fingerprint(rack: &[Reel]) -> String {
    let mut sum = Sha256::new();
    for reel in rack {
        let length = reel.length_mm.to_string();
        for part in [&reel.id, &reel.rope, &reel.colour, &reel.batch, &length, &reel.flaws] {
            sum.update(part.as_bytes());
            sum.update([0]);
        }
        sum.update(reel.state.word().as_bytes());
        sum.update([0]);
    }
    crate::checksum::hex(&sum.finalize())
}

impl Reel {
    /// The next revision of it.
    pub(crate) fn changed(self, stamp: &Stamp) -> Reel {
        Reel { revision: self.revision + 1, at: stamp.at().to_owned(), who: stamp.who().to_owned(), ..self }
    }
}

fn of_facts(facts: &ReelFacts, revision: i64, stamp: &Stamp) -> Result<Reel, Error> {
    if facts.length_mm < 0 {
        let allowed = "0 mm or more".to_owned();
        return Err(Error::Value { field: "length", given: format!("{} mm", facts.length_mm), allowed });
    }
    Ok(Reel {
        id: facts.id.clone(),
        rope: facts.rope.clone(),
        colour: facts.colour.clone(),
        batch: facts.batch.clone(),
        length_mm: facts.length_mm,
        state: if facts.length_mm == 0 { ReelState::UsedUp } else { ReelState::Free },
        plan: None,
        flaws: facts.flaws.clone(),
        price: facts.price.clone(),
        place: facts.place.clone(),
        note: facts.note.clone(),
        revision,
        at: stamp.at().to_owned(),
        who: stamp.who().to_owned(),
        kind: facts.kind,
    })
}

fn check_revision(reel: &Reel, yours: i64) -> Result<(), Error> {
    if reel.revision == yours {
        return Ok(());
    }
    Err(Error::Changed {
        kind: "reel",
        id: reel.id.clone(),
        yours,
        theirs: reel.revision,
        by: reel.who.clone(),
        at: reel.at.clone(),
    })
}

fn check_unreserved(reel: &Reel, wanted: &'static str) -> Result<(), Error> {
    if reel.state == ReelState::Reserved {
        return Err(Error::NotFrom { kind: "reel", id: reel.id.clone(), state: "reserved", wanted });
    }
    Ok(())
}
