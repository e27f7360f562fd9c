//! An end's layout as plain data: what JSON carries and front ends show.

use crate::own::OwnAnswer;
use crate::wire::{Amount, FindingAnswer, Margin, StepAnswer, TaperStepAnswer, WeakPointAnswer, findings, steps};
use schemars::JsonSchema;
use serde::Serialize;
use splice::{Chance, ChanceWish, Layout};
use units::System;

/// An end laid out.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct SpliceAnswer {
    /// The rope.
    pub rope: String,
    /// The kind of end.
    pub end: &'static str,
    /// Its name in words.
    pub end_name: &'static str,
    /// Bury along the tail; null where nothing is buried.
    pub bury: Option<Amount>,
    /// The same in diameters of the braid that grips.
    pub bury_diameters: Option<f64>,
    /// The eye; null where there is none.
    pub eye: Option<EyeAnswer>,
    /// Strands taken out, from the throat to the tail's end.
    pub taper: Vec<TaperStepAnswer>,
    /// Marks on free rope at reference tension.
    pub marks: Vec<MarkAnswer>,
    /// What the bury takes up of the standing part.
    pub shrinkage: Amount,
    /// What the end adds to the cut length.
    pub rope_used: Amount,
    /// Tension at which marks and lengths are measured.
    pub reference_tension: Amount,
    /// Grip margin; null where nothing is buried.
    pub grip_margin: Option<Margin<f64>>,
    /// The margin at the working load, at the highest, and nearly slack.
    pub grip_at_loads: Vec<LoadGripAnswer>,
    /// Bury at which the margin would be one.
    pub critical_bury: Option<Margin<Amount>>,
    /// Share of the straight rope's strength at the lowest point.
    pub strength_share: Option<Margin<f64>>,
    /// What that share rests on; null without one.
    pub strength_basis: Option<String>,
    /// What was read of the loft's own figures; null where none was asked for.
    pub own: Option<OwnAnswer>,
    /// How likely it is to hold, where a simulation was asked for.
    pub chance: Option<ChanceAnswer>,
    /// How far the tail's end creeps at the working load.
    pub tail_creep: Option<Amount>,
    /// Where it could break, the lowest first.
    pub weak_points: Vec<WeakPointAnswer>,
    /// Load in the tail along the bury; empty where it was not worked out.
    pub passing: Vec<PassingAnswer>,
    /// Other ways to make it, and when.
    pub instead: Vec<InsteadAnswer>,
    /// Sewing and whipping.
    pub stitching: Vec<StitchingAnswer>,
    /// What to do, in order.
    pub steps: Vec<String>,
    /// Tools, by name.
    pub tools: Vec<&'static str>,
    /// Time at the bench.
    pub time: Amount,
    /// What can hurt, people or rope.
    pub cautions: Vec<String>,
    /// What is to be said about it, the worst first.
    pub findings: Vec<FindingAnswer>,
    /// How the numbers came about.
    pub working: Vec<StepAnswer>,
}

/// An eye.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct EyeAnswer {
    /// Inside length, laid flat: bearing point to throat.
    pub inside: Amount,
    /// What it goes on; null for nothing stated.
    pub on: Option<String>,
    /// Included angle at the throat when on it.
    pub angle: Option<Amount>,
}

/// One mark.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct MarkAnswer {
    /// Its number.
    pub number: u32,
    /// What happens there.
    pub name: &'static str,
    /// What it is made on: rope, core or cover.
    pub part: &'static str,
    /// Distance from the bitter end of that part.
    pub from_bitter_end: Amount,
    /// What is drawn.
    pub shape: &'static str,
}

/// Sewing or whipping.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct StitchingAnswer {
    /// What it is.
    pub name: &'static str,
    /// How it runs.
    pub pattern: String,
    /// Twine diameter.
    pub twine: Amount,
    /// Twine to cut off.
    pub length: Amount,
    /// What it must hold when slack.
    pub must_hold: Option<Amount>,
    /// Why it is there.
    pub reason: String,
}

