//! The path of a line: length, wrap at each turn, friction, load on each block.
//!
//! A turn is given by its centre and diameter. Between two turns in the same
//! sense the rope runs like an open belt, otherwise like a crossed one; the
//! sense is read from the planes of neighbouring turns. A fairlead or padeye
//! is a turn with friction in proportion to its wrap.

use crate::Point;
use crate::point::{between, cross, dot, norm, unit};
use crate::tackle::{FAIRLEAD_FRICTION, SheaveBearing, capstan, sheave_efficiency, turn_efficiency};
use thiserror::Error;
use units::{Angle, Force, Length};

/// What a sheave turns on, or what else the rope passes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bearing {
    /// A sheave.
    Sheave(SheaveBearing),
    /// Fixed metal that the rope slides over.
    Fairlead,
    /// Gripped: clutch, cam, jammer.
    Clutch,
    /// A winch drum.
    Winch,
    /// Made fast.
    Fast,
}

/// One place on a line's path.
#[derive(Debug, Clone, PartialEq)]
pub struct TurnAt {
    /// Its name on the boat.
    pub name: String,
    /// Its centre.
    pub at: Point,
    /// Diameter that the rope bends round; zero for a straight passage.
    pub diameter: Length,
    /// What it is.
    pub bearing: Bearing,
}

/// A path: where the working end moves, then every turn to the hand.
#[derive(Debug, Clone, PartialEq)]
pub struct Lead {
    /// The working end (or moving block), hauled in.
    pub hauled: Point,
    /// The same, eased out.
    pub eased: Point,
    /// Parts between the moving block and the first turn.
    pub parts: u32,
    /// The turns in order; the last is where the hand or the drum is.
    pub turns: Vec<TurnAt>,
}

/// One turn of a path, worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct Turn {
    /// Its name.
    pub name: String,
    /// How far the rope turns.
    pub wrap: Angle,
    /// Distance along the rope from the working end to where the turn begins.
    pub begins: Length,
    /// Diameter that the rope bends round.
    pub diameter: Length,
    /// Share of tension left behind it, hauling.
    pub efficiency: f64,
    /// Pull on what holds it, for a pull of one at the working end, hauling.
    pub block_load: f64,
    /// The same as a vector: aft, to starboard, up.
    pub block_vector: [f64; 3],
    /// What it is.
    pub bearing: Bearing,
}

/// A path worked out at one trim.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// From the working end to the last turn.
    pub length: Length,
    /// The turns.
    pub turns: Vec<Turn>,
    /// Pull at the hand over pull at the working end, hauling.
    pub hand_over_end: f64,
    /// Pull at the hand over pull at the fall of its purchase, hauling: the
    /// purchase's own last sheave left out, since the purchase has it.
    pub after_purchase: f64,
}

/// Why a path cannot be.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum LeadError {
    /// No turns at all.
    #[error("a lead needs at least one place after the working end")]
    Empty,
    /// No parts.
    #[error("a purchase of {given} parts: at least 1 is wanted, at most 24")]
    Parts {
        /// Parts given.
        given: u32,
    },
    /// Two places closer than their radii.
    #[error("{first} and {second} are {apart} apart, too close for their sheaves")]
    TooClose {
        /// The first place.
        first: String,
        /// The next place.
        second: String,
        /// Distance between centres.
        apart: Length,
    },
    /// A path that turns back on itself where nothing can turn it.
    #[error("the line doubles back by {turned} at {at}, which is no sheave: at most {most} is allowed there")]
    DoublesBack {
        /// The place.
        at: String,
        /// How far it would turn.
        turned: Angle,
        /// How far it may.
        most: Angle,
    },
}

/// Turn at which a line through a clutch or on a drum's way is no lead any more.
const MOST_TURN: Angle = Angle::of_degrees(120.0);

/// Load on a block whose legs carry `before` and `after` and that turns the
/// rope by `wrap`: √(T1² + T2² - 2 T1 T2 cos wrap).
///
/// ```
/// use units::{Angle, Force};
/// let load = rig::block_load(Force::of_n(1.0), Force::of_n(1.0), Angle::of_degrees(90.0));
/// assert!((load.to_n() - 1.4142).abs() < 1e-4);
/// ```
#[must_use]
pub fn block_load(before: Force, after: Force, wrap: Angle) -> Force {
    let (a, b) = (before.to_n(), after.to_n());
    Force::of_n((a * a + b * b - 2.0 * a * b * wrap.cos()).max(0.0).sqrt())
}

/// A lead over its whole travel.
#[derive(Debug, Clone, PartialEq)]
pub struct Travel {
    /// Eased right out.
    pub eased: Run,
    /// Hauled in.
    pub hauled: Run,
    /// Between the two and at both, from eased to hauled.
    pub passing: Vec<Passing>,
    /// Parts between the moving block and the first turn.
    pub parts: u32,
}

