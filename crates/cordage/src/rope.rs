//! One rope: its size, build, strength with its basis, and what was measured.

use crate::{Construction, Fibre};
use sources::Citation;
use thiserror::Error;
use units::{Force, Length, LinearDensity};

/// What a listed strength is the strength of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// A new rope with spliced eyes: a splice is already in the figure.
    Spliced,
    /// The straight rope.
    Unspliced,
    /// A mean of tests, not a minimum, ends unknown.
    Average,
    /// Not stated: treated as unspliced, and said so.
    Unknown,
}

impl Basis {
    /// The word printed.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Basis::Spliced => "spliced",
            Basis::Unspliced => "unspliced",
            Basis::Average => "average",
            Basis::Unknown => "basis unknown",
        }
    }
}

/// A breaking strength with its basis and origin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strength {
    /// The figure.
    pub force: Force,
    /// What it is the strength of.
    pub basis: Basis,
    /// On whose word.
    pub citation: Citation,
    /// Lowest and highest where the figure is an estimate.
    pub range: Option<(Force, Force)>,
}

/// A rope that a line can be made of.
#[derive(Debug, Clone, PartialEq)]
pub struct Rope {
    /// Its name in the loft's list, or its description.
    pub name: String,
    /// Outside diameter, nominal or listed.
    pub diameter: Length,
    /// How it is built.
    pub construction: Construction,
    /// The fibre that carries the load.
    pub fibre: Fibre,
    /// The cover's fibre, where there is a cover.
    pub cover_fibre: Option<Fibre>,
    /// The stripped core's diameter at reference tension, measured or listed.
    pub core_diameter: Option<Length>,
    /// Mass per length, dry, cover and all.
    pub linear_density: LinearDensity,
    /// Mass per length of the core alone.
    pub core_linear_density: Option<LinearDensity>,
    /// On whose word the masses are.
    pub density_citation: Citation,
    /// Breaking strength.
    pub strength: Strength,
    /// Length of one full turn of a strand, measured on the free rope or core.
    pub pitch: Option<Length>,
    /// Stretch at a tenth of the strength, share, where listed.
    pub stretch_at_tenth: Option<f64>,
    /// Mass per length soaked and dripped, where the loft weighed it.
    pub wet_linear_density: Option<LinearDensity>,
    /// The same of the core alone.
    pub wet_core_linear_density: Option<LinearDensity>,
    /// Creep under a standing load, where somebody measured it.
    pub creep_rate: Option<crate::CreepRate>,
    /// Coated, so slipperier or stiffer than the bare fibre.
    pub coated: bool,
}

/// What a rope's record says that cannot be so.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum RopeError {
    /// A size that is not above zero.
    #[error("{what} of {name} is {given}: it must be above zero")]
    NotAboveZero {
        /// The rope.
        name: String,
        /// Which figure.
        what: &'static str,
        /// The figure.
        given: String,
    },
    /// A core as thick or heavy as the whole rope.
    #[error("the core's {what} of {name} is {core}, not below the whole rope's {whole}")]
    CoreTooLarge {
        /// The rope.
        name: String,
        /// Which figure.
        what: &'static str,
        /// The core's figure.
        core: String,
        /// The rope's figure.
        whole: String,
    },
}

impl Rope {
    /// The rope, after checking that its figures can be so.
    ///
    /// # Errors
    /// When a size is not above zero, or a core exceeds its rope.
    pub fn checked(self) -> Result<Rope, RopeError> {
        let above = |what, given: f64, shown: String| {
            if given > 0.0 {
                Ok(())
            } else {
                Err(RopeError::NotAboveZero { name: self.name.clone(), what, given: shown })
            }
        };
        above("the diameter", self.diameter.si(), self.diameter.to_string())?;
        above("the linear density", self.linear_density.si(), self.linear_density.to_string())?;
        above("the strength", self.strength.force.si(), self.strength.force.to_string())?;
        if let Some(core) = self.core_diameter {
            above("the core diameter", core.si(), core.to_string())?;
            if core >= self.diameter {
                return Err(self.core_too_large("diameter", core.to_string(), self.diameter.to_string()));
            }
        }
        if let Some(core) = self.core_linear_density {
            above("the core's linear density", core.si(), core.to_string())?;
            if core >= self.linear_density {
                return Err(self.core_too_large("linear density", core.to_string(), self.linear_density.to_string()));
            }
        }
        Ok(self)
    }

    fn core_too_large(&self, what: &'static str, core: String, whole: String) -> RopeError {
        RopeError::CoreTooLarge { name: self.name.clone(), what, core, whole }
    }

    /// The braid that grips in a buried splice: the rope itself, or the
    /// stripped core of a covered rope; `None` where that was never measured.
    #[must_use]
    pub fn gripping_diameter(&self) -> Option<Length> {
        if self.construction.load_on_core() { self.core_diameter } else { Some(self.diameter) }
    }

    /// The mass per length of what is left when the cover is off; `None`
    /// where the core was not weighed or there is no cover.
    #[must_use]
    pub fn stripped_linear_density(&self) -> Option<LinearDensity> {
        if self.construction.has_cover() { self.core_linear_density } else { None }
    }
}
