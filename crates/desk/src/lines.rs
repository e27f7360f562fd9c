//! Every line of an order: load, rope, ends, lengths, findings.

use crate::cover_answer::MoreAnswer;
use crate::job::{Job, JobLine, OrderAsked, read};
use crate::lead_answer::LeadAnswer;
use crate::own::{OwnAnswer, OwnSource};
use crate::problem::{Fault, Problem};
use crate::tenths::{TenthAnswer, Tenths};
use crate::text::Text;
use crate::wire::{Amount, FindingAnswer, StepAnswer, WeakPointAnswer, findings, steps};
use schemars::JsonSchema;
use serde::Serialize;
use units::System;

/// What is asked.
#[derive(Debug, Clone, Default)]
pub struct LinesRequest {
    /// The order.
    pub order: Text,
    /// The rope list; `ropes.csv` beside the order where not given.
    pub ropes: Option<Text>,
    /// The loft's own figures.
    pub own: OwnSource,
    /// One line only.
    pub name: Option<String>,
    /// Units to print; the order's own where not given.
    pub units: Option<System>,
    /// Whether to work out what a tenth more or less of each input does.
    pub tenths: bool,
}

/// The lines of an order.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct LinesAnswer {
    /// The order's number.
    pub order: String,
    /// The boat's name.
    pub boat: String,
    /// The rope list that was read.
    pub rope_list: Option<String>,
    /// What was read of the loft's own figures; null where none was asked for.
    pub own: Option<OwnAnswer>,
    /// What was assumed of the boat, because the order does not give it.
    pub assumed: Vec<StepAnswer>,
    /// Her righting moment, with its band where it is estimated.
    pub righting_moment: [Amount; 3],
    /// Winds, angles and sails that were looked at.
    pub states: usize,
    /// Whose coefficients of lift and drag were used.
    pub coefficients: String,
    /// The lines, in the order of the file.
    pub lines: Vec<LineAnswer>,
}

/// One line.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct LineAnswer {
    /// Its name.
    pub name: String,
    /// Its kind.
    pub kind: &'static str,
    /// How many are made.
    pub count: u32,
    /// What it carries.
    pub load: LoadAnswer,
    /// What a tenth more or less of each main input does; empty where it was
    /// not asked for.
    pub tenths: Vec<TenthAnswer>,
    /// Its lead; null where the order gives none.
    pub lead: Option<LeadAnswer>,
    /// Marks carried over from an old line.
    pub marks: Vec<LineMark>,
    /// What it is made of.
    pub rope: RopeAnswer,
    /// Its ends: working end, then bitter end.
    pub ends: Vec<EndAnswer>,
    /// Bearing point to bearing point or bitter end, at reference tension.
    pub finished_length: Amount,
    /// What is cut from the reel, rounded up once.
    pub cut_length: Amount,
    /// Dry mass of the finished line.
    pub mass: Amount,
    /// What is said of the cover; null where there is none.
    pub cover: Option<String>,
    /// Sleeves, second covers and filled cores that are made with it.
    pub added: Vec<MoreAnswer>,
    /// By which end it is rove; null where it passes nothing.
    pub reeving: Option<String>,
    /// The worst grade of its findings; null is a pass.
    pub grade: Option<&'static str>,
    /// What is to be said about it, the worst first.
    pub findings: Vec<FindingAnswer>,
    /// Where it could break, the lowest first.
    pub weak_points: Vec<WeakPointAnswer>,
    /// Every rope that was judged for it.
    pub ropes_judged: Vec<RopeJudged>,
    /// How the numbers came about.
    pub working: Vec<StepAnswer>,
}

/// What a line carries.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct LoadAnswer {
    /// Steady pull in the most loaded part while it is held.
    pub steady: Amount,
    /// Peak pull.
    pub peak: Amount,
    /// Pull at the fall while hauling.
    pub hauling: Amount,
    /// Pull at the fall while easing: friction holds with the hand.
    pub easing: Amount,
    /// The state that governs; null where weather has no part in it.
    pub governing: Option<StateAnswer>,
    /// The worst of another point of sailing or of other sails.
    pub second: Option<SecondState>,
    /// What the range of unpublished inputs does to the steady pull.
    pub range: Option<[Amount; 2]>,
    /// What each of these inputs does.
    pub effects: Vec<EffectAnswer>,
    /// Steady pull with her righting moment at the low and high end of its
    /// band; null where it was given, or has no part in it.
    pub stability: Option<[Amount; 2]>,
}

/// A state of wind, angle and sails.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct StateAnswer {
    /// In words.
    pub text: String,
    /// The point of sailing.
    pub point: &'static str,
    /// True wind.
    pub wind: Amount,
    /// True wind angle.
    pub angle: Amount,
    /// The sails set.
    pub sails: String,
    /// Heel.
    pub heel: Amount,
}