/// The grip margin at one load.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct LoadGripAnswer {
    /// `working load`, `peak load`, `listed strength`, `nearly slack`.
    pub what: &'static str,
    /// The load.
    pub load: Amount,
    /// What the tail carries of it at the throat.
    pub tail_load: Amount,
    /// The margin there.
    pub grip_margin: Margin<f64>,
}

/// Load in the tail at one place.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PassingAnswer {
    /// Distance from the throat.
    pub from_throat: Amount,
    /// Share of the rope's load that the tail carries there.
    pub tail_share: f64,
}

/// Another way to make it.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct InsteadAnswer {
    /// Its word.
    pub end: &'static str,
    /// Its name.
    pub end_name: &'static str,
    /// When it is the better one.
    pub when: &'static str,
}

/// How likely it is to hold.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ChanceAnswer {
    /// Draws made.
    pub draws: u64,
    /// Seed: the same one has the same answer.
    pub seed: u64,
    /// Share of draws whose grip margin is at least one.
    pub holds: f64,
    /// Percentiles, the lowest first.
    pub percentiles: Vec<PercentileAnswer>,
}

/// Margin and strength that so many draws in a hundred stay under.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PercentileAnswer {
    /// In a hundred.
    pub percent: f64,
    /// Grip margin.
    pub grip_margin: f64,
    /// Share of the straight rope's strength at the weakest step.
    pub strength_share: f64,
}

impl ChanceAnswer {
    pub(crate) fn of(chance: &Chance, wish: ChanceWish) -> ChanceAnswer {
        ChanceAnswer {
            draws: chance.draws,
            seed: wish.seed,
            holds: (chance.holds * 1e6).round() / 1e6,
            percentiles: chance
                .percentiles
                .iter()
                .map(|at| PercentileAnswer {
                    percent: (at.share * 1000.0).round() / 10.0,
                    grip_margin: hundredth(at.margin),
                    strength_share: thousandth(at.strength),
                })
                .collect(),
        }
    }
}

/// What every strength share rests on, said beside it.
const STRENGTH_BASIS: &str = "indicative: turns by six breaks of polyester, square ends of stiff fibres by three of HMPE; a break test outranks it";

impl SpliceAnswer {
    /// Is there a stop?
    #[must_use]
    pub fn has_stop(&self) -> bool {
        self.findings.iter().any(FindingAnswer::is_stop)
    }
}

/// What the strength share rests on: the loft's own breaks, or the layout.
fn strength_basis(end: &Layout, system: System) -> Option<String> {
    end.strength_share?;
    let own = end.findings.iter().find(|finding| finding.code == "own-strength");
    Some(own.map_or_else(|| STRENGTH_BASIS.to_owned(), |finding| finding.text.show(system)))
}

/// A layout as plain data.
pub(crate) fn answer(rope: &cordage::Rope, end: &Layout, system: System) -> SpliceAnswer {
    let amount = |value: units::Value| Amount::of(value, system);
    let grip = end.grip.as_ref();
    SpliceAnswer {
        rope: rope.name.clone(),
        end: end.kind.word(),
        end_name: end.kind.name(),
        bury: end.bury.map(|bury| amount(bury.nearest_mm().into())),
        bury_diameters: end.bury.map(|bury| ((bury / end.gripping_diameter) * 10.0).round() / 10.0),
        eye: end.eye.as_ref().map(|eye| EyeAnswer {
            inside: amount(eye.inside.nearest_mm().into()),
            on: eye.on.map(|on| format!("{} {}", amount(on.diameter.into()).text, on.what.word())),
            angle: eye.angle.map(|angle| amount(angle.into())),
        }),
        taper: taper(end, system),
        marks: marks(end, system),
        shrinkage: amount(end.shrinkage.nearest_mm().into()),
        rope_used: amount(end.rope_used.nearest_mm().into()),
        reference_tension: amount(cordage::reference_tension(rope.diameter).into()),
        grip_margin: grip.map(|grip| Margin::of(grip.margin, hundredth)),
        grip_at_loads: grip.map_or_else(Vec::new, |grip| at_loads(grip, system)),
        critical_bury: grip.map(|grip| Margin::of(grip.critical_bury, |bury| amount(bury.nearest_mm().into()))),
        strength_share: end.strength_share.map(|share| Margin::of(share, hundredth)),
        strength_basis: strength_basis(end, system),
        own: None,
        chance: None,
        tail_creep: grip.and_then(|grip| grip.tail_creep).map(|creep| amount(creep.into())),
        weak_points: weak_points(rope, end, system),
        passing: grip.map_or_else(Vec::new, |grip| passing(grip, system)),
        instead: instead(rope, end),
        stitching: stitching(end, system),
        steps: end.steps.iter().map(|step| step.show(system)).collect(),
        tools: end.tools.clone(),
        time: amount(end.time.get().unwrap_or(units::Duration::ZERO).into()),
        cautions: end.cautions.iter().map(|caution| caution.show(system)).collect(),
        findings: worst_first(end, system),
        working: steps(&end.working, system),
    }
}

