//! What sun, heat and water do to a rope, in words and shares.
//!
//! Sun and heat are words from handbooks that were not re-read; no lifetime
//! follows from them. A cover stands between the core and the sun.

use crate::{Fibre, Rope};
use sources::{COMMON_PRACTICE, Citation, FIBRE_MEMORY, Finding, Grade};
use units::{Sentence, Value};

/// How a fibre stands sunlight.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sun {
    /// Hardly weakened.
    Good,
    /// Weakened over seasons.
    Fair,
    /// Weakened within a season or two.
    Poor,
    /// To be kept covered.
    VeryPoor,
}

impl Sun {
    /// The word printed.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Sun::Good => "well",
            Sun::Fair => "fairly",
            Sun::Poor => "poorly",
            Sun::VeryPoor => "very poorly",
        }
    }
}

const SUN_FROM: Citation = FIBRE_MEMORY.at("sunlight");

/// A deck in the sun, or beside a warm exhaust, degrees Celsius.
const WARM_DECK: f64 = 70.0;
const WARM_DECK_FROM: Citation = COMMON_PRACTICE.at("a dark deck in the sun, 60 to 70 degrees");

impl Fibre {
    /// How it stands sunlight.
    #[must_use]
    pub const fn sun(self) -> Sun {
        match self {
            Fibre::Polyester => Sun::Good,
            Fibre::Polyamide | Fibre::Hmpe | Fibre::PolyesterPolyolefin | Fibre::Manila => Sun::Fair,
            Fibre::Polypropylene | Fibre::Aramid | Fibre::Lcp => Sun::Poor,
            Fibre::Pbo => Sun::VeryPoor,
        }
    }
}

impl Rope {
    /// The fibre that lies in the sun: the cover's, where there is one.
    #[must_use]
    pub fn outside_fibre(&self) -> Fibre {
        if self.construction.has_cover() { self.cover_fibre.unwrap_or(Fibre::Polyester) } else { self.fibre }
    }
}

/// What the sun does to it; `None` where the outside stands it well.
#[must_use]
pub fn sunlight(rope: &Rope) -> Option<Finding> {
    let outside = rope.outside_fibre();
    let grade = match outside.sun() {
        Sun::Good => return None,
        Sun::Fair => Grade::Note,
        Sun::Poor | Sun::VeryPoor => Grade::Caution,
    };
    let text = Sentence::new("{} outside stands sunlight {}").with(outside.name()).with(outside.sun().word());
    let finding = Finding::new(grade, "sunlight", text, SUN_FROM);
    Some(finding.remedy(Sentence::new("a polyester cover, or look at it each season")))
}

/// Whether a rope is held by jaws or drum, or only runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Held {
    /// By a clutch, a cam or on a drum, where slipping makes heat.
    Gripped,
    /// It runs free.
    Running,
}

/// What heat does to it; `None` where its fibre is far from being hurt.
#[must_use]
pub fn heat(rope: &Rope, held: Held) -> Option<Finding> {
    let outside = rope.outside_fibre();
    let critical = |fibre: Fibre| fibre.facts().critical_celsius;
    let outer = critical(outside).get()?;
    let core = critical(rope.fibre).get()?;
    if outer <= WARM_DECK && held == Held::Gripped {
        let text = Sentence::new("{} outside goes soft from {} degrees: slipping in a clutch or on a drum melts it")
            .with(outside.name())
            .with(outer);
        return Some(
            Finding::new(Grade::Caution, "heat", text, critical(outside).citation)
                .remedy(Sentence::new("a cover where it is gripped or wound")),
        );
    }
    (core <= WARM_DECK).then(|| {
        let text =
            Sentence::new("{} loses strength from {} degrees: keep it off a dark deck in the sun and off exhausts")
                .with(rope.fibre.name())
                .with(core);
        Finding::new(Grade::Note, "heat", text, WARM_DECK_FROM)
    })
}

/// What water takes of its strength; `None` where it takes nothing.
#[must_use]
pub fn wet_strength(rope: &Rope) -> Option<Finding> {
    let share = rope.fibre.facts().wet_strength;
    let left = share.get().filter(|left| *left < 1.0)?;
    let text = Sentence::new("wet {} keeps {} of its dry strength").with(rope.fibre.name()).with(Value::Share(left));
    Some(Finding::new(Grade::Note, "weaker-wet", text, share.citation))
}
