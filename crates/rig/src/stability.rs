//! The righting moment that caps what the sails can pull.
//!
//! Given; or from an inclining; or estimated from displacement and beam; or
//! read from a graph by waterline length. The graph is of heavy boats of its
//! time: a light boat on a long waterline stands up to half of it or less, so
//! that it speaks only where the displacement is not known. Each estimate has
//! its band, and the loads' range says what the band does.

use crate::boat::{Boat, Dimensions, Hull};
use sources::{Citation, EXACT, Finding, GIVEN, Grade, OURS, SKENE, Step};
use units::{Angle, Length, Mass, Moment, Sentence};

/// Share of the draught below water at which the hull's side force acts.
pub const HEELING_ARM_DRAUGHT: f64 = 0.45;

/// A righting moment with its band.
#[derive(Debug, Clone, PartialEq)]
pub struct Righting {
    /// What the rig is asked to bear.
    pub moment: Moment,
    /// Lowest and highest that it may be; both the same where it was given.
    pub band: (Moment, Moment),
    /// Heel at which it is reached.
    pub heel: Angle,
    /// How it was worked out.
    pub steps: Vec<Step>,
    /// What is to be said about it.
    pub findings: Vec<Finding>,
}

/// Heel of one hull at its design righting moment: the handbooks' convention.
const HEEL: f64 = 30.0;
/// Heel at which a windward hull flies.
const HULL_FLIES: f64 = 10.0;
/// Righting arm at 30 degrees over beam, of ballasted hulls, and its range.
const ARM_OVER_BEAM: (f64, f64, f64) = (0.13, 0.17, 0.21);
/// Distance from the middle of all hulls to the middle of one, over beam.
const HULLS_APART: (f64, f64, f64) = (0.36, 0.40, 0.44);

/// Righting moment of a boat at the heel that her rig is designed for.
///
/// # Range
/// By displacement and beam about ± 25 %; by waterline ± 30 % for heavy
/// ballasted monohulls of 7 to 15 m, and far too high for light ones.
///
/// # Source
/// Skene's graph, two points read in Toss: 32 ft gives 37,000 ft lbf, 40 ft
/// gives 80,000 ft lbf; joined by a power of the length. The arm over the beam
/// is ours, checked against a published regression for a light hull.
///
/// ```
/// use rig::{Boat, Hull, RigType, righting};
/// use units::{Length, Mass};
/// let mut light = Boat::of_length(Length::of_m(13.5), Hull::Monohull, RigType::FractionalSloop);
/// (light.lwl, light.beam) = (Some(Length::of_m(11.9)), Some(Length::of_m(4.0)));
/// // Her waterline alone says twice as much as her weight.
/// assert!((righting(&light).moment.to_kn_m() - 99.4).abs() < 0.5);
/// light.displacement = Some(Mass::of_kg(6500.0));
/// assert!((righting(&light).moment.to_kn_m() - 43.4).abs() < 0.5);
/// ```
#[must_use]
pub fn righting(boat: &Boat) -> Righting {
    let sized = boat.dimensions();
    if let Some(given) = boat.righting_moment {
        let step = Step::new("righting moment", "", given, GIVEN.at("boat"));
        return Righting {
            moment: given,
            band: (given, given),
            heel: design_heel(boat),
            steps: vec![step],
            findings: Vec::new(),
        };
    }
    match (boat.displacement, boat.hull) {
        (Some(displacement), Hull::Multihull) => by_hulls(boat, &sized, displacement),
        (Some(displacement), Hull::Monohull) => match boat.inclining {
            Some(_) => by_inclining(boat, displacement),
            None => by_beam(boat, &sized, displacement),
        },
        (None, _) => by_waterline(boat, &sized),
    }
}

fn design_heel(boat: &Boat) -> Angle {
    Angle::of_degrees(if boat.hull == Hull::Multihull { HULL_FLIES } else { HEEL })
}

/// GZ = GM sin 30°: the hull's form adds to it and is in the band.
fn by_inclining(boat: &Boat, displacement: Mass) -> Righting {
    let Some(inclining) = &boat.inclining else { return by_beam(boat, &boat.dimensions(), displacement) };
    let turned = inclining.weight.weight() * inclining.moved;
    let per_sine = turned * (inclining.heel.cos() / inclining.heel.sin());
    let moment = per_sine * Angle::of_degrees(HEEL).sin();
    let metacentre = per_sine.to_n_m() / displacement.weight().to_n();
    let band = (moment * 0.9, moment * 1.15);
    let steps = vec![
        Step::new(
            "metacentre above centre of gravity",
            "weight x moved / (displacement tan heel)",
            Length::of_m(metacentre),
            EXACT.at("inclining"),
        )
        .input("weight", inclining.weight)
        .input("moved", inclining.moved)
        .input("heel", inclining.heel)
        .input("displacement", displacement),
        Step::new(
            "righting moment at 30°",
            "displacement x g x metacentre x sin 30°",
            moment,
            OURS.at("form beyond small angles left out: - 10 to + 15 %"),
        ),
    ];
    let findings = vec![estimated(moment, band, "her inclining", OURS.at("inclining"))];
    Righting { moment, band, heel: design_heel(boat), steps, findings }
}

