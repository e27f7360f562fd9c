//! What is asked of a line.

use crate::more::Added;
use cordage::Use;
use rig::{Lead, LineKind, Travel};
use splice::{Bearing, BuryWish, EndKind, OwnFigures, TaperWish};
use units::{Force, Length};

/// Who or what hangs on the line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Duty {
    /// Sails, spars and boat.
    Running,
    /// Holds or lifts a person: never this program's to pass.
    HoldsPerson,
    /// Stays the mast: never this program's to pass.
    StandingRigging,
}

/// What an end is to be.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct EndWish {
    /// Which kind; the usual eye (or whipped end) of the rope where left open.
    pub kind: Option<EndKind>,
    /// What its eye goes on.
    pub on: Option<Bearing>,
    /// Inside length of the eye, flat.
    pub eye: Option<Length>,
    /// Bury.
    pub bury: Option<BuryWish>,
    /// Taper.
    pub taper: TaperWish,
}

/// What is to be done with the cover.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CoverWish {
    /// It stays.
    Keep,
    /// Off between two points, from the working end's bearing point.
    Strip {
        /// Where it begins to be off.
        from: Length,
        /// Where it goes on again.
        to: Length,
    },
    /// As the answer advises.
    Choose,
}

/// A place on the lead that a rope must fit.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// Its name.
    pub name: String,
    /// The thickest rope it takes.
    pub thickest: Option<Length>,
    /// The thinnest rope that it holds: jaws, a self-tailing drum.
    pub thinnest: Option<Length>,
    /// Width of a sheave's groove.
    pub groove: Option<Length>,
}

impl Fit {
    /// A place that takes rope up to so much.
    #[must_use]
    pub fn up_to(name: &str, thickest: Length) -> Fit {
        Fit { name: name.to_owned(), thickest: Some(thickest), thinnest: None, groove: None }
    }

    /// What passes it: the thickest rope, and no more than its groove is wide.
    #[must_use]
    pub fn passes(&self) -> Option<Length> {
        match (self.thickest, self.groove) {
            (Some(thickest), Some(groove)) => Some(thickest.min(groove)),
            (one, other) => one.or(other),
        }
    }
}

/// How warm a rope is under its standing load, and how long it stands in all.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StandingWish {
    /// Degrees Celsius.
    pub celsius: f64,
    /// Years.
    pub years: f64,
    /// On whose word.
    pub citation: sources::Citation,
}

impl Default for StandingWish {
    /// A halyard in the sun for three years: ours.
    fn default() -> Self {
        StandingWish {
            celsius: 30.0,
            years: 3.0,
            citation: sources::OURS.at("30 degrees and 3 years, where not given"),
        }
    }
}

/// One line to be made up.
#[derive(Debug, Clone)]
pub struct LineRequest<'a> {
    /// The kind of line.
    pub kind: LineKind,
    /// What hangs on it.
    pub duty: Duty,
    /// What the boat is used for.
    pub used_for: Use,
    /// Breaking strength over steady load, where the loft sets its own.
    pub design_factor: Option<f64>,
    /// Steady pull while held or hauled, whichever is more.
    pub steady: Force,
    /// Peak pull.
    pub peak: Force,
    /// Finished length, bearing point to bearing point or bitter end.
    pub finished: Length,
    /// The lead, where there is one.
    pub lead: Option<&'a Lead>,
    /// The same over its whole travel; wanted wherever there is a lead.
    pub travel: Option<&'a Travel>,
    /// Places that say what rope they take or hold.
    pub fits: Vec<Fit>,
    /// The working end.
    pub working: EndWish,
    /// The end in the hand.
    pub bitter: EndWish,
    /// The cover.
    pub cover: CoverWish,
    /// What may be added where the line needs more, the first choice first.
    pub more: Vec<Added>,
    /// How it stands under load, for creep.
    pub standing: StandingWish,
    /// Most stretch at the steady load, share, where the order sets its own.
    pub stretch_budget: Option<f64>,
    /// Bury in diameters, where the loft sets its own.
    pub bury_diameters: Option<f64>,
    /// The loft's own figures, where it has any.
    pub own: Option<&'a OwnFigures>,
}

impl LineRequest<'_> {
    /// Is its cover to be off from the working end on?
    #[must_use]
    pub fn strips_the_eye(&self) -> bool {
        matches!(self.cover, CoverWish::Strip { from, .. } if from == Length::ZERO)
    }

    /// Is it held in jaws or on a drum? Read from its lead; without one, from
    /// what its kind mostly meets.
    #[must_use]
    pub fn is_gripped(&self) -> bool {
        use rig::Bearing;
        match self.lead {
            Some(lead) => lead.turns.iter().any(|turn| matches!(turn.bearing, Bearing::Clutch | Bearing::Winch)),
            None => matches!(
                self.kind,
                LineKind::MainHalyard
                    | LineKind::JibHalyard
                    | LineKind::StaysailHalyard
                    | LineKind::SpinnakerHalyard
                    | LineKind::JibSheet
                    | LineKind::StaysailSheet
                    | LineKind::SpinnakerSheet
                    | LineKind::Guy
                    | LineKind::TackLine
                    | LineKind::Runner
                    | LineKind::ReefLineSlab
                    | LineKind::ReefLineSingle
            ),
        }
    }

    /// What its stretch is held against.
    #[must_use]
    pub fn budget(&self) -> crate::Budget {
        let usual = crate::stretch_budget(self.kind, self.used_for);
        match self.stretch_budget {
            Some(own) => crate::Budget { most: Some(own), reason: "set in the order", ..usual },
            None => usual,
        }
    }
}
