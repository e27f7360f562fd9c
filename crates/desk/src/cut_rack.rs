//! The rack as rows of plain data, and what confirming a plan does to it.
//!
//! Pure: rows and a change in, rows out. A front end or a store that keeps
//! racks its own way uses these two functions; files are another module.

use crate::cut_pieces::key;
use crate::job::same;
use crate::problem::Problem;
use cutting::{Flaw, Origin, RackMoved, RackStep, Reel, fingerprint};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use units::Millimetres;

/// A reel, or several alike, in the rack.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct RackRow {
    /// Its label.
    pub reel: String,
    /// The rope on it.
    pub rope: String,
    /// Its colour.
    pub colour: Option<String>,
    /// The maker's batch.
    pub batch: Option<String>,
    /// Length on it, mm.
    pub length_mm: i64,
    /// How many alike.
    pub count: u32,
    /// Is it a remnant?
    pub remnant: bool,
    /// Stretches that no piece may use, mm from the free end.
    pub flaws_mm: Vec<(i64, i64)>,
    /// Price of a metre, such as `5.20 EUR`.
    pub price_per_metre: Option<String>,
}

/// What confirming a plan does to the rack that it was made for.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct RackChange {
    /// Tells that rack from every other, 16 hexadecimal digits.
    pub fingerprint: String,
    /// Reels that go.
    pub gone: Vec<RackRow>,
    /// Reels that come: what is left of those cut.
    pub come: Vec<RackRow>,
}

impl RackRow {
    /// From a row of a rack file.
    pub(crate) fn of(record: &files::ReelRecord) -> RackRow {
        let text = |cell: &Option<files::Placed<String>>| cell.as_ref().map(|cell| cell.value.clone());
        let flaw = |flaw: &files::Placed<files::Flaw>| {
            (flaw.value.from.down_to_mm().count(), flaw.value.to.up_to_mm().count())
        };
        RackRow {
            reel: record.reel.value.clone(),
            rope: record.rope.value.clone(),
            colour: text(&record.colour),
            batch: text(&record.batch),
            length_mm: record.length.value.down_to_mm().count(),
            count: record.count.value,
            remnant: record.remnant.value,
            flaws_mm: record
                .flaws
                .iter()
                .map(flaw)
                // Rounded outwards, a flaw at the reel's end would pass it.
                .map(|(from, to)| (from, to.min(record.length.value.down_to_mm().count())))
                .filter(|(from, to)| to > from)
                .collect(),
            price_per_metre: record
                .price_per_metre
                .as_ref()
                .map(|price| format!("{} {}", price.value.amount, price.value.currency)),
        }
    }

    /// As the solver knows it; `origin` for what is no remnant.
    pub(crate) fn reel(&self, origin: Origin) -> Reel {
        let colour = self.colour.as_deref().map_or_else(String::new, same);
        let mut reel = Reel::new(self.reel.clone(), key(&same(&self.rope), &colour), Millimetres::new(self.length_mm));
        reel.batch.clone_from(&self.batch);
        reel.count = self.count;
        reel.origin = if self.remnant { Origin::Remnant } else { origin };
        let flaw = |&(from, to): &(i64, i64)| Flaw { from: Millimetres::new(from), to: Millimetres::new(to) };
        reel.flaws = self.flaws_mm.iter().map(flaw).collect();
        reel
    }

    /// The same rope with the length, number, kind and flaws of a reel.
    fn with(&self, reel: &Reel) -> RackRow {
        RackRow {
            reel: reel.id.clone(),
            length_mm: reel.length.count(),
            count: reel.count,
            remnant: reel.origin == Origin::Remnant,
            flaws_mm: reel.flaws.iter().map(|flaw| (flaw.from.count(), flaw.to.count())).collect(),
            ..self.clone()
        }
    }
}

fn reels(rows: &[RackRow]) -> Vec<Reel> {
    rows.iter().map(|row| row.reel(Origin::Rack)).collect()
}

/// What tells a rack from every other, prices and the order of rows apart.
#[must_use]
pub fn rack_fingerprint(rack: &[RackRow]) -> String {
    format!("{:016x}", fingerprint(&reels(rack)))
}

/// A solver's step as rows, the texts taken from the rows it is about.
pub(crate) fn change_of<'a>(
    rack: &[RackRow],
    step: &RackStep,
    row: impl Fn(&str) -> Option<&'a RackRow>,
) -> RackChange {
    let named = |reel: &Reel| {
        // What is left under a new name is named after its reel.
        let mut name = reel.id.as_str();
        loop {
            if let Some(row) = row(name) {
                return Some(row.with(reel));
            }
            name = name.rsplit_once('-')?.0;
        }
    };
    RackChange {
        fingerprint: rack_fingerprint(rack),
        gone: step.gone.iter().filter_map(named).collect(),
        come: step.come.iter().filter_map(named).collect(),
    }
}

impl RackChange {
    fn step(&self) -> RackStep {
        RackStep { gone: reels(&self.gone), come: reels(&self.come) }
    }

    /// The change that undoes this one, for the rack that this one leaves.
    #[must_use]
    pub fn inverse(&self, after: &[RackRow]) -> RackChange {
        RackChange { fingerprint: rack_fingerprint(after), gone: self.come.clone(), come: self.gone.clone() }
    }
}

/// The rack after a plan is confirmed.
///
/// # Errors
/// When the rack is not the one that the plan was made for: nothing is changed.
pub fn confirm_rows(rack: &[RackRow], change: &RackChange) -> Result<Vec<RackRow>, Problem> {
    if rack_fingerprint(rack) != change.fingerprint {
        return Err(Problem::refused("rack-changed", "the rack is not the one that this plan was made for")
            .hint("make the plan again for the rack as it is now; nothing has been changed"));
    }
    if change.gone.is_empty() && change.come.is_empty() {
        return Err(Problem::refused("nothing-cut", "the plan cuts nothing: there is nothing to confirm"));
    }
    apply(rack, change)
}

/// The rack before a plan was confirmed, other changes since then kept.
///
/// # Errors
/// When a reel that the plan left is no longer what it left.
pub fn take_back_rows(rack: &[RackRow], change: &RackChange) -> Result<Vec<RackRow>, Problem> {
    apply(rack, &change.inverse(rack))
}

fn apply(rack: &[RackRow], change: &RackChange) -> Result<Vec<RackRow>, Problem> {
    let after = change.step().apply(&reels(rack)).map_err(|moved: RackMoved| {
        Problem::refused("rack-changed", moved.to_string()).hint("nothing has been changed; mend the rack by hand")
    })?;
    let row = |reel: &Reel| {
        // A name that both go and come has the texts of the one that comes.
        let come = change.come.iter().find(|row| row.reel == reel.id);
        let here = rack.iter().find(|row| row.reel == reel.id);
        let stays = here.filter(|_| !change.gone.iter().any(|gone| gone.reel == reel.id));
        stays.or(come).or(here).map(|row| row.with(reel))
    };
    Ok(after.iter().filter_map(row).collect())
}
