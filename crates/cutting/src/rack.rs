//! What a plan does to the rack, as plain data that can be undone.
//!
//! [`step_of`] turns a job and its plan into a [`RackStep`]: the reels that go
//! and the reels that come. [`RackStep::apply`] makes the rack after it, or
//! refuses where the rack is no longer what the plan was made for;
//! [`RackStep::inverse`] is the step back. What is left of a reel keeps its
//! name from the first leftover worth keeping to the reel's end, flaws moved
//! along; leftovers before the last cut become remnants of their own. Scrap
//! goes. [`fingerprint`] tells racks apart whatever the order of their reels.
//!
//! Not covered: files, and reels shared between benches.

use std::collections::{HashMap, HashSet};
use std::fmt::Write as _;

use thiserror::Error;
use units::Millimetres;

use crate::answer::{Becomes, CutReel, Plan};
use crate::model::{Flaw, Job, Origin, Reel};

/// A change of the rack, all or nothing.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct RackStep {
    /// Reels that go. The count says how many of the reels alike.
    pub gone: Vec<Reel>,
    /// Reels that come. One whose name is on the rack adds to its count.
    pub come: Vec<Reel>,
}

/// Why a step does not fit a rack.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[expect(missing_docs, reason = "each variant's message says what its fields are")]
pub enum RackMoved {
    #[error("reel \"{reel}\" is not on the rack")]
    Missing { reel: String },
    #[error("there are {count} of reel \"{reel}\" on the rack, the step takes {wanted}")]
    TooFew { reel: String, count: u32, wanted: u32 },
    #[error("reel \"{reel}\" is no longer what it was: its length, flaws, batch or kind have changed")]
    Changed { reel: String },
    #[error("reel \"{reel}\" is on the rack already")]
    Taken { reel: String },
    #[error("the step speaks of reel \"{reel}\" with a count of 0 or a length that is not above 0")]
    Empty { reel: String },
}

/// What confirming a plan does to the rack it was made for. Reels bought from
/// an offer are not on the rack before; what is left of them is afterwards.
///
/// # Example
/// ```
/// use cutting::{Job, Piece, Reel, Rules, Settings, plan, step_of};
/// use units::Millimetres;
/// let mm = Millimetres::new;
/// let job = Job {
///     pieces: vec![Piece::new("halyard", "10 mm", mm(30_000))],
///     reels: vec![Reel::new("A", "10 mm", mm(50_000))],
///     rules: Rules::keeping(mm(1_000)),
/// };
/// let plan = plan(&job, &Settings::default()).map_err(|refused| refused.to_string())?;
/// let step = step_of(&job, &plan);
/// let after = step.apply(&job.reels).map_err(|moved| moved.to_string())?;
/// assert_eq!((after[0].id.as_str(), after[0].length), ("A", mm(20_000)));
/// assert!(step.apply(&after).is_err());
/// let back = step.inverse().apply(&after).map_err(|moved| moved.to_string())?;
/// assert_eq!(back, job.reels);
/// # Ok::<(), String>(())
/// ```
#[must_use]
pub fn step_of(job: &Job, plan: &Plan) -> RackStep {
    let reels: HashMap<&str, &Reel> = job.reels.iter().map(|reel| (reel.id.as_str(), reel)).collect();
    let mut names: HashSet<String> = job.reels.iter().map(|reel| reel.id.clone()).collect();
    let mut step = RackStep::default();
    for cut in plan.reels.iter().filter(|cut| !cut.cuts.is_empty()) {
        let Some(&reel) = reels.get(cut.reel.as_str()) else { continue };
        let bought = matches!(reel.origin, Origin::Supplier { .. });
        if !bought {
            match step.gone.iter_mut().find(|gone| gone.id == reel.id) {
                Some(gone) => gone.count += 1,
                None => step.gone.push(Reel { count: 1, ..reel.clone() }),
            }
        }
        // One of several alike, or bought: what is left needs a name of its own.
        let keeps_name = !bought && reel.count == 1;
        for (place, mut rest) in rests_of(reel, cut).into_iter().enumerate() {
            if place > 0 || !keeps_name {
                rest.id = free_name(&reel.id, &mut names);
            }
            step.come.push(rest);
        }
    }
    step
}

/// What is left of a cut reel, its end first.
fn rests_of(reel: &Reel, cut: &CutReel) -> Vec<Reel> {
    let last = cut.cuts.iter().map(|cut| cut.to).max().unwrap_or(Millimetres::ZERO);
    let kept = || cut.leftovers.iter().filter(|left| left.becomes != Becomes::Scrap);
    let piece_of = |from: Millimetres, to: Millimetres| Reel {
        length: to - from,
        count: 1,
        origin: Origin::Remnant,
        flaws: flaws_within(reel, from, to),
        ..reel.clone()
    };
    let mut rests = Vec::new();
    rests.extend(kept().find(|left| left.from >= last).map(|left| piece_of(left.from, reel.length)));
    rests.extend(kept().filter(|left| left.from < last).map(|left| piece_of(left.from, left.to)));
    rests
}

