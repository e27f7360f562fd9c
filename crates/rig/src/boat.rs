//! The boat, and a start from her length where dimensions are missing.
//!
//! Every dimension that is not given is assumed by a proportion of our own
//! for her rig and hull; each assumption is a step that the answer prints, and
//! any one of them is replaced by giving the dimension.

use sources::{Citation, GIVEN, OURS, Step};
use thiserror::Error;
use units::{Angle, Area, Length, Mass, Moment};

/// One hull or more.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hull {
    /// One.
    Monohull,
    /// Two or three.
    Multihull,
}

/// How she is rigged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RigType {
    /// One mast, forestay to the masthead.
    MastheadSloop,
    /// One mast, forestay below the masthead.
    FractionalSloop,
    /// One mast, two headsails.
    Cutter,
    /// Mizzen before the rudder.
    Ketch,
    /// Mizzen abaft the rudder.
    Yawl,
    /// Four-sided mainsail on a gaff.
    Gaff,
    /// No headsail.
    Cat,
    /// No stays.
    Unstayed,
}

impl RigType {
    /// The rig in words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            RigType::MastheadSloop => "masthead sloop",
            RigType::FractionalSloop => "fractional sloop",
            RigType::Cutter => "cutter",
            RigType::Ketch => "ketch",
            RigType::Yawl => "yawl",
            RigType::Gaff => "gaff rig",
            RigType::Cat => "cat rig",
            RigType::Unstayed => "unstayed rig",
        }
    }

    /// Does a second mast stand in her?
    #[must_use]
    pub const fn has_mizzen(self) -> bool {
        matches!(self, RigType::Ketch | RigType::Yawl)
    }

    /// Does a forestay carry a headsail?
    #[must_use]
    pub const fn has_forestay(self) -> bool {
        !matches!(self, RigType::Cat | RigType::Unstayed)
    }
}

/// An inclining: a weight moved across the deck, and the heel it made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Inclining {
    /// The weight.
    pub weight: Mass,
    /// How far it was moved across.
    pub moved: Length,
    /// How far she heeled.
    pub heel: Angle,
}

/// A boat as the order gives her: only the length overall is a must.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Boat {
    /// One hull or more.
    pub hull: Hull,
    /// How she is rigged.
    pub rig: RigType,
    /// Length overall.
    pub loa: Length,
    /// Length on the waterline.
    pub lwl: Option<Length>,
    /// Greatest beam.
    pub beam: Option<Length>,
    /// Draught.
    pub draught: Option<Length>,
    /// Displacement.
    pub displacement: Option<Mass>,
    /// Deck above water at the mast.
    pub freeboard: Option<Length>,
    /// Greatest righting moment that the rig is asked to bear: at 30 degrees
    /// of heel for one hull, when the windward hull flies for more.
    pub righting_moment: Option<Moment>,
    /// An inclining, where the moment is not given.
    pub inclining: Option<Inclining>,
    /// Height of the fore triangle.
    pub i: Option<Length>,
    /// Base of the fore triangle.
    pub j: Option<Length>,
    /// Mainsail luff.
    pub p: Option<Length>,
    /// Mainsail foot.
    pub e: Option<Length>,
    /// Height of the spinnaker halyard.
    pub isp: Option<Length>,
    /// Boom above deck.
    pub bas: Option<Length>,
    /// Mizzen luff.
    pub p_mizzen: Option<Length>,
    /// Mizzen foot.
    pub e_mizzen: Option<Length>,
    /// Height of the inner fore triangle.
    pub i_staysail: Option<Length>,
    /// Base of the inner fore triangle.
    pub j_staysail: Option<Length>,
    /// Length of the gaff.
    pub gaff: Option<Length>,
    /// The gaff off upright.
    pub gaff_angle: Option<Angle>,
}

