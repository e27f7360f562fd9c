//! The loft's spreadsheets: reels in the rack, ropes it buys, pieces to cut.

use crate::amounts::{m, mm};
use crate::cells;
use crate::form::{Flaw, Price};
use crate::place::{Place, Placed};
use crate::problem::{Log, Problem, Read};
use crate::record::{record, unique};
use crate::shape::Description;
use crate::value::{Date, Share};
use crate::word::words;
use units::{Force, Length, LinearDensity};

words! {
    /// How a rope is built, and what carries in a double braid.
    ConstructionWord, "construction" {
        "3-strand" => ThreeStrand, "three strands laid up";
        "8-plait" => EightPlait, "eight strands plaited in pairs";
        "12-strand" => TwelveStrand, "a hollow braid";
        "double-braid-core" => DoubleBraidCore, "a cover over a braided core that carries alone";
        "double-braid" => DoubleBraidBoth, "a cover over a braided core, both carry";
        "parallel-core" => ParallelCore, "a cover over parallel yarns";
        "kernmantle" => Kernmantle, "a cover over twisted cores";
    }

    /// What a rope, or a part of it, is made of.
    FibreWord, "fibre" {
        "hmpe" => Hmpe, "high-modulus polyethylene";
        "polyester" => Polyester, "polyester";
        "polyamide" => Polyamide, "polyamide, nylon";
        "polypropylene" => Polypropylene, "polypropylene";
        "aramid" => Aramid, "para-aramid";
        "lcp" => Lcp, "liquid-crystal polymer";
        "pbo" => Pbo, "PBO";
        "polyester/polyolefin" => PolyesterPolyolefin, "polyester and polyolefin mixed";
        "manila" => Manila, "manila hemp";
    }

    /// What a breaking strength was measured on.
    StrengthBasis, "basis of a strength" {
        "spliced" => Spliced, "a rope with spliced eyes";
        "unspliced" => Unspliced, "the straight rope";
        "average" => Average, "a mean of tests, not a minimum";
        "unknown" => Unknown, "not stated";
    }
}

record! {
    /// A reel or a remnant in the rack.
    ReelRecord checked by check_reel {
        /// Its label in the rack
        required reel: String;
        /// The rope on it: a name in the rope list
        required rope: String;
        /// Colour
        optional colour: String;
        /// The maker's batch
        optional batch: String;
        /// Length on hand
        required length: Length where mm(1.0)..=m(5000.0);
        /// Price
        optional price_per_metre: Price;
        /// How many such reels
        assumed count: u32 where 1..=100_000 => 1;
        /// Whether it is a remnant, to be used up first
        assumed remnant: bool => false;
        /// Stretches that no piece may use, from the free end, with semicolons between
        many flaws: Flaw;
    }

    /// A rope in the loft's list, with its supplier's figures.
    RopeRecord checked by check_rope {
        /// What the loft calls it
        required name: String;
        /// How it is built
        required construction: ConstructionWord;
        /// What carries
        required fibre: FibreWord;
        /// Nominal diameter over all
        required diameter: Length where mm(1.0)..=mm(80.0);
        /// Breaking strength
        required strength: Force where Force::of_n(50.0)..=Force::of_kn(3000.0);
        /// What the strength was measured on
        required strength_basis: StrengthBasis;
        /// Mass per length of the whole rope
        required linear_density: LinearDensity where LinearDensity::of_g_per_m(0.3)..=LinearDensity::of_g_per_m(6000.0);
        /// Diameter of the core
        optional core_diameter: Length where mm(0.5)..=mm(80.0);
        /// Mass per length of the core
        optional core_linear_density: LinearDensity where LinearDensity::of_g_per_m(0.1)..=LinearDensity::of_g_per_m(6000.0);
        /// What the cover is made of
        optional cover_fibre: FibreWord;
        /// Stretch at a tenth of the strength, bedded in
        optional stretch_at_tenth: Share where 0.0005..=0.3;
        /// Length of one full turn of a strand, measured on the free rope or core
        optional pitch: Length where mm(2.0)..=mm(2000.0);
        /// Mass per length of the whole rope soaked and dripped, as weighed
        optional wet_linear_density: LinearDensity where LinearDensity::of_g_per_m(0.3)..=LinearDensity::of_g_per_m(12000.0);
        /// Mass per length of the core soaked and dripped, as weighed
        optional wet_core_linear_density: LinearDensity where LinearDensity::of_g_per_m(0.1)..=LinearDensity::of_g_per_m(12000.0);
        /// Lasting stretch a year under a standing load, of HMPE, by the supplier's sheet
        optional creep_per_year: Share where 0.000_001..=0.5;
        /// Load that the creep was measured under
        optional creep_load: Force where Force::of_n(10.0)..=Force::of_kn(3000.0);
        /// Temperature that the creep was measured at, degrees Celsius
        optional creep_celsius: f64 where -20.0..=80.0;
        /// Whether it is coated
        assumed coated: bool => false;
        /// Price
        optional price_per_metre: Price;
        /// Colour
        optional colour: String;
        /// Whose figures these are
        optional source: String;
    }

    /// A length that a supplier sells.
    OfferRecord {
        /// The rope: a name in the rope list
        required rope: String;
        /// Colour
        optional colour: String;
        /// The maker's batch
        optional batch: String;
        /// Length of one reel
        required length: Length where mm(1.0)..=m(5000.0);
        /// Price of one reel
        required price: Price;
        /// How many such reels he has; as many as are wanted where left out
        optional count: u32 where 1..=100_000;
    }

