//! What comes out: an end laid out, to the millimetre, with its reasons.

use crate::grip::Hold;
use crate::kinds;
use crate::prior::Span;
use crate::weak::WeakPoint;
use crate::{Chance, ChanceWish, EndKind, EndRequest, Eye, LoadGrip, SpliceError, TaperWish, chance};
use sources::{Finding, Sourced, Step};
use units::{Duration, Force, Length, Millimetres, Sentence};

/// The shape of a mark: each survives a printer without colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Shape {
    /// A thin band round the rope.
    PlainBand,
    /// A heavy closed band: a throat.
    ClosedBand,
    /// A broken band: where a buried end stops.
    BrokenBand,
    /// An arrowhead towards the bitter end: strands taken out.
    Arrowhead,
    /// A cross: where the puller goes in.
    Cross,
}

impl Shape {
    /// The words printed beside it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Shape::PlainBand => "plain band",
            Shape::ClosedBand => "closed band",
            Shape::BrokenBand => "broken band",
            Shape::Arrowhead => "arrowhead",
            Shape::Cross => "cross",
        }
    }
}

/// What a mark is made on. Core and cover lie side by side until they are
/// parted, so their marks count from the bitter end of the whole rope; those of
/// another rope from its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Part {
    /// The rope as it comes off the reel.
    Rope,
    /// Its core, laid bare.
    Core,
    /// Its cover.
    Cover,
    /// The other rope of a join.
    OtherRope,
}

impl Part {
    /// The word printed.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Part::Rope => "rope",
            Part::Core => "core",
            Part::Cover => "cover",
            Part::OtherRope => "other rope",
        }
    }
}

/// One mark, on free rope at reference tension.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Mark {
    /// Its number, from the bitter end.
    pub number: u32,
    /// What happens there.
    pub name: &'static str,
    /// What it is made on.
    pub part: Part,
    /// Distance from the bitter end.
    pub from_bitter_end: Millimetres,
    /// What is drawn.
    pub shape: Shape,
}

/// Which way a strand runs round the braid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Hand {
    /// Left-handed, like the middle of an S.
    Left,
    /// Right-handed, like the middle of a Z.
    Right,
}

impl Hand {
    /// The word printed.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Hand::Left => "left",
            Hand::Right => "right",
        }
    }

    /// The other one.
    #[must_use]
    pub const fn other(self) -> Hand {
        match self {
            Hand::Left => Hand::Right,
            Hand::Right => Hand::Left,
        }
    }
}

/// One strand taken out of the tail.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TaperStep {
    /// Distance from the bitter end.
    pub at: Millimetres,
    /// Whole picks from the bitter end.
    pub pick: u32,
    /// Its hand.
    pub hand: Hand,
    /// Strands left between here and the bitter end.
    pub strands_left: u32,
}

/// Sewing or whipping with its twine.
#[derive(Debug, Clone, PartialEq)]
pub struct Stitching {
    /// `lock stitch`, `throat whipping`, `common whipping` …
    pub name: &'static str,
    /// How it runs.
    pub pattern: Sentence,
    /// Twine diameter.
    pub twine: Length,
    /// Twine to cut off.
    pub length: Millimetres,
    /// What it must hold when the rope is slack; `None` where nothing hangs
    /// on it.
    pub must_hold: Option<Force>,
    /// Why it is there.
    pub reason: Sentence,
    /// On whose word the pattern is.
    pub citation: sources::Citation,
}

/// Grip of a buried tail, in the rope's own lengths.
#[derive(Debug, Clone, PartialEq)]
pub struct Grip {
    /// Assumed friction over that at which the tail lets go.
    pub margin: Span<f64>,
    /// The same with all inward force reaching a thin tail.
    pub margin_full_contact: Span<f64>,
    /// Bury at which the margin would be one.
    pub critical_bury: Span<Length>,
    /// Friction of strand on strand kept.
    pub friction: Span<f64>,
    /// Shrinkage of the standing part.
    pub shrinkage: Span<Length>,
    /// Share of what is believed of the rope for which it holds.
    pub chance: f64,
    /// Load the tail carries at the throat, share of the rope's.
    pub tail_share: f64,
    /// Margin at the working load, at the highest and nearly slack.
    pub at_loads: Vec<LoadGrip>,
    /// How far the tail's end creeps towards the throat at the working load;
    /// `None` where the stiffness of the fibre was not read or it does not hold.
    pub tail_creep: Option<Length>,
    /// The load that creep is for.
    pub creep_load: Force,
    /// How load passes at that load: distance from the throat, and share of
    /// the rope's load that the tail carries there. Empty where creep is none.
    pub passing: Vec<(Length, f64)>,
}