/// The second worst state of a line.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct SecondState {
    /// Where it is.
    pub state: StateAnswer,
    /// Steady pull in it.
    pub steady: Amount,
}

/// What an input that nobody published does to a line.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct EffectAnswer {
    /// Its key in `[assumed]`.
    pub input: &'static str,
    /// What it is.
    pub says: &'static str,
    /// Low end of its range, value used, high end.
    pub values: [Amount; 3],
    /// Steady pull at the low end and at the high end.
    pub steady: [Amount; 2],
}

fn state_answer(state: &rig::State, system: System) -> StateAnswer {
    StateAnswer {
        text: state.words(system),
        point: state.point_of_sailing(),
        wind: Amount::of(state.wind, system),
        angle: Amount::of(state.angle, system),
        sails: state.set.words(),
        heel: Amount::of(state.heel, system),
    }
}

fn effect_answer(effect: &rig::Effect, system: System) -> EffectAnswer {
    let (low, _, high) = effect.input.range();
    EffectAnswer {
        input: effect.input.word(),
        says: effect.input.says(),
        values: [low, effect.used, high].map(|value| Amount::of(rig::Inputs::value(effect.input, value), system)),
        steady: [effect.at_low, effect.at_high].map(|pull| Amount::of(pull, system)),
    }
}

fn load_answer(load: &rig::LineLoad, system: System) -> LoadAnswer {
    let amount = |pull: units::Force| Amount::of(pull, system);
    LoadAnswer {
        steady: amount(load.steady),
        peak: amount(load.peak),
        hauling: amount(load.hauling),
        easing: amount(load.easing),
        governing: load.governing.as_ref().map(|state| state_answer(state, system)),
        second: load
            .second
            .as_ref()
            .map(|(state, steady)| SecondState { state: state_answer(state, system), steady: amount(*steady) }),
        range: load.range.map(|(low, high)| [amount(low), amount(high)]),
        effects: load.effects.iter().map(|effect| effect_answer(effect, system)).collect(),
        stability: load.stability.map(|(low, high)| [amount(low), amount(high)]),
    }
}

/// A mark carried over from an old line.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct LineMark {
    /// What it marks.
    pub name: String,
    /// From the working end's bearing point, at reference tension.
    pub at: Amount,
}

/// The rope taken.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct RopeAnswer {
    /// Its name in the list, or its description.
    pub name: String,
    /// Outside diameter.
    pub diameter: Amount,
    /// How it is built.
    pub construction: &'static str,
    /// The fibre that carries the load.
    pub fibre: &'static str,
    /// Listed strength.
    pub strength: Amount,
    /// What that is the strength of.
    pub strength_basis: &'static str,
    /// Mass per length.
    pub linear_density: Amount,
}

/// A rope that was judged.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct RopeJudged {
    /// Its name.
    pub rope: String,
    /// `pass`, `note`, `caution` or `stop`.
    pub verdict: &'static str,
    /// Strength at its weakest point over the strength wanted.
    pub strength_ratio: f64,
    /// Stretch at the steady load, share; null where unknown.
    pub stretch: Option<f64>,
    /// Why.
    pub reasons: Vec<String>,
}

/// One end of a line.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct EndAnswer {
    /// `working end` or `bitter end`.
    pub place: &'static str,
    /// Its kind.
    pub kind: &'static str,
    /// Bury along the tail.
    pub bury: Option<Amount>,
    /// Inside length of the eye, flat.
    pub eye: Option<Amount>,
    /// What it goes on.
    pub on: Option<String>,
    /// What it adds to the cut length.
    pub rope_used: Amount,
    /// Share of the rope's strength at its lowest point, low end.
    pub strength_share: Option<f64>,
    /// What that share rests on, where it is the loft's own break tests.
    pub strength_basis: Option<String>,
}

impl LinesAnswer {
    /// Does any line have a stop?
    #[must_use]
    pub fn has_stop(&self) -> bool {
        self.lines.iter().any(|line| line.findings.iter().any(FindingAnswer::is_stop))
    }
}