    /// A piece to be cut.
    PieceRecord checked by check_piece {
        /// What it is called
        required piece: String;
        /// The rope: a name in the rope list
        required rope: String;
        /// Length to cut
        required length: Length where mm(1.0)..=m(2000.0);
        /// Added at its ends and cut with it
        optional allowance: Length where mm(0.0)..=m(100.0);
        /// How many
        assumed count: u32 where 1..=100_000 => 1;
        /// Colour wanted
        optional colour: String;
        /// Pieces of one set come from one batch
        optional batch_set: String;
        /// Pieces of one pair come from one reel
        optional pair: String;
        /// Cut before all others
        assumed rush: bool => false;
        /// First day on which it may be cut
        optional not_before: Date;
        /// Last day on which it may be cut: the earlier comes first
        optional not_after: Date;
    }
}

/// Reads a rack file.
///
/// ```
/// let read = files::read_rack(b"reel,rope,length\nR1,Grey 10,40 m\nR2,Grey 10,40\n");
/// assert_eq!(read.problems[0].message, "\"40\" has no unit");
/// assert_eq!(read.record.map(|reels| reels.len()), Some(1));
/// ```
#[must_use]
pub fn read_rack(bytes: &[u8]) -> Read<Vec<Placed<ReelRecord>>> {
    cells::read(bytes, |reels: &[Placed<ReelRecord>], log| {
        unique(reels.iter().map(|reel| named(&reel.value.reel)), "reels", log);
    })
}

/// Reads a rope list.
#[must_use]
pub fn read_ropes(bytes: &[u8]) -> Read<Vec<Placed<RopeRecord>>> {
    cells::read(bytes, |ropes: &[Placed<RopeRecord>], log| {
        unique(ropes.iter().map(|rope| named(&rope.value.name)), "ropes", log);
    })
}

/// Reads a piece list.
#[must_use]
pub fn read_pieces(bytes: &[u8]) -> Read<Vec<Placed<PieceRecord>>> {
    cells::read(bytes, |pieces: &[Placed<PieceRecord>], log| {
        unique(pieces.iter().map(|piece| named(&piece.value.piece)), "pieces", log);
    })
}

/// Reads a supplier's offers.
#[must_use]
pub fn read_offers(bytes: &[u8]) -> Read<Vec<Placed<OfferRecord>>> {
    cells::read(bytes, |_: &[Placed<OfferRecord>], _| {})
}

/// The columns of a rack file.
#[must_use]
pub fn rack_description() -> Description {
    cells::description::<ReelRecord>()
}

/// The columns of a rope list.
#[must_use]
pub fn ropes_description() -> Description {
    cells::description::<RopeRecord>()
}

/// The columns of a piece list.
#[must_use]
pub fn pieces_description() -> Description {
    cells::description::<PieceRecord>()
}

/// The columns of a supplier's offers.
#[must_use]
pub fn offers_description() -> Description {
    cells::description::<OfferRecord>()
}

fn named(name: &Placed<String>) -> (&str, Place) {
    (&name.value, name.place)
}

fn check_reel(reel: &ReelRecord, log: &mut Log) {
    for flaw in reel.flaws.iter().filter(|flaw| flaw.value.to > reel.length.value) {
        let message = format!("the flaw ends at {}, the reel at {}", flaw.value.to, reel.length.value);
        let allowed = format!("a stretch within {}", reel.length.value);
        log.push(Problem::new("contradiction", message).allowed(allowed).at(flaw.place));
    }
}

fn check_piece(piece: &PieceRecord, log: &mut Log) {
    if let (Some(first), Some(last)) = (&piece.not_before, &piece.not_after)
        && last.value < first.value
    {
        let message = format!("the last day, {}, is before the first, {}", last.value, first.value);
        log.push(
            Problem::new("contradiction", message).allowed("a first day, and the same or a later one").at(last.place),
        );
    }
}

fn check_rope(rope: &RopeRecord, log: &mut Log) {
    use ConstructionWord::{DoubleBraidBoth, DoubleBraidCore, Kernmantle, ParallelCore};
    let covered = matches!(rope.construction.value, DoubleBraidCore | DoubleBraidBoth | ParallelCore | Kernmantle);
    let core_place = rope.core_diameter.as_ref().map(|core| core.place);
    let core_place = core_place.or(rope.core_linear_density.as_ref().map(|core| core.place));
    let cover_place = core_place.or(rope.cover_fibre.as_ref().map(|cover| cover.place));
    if let (false, Some(place)) = (covered, cover_place) {
        let message = format!("{} has neither core nor cover", rope.construction.value);
        let problem =
            Problem::new("contradiction", message).hint("leave the cell empty, or choose a covered construction");
        log.push(problem.at(place).and("the construction", rope.construction.place));
    }
    if let Some(core) = &rope.core_diameter
        && core.value >= rope.diameter.value
    {
        let message = "the core is as thick as the rope";
        let allowed = format!("below {}", rope.diameter.value);
        log.push(Problem::new("contradiction", message).allowed(allowed).at(core.place));
    }
    let creep = [
        rope.creep_per_year.as_ref().map(|rate| rate.place),
        rope.creep_load.as_ref().map(|load| load.place),
        rope.creep_celsius.as_ref().map(|warm| warm.place),
    ];
    if creep.iter().any(Option::is_none)
        && let Some(place) = creep.iter().flatten().next()
    {
        let allowed = "creep_per_year, creep_load and creep_celsius together, or none of them";
        log.push(Problem::new("contradiction", "creep is given in part").allowed(allowed).at(*place));
    }
    if let Some(core) = &rope.core_linear_density
        && core.value >= rope.linear_density.value
    {
        let message = "the core is as heavy as the rope";
        let allowed = format!("below {}", rope.linear_density.value);
        log.push(Problem::new("contradiction", message).allowed(allowed).at(core.place));
    }
}