impl Grip {
    /// From diameters to the rope's own lengths.
    pub(crate) fn of(hold: &Hold, diameter: Length, rho: f64, creep: Option<Length>, load: Force) -> Grip {
        // A braid without any grip has no critical bury; a kilometre of
        // diameters stands for it, far beyond any rope.
        let long = |d: f64| diameter * d.min(1e6);
        Grip {
            margin: hold.margin,
            margin_full_contact: hold.margin_full_contact,
            critical_bury: hold.critical_bury.map(long),
            friction: hold.friction,
            shrinkage: hold.shrinkage.map(long),
            chance: hold.chance,
            tail_share: rho,
            at_loads: Vec::new(),
            tail_creep: creep,
            creep_load: load,
            passing: Vec::new(),
        }
    }
}

/// An end laid out.
#[derive(Debug, Clone, PartialEq)]
pub struct Layout {
    /// Which end.
    pub kind: EndKind,
    /// Diameter of the braid that grips; the rope's where nothing is buried.
    pub gripping_diameter: Length,
    /// The eye, where there is one.
    pub eye: Option<Eye>,
    /// The bury along the tail, where there is one.
    pub bury: Option<Length>,
    /// Strands taken out of the tail, from the throat to its end.
    pub taper: Vec<TaperStep>,
    /// The slanted cut at the tail's end.
    pub slanted_cut: Option<Length>,
    /// The marks, numbered.
    pub marks: Vec<Mark>,
    /// How far beyond the tail's end the puller goes in.
    pub puller_lead: Option<Length>,
    /// What the bury takes up of the standing part.
    pub shrinkage: Length,
    /// What the end adds to the cut length: cut length = finished length,
    /// from the bearing point, and this. Of a whole piece, its cut length.
    pub rope_used: Length,
    /// Finished length of a whole piece, bearing point to bearing point.
    pub finished: Option<Length>,
    /// Sewing and whipping, in order.
    pub stitching: Vec<Stitching>,
    /// What to do, in order.
    pub steps: Vec<Sentence>,
    /// Tools, by name.
    pub tools: Vec<&'static str>,
    /// Time at the bench.
    pub time: Sourced<Duration>,
    /// What can hurt, people or rope.
    pub cautions: Vec<Sentence>,
    /// Grip, where a tail is buried.
    pub grip: Option<Grip>,
    /// Weak points, the lowest first; those not assessed last.
    pub weak_points: Vec<WeakPoint>,
    /// Share of the straight rope's strength at the lowest point.
    pub strength_share: Option<Span<f64>>,
    /// What is wrong with it, graded.
    pub findings: Vec<Finding>,
    /// How each number came about.
    pub working: Vec<Step>,
}

impl Layout {
    /// An end of a request with nothing in it yet: a kind fills in its own.
    pub(crate) fn of(request: &EndRequest, time: Sourced<Duration>) -> Layout {
        Layout {
            kind: request.kind,
            gripping_diameter: request.rope.diameter,
            eye: None,
            bury: None,
            taper: Vec::new(),
            slanted_cut: None,
            marks: Vec::new(),
            puller_lead: None,
            shrinkage: Length::ZERO,
            rope_used: Length::ZERO,
            finished: None,
            stitching: Vec::new(),
            steps: Vec::new(),
            tools: Vec::new(),
            time,
            cautions: kinds::cautions(),
            grip: None,
            weak_points: Vec::new(),
            strength_share: None,
            findings: Vec::new(),
            working: Vec::new(),
        }
    }

    /// The mark of a name on a part.
    #[must_use]
    pub fn mark(&self, part: Part, name: &str) -> Option<&Mark> {
        self.marks.iter().find(|mark| mark.part == part && mark.name == name)
    }
}