/// Dimensions that contradict each other or the water.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum BoatError {
    /// A dimension of zero or less.
    #[error("{what} is {given}: more than zero is wanted")]
    NotAbove {
        /// Which.
        what: &'static str,
        /// What was given.
        given: Length,
    },
    /// A boom below the deck.
    #[error("the boom is {given} above the deck: zero or more is wanted")]
    BoomBelowDeck {
        /// What was given.
        given: Length,
    },
    /// A dimension that another one bounds.
    #[error("{what} is {given}: {bound} is {limit}, and {what} is not more than that")]
    Above {
        /// Which.
        what: &'static str,
        /// What was given.
        given: Length,
        /// What bounds it.
        bound: &'static str,
        /// The bound.
        limit: Length,
    },
    /// A part that her rig has not.
    #[error("{what} is given, and a {rig} has none: leave it out, or give another rig")]
    NotHers {
        /// Which.
        what: &'static str,
        /// The rig.
        rig: &'static str,
    },
    /// A gaff that hangs or stands beyond upright.
    #[error("the gaff is {given} off upright: 0° to 80° is wanted")]
    GaffAngle {
        /// What was given.
        given: Angle,
    },
    /// A displacement that her hull cannot have.
    #[error("a displacement of {given} on {lwl} of waterline: {low} to {high} is what hulls of that length float")]
    Displacement {
        /// What was given.
        given: Mass,
        /// The waterline used.
        lwl: Length,
        /// The least.
        low: Mass,
        /// The most.
        high: Mass,
    },
    /// An inclining that says nothing.
    #[error("an inclining of {given}: 0.5° to 10° is wanted, with a displacement given")]
    Inclining {
        /// The heel given.
        given: Angle,
    },
}

/// Every dimension of a boat, given or assumed.
#[derive(Debug, Clone, PartialEq)]
#[expect(missing_docs, reason = "each field is the dimension of its name on Boat")]
pub struct Dimensions {
    pub loa: Length,
    pub lwl: Length,
    pub beam: Length,
    pub draught: Length,
    pub freeboard: Length,
    pub i: Length,
    pub j: Length,
    pub p: Length,
    pub e: Length,
    pub isp: Length,
    pub bas: Length,
    pub p_mizzen: Length,
    pub e_mizzen: Length,
    pub i_staysail: Length,
    pub j_staysail: Length,
    pub gaff: Length,
    pub gaff_angle: Angle,
    /// Each with where it is from, by the name in its step.
    pub steps: Vec<Step>,
}

impl Dimensions {
    /// The step of a dimension by its name: "P", "beam".
    #[must_use]
    pub fn step(&self, what: &str) -> Option<&Step> {
        self.steps.iter().find(|step| step.what == what)
    }

    /// Those that were not given.
    pub fn assumed(&self) -> impl Iterator<Item = &Step> {
        self.steps.iter().filter(|step| step.citation.source.kind == sources::Kind::Ours)
    }

    /// Length of the forestay from the foot of I to its top.
    #[must_use]
    pub fn forestay(&self) -> Length {
        Length::of_m(self.i.to_m().hypot(self.j.to_m()))
    }
}

const PROPORTION: Citation = OURS.at("proportion for her rig; give the dimension to replace it");

/// Share of another dimension that stands in for one not given.
struct Share {
    what: &'static str,
    formula: &'static str,
    of: &'static str,
    share: f64,
}

impl Boat {
    /// A boat of which only length, hull and rig are known.
    #[must_use]
    pub const fn of_length(loa: Length, hull: Hull, rig: RigType) -> Boat {
        Boat {
            hull,
            rig,
            loa,
            lwl: None,
            beam: None,
            draught: None,
            displacement: None,
            freeboard: None,
            righting_moment: None,
            inclining: None,
            i: None,
            j: None,
            p: None,
            e: None,
            isp: None,
            bas: None,
            p_mizzen: None,
            e_mizzen: None,
            i_staysail: None,
            j_staysail: None,
            gaff: None,
            gaff_angle: None,
        }
    }