/// The lines of an order, or one of them.
///
/// # Errors
/// When a file cannot be read or has mistakes, a line cannot be made, or no
/// line has the name asked for.
pub fn lines(request: &LinesRequest) -> Result<LinesAnswer, Problem> {
    let job = job(request)?;
    let wanted = |line: &&JobLine| match &request.name {
        Some(name) => line.record.name.value.eq_ignore_ascii_case(name.trim()),
        None => true,
    };
    let asked: Vec<&JobLine> = job.lines.iter().filter(wanted).collect();
    let mut lines: Vec<LineAnswer> = asked.iter().map(|line| line_answer(line, job.system)).collect();
    if request.tenths {
        let tenths = Tenths::of(&job, &asked);
        for (answer, line) in lines.iter_mut().zip(&asked) {
            answer.tenths = tenths.line(&job, line);
        }
    }
    if let (Some(name), true) = (&request.name, lines.is_empty()) {
        let names = job.lines.iter().map(|line| line.record.name.value.as_str()).collect::<Vec<_>>().join(", ");
        return Err(Problem::new(Fault::Request, "no-such-line", format!("no line is called {name:?}"))
            .hint(format!("one of: {names}")));
    }
    Ok(LinesAnswer {
        order: job.number().to_owned(),
        boat: job.boat().to_owned(),
        assumed: steps(&job.sweep.dimensions().assumed().cloned().collect::<Vec<_>>(), job.system),
        righting_moment: {
            let righting = job.sweep.righting();
            [righting.band.0, righting.moment, righting.band.1].map(|moment| Amount::of(moment, job.system))
        },
        states: job.sweep.states().len(),
        coefficients: job.sweep.question().coefficients.edition.clone(),
        rope_list: job.rope_list.as_ref().map(Text::to_string),
        own: job.own.answer.clone(),
        lines,
    })
}

pub(crate) fn line_answer(line: &JobLine, system: System) -> LineAnswer {
    let amount = |value: units::Value| Amount::of(value, system);
    let made = &line.made;
    LineAnswer {
        name: line.record.name.value.clone(),
        kind: line.record.kind.value.word(),
        count: line.record.count.value,
        load: load_answer(&line.load, system),
        lead: line.travel.as_ref().map(|travel| crate::lead_answer::lead_answer(line, travel, system)),
        marks: line
            .marks
            .iter()
            .map(|(name, at)| LineMark { name: name.clone(), at: Amount::of(at.nearest_mm(), system) })
            .collect(),
        rope: RopeAnswer {
            name: made.rope.name.clone(),
            diameter: amount(made.rope.diameter.into()),
            construction: made.rope.construction.name(),
            fibre: made.rope.fibre.name(),
            strength: amount(made.rope.strength.force.into()),
            strength_basis: made.rope.strength.basis.word(),
            linear_density: amount(made.rope.linear_density.into()),
        },
        tenths: Vec::new(),
        ends: made.ends().into_iter().map(|(place, end)| end_answer(place, end, system)).collect(),
        finished_length: amount(made.finished.nearest_mm().into()),
        cut_length: amount(made.cut.into()),
        mass: amount(made.mass.into()),
        cover: made.cover.verdict.as_ref().map(|verdict| verdict.show(system)),
        added: made.added.iter().map(|addition| MoreAnswer::of(addition, system)).collect(),
        reeving: made.reeving.as_ref().map(|reeving| reeving.text.show(system)),
        grade: sources::worst(&line.findings).map(sources::Grade::word),
        findings: findings(&line.findings, system),
        weak_points: weak_points(&made.weak_points, system),
        ropes_judged: made.verdicts.iter().map(|verdict| judged(verdict, system)).collect(),
        working: steps(&line.steps, system),
    }
}

pub(crate) fn weak_points(points: &[makeup::WeakPoint], system: System) -> Vec<WeakPointAnswer> {
    points
        .iter()
        .map(|point| WeakPointAnswer {
            place: point.place.clone(),
            strength: point.strength.map(|strength| Amount::of(strength, system)),
            share: point.share,
            reason: point.reason.show(system),
            source: point.citation.to_string(),
        })
        .collect()
}

fn judged(verdict: &makeup::Verdict, system: System) -> RopeJudged {
    RopeJudged {
        rope: verdict.rope.clone(),
        verdict: verdict.grade().map_or("pass", sources::Grade::word),
        strength_ratio: verdict.strength_ratio,
        stretch: verdict.stretch,
        reasons: verdict.findings.iter().map(|finding| finding.show(system)).collect(),
    }
}

fn end_answer(place: &'static str, end: &splice::Layout, system: System) -> EndAnswer {
    EndAnswer {
        place,
        kind: end.kind.word(),
        bury: end.bury.map(|bury| Amount::of(bury.nearest_mm(), system)),
        eye: end.eye.as_ref().map(|eye| Amount::of(eye.inside.nearest_mm(), system)),
        on: end.eye.as_ref().and_then(|eye| {
            let on = eye.on?;
            Some(format!("{} {}", units::Value::from(on.diameter).show(system), on.what.word()))
        }),
        rope_used: Amount::of(end.rope_used.nearest_mm(), system),
        strength_share: end.strength_share.map(|share| share.low),
        strength_basis: end
            .findings
            .iter()
            .find(|finding| finding.code == "own-strength")
            .map(|finding| finding.text.show(system)),
    }
}

/// The same job for tasks that need more than its answer.
pub(crate) fn job(request: &LinesRequest) -> Result<Job, Problem> {
    read(&OrderAsked { order: &request.order, ropes: request.ropes.as_ref(), own: &request.own, units: request.units })
}
