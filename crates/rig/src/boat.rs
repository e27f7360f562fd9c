//! The boat, and a start from her length where dimensions are missing.
//!
//! Every dimension that is not given is assumed from the length overall by a
//! proportion of our own; each assumption is a step of the working, and any
//! one of them can be replaced by giving the dimension.

use sources::{Citation, GIVEN, OURS, Step};
use units::{Length, Mass, Moment};

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
    /// Righting moment at 30 degrees of heel.
    pub righting_moment: Option<Moment>,
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
}

/// A dimension, with the step that says where it is from.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Dimension {
    pub(crate) value: Length,
    pub(crate) step: Step,
    pub(crate) assumed: bool,
}

const PROPORTION: Citation = OURS.at("proportion of a modern sloop; give the dimension to replace it");

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
            i: None,
            j: None,
            p: None,
            e: None,
            isp: None,
            bas: None,
        }
    }

    pub(crate) fn lwl(&self) -> Dimension {
        self.or_share("waterline length", self.lwl, "0.88 LOA", 0.88)
    }

    pub(crate) fn draught(&self) -> Dimension {
        self.or_share("draught", self.draught, "0.18 LOA", 0.18)
    }

    pub(crate) fn freeboard(&self) -> Dimension {
        self.or_share("freeboard", self.freeboard, "0.10 LOA", 0.10)
    }

    pub(crate) fn i(&self) -> Dimension {
        match self.rig {
            RigType::MastheadSloop | RigType::Ketch | RigType::Yawl | RigType::Cutter => {
                self.or_share("I", self.i, "1.30 LOA, forestay to the masthead", 1.30)
            }
            _ => self.or_share("I", self.i, "1.22 LOA, forestay below the masthead", 1.22),
        }
    }

    pub(crate) fn j(&self) -> Dimension {
        self.or_share("J", self.j, "0.37 LOA", 0.37)
    }

    pub(crate) fn p(&self) -> Dimension {
        self.or_share("P", self.p, "1.20 LOA", 1.20)
    }

    pub(crate) fn e(&self) -> Dimension {
        self.or_share("E", self.e, "0.42 LOA", 0.42)
    }

    pub(crate) fn bas(&self) -> Dimension {
        self.or_share("boom above deck", self.bas, "0.14 LOA", 0.14)
    }

    pub(crate) fn isp(&self) -> Dimension {
        if self.isp.is_some() || self.i.is_none() {
            return self.or_share("ISP", self.isp, "1.30 LOA", 1.30);
        }
        let i = self.i();
        Dimension {
            value: i.value,
            step: Step::new("ISP", "I, spinnaker halyard at the forestay", i.value, PROPORTION).input("I", i.value),
            assumed: true,
        }
    }

    fn or_share(&self, what: &'static str, given: Option<Length>, formula: &'static str, share: f64) -> Dimension {
        match given {
            Some(value) => Dimension { value, step: Step::new(what, "", value, GIVEN.at("boat")), assumed: false },
            None => {
                let value = self.loa * share;
                let step = Step::new(what, formula, value, PROPORTION).input("LOA", self.loa);
                Dimension { value, step, assumed: true }
            }
        }
    }
}
