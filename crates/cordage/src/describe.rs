//! A rope from a description: `10 mm 12-strand HMPE`, `3/8 in 3-strand
//! nylon`, `10 mm double braid HMPE/polyester core 7.5 mm`.
//!
//! The size comes first, then construction and fibre (with the cover's behind a
//! stroke) in either order, then, where wanted, `core` and its size, and `coated`.

use crate::tables::{OutsideTable, Written, laid_or_plaited, polyamide_double_braid};
use crate::{Basis, Construction, Fibre, LoadOn, Rope, RopeError, Strength, estimate};
use sources::{Citation, FIBRE_MEMORY};
use thiserror::Error;
use units::{Length, LinearDensity, ParseError};

/// A description taken apart.
#[derive(Debug, Clone, PartialEq)]
pub struct Description {
    /// Outside diameter.
    pub diameter: Length,
    /// How the size was written.
    pub written: Written,
    /// How it is built.
    pub construction: Construction,
    /// The fibre that carries the load.
    pub fibre: Fibre,
    /// The cover's fibre.
    pub cover_fibre: Option<Fibre>,
    /// The stripped core's diameter, as measured.
    pub core_diameter: Option<Length>,
    /// Coated.
    pub coated: bool,
}

/// Why a description is no rope.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum DescriptionError {
    /// The size is missing or cannot be read.
    #[error("{given:?} does not begin with a size such as '10 mm' or '3/8 in': {why}")]
    Size {
        /// The text as given.
        given: String,
        /// What the reader of lengths said.
        why: ParseError,
    },
    /// No construction was found behind the size.
    #[error(
        "{given:?} names no construction: one of 3-strand, 8-plait, 12-strand, double braid, parallel core, kernmantle"
    )]
    Construction {
        /// The text as given.
        given: String,
    },
    /// No fibre was found.
    #[error(
        "{given:?} names no fibre: one of HMPE, polyester, polyamide, polypropylene, aramid, LCP, PBO, polyester/polyolefin, manila"
    )]
    Fibre {
        /// The text as given.
        given: String,
    },
    /// A word that is not understood.
    #[error("{word:?} in {given:?} is not understood: after the fibre come only 'core SIZE' and 'coated'")]
    Word {
        /// The word.
        word: String,
        /// The text as given.
        given: String,
    },
    /// The size is outside the published table.
    #[error(transparent)]
    OutsideTable(#[from] OutsideTable),
    /// No table or estimate covers it.
    #[error(
        "no published figures were read for {construction} of {fibre}: put the rope in the rope list with the supplier's figures"
    )]
    NoFigures {
        /// The construction.
        construction: &'static str,
        /// The fibre.
        fibre: &'static str,
    },
    /// A size no rope loft handles.
    #[error("a rope of {given} is outside 1 mm to 120 mm")]
    Unlikely {
        /// The size.
        given: Length,
    },
    /// The figures contradict each other.
    #[error(transparent)]
    Rope(#[from] RopeError),
}

/// Takes a description apart.
///
/// # Errors
/// Names the part that is missing or not understood.
///
/// # Example
/// ```
/// let parts = cordage::describe("10 mm 12-strand HMPE")?;
/// assert_eq!(parts.diameter.to_mm(), 10.0);
/// assert_eq!(parts.construction.name(), "12-strand");
/// assert_eq!(cordage::describe("10 mm HMPE 12-strand")?, parts);
/// # Ok::<(), cordage::DescriptionError>(())
/// ```
pub fn describe(text: &str) -> Result<Description, DescriptionError> {
    let given = || text.chars().take(60).collect::<String>();
    let words: Vec<&str> = text.split_whitespace().collect();
    let (diameter, written, used) =
        leading_size(&words).map_err(|why| DescriptionError::Size { given: given(), why })?;
    if !(1.0..=120.0).contains(&diameter.to_mm()) {
        return Err(DescriptionError::Unlikely { given: diameter });
    }
    let rest = words.get(used..).unwrap_or_default();
    // "HMPE 12-strand" is said as often as "12-strand HMPE".
    let fibre_first = rest.first().and_then(|word| leading_fibres(word));
    let built = rest.get(usize::from(fibre_first.is_some())..).unwrap_or_default();
    let (construction, used) =
        leading_construction(built).ok_or_else(|| DescriptionError::Construction { given: given() })?;
    let after = built.get(used..).unwrap_or_default();
    let ((fibre, cover_fibre), after) = match (fibre_first, after.split_first()) {
        (Some(fibres), _) => (fibres, after),
        (None, Some((word, rest))) => {
            (leading_fibres(word).ok_or_else(|| DescriptionError::Fibre { given: given() })?, rest)
        }
        (None, None) => return Err(DescriptionError::Fibre { given: given() }),
    };
    let (core_diameter, coated) = tail(after, &given)?;
    let construction = match construction {
        // The cover of a stiff core can never share its load.
        Construction::DoubleBraid(_) if fibre.is_high_modulus() => Construction::DoubleBraid(LoadOn::Core),
        other => other,
    };
    let cover_fibre = if construction.has_cover() { cover_fibre.or(Some(Fibre::Polyester)) } else { None };
    Ok(Description { diameter, written, construction, fibre, cover_fibre, core_diameter, coated })
}

