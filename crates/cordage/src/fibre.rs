//! What rope is spun from.
//!
//! Specific gravity, stiffness and strength are of yarn, from the table of a
//! rope-engineering paper that was read; regain, melting and critical
//! temperatures are from memory and marked so. Yarn is not rope: strength of
//! rope is never computed from this table alone.

use sources::{Citation, FIBRE_MEMORY, Sourced, TTI_YARN};
use units::{Density, Tenacity};

/// The fibre that carries the load, or of a cover.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Fibre {
    /// High-modulus polyethylene.
    Hmpe,
    /// Polyester.
    Polyester,
    /// Polyamide (nylon).
    Polyamide,
    /// Polypropylene.
    Polypropylene,
    /// Para-aramid.
    Aramid,
    /// Liquid-crystal polymer (polyarylate).
    Lcp,
    /// PBO.
    Pbo,
    /// Polyester and polyolefin mixed.
    PolyesterPolyolefin,
    /// Manila hemp.
    Manila,
}

/// Facts of a fibre that the checks use.
#[derive(Debug, Clone, PartialEq)]
pub struct FibreFacts {
    /// Mass per volume of the fibre itself.
    pub density: Sourced<Density>,
    /// Strength of yarn for its mass; `None` where none was read.
    pub yarn_tenacity: Option<Sourced<Tenacity>>,
    /// Stiffness of yarn for its mass; `None` where none was read.
    pub yarn_modulus: Option<Sourced<Tenacity>>,
    /// Share of strength left when wet.
    pub wet_strength: Sourced<f64>,
    /// Temperature above which strength goes quickly, degrees Celsius.
    pub critical_celsius: Sourced<f64>,
    /// Water taken up by the fibre itself, share of dry mass.
    pub regain: Sourced<f64>,
}

impl Fibre {
    /// Every fibre, in the order printed.
    pub const ALL: [Fibre; 9] = [
        Fibre::Hmpe,
        Fibre::Polyester,
        Fibre::Polyamide,
        Fibre::Polypropylene,
        Fibre::Aramid,
        Fibre::Lcp,
        Fibre::Pbo,
        Fibre::PolyesterPolyolefin,
        Fibre::Manila,
    ];

    /// The name printed.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Fibre::Hmpe => "HMPE",
            Fibre::Polyester => "polyester",
            Fibre::Polyamide => "polyamide",
            Fibre::Polypropylene => "polypropylene",
            Fibre::Aramid => "aramid",
            Fibre::Lcp => "LCP",
            Fibre::Pbo => "PBO",
            Fibre::PolyesterPolyolefin => "polyester/polyolefin",
            Fibre::Manila => "manila",
        }
    }

    /// From a word as people write it, in any case.
    ///
    /// ```
    /// use cordage::Fibre;
    /// assert_eq!(Fibre::from_word("nylon"), Some(Fibre::Polyamide));
    /// assert_eq!(Fibre::from_word("steel"), None);
    /// ```
    #[must_use]
    pub fn from_word(word: &str) -> Option<Fibre> {
        Some(match word.to_ascii_lowercase().as_str() {
            "hmpe" | "uhmwpe" => Fibre::Hmpe,
            "polyester" | "pes" | "pet" => Fibre::Polyester,
            "polyamide" | "nylon" | "pa" => Fibre::Polyamide,
            "polypropylene" | "pp" => Fibre::Polypropylene,
            "aramid" => Fibre::Aramid,
            "lcp" | "polyarylate" => Fibre::Lcp,
            "pbo" => Fibre::Pbo,
            "polyester/polyolefin" | "mixed-polyester" => Fibre::PolyesterPolyolefin,
            "manila" => Fibre::Manila,
            _ => return None,
        })
    }

    /// Is it one of the stiff, slippery fibres that a long bury suits?
    #[must_use]
    pub const fn is_high_modulus(self) -> bool {
        matches!(self, Fibre::Hmpe | Fibre::Aramid | Fibre::Lcp | Fibre::Pbo)
    }

    /// Is it a natural fibre?
    #[must_use]
    pub const fn is_natural(self) -> bool {
        matches!(self, Fibre::Manila)
    }

    /// The facts the checks use.
    #[must_use]
    pub fn facts(self) -> FibreFacts {
        const YARN: Citation = TTI_YARN.at("table 1");
        const MEMORY: Citation = FIBRE_MEMORY.at("fibre table");
        let facts = |density: (f64, Citation), yarn: Option<(f64, f64)>, wet, critical, regain| FibreFacts {
            density: Sourced::new(Density::of_g_per_cm3(density.0), density.1),
            yarn_tenacity: yarn.map(|(strength, _)| Sourced::new(Tenacity::of_n_per_tex(strength), YARN)),
            yarn_modulus: yarn.map(|(_, modulus)| Sourced::new(Tenacity::of_n_per_tex(modulus), YARN)),
            wet_strength: Sourced::new(wet, MEMORY),
            critical_celsius: Sourced::new(critical, MEMORY),
            regain: Sourced::new(regain, MEMORY),
        };
        match self {
            Fibre::Hmpe => facts((0.97, YARN), Some((2.65, 124.0)), 1.0, 65.0, 0.0),
            Fibre::Polyester => facts((1.38, YARN), Some((0.84, 10.0)), 1.0, 177.0, 0.004),
            Fibre::Polyamide => facts((1.14, YARN), Some((0.84, 4.0)), 0.85, 163.0, 0.045),
            Fibre::Polypropylene => facts((0.91, YARN), Some((0.66, 3.5)), 1.0, 121.0, 0.0),
            Fibre::Aramid => facts((1.44, YARN), Some((2.03, 49.0)), 0.95, 270.0, 0.07),
            Fibre::Lcp => facts((1.41, YARN), Some((2.01, 46.0)), 1.0, 150.0, 0.001),
            Fibre::Pbo => facts((1.56, MEMORY), None, 0.95, 300.0, 0.02),
            Fibre::PolyesterPolyolefin => facts((1.14, MEMORY), None, 1.0, 121.0, 0.002),
            Fibre::Manila => facts((1.5, MEMORY), None, 1.0, 180.0, 0.12),
        }
    }
}