const BY_BEAM: Citation = OURS.at("righting arm of ballasted hulls, 0.13 to 0.21 of the beam");

fn by_beam(boat: &Boat, sized: &Dimensions, displacement: Mass) -> Righting {
    let at = |share: f64| displacement.weight() * sized.beam * share;
    let (low, usual, high) = ARM_OVER_BEAM;
    let (moment, band) = (at(usual), (at(low), at(high)));
    let steps = vec![
        Step::new("righting moment at 30°", "displacement x g x 0.17 beam", moment, BY_BEAM)
            .input("displacement", displacement)
            .input("beam", sized.beam),
    ];
    let mut findings = vec![estimated(moment, band, "her displacement and beam", BY_BEAM)];
    let graph = of_graph(sized.lwl);
    if boat.hull == Hull::Monohull && (graph > band.1 || graph < band.0) {
        let text =
            Sentence::new("her waterline alone would say {}; that graph is of boats of another weight than hers, {}")
                .with(graph)
                .with(displacement);
        findings.push(
            Finding::new(Grade::Note, "stability-two-estimates", text, GRAPH)
                .remedy(Sentence::new("give righting_moment, or an inclining")),
        );
    }
    Righting { moment, band, heel: design_heel(boat), steps, findings }
}

/// More than one hull: her weight on the lee one.
fn by_hulls(boat: &Boat, sized: &Dimensions, displacement: Mass) -> Righting {
    const HULLS: Citation = OURS.at("weight on the lee hull, its middle 0.36 to 0.44 of the beam off");
    let at = |share: f64| displacement.weight() * sized.beam * share;
    let (low, usual, high) = HULLS_APART;
    let (moment, band) = (at(usual), (at(low), at(high)));
    let steps = vec![
        Step::new("righting moment, windward hull about to fly", "displacement x g x 0.40 beam", moment, HULLS)
            .input("displacement", displacement)
            .input("beam", sized.beam),
    ];
    let findings = vec![estimated(moment, band, "her displacement and beam", HULLS)];
    Righting { moment, band, heel: design_heel(boat), steps, findings }
}

const GRAPH: Citation = SKENE.at("p. 163, ± 30 %");

fn of_graph(lwl: Length) -> Moment {
    let (short, long) = (Length::of_feet(32.0), Length::of_feet(40.0));
    let (less, more) = (Moment::of_ft_lbf(37_000.0), Moment::of_ft_lbf(80_000.0));
    let power = (more / less).ln() / (long / short).ln();
    less * (lwl / short).powf(power)
}

fn by_waterline(boat: &Boat, sized: &Dimensions) -> Righting {
    let moment = of_graph(sized.lwl);
    let band = (moment * 0.35, moment * 1.3);
    let steps = vec![
        Step::new("righting moment at 30°", "37,000 ft lbf (LWL / 32 ft)^3.46", moment, GRAPH).input("LWL", sized.lwl),
    ];
    let mut findings = vec![estimated(moment, band, "her waterline alone, from a graph of heavy boats", GRAPH)];
    let known = Length::of_m(7.0)..=Length::of_m(15.0);
    if boat.hull == Hull::Multihull || !known.contains(&sized.lwl) {
        let text = Sentence::new("the graph is of ballasted monohulls of 7 to 15 m waterline; she is not one ({})")
            .with(sized.lwl);
        findings.push(
            Finding::new(Grade::Caution, "stability-outside-graph", text, OURS.at("range of the graph"))
                .remedy(Sentence::new("give displacement, or righting_moment")),
        );
    }
    Righting { moment, band, heel: design_heel(boat), steps, findings }
}

fn estimated(moment: Moment, (low, high): (Moment, Moment), from: &'static str, citation: Citation) -> Finding {
    let text =
        Sentence::new("the righting moment {}, between {} and {}, is estimated from {}: loads on the wind go with it")
            .with(moment)
            .with(low)
            .with(high)
            .with(from);
    Finding::new(Grade::Note, "stability-estimated", text, citation)
        .remedy(Sentence::new("give righting_moment from her papers, or an inclining"))
}