/// A lead with its working end at one place of its travel.
#[derive(Debug, Clone, PartialEq)]
pub struct Passing {
    /// How far the working end still is from where it is hauled in to.
    pub short: Length,
    /// The path then.
    pub run: Run,
}

impl Travel {
    /// The longer of the two paths: what the line must reach.
    #[must_use]
    pub fn longest(&self) -> Length {
        self.eased.length.max(self.hauled.length)
    }

    /// Rope that comes in between the two ends of travel.
    #[must_use]
    pub fn taken_in(&self) -> Length {
        (self.eased.length - self.hauled.length).abs()
    }

    /// The bend with the smallest diameter of all that turn the rope by more
    /// than ten degrees at either end of travel.
    #[must_use]
    pub fn tightest(&self) -> Option<&Turn> {
        let bends = |turn: &&Turn| turn.diameter > Length::ZERO && turn.wrap.to_degrees() > 10.0;
        let all = self.hauled.turns.iter().chain(&self.eased.turns).filter(bends);
        all.min_by(|a, b| a.diameter.compare(&b.diameter))
    }
}

/// Steps in which the working end goes from eased to hauled.
const STEPS: u32 = 24;

/// Works a lead out over its whole travel.
///
/// The working end is taken straight from eased to hauled. A place on the way
/// where the straight line would pass inside a sheave is left out of `passing`:
/// there the real end goes round it.
///
/// # Errors
/// When the path is empty, has no parts, two sheaves overlap, or it doubles
/// back where nothing turns it, at either end of its travel.
pub fn travel(lead: &Lead) -> Result<Travel, LeadError> {
    let (eased, hauled) = (with_end_at(lead, lead.eased)?, with_end_at(lead, lead.hauled)?);
    let distance = lead.eased.distance(lead.hauled);
    let mut shares: Vec<f64> = (1..STEPS).map(|step| f64::from(step) / f64::from(STEPS)).collect();
    shares.extend(nearest(lead));
    shares.sort_by(f64::total_cmp);
    let mut passing = vec![Passing { short: distance, run: eased.clone() }];
    passing.extend(shares.into_iter().filter_map(|share| {
        let run = with_end_at(lead, lead.eased.toward(lead.hauled, share)).ok()?;
        Some(Passing { short: distance * (1.0 - share), run })
    }));
    passing.push(Passing { short: Length::ZERO, run: hauled.clone() });
    Ok(Travel { eased, hauled, passing, parts: lead.parts })
}

/// Share of the travel at which the working end is nearest its first turn,
/// where that is on the way and not at either end.
fn nearest(lead: &Lead) -> Option<f64> {
    let (along, to) = (between(lead.eased, lead.hauled), between(lead.eased, lead.turns.first()?.at));
    let share = dot(along, to) / dot(along, along);
    (share > 0.0 && share < 1.0).then_some(share)
}

fn with_end_at(lead: &Lead, start: Point) -> Result<Run, LeadError> {
    if lead.turns.is_empty() {
        return Err(LeadError::Empty);
    }
    if !(1..=24).contains(&lead.parts) {
        return Err(LeadError::Parts { given: lead.parts });
    }
    let places = places(lead, start);
    let legs = legs(&places)?;
    for (turn, leg) in lead.turns.iter().zip(&legs) {
        // A sheave turns a line back; jaws, a ring or a hole do not.
        if !matches!(turn.bearing, Bearing::Sheave(_) | Bearing::Winch) && leg.wrap_after > MOST_TURN {
            return Err(LeadError::DoublesBack { at: turn.name.clone(), turned: leg.wrap_after, most: MOST_TURN });
        }
    }
    let mut turns = Vec::new();
    let mut length = Length::ZERO;
    let mut tension = 1.0;
    for (index, place) in lead.turns.iter().enumerate() {
        let leg = &legs[index];
        // Every part of the purchase but the last runs between the blocks alone.
        let repeat = if index == 0 { f64::from(lead.parts) } else { 1.0 };
        length = length + leg.straight * repeat;
        let wrap = leg.wrap_after;
        let efficiency = efficiency(place.bearing, wrap);
        let after = tension / efficiency;
        let load = block_load(Force::of_n(tension), Force::of_n(after), wrap).to_n();
        let block_vector = pull_on_block(&places, index + 1, wrap, [tension, after]);
        turns.push(Turn {
            name: place.name.clone(),
            wrap,
            begins: length,
            diameter: place.diameter,
            efficiency,
            block_load: load,
            block_vector,
            bearing: place.bearing,
        });
        length = length + place.diameter * (0.5 * wrap.to_radians());
        tension = after;
    }
    let own = turns.first().filter(|_| lead.parts > 1).map_or(1.0, |turn| turn.efficiency);
    Ok(Run { length, turns, hand_over_end: tension, after_purchase: tension * own })
}

