//! The righting moment that caps what the sails can pull.

use crate::{Boat, Hull};
use sources::{Citation, Finding, GIVEN, Grade, OURS, SKENE, Step};
use units::{Length, Moment, Sentence};

/// Share of the draught below water at which the hull's side force acts.
pub const HEELING_ARM_DRAUGHT: f64 = 0.45;

/// Righting moment at 30 degrees from the order, or by waterline length.
///
/// # Range
/// The estimate is ± 30 %, for ballasted monohulls between 7 and 15 m on the
/// waterline; outside, or for a multihull, it comes with a caution.
///
/// # Source
/// Skene's graph, two points read in Toss: 32 ft gives 37,000 ft lbf, 40 ft
/// gives 80,000 ft lbf; joined by a power of the length.
#[must_use]
pub fn righting_moment(boat: &Boat) -> (Moment, Step, Vec<Finding>) {
    if let Some(given) = boat.righting_moment {
        return (given, Step::new("righting moment at 30°", "", given, GIVEN.at("boat")), Vec::new());
    }
    const GRAPH: Citation = SKENE.at("p. 163, ± 30 %");
    let lwl = boat.lwl().value;
    let (short, long) = (Length::of_feet(32.0), Length::of_feet(40.0));
    let (less, more) = (Moment::of_ft_lbf(37_000.0), Moment::of_ft_lbf(80_000.0));
    let power = (more / less).ln() / (long / short).ln();
    let moment = less * (lwl / short).powf(power);
    let step = Step::new("righting moment at 30°", "37,000 ft lbf (LWL / 32 ft)^3.46", moment, GRAPH).input("LWL", lwl);
    let mut findings = vec![
        Finding::new(
            Grade::Note,
            "stability-estimated",
            Sentence::new("the righting moment {} is read from her waterline, ± 30 %: loads upwind go with it")
                .with(moment),
            GRAPH,
        )
        .remedy(Sentence::new("give righting_moment from an inclining or her papers")),
    ];
    let known = Length::of_m(7.0)..=Length::of_m(15.0);
    if boat.hull == Hull::Multihull || !known.contains(&lwl) {
        let text =
            Sentence::new("the graph is of ballasted monohulls of 7 to 15 m waterline; she is not one ({})").with(lwl);
        findings.push(
            Finding::new(Grade::Caution, "stability-outside-graph", text, OURS.at("range of the graph"))
                .remedy(Sentence::new("give righting_moment")),
        );
    }
    (moment, step, findings)
}