/// An end laid out, or why it cannot be.
///
/// ```
/// use splice::{EndKind, EndRequest, Part, layout};
/// let rope = cordage::generic("10 mm 12-strand HMPE")?;
/// let end = layout(&EndRequest::new(EndKind::LongBuryEye, &rope))?;
/// assert_eq!(end.taper.len(), 6);
/// assert_eq!(end.taper[5].strands_left, 6);
/// assert_eq!(end.mark(Part::Rope, "throat, tail side").unwrap().from_bitter_end.count(), 720);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// When the rope is not built for the end, a size is missing or cannot be, or
/// the eye would open too wide on its fitting.
pub fn layout(request: &EndRequest) -> Result<Layout, SpliceError> {
    let construction = request.rope.construction;
    if !request.kind.suits(construction) {
        return Err(SpliceError::WrongConstruction {
            kind: request.kind,
            rope: request.rope.name.clone(),
            construction: construction.name(),
            instead: EndKind::usual_eye(construction),
        });
    }
    check_rules(request)?;
    let end = crate::own::with_own(request, kinds::lay_out(request)?)?;
    if let Some(has) = request.rope_length {
        let needs =
            end.marks.iter().map(|mark| mark.from_bitter_end).max().map_or(Length::ZERO, Millimetres::to_length);
        let needs = if request.kind.is_whole_piece() { end.rope_used } else { needs };
        if needs > has {
            return Err(SpliceError::LongerThanRope { needs, has });
        }
    }
    Ok(end)
}

/// The chance that an end holds, by simulation; friction as Coulomb's.
///
/// # Errors
/// As [`layout`], and where no single bury's grip holds the end.
pub fn simulated(request: &EndRequest, wish: ChanceWish) -> Result<Chance, SpliceError> {
    let end = layout(request)?;
    if end.grip.is_none() || request.kind == EndKind::UnlikeRopes {
        return Err(SpliceError::NothingToSimulate { kind: request.kind });
    }
    // The adjustable loop keeps its tail whole, whatever taper was asked for.
    let whole = EndRequest { taper: TaperWish::None, ..request.clone() };
    let request = if request.kind == EndKind::AdjustableLoop { &whole } else { request };
    Ok(chance(&kinds::chance_request(request, wish)?)?)
}

fn check_rules(request: &EndRequest) -> Result<(), SpliceError> {
    let within = |what, given: f64, low: f64, high: f64| {
        if (low..=high).contains(&given) { Ok(()) } else { Err(SpliceError::OutOfRange { what, given, low, high }) }
    };
    let rules = request.rules;
    within("the fid in diameters", rules.fid_diameters, 5.0, 60.0)?;
    within("the short fid as a share of a fid", rules.short_fid_share, 0.1, 0.9)?;
    within("the puller's lead in diameters", rules.puller_lead_diameters, 1.0, 40.0)?;
    within("the eye in diameters of its fitting", rules.eye_per_fitting, 1.0, 50.0)?;
    within("the least eye in rope diameters", rules.eye_least_diameters, 1.0, 200.0)?;
    within("the loft's bury in diameters", rules.bury_diameters.unwrap_or(72.0), 5.0, 400.0)?;
    within("the loft's full tucks", f64::from(rules.tucks.unwrap_or(3)), 1.0, 12.0)?;
    if let Some(range) = request.friction {
        within("the low end of friction", range.low, 0.0, 1.0)?;
        within("the high end of friction", range.high, range.low, 1.0)?;
    }
    within("the exponent of friction", request.law.exponent, 0.3, 1.0)?;
    within("the onset of grip as a share of strength", request.law.onset.low, 0.0, 1.0)?;
    within("the onset of grip as a share of strength", request.law.onset.high, request.law.onset.low, 1.0)?;
    for (what, load) in [("the working load", request.load), ("the peak load", request.peak)] {
        if let Some(given) = load.filter(|load| *load <= Force::ZERO) {
            return Err(SpliceError::LoadNotAboveZero { what, given });
        }
    }
    if let Some(friction) = request.pin_friction {
        within("the friction of the pin", friction, 0.0, 1.0)?;
    }
    Ok(())
}