/// Pull on a block by its two legs, in the plane of the centres: the legs
/// are tangents and meet at the wrap angle, half of it to each side of the
/// line that halves the angle between the neighbours.
fn pull_on_block(places: &[Place<'_>], index: usize, wrap: Angle, [before, after]: [f64; 2]) -> [f64; 3] {
    let Some(next) = places.get(index + 1) else { return [0.0; 3] };
    let (here, from) = (places[index].at, places[index - 1].at);
    let (Some(back), Some(on)) = (unit(between(here, from)), unit(between(here, next.at))) else { return [0.0; 3] };
    let inward = unit([back[0] + on[0], back[1] + on[1], back[2] + on[2]]);
    let along = unit([on[0] - back[0], on[1] - back[1], on[2] - back[2]]);
    let (Some(inward), Some(along)) = (inward, along) else {
        // Straight through: only the difference of the legs pulls.
        return [0, 1, 2].map(|axis| (after - before) * on[axis]);
    };
    let (sin, cos) = (wrap / 2.0).to_radians().sin_cos();
    [0, 1, 2].map(|axis| (before + after) * sin * inward[axis] + (after - before) * cos * along[axis])
}

fn efficiency(bearing: Bearing, wrap: Angle) -> f64 {
    match bearing {
        Bearing::Sheave(kind) => sheave_efficiency(kind).get().map_or(1.0, |half| turn_efficiency(half, wrap)),
        Bearing::Fairlead => FAIRLEAD_FRICTION.get().map_or(1.0, |friction| 1.0 / capstan(friction, wrap)),
        // The hand or the jaws end the path: what follows is slack.
        Bearing::Clutch | Bearing::Winch | Bearing::Fast => 1.0,
    }
}

/// A centre and radius on the path; the working end has no radius.
struct Place<'a> {
    name: &'a str,
    at: Point,
    radius_m: f64,
}

fn places(lead: &Lead, start: Point) -> Vec<Place<'_>> {
    let end = Place { name: "the working end", at: start, radius_m: 0.0 };
    let turns = lead.turns.iter().map(|turn| Place {
        name: &turn.name,
        at: turn.at,
        radius_m: match turn.bearing {
            Bearing::Sheave(_) | Bearing::Fairlead => turn.diameter.to_m() / 2.0,
            Bearing::Clutch | Bearing::Winch | Bearing::Fast => 0.0,
        },
    });
    std::iter::once(end).chain(turns).collect()
}

/// The straight part before a place, and the wrap on it.
struct Leg {
    straight: Length,
    wrap_after: Angle,
}

fn legs(places: &[Place<'_>]) -> Result<Vec<Leg>, LeadError> {
    // The plane that each inner place turns in; no vector where it does not turn.
    let normals: Vec<[f64; 3]> = (0..places.len())
        .map(|index| match (index.checked_sub(1).and_then(|before| places.get(before)), places.get(index + 1)) {
            (Some(before), Some(after)) => {
                cross(between(before.at, places[index].at), between(places[index].at, after.at))
            }
            _ => [0.0; 3],
        })
        .collect();
    let mut tilts = vec![0.0; places.len()];
    let mut straights = Vec::new();
    for index in 1..places.len() {
        let (from, to) = (&places[index - 1], &places[index]);
        let apart = from.at.distance(to.at);
        // Same sense: the radii subtract (open belt); opposite: they add.
        let same = dot(normals[index - 1], normals[index]) >= 0.0;
        let offset = if same { to.radius_m - from.radius_m } else { to.radius_m + from.radius_m };
        let square = apart.to_m().powi(2) - offset * offset;
        if square <= 0.0 && offset != 0.0 {
            return Err(LeadError::TooClose { first: from.name.to_owned(), second: to.name.to_owned(), apart });
        }
        straights.push(Length::of_m(square.max(0.0).sqrt()));
        let tilt = if apart.to_m() > 0.0 { (offset / apart.to_m()).clamp(-1.0, 1.0).asin() } else { 0.0 };
        // The tangent leaves the line of centres by the tilt: more wrap on the
        // larger of two open-belt sheaves, more on both of a crossed pair.
        tilts[index] += tilt;
        tilts[index - 1] += if same { -tilt } else { tilt };
    }
    let mut legs = Vec::new();
    for index in 1..places.len() {
        let wrap = match places.get(index + 1) {
            None => 0.0,
            Some(after) => {
                let (u, v) = (between(places[index - 1].at, places[index].at), between(places[index].at, after.at));
                let size = norm(u) * norm(v);
                let bend = if size > 0.0 { (dot(u, v) / size).clamp(-1.0, 1.0).acos() } else { 0.0 };
                // A place that the centres pass straight does not turn the rope.
                if bend < 1e-9 { 0.0 } else { (bend + tilts[index]).max(0.0) }
            }
        };
        legs.push(Leg { straight: straights[index - 1], wrap_after: Angle::of_radians(wrap) });
    }
    Ok(legs)
}