    /// Every dimension, given or assumed.
    ///
    /// ```
    /// use rig::{Boat, Hull, RigType};
    /// use units::Length;
    /// let boat = Boat::of_length(Length::of_m(10.0), Hull::Monohull, RigType::MastheadSloop);
    /// assert_eq!(boat.dimensions().i, Length::of_m(13.0));
    /// ```
    #[must_use]
    pub fn dimensions(&self) -> Dimensions {
        let mut steps = vec![Step::new("LOA", "", self.loa, GIVEN.at("boat"))];
        let mut settle = |given: Option<Length>, of: Length, share: Share| match given {
            Some(value) => {
                steps.push(Step::new(share.what, "", value, GIVEN.at("boat")));
                value
            }
            None => {
                let value = of * share.share;
                steps.push(Step::new(share.what, share.formula, value, PROPORTION).input(share.of, of));
                value
            }
        };
        let of_loa = |what, formula, share| Share { what, formula, of: "LOA", share };
        let loa = self.loa;
        let many = self.hull == Hull::Multihull;
        let lwl = match many {
            true => settle(self.lwl, loa, of_loa("waterline length", "0.95 LOA, more than one hull", 0.95)),
            false => settle(self.lwl, loa, of_loa("waterline length", "0.88 LOA", 0.88)),
        };
        let beam = match many {
            true => settle(self.beam, loa, of_loa("beam", "0.55 LOA, more than one hull", 0.55)),
            false => settle(self.beam, loa, of_loa("beam", "0.33 LOA", 0.33)),
        };
        let draught = match many {
            true => settle(self.draught, loa, of_loa("draught", "0.08 LOA, more than one hull", 0.08)),
            false => settle(self.draught, loa, of_loa("draught", "0.18 LOA", 0.18)),
        };
        let freeboard = settle(self.freeboard, loa, of_loa("freeboard", "0.10 LOA", 0.10));
        let i = settle(self.i, loa, self.i_share());
        let j = settle(self.j, loa, of_loa("J", "0.37 LOA", 0.37));
        let (p_share, e_share) = self.main_shares();
        let p = settle(self.p, loa, p_share);
        let e = settle(self.e, loa, e_share);
        let isp_share = Share { what: "ISP", formula: "I, spinnaker halyard at the forestay", of: "I", share: 1.0 };
        let isp = settle(self.isp, i, isp_share);
        let bas = settle(self.bas, loa, of_loa("boom above deck", "0.14 LOA", 0.14));
        let mut part = |given: Option<Length>, of: Length, wanted: bool, share: Share| {
            if wanted || given.is_some() { settle(given, of, share) } else { of * share.share }
        };
        let of = |what, formula, of, share| Share { what, formula, of, share };
        let mizzen = self.rig.has_mizzen();
        let (p_share, e_share) = match self.rig {
            RigType::Yawl => (of("mizzen P", "0.45 P, yawl", "P", 0.45), of("mizzen E", "0.45 E, yawl", "E", 0.45)),
            _ => (of("mizzen P", "0.60 P, ketch", "P", 0.60), of("mizzen E", "0.60 E, ketch", "E", 0.60)),
        };
        let p_mizzen = part(self.p_mizzen, p, mizzen, p_share);
        let e_mizzen = part(self.e_mizzen, e, mizzen, e_share);
        let cutter = self.rig == RigType::Cutter;
        let i_staysail = part(self.i_staysail, i, cutter, of("inner I", "0.75 I", "I", 0.75));
        let j_staysail = part(self.j_staysail, j, cutter, of("inner J", "0.62 J", "J", 0.62));
        let gaffed = self.rig == RigType::Gaff;
        let gaff = part(self.gaff, e, gaffed, of("gaff", "0.75 E", "E", 0.75));
        let gaff_angle = self.gaff_angle.unwrap_or(Angle::of_degrees(35.0));
        if gaffed {
            let step = match self.gaff_angle {
                Some(angle) => Step::new("gaff off upright", "", angle, GIVEN.at("boat")),
                None => Step::new("gaff off upright", "assumed", gaff_angle, PROPORTION),
            };
            steps.push(step);
        }
        Dimensions {
            loa,
            lwl,
            beam,
            draught,
            freeboard,
            i,
            j,
            p,
            e,
            isp,
            bas,
            p_mizzen,
            e_mizzen,
            i_staysail,
            j_staysail,
            gaff,
            gaff_angle,
            steps,
        }
    }

    fn i_share(&self) -> Share {
        let (formula, share) = match self.rig {
            RigType::MastheadSloop | RigType::Ketch | RigType::Yawl | RigType::Cutter => {
                ("1.30 LOA, forestay to the masthead", 1.30)
            }
            RigType::Gaff => ("0.95 LOA, gaff rig", 0.95),
            _ => ("1.22 LOA, forestay below the masthead", 1.22),
        };
        Share { what: "I", formula, of: "LOA", share }
    }

    fn main_shares(&self) -> (Share, Share) {
        let of = |what, formula, share| Share { what, formula, of: "LOA", share };
        match self.rig {
            RigType::Ketch | RigType::Yawl => {
                (of("P", "1.10 LOA, two masts", 1.10), of("E", "0.38 LOA, two masts", 0.38))
            }
            RigType::Gaff => (of("P", "0.62 LOA, gaff rig", 0.62), of("E", "0.52 LOA, gaff rig", 0.52)),
            RigType::Cat | RigType::Unstayed => {
                (of("P", "1.30 LOA, no headsail", 1.30), of("E", "0.48 LOA, no headsail", 0.48))
            }
            _ => (of("P", "1.20 LOA", 1.20), of("E", "0.42 LOA", 0.42)),
        }
    }

