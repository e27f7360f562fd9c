//! What is asked of a line.

use cordage::Use;
use rig::{Lead, LineKind, Travel};
use splice::{Bearing, BuryWish, EndKind, TaperWish};
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
    pub thickest: Length,
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
    /// The same at both ends of its travel.
    pub travel: Option<&'a Travel>,
    /// Places with a thickest rope.
    pub fits: Vec<Fit>,
    /// The working end.
    pub working: EndWish,
    /// The end in the hand.
    pub bitter: EndWish,
    /// The cover.
    pub cover: CoverWish,
    /// Most stretch at the steady load, share, where the order sets its own.
    pub stretch_budget: Option<f64>,
    /// Bury in diameters, where the loft sets its own.
    pub bury_diameters: Option<f64>,
}

impl LineRequest<'_> {
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