/// The longest run of leading words that reads as a length.
fn leading_size(words: &[&str]) -> Result<(Length, Written, usize), ParseError> {
    let mut last = "".parse::<Length>();
    for count in 1..=words.len().min(4) {
        let text = words.get(..count).unwrap_or_default().join(" ");
        last = text.parse::<Length>();
        if let Ok(length) = last {
            let inches = text.ends_with("in") || text.ends_with('"') || text.ends_with("inch");
            return Ok((length, if inches { Written::Inches } else { Written::Metric }, count));
        }
    }
    // The first word alone makes the clearest complaint.
    Err(words
        .first()
        .map_or_else(|| last, |word| word.parse::<Length>())
        .err()
        .unwrap_or(ParseError::Empty { example: "10 mm" }))
}

fn leading_construction(words: &[&str]) -> Option<(Construction, usize)> {
    let first = words.first()?;
    if let Some(one) = Construction::from_word(first) {
        return Some((one, 1));
    }
    let second = words.get(1)?;
    Construction::from_word(&format!("{first}-{second}")).map(|two| (two, 2))
}

fn leading_fibres(word: &str) -> Option<(Fibre, Option<Fibre>)> {
    if let Some(fibre) = Fibre::from_word(word) {
        return Some((fibre, None));
    }
    let (core, cover) = word.split_once('/')?;
    Some((Fibre::from_word(core)?, Some(Fibre::from_word(cover)?)))
}

fn tail(words: &[&str], given: &dyn Fn() -> String) -> Result<(Option<Length>, bool), DescriptionError> {
    let (mut core, mut coated, mut rest) = (None, false, words);
    while let Some((word, after)) = rest.split_first() {
        match *word {
            "coated" => {
                coated = true;
                rest = after;
            }
            "core" => {
                let (length, _, used) =
                    leading_size(after).map_err(|why| DescriptionError::Size { given: given(), why })?;
                core = Some(length);
                rest = after.get(used..).unwrap_or_default();
            }
            other => return Err(DescriptionError::Word { word: other.to_owned(), given: given() }),
        }
    }
    Ok((core, coated))
}

/// A rope by published figures, or an estimate that says so.
///
/// # Errors
/// When the description cannot be read, the size lies outside the table, or
/// no figures exist for that fibre and construction.
///
/// # Example
/// ```
/// let rope = cordage::generic("1/2 in 3-strand nylon")?;
/// assert_eq!(rope.strength.force.to_lbf().round(), 5670.0);
/// assert_eq!(rope.strength.basis, cordage::Basis::Spliced);
/// # Ok::<(), cordage::DescriptionError>(())
/// ```
pub fn generic(text: &str) -> Result<Rope, DescriptionError> {
    let parts = describe(text)?;
    let (linear_density, density_citation, strength) = figures(&parts)?;
    let core_linear_density = match (parts.construction.load_on_core(), parts.fibre) {
        (true, Fibre::Hmpe) => Some(estimate::covered_hmpe(parts.diameter, core_of(&parts)).1),
        _ => None,
    };
    let rope = Rope {
        name: text.split_whitespace().collect::<Vec<_>>().join(" "),
        diameter: parts.diameter,
        construction: parts.construction,
        fibre: parts.fibre,
        cover_fibre: parts.cover_fibre,
        core_diameter: parts.core_diameter,
        linear_density,
        core_linear_density,
        density_citation,
        strength,
        pitch: None,
        stretch_at_tenth: None,
        wet_linear_density: None,
        wet_core_linear_density: None,
        creep_rate: None,
        coated: parts.coated,
    };
    Ok(rope.checked()?)
}