fn worst_first(end: &Layout, system: System) -> Vec<FindingAnswer> {
    let mut sorted = end.findings.clone();
    sorted.sort_by_key(|finding| std::cmp::Reverse(finding.grade));
    findings(&sorted, system)
}

fn at_loads(grip: &splice::Grip, system: System) -> Vec<LoadGripAnswer> {
    let one = |at: &splice::LoadGrip| LoadGripAnswer {
        what: at.what,
        load: Amount::of(at.load, system),
        tail_load: Amount::of(at.tail, system),
        grip_margin: Margin::of(at.margin, hundredth),
    };
    grip.at_loads.iter().map(one).collect()
}

fn passing(grip: &splice::Grip, system: System) -> Vec<PassingAnswer> {
    let one = |(at, share): &(units::Length, f64)| PassingAnswer {
        from_throat: Amount::of(at.nearest_mm(), system),
        tail_share: thousandth(*share),
    };
    grip.passing.iter().map(one).collect()
}

fn instead(rope: &cordage::Rope, end: &Layout) -> Vec<InsteadAnswer> {
    let others = splice::alternatives(end.kind, rope.construction);
    others
        .iter()
        .map(|other| InsteadAnswer { end: other.kind.word(), end_name: other.kind.name(), when: other.when })
        .collect()
}

fn weak_points(rope: &cordage::Rope, end: &Layout, system: System) -> Vec<WeakPointAnswer> {
    let one = |point: &splice::WeakPoint| WeakPointAnswer {
        place: point.place.to_owned(),
        strength: point.share.map(|share| Amount::of(rope.strength.force * share.low, system)),
        share: point.share.map(|share| hundredth(share.low)),
        reason: point.reason.show(system),
        source: point.citation.to_string(),
    };
    end.weak_points.iter().map(one).collect()
}

fn stitching(end: &Layout, system: System) -> Vec<StitchingAnswer> {
    let one = |stitching: &splice::Stitching| StitchingAnswer {
        name: stitching.name,
        pattern: stitching.pattern.show(system),
        twine: Amount::of(stitching.twine, system),
        length: Amount::of(stitching.length, system),
        must_hold: stitching.must_hold.map(|load| Amount::of(load, system)),
        reason: stitching.reason.show(system),
    };
    end.stitching.iter().map(one).collect()
}

pub(crate) fn marks(end: &Layout, system: System) -> Vec<MarkAnswer> {
    end.marks
        .iter()
        .map(|mark| MarkAnswer {
            number: mark.number,
            name: mark.name,
            part: mark.part.word(),
            from_bitter_end: Amount::of(mark.from_bitter_end, system),
            shape: mark.shape.word(),
        })
        .collect()
}

pub(crate) fn taper(end: &Layout, system: System) -> Vec<TaperStepAnswer> {
    end.taper
        .iter()
        .map(|step| TaperStepAnswer {
            at: Amount::of(step.at, system),
            pick: step.pick,
            hand: step.hand.word(),
            strands_left: step.strands_left,
        })
        .collect()
}

fn thousandth(number: f64) -> f64 {
    (number * 1000.0).round() / 1000.0
}

fn hundredth(number: f64) -> f64 {
    (number * 100.0).round() / 100.0
}
