//! Length of a line that has no lead yet: by its kind and the rig.
//!
//! Geometry of the longest path, plus a deck run and a tail that are assumed
//! and shown. A lead given in the order replaces all of it.

use crate::{Boat, LineKind, Mast};
use sources::{COMMON_PRACTICE, Citation, OURS, SAILING_2015, Step};
use units::Length;

/// What the rule needs beside the boat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RuleInput {
    /// The kind of line.
    pub kind: LineKind,
    /// Its mast.
    pub mast: Mast,
    /// Parts at the moving block.
    pub parts: u32,
    /// Tail beyond the belay; assumed where missing.
    pub tail: Option<Length>,
}

const GEOMETRY: Citation = OURS.at("geometry of the longest path");
const TAIL: Citation = COMMON_PRACTICE.at("tail and deck run");

/// Length by rule with its working; `None` for kinds that have no rule and
/// must be measured.
///
/// ```
/// use rig::{Boat, Hull, LineKind, Mast, RigType, RuleInput, length_by_rule};
/// use units::Length;
/// let mut boat = Boat::of_length(Length::of_m(10.0), Hull::Monohull, RigType::FractionalSloop);
/// (boat.p, boat.bas) = (Some(Length::of_m(13.0)), Some(Length::of_m(1.5)));
/// let rule = RuleInput { kind: LineKind::MainHalyard, mast: Mast::Main, parts: 1, tail: Some(Length::of_m(2.0)) };
/// let (length, _) = length_by_rule(&boat, &rule).unwrap();
/// // 14.5 up + 13 down + 4 along the deck (0.4 LOA) + 2 tail
/// assert!((length.to_m() - 33.5).abs() < 1e-9);
/// ```
#[must_use]
pub fn length_by_rule(boat: &Boat, rule: &RuleInput) -> Option<(Length, Vec<Step>)> {
    let parts = f64::from(rule.parts);
    let sized = boat.dimensions();
    let (i, j, bas, isp) = (sized.i, sized.j, sized.bas, sized.isp);
    let (p, e) = match rule.mast {
        Mast::Main => (sized.p, sized.e),
        Mast::Mizzen => (sized.p_mizzen, sized.e_mizzen),
    };
    let loa = boat.loa;
    let deck = loa * 0.4;
    let tail = rule.tail.unwrap_or(Length::of_m(2.5));
    let luff = Length::of_m(i.to_m().hypot(j.to_m()));
    let spinnaker_luff = Length::of_m(isp.to_m().hypot(j.to_m()));
    let (formula, path, used, from): (&'static str, Length, Vec<&'static str>, Citation) = match rule.kind {
        LineKind::MainHalyard => (
            "(boom above deck + P) + parts x P + deck run + tail",
            bas + p + p * parts + deck + tail,
            vec!["P", "boom above deck"],
            GEOMETRY,
        ),
        LineKind::JibHalyard | LineKind::StaysailHalyard => {
            ("I + luff x parts + deck run + tail", i + luff * parts + deck + tail, vec!["I", "J"], GEOMETRY)
        }
        LineKind::SpinnakerHalyard => {
            ("ISP + hypot(ISP, J) + deck run + tail", isp + spinnaker_luff + deck + tail, vec!["ISP", "J"], GEOMETRY)
        }
        LineKind::PeakHalyard | LineKind::ThroatHalyard => (
            "(boom above deck + P + gaff) + parts x P + deck run + tail",
            bas + p + sized.gaff + p * parts + deck + tail,
            vec!["P", "boom above deck", "gaff"],
            GEOMETRY,
        ),
        LineKind::ToppingLift => (
            "P + hypot(P, E) + deck run + tail",
            p + Length::of_m(p.to_m().hypot(e.to_m())) + deck + tail,
            vec!["P", "E"],
            GEOMETRY,
        ),
        LineKind::PoleLift | LineKind::Foreguy => {
            ("0.6 I + J + deck run + tail", i * 0.6 + j + deck + tail, vec!["I", "J"], GEOMETRY)
        }
        LineKind::Mainsheet => {
            // Boom squared off to 85 degrees, sheet at the boom's end.
            let (x, h) = (e.to_m(), bas.to_m());
            let distance = (2.0 * x * x * (1.0 - 85.0f64.to_radians().cos()) + h * h).sqrt();
            (
                "parts x √(2 E² (1 - cos 85°) + boom above deck²) + tail",
                Length::of_m(distance) * parts + tail,
                vec!["E", "boom above deck"],
                GEOMETRY,
            )
        }
        LineKind::JibSheet | LineKind::StaysailSheet => ("1.5 LOA", loa * 1.5, vec![], SAILING_2015.at("jib sheets")),
        LineKind::SpinnakerSheet => ("2 LOA", loa * 2.0, vec![], SAILING_2015.at("spinnaker sheets")),
        LineKind::Guy => ("LOA + deck run + tail", loa + deck + tail, vec![], GEOMETRY),
        LineKind::TackLine => ("2 x 0.4 LOA + J + tail", loa * 0.8 + j + tail, vec!["J"], GEOMETRY),
        LineKind::Vang | LineKind::Cunningham | LineKind::BackstayAdjuster | LineKind::Traveller | LineKind::JibCar => {
            ("parts x 0.12 LOA + deck run + tail", loa * 0.12 * parts + deck + tail, vec![], GEOMETRY)
        }
        LineKind::Outhaul => {
            ("E + parts x 0.05 LOA + deck run + tail", e + loa * 0.05 * parts + deck + tail, vec!["E"], GEOMETRY)
        }
        LineKind::ReefLineSlab => (
            "2 x 0.15 P + E + boom above deck + deck run + tail",
            p * 0.3 + e + bas + deck + tail,
            vec!["P", "E", "boom above deck"],
            GEOMETRY,
        ),
        LineKind::ReefLineSingle => (
            "4 x 0.15 P + E + boom above deck + deck run + tail",
            p * 0.6 + e + bas + deck + tail,
            vec!["P", "E", "boom above deck"],
            GEOMETRY,
        ),
        LineKind::FurlingLine => {
            // Drum of 80 mm mean, foot of J wound on a roll of 60 mm, three turns over.
            let turns = j.to_m() / (std::f64::consts::PI * 0.06) + 3.0;
            (
                "π 0.08 m x (J / π 0.06 m + 3) + 0.9 LOA + tail",
                Length::of_m(std::f64::consts::PI * 0.08 * turns) + loa * 0.9 + tail,
                vec!["J"],
                GEOMETRY,
            )
        }
        LineKind::DockLine => ("LOA", loa, vec![], COMMON_PRACTICE.at("a dock line as long as the boat")),
        _ => return None,
    };
    let mut steps: Vec<Step> =
        used.into_iter().filter_map(|what| sized.step(named(what, rule.mast)).cloned()).collect();
    if formula.contains("deck run") {
        steps.push(Step::new("deck run", "0.4 LOA", deck, TAIL).input("LOA", loa));
    }
    if formula.contains("tail") {
        steps.push(Step::new("tail", if rule.tail.is_some() { "" } else { "assumed" }, tail, TAIL));
    }
    steps
        .push(Step::new("length by rule", formula, path, from).input("parts", i64::from(rule.parts)).input("LOA", loa));
    Some((path, steps))
}

/// The name of a dimension on its mast.
fn named(what: &'static str, mast: Mast) -> &'static str {
    match (mast, what) {
        (Mast::Mizzen, "P") => "mizzen P",
        (Mast::Mizzen, "E") => "mizzen E",
        _ => what,
    }
}