fn core_of(parts: &Description) -> Length {
    parts.core_diameter.unwrap_or(parts.diameter * estimate::CORE_OF_COVERED)
}

fn figures(parts: &Description) -> Result<(LinearDensity, Citation, Strength), DescriptionError> {
    use Construction as C;
    match (parts.construction, parts.fibre) {
        (C::ThreeStrand, fibre) => from_table(parts, fibre),
        // CI 1301 to 1304 are for 3- and 8-strand; manila's is for 3-strand alone.
        (C::EightPlait, fibre) if fibre != Fibre::Manila => from_table(parts, fibre),
        (C::TwelveStrand, Fibre::Hmpe) => {
            let density = estimate::hmpe_linear_density(parts.diameter);
            Ok((density, estimate::HMPE_DENSITY_FROM, estimate::hmpe_strength(density)))
        }
        (C::DoubleBraid(LoadOn::Core), Fibre::Hmpe) => {
            let (whole, core) = estimate::covered_hmpe(parts.diameter, core_of(parts));
            let from =
                if parts.core_diameter.is_some() { estimate::HMPE_DENSITY_FROM } else { estimate::CORE_SHARE_FROM };
            Ok((whole, from, estimate::hmpe_strength(core)))
        }
        (C::TwelveStrand, Fibre::Lcp) => {
            let (density, strength) = estimate::lcp(parts.diameter);
            Ok((density, strength.citation, strength))
        }
        (C::DoubleBraid(_) | C::TwelveStrand, Fibre::Polyester) => {
            let (density, strength) = estimate::polyester_double_braid(parts.diameter);
            Ok((density, strength.citation, strength))
        }
        (C::DoubleBraid(_), Fibre::Polyamide) => {
            let table = polyamide_double_braid();
            let force = table.strength(parts.diameter, parts.written)?;
            // Masses are not in the table; the rule for polyamide rope is from memory.
            let mass = LinearDensity::of_g_per_m(0.62 * parts.diameter.to_mm() * parts.diameter.to_mm());
            let strength =
                Strength { force, basis: Basis::Average, citation: table.source.at("table 6-8"), range: None };
            Ok((mass, FIBRE_MEMORY.at("polyamide rope 0.62 d² g/m"), strength))
        }
        (construction, fibre) => Err(no_figures(construction, fibre)),
    }
}

fn from_table(parts: &Description, fibre: Fibre) -> Result<(LinearDensity, Citation, Strength), DescriptionError> {
    let table = laid_or_plaited(fibre).ok_or_else(|| no_figures(parts.construction, fibre))?;
    let force = table.strength(parts.diameter, parts.written)?;
    let strength = Strength { force, basis: Basis::Spliced, citation: table.citation(), range: None };
    // The polypropylene table rounds masses to 10 g/m: too coarse below 14 mm.
    if fibre == Fibre::Polypropylene && parts.diameter.to_mm() < 14.0 {
        let mass = LinearDensity::of_g_per_m(0.45 * parts.diameter.to_mm() * parts.diameter.to_mm());
        return Ok((mass, FIBRE_MEMORY.at("polypropylene rope 0.45 d² g/m"), strength));
    }
    let density =
        table.linear_density(parts.diameter, parts.written)?.ok_or_else(|| no_figures(parts.construction, fibre))?;
    Ok((density, table.citation(), strength))
}

fn no_figures(construction: Construction, fibre: Fibre) -> DescriptionError {
    DescriptionError::NoFigures { construction: construction.name(), fibre: fibre.name() }
}