/// The flaws of a stretch, measured from its own beginning.
fn flaws_within(reel: &Reel, from: Millimetres, to: Millimetres) -> Vec<Flaw> {
    let within = reel.flaws.iter().filter(|flaw| flaw.to > from && flaw.from < to);
    within.map(|flaw| Flaw { from: flaw.from.max(from) - from, to: flaw.to.min(to) - from }).collect()
}

/// The name with the first number that nothing on the rack has.
fn free_name(name: &str, names: &mut HashSet<String>) -> String {
    let mut number = 1_u64;
    loop {
        let tried = format!("{name}-{number}");
        if names.insert(tried.clone()) {
            return tried;
        }
        number += 1;
    }
}

impl RackStep {
    /// The rack after the step; reels not spoken of stay as and where they are.
    ///
    /// # Errors
    /// The first reel that is not as the step knows it; nothing is changed then.
    pub fn apply(&self, rack: &[Reel]) -> Result<Vec<Reel>, RackMoved> {
        let mut after: Vec<Option<Reel>> = rack.iter().cloned().map(Some).collect();
        let mut places: HashMap<String, usize> =
            rack.iter().enumerate().map(|(at, reel)| (reel.id.clone(), at)).collect();
        for gone in &self.gone {
            sound(gone)?;
            let reel = gone.id.clone();
            let Some(slot) = places.get(&reel).map(|&at| &mut after[at]) else {
                return Err(RackMoved::Missing { reel });
            };
            let Some(here) = slot else { return Err(RackMoved::Missing { reel }) };
            if !alike(here, gone) {
                return Err(RackMoved::Changed { reel });
            }
            match here.count.checked_sub(gone.count) {
                None => return Err(RackMoved::TooFew { reel, count: here.count, wanted: gone.count }),
                Some(0) => *slot = None,
                Some(left) => here.count = left,
            }
        }
        for come in &self.come {
            sound(come)?;
            match places.get(&come.id).copied() {
                Some(at) => match &mut after[at] {
                    empty @ None => *empty = Some(come.clone()),
                    Some(here) if alike(here, come) => {
                        let taken = || RackMoved::Taken { reel: come.id.clone() };
                        here.count = here.count.checked_add(come.count).ok_or_else(taken)?;
                    }
                    Some(_) => return Err(RackMoved::Taken { reel: come.id.clone() }),
                },
                None => {
                    places.insert(come.id.clone(), after.len());
                    after.push(Some(come.clone()));
                }
            }
        }
        Ok(after.into_iter().flatten().collect())
    }

    /// The step that undoes this one.
    #[must_use]
    pub fn inverse(&self) -> RackStep {
        RackStep { gone: self.come.clone(), come: self.gone.clone() }
    }
}

fn sound(reel: &Reel) -> Result<(), RackMoved> {
    let sound = reel.count > 0 && reel.length > Millimetres::ZERO;
    if sound { Ok(()) } else { Err(RackMoved::Empty { reel: reel.id.clone() }) }
}

/// Whether two entries are the same rope in all but number and price.
fn alike(one: &Reel, other: &Reel) -> bool {
    let of = |reel: &Reel| (reel.rope.clone(), reel.batch.clone(), reel.length, reel.origin, reel.flaws.clone());
    of(one) == of(other)
}

/// A number that differs between racks that differ in more than order or
/// price: FNV-1a, 64 bits, over the reels sorted by name. It guards against
/// mistakes, not against forgery.
#[must_use]
pub fn fingerprint(rack: &[Reel]) -> u64 {
    let mut lines: Vec<String> = rack.iter().map(line_of).collect();
    lines.sort_unstable();
    let bytes = lines.iter().flat_map(|line| line.bytes());
    bytes.fold(0xCBF2_9CE4_8422_2325, |sum, byte| (sum ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01B3))
}

/// One reel as a line; lengths before texts keep the parts apart.
fn line_of(reel: &Reel) -> String {
    let mut line = String::new();
    let batch = reel.batch.as_deref().map_or_else(|| "-".to_owned(), |batch| format!("+{batch}"));
    for text in [&reel.id, &reel.rope, &batch] {
        let _ = write!(line, "{}:{text};", text.len());
    }
    let origin = match reel.origin {
        Origin::Rack => "rack".to_owned(),
        Origin::Remnant => "remnant".to_owned(),
        Origin::Supplier { price } => format!("offer {price}"),
    };
    let _ = write!(line, "{};{};{origin};", reel.length.count(), reel.count);
    for flaw in &reel.flaws {
        let _ = write!(line, "{}..{};", flaw.from.count(), flaw.to.count());
    }
    line.push('\n');
    line
}