    /// The boat, if her dimensions can be one boat's.
    ///
    /// # Errors
    /// The first contradiction: what was given and what is allowed.
    pub fn checked(self) -> Result<Boat, BoatError> {
        let above = [
            ("LOA", Some(self.loa)),
            ("the waterline", self.lwl),
            ("the beam", self.beam),
            ("the draught", self.draught),
            ("the freeboard", self.freeboard),
            ("I", self.i),
            ("J", self.j),
            ("P", self.p),
            ("E", self.e),
            ("ISP", self.isp),
            ("the mizzen's P", self.p_mizzen),
            ("the mizzen's E", self.e_mizzen),
            ("the inner I", self.i_staysail),
            ("the inner J", self.j_staysail),
            ("the gaff", self.gaff),
        ];
        for (what, given) in above {
            if let Some(given) = given.filter(|given| *given <= Length::ZERO) {
                return Err(BoatError::NotAbove { what, given });
            }
        }
        if let Some(given) = self.bas.filter(|bas| *bas < Length::ZERO) {
            return Err(BoatError::BoomBelowDeck { given });
        }
        let sized = self.dimensions();
        let bounds = [
            ("the waterline", self.lwl, "LOA", sized.loa),
            ("the draught", self.draught, "LOA", sized.loa),
            ("J", self.j, "LOA", sized.loa),
            ("the inner I", self.i_staysail, "I", sized.i),
            ("the inner J", self.j_staysail, "J", sized.j),
            ("the mizzen's P", self.p_mizzen, "P", sized.p),
        ];
        for (what, given, bound, limit) in bounds {
            if let Some(given) = given.filter(|given| *given > limit) {
                return Err(BoatError::Above { what, given, bound, limit });
            }
        }
        self.check_parts()?;
        self.check_floating(sized.lwl)?;
        Ok(self)
    }

    fn check_parts(&self) -> Result<(), BoatError> {
        let rig = self.rig.words();
        if !self.rig.has_mizzen() && (self.p_mizzen.is_some() || self.e_mizzen.is_some()) {
            return Err(BoatError::NotHers { what: "a mizzen", rig });
        }
        if self.rig != RigType::Gaff && (self.gaff.is_some() || self.gaff_angle.is_some()) {
            return Err(BoatError::NotHers { what: "a gaff", rig });
        }
        if let Some(given) = self.gaff_angle.filter(|angle| !(0.0..=80.0).contains(&angle.to_degrees())) {
            return Err(BoatError::GaffAngle { given });
        }
        Ok(())
    }

    /// A hull of the waterline floats between a fiftieth and a third of its
    /// cube, in tonnes and metres: a racing shell and a barge.
    fn check_floating(&self, lwl: Length) -> Result<(), BoatError> {
        if let Some(given) = self.displacement {
            let cube = lwl.to_m().powi(3);
            let (low, high) = (Mass::of_t(cube / 1000.0), Mass::of_t(cube / 15.0));
            if !(low..=high).contains(&given) {
                return Err(BoatError::Displacement { given, lwl, low, high });
            }
        }
        if let Some(inclining) = &self.inclining {
            let wanted = (0.5..=10.0).contains(&inclining.heel.to_degrees());
            if !wanted || self.displacement.is_none() {
                return Err(BoatError::Inclining { given: inclining.heel });
            }
        }
        Ok(())
    }
}

/// Area of the four-sided sail on a gaff and its centre above the tack, from
/// its corners.
pub(crate) fn gaff_sail(sized: &Dimensions) -> (Area, Length) {
    let (p, e, g) = (sized.p.to_m(), sized.e.to_m(), sized.gaff.to_m());
    let corners = [(0.0, 0.0), (e, 0.0), (g * sized.gaff_angle.sin(), p + g * sized.gaff_angle.cos()), (0.0, p)];
    let (mut twice, mut moment) = (0.0, 0.0);
    for (index, &(x, z)) in corners.iter().enumerate() {
        let (next_x, next_z) = corners[(index + 1) % corners.len()];
        let cross = x * next_z - next_x * z;
        twice += cross;
        moment += cross * (z + next_z);
    }
    (Area::of_m2(twice / 2.0), Length::of_m(moment / (3.0 * twice)))
}
