//! A proof plan for each piece of an order.

use super::cautions;
use crate::job::{JobLine, OrderAsked, read};
use crate::own::OwnSource;
use crate::problem::{Fault, Problem};
use crate::text::Text;
use crate::wire::{Amount, FindingAnswer, StepAnswer, findings, steps};
use proving::{ProofAt, ProofWish};
use schemars::JsonSchema;
use serde::Serialize;
use units::{Duration, Force, System};

/// What is asked.
#[derive(Debug, Clone)]
pub struct PlanRequest {
    /// The order.
    pub order: Text,
    /// The rope list.
    pub ropes: Option<Text>,
    /// The loft's own figures.
    pub own: OwnSource,
    /// One line only.
    pub line: Option<String>,
    /// The load: `40 %` of the estimated strength, `1.5 x` the working load,
    /// or a force.
    pub load: String,
    /// How long it is held: `2 min`.
    pub hold: Option<String>,
    /// How often it is pulled.
    pub cycles: u32,
    /// Units to print; the order's own where not given.
    pub units: Option<System>,
}

/// The plan of one line's pieces.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PlanAnswer {
    /// The line.
    pub line: String,
    /// How many pieces.
    pub count: u32,
    /// The rope.
    pub rope: String,
    /// Estimated strength at the weakest point; null where it is not known.
    pub strength: Option<Amount>,
    /// Where that is.
    pub weakest: Option<String>,
    /// The load to pull to; null where it is refused.
    pub load: Option<Amount>,
    /// The same as a share of the strength.
    pub share: Option<f64>,
    /// How long it is held.
    pub hold: Amount,
    /// How often it is pulled.
    pub cycles: u32,
    /// Tension at which the piece is measured before and after.
    pub reference: Amount,
    /// What is to be said, the worst first.
    pub findings: Vec<FindingAnswer>,
    /// How the load came about.
    pub working: Vec<StepAnswer>,
    /// What is said at every test.
    pub cautions: Vec<&'static str>,
}

impl PlanAnswer {
    /// Is there a stop?
    #[must_use]
    pub fn has_stop(&self) -> bool {
        self.findings.iter().any(FindingAnswer::is_stop)
    }
}

/// How long a proof is held where nobody says: a choice of ours.
const HOLD: Duration = Duration::of_minutes(1.0);

/// A proof plan for each line of an order.
///
/// # Errors
/// When the order or a part of the request cannot be read.
pub fn proof_plans(request: &PlanRequest) -> Result<Vec<PlanAnswer>, Problem> {
    let job = read(&OrderAsked {
        order: &request.order,
        ropes: request.ropes.as_ref(),
        own: &request.own,
        units: request.units,
    })?;
    let hold = match &request.hold {
        Some(text) => Duration::of_seconds(crate::splice_task::time("hold", text)?),
        None => HOLD,
    };
    let wish = load_wish(&request.load)?;
    let wanted = |line: &&JobLine| {
        request.line.as_ref().is_none_or(|name| line.record.name.value.eq_ignore_ascii_case(name.trim()))
    };
    let lines: Vec<&JobLine> = job.lines.iter().filter(wanted).collect();
    if lines.is_empty() {
        let names = job.lines.iter().map(|line| line.record.name.value.as_str()).collect::<Vec<_>>().join(", ");
        let message = format!("no line is called {:?}", request.line.as_deref().unwrap_or_default());
        return Err(Problem::new(Fault::Request, "no-such-line", message).hint(format!("one of: {names}")));
    }
    lines.into_iter().map(|line| plan(line, wish, (hold, request.cycles), job.system)).collect()
}

/// A wish for a load, before the working load of a line is known.
#[derive(Debug, Clone, Copy)]
enum Wish {
    Load(Force),
    Share(f64),
    Times(f64),
}

fn load_wish(text: &str) -> Result<Wish, Problem> {
    let text = text.trim();
    let number = |number: &str| number.trim().parse::<f64>().ok().filter(|number| number.is_finite() && *number > 0.0);
    if let Some(share) = text.strip_suffix('%').and_then(number) {
        return Ok(Wish::Share(share / 100.0));
    }
    if let Some(times) = text.strip_suffix(['x', 'X', '×']).and_then(number) {
        return Ok(Wish::Times(times));
    }
    text.parse::<Force>().map(Wish::Load).map_err(|why| {
        Problem::new(Fault::Request, "cannot-be-read", format!("load: {why}"))
            .hint("40 % of the estimated strength, 1.5 x the working load, or a force: 12 kN")
    })
}

fn plan(line: &JobLine, wish: Wish, (hold, cycles): (Duration, u32), system: System) -> Result<PlanAnswer, Problem> {
    let made = &line.made;
    let weakest = made.weak_points.iter().find(|point| point.strength.is_some());
    let load = match wish {
        Wish::Load(load) => ProofAt::Load(load),
        Wish::Share(share) => ProofAt::Share(share),
        Wish::Times(times) => ProofAt::OverWorking { times, working: line.load.steady },
    };
    let strength = weakest.and_then(|point| point.strength).unwrap_or(made.rope.strength.force);
    let planned = proving::proof_plan(ProofWish { load, hold, cycles }, strength, made.rope.diameter)
        .map_err(|why| Problem::new(Fault::Request, "no-proof-plan", format!("{}: {why}", line.record.name.value)))?;
    let mut all = planned.proof.findings.clone();
    all.extend(proving::certificate_refused(crate::convert::purpose(line.record.duty.value)));
    all.sort_by_key(|finding| std::cmp::Reverse(finding.grade));
    Ok(PlanAnswer {
        line: line.record.name.value.clone(),
        count: line.record.count.value,
        rope: made.rope.name.clone(),
        strength: weakest.map(|_| Amount::of(strength, system)),
        weakest: weakest.map(|point| point.place.clone()),
        load: Some(Amount::of(planned.proof.load, system)),
        share: Some(super::log::thousandth(planned.proof.load / strength)),
        hold: Amount::of(planned.hold, system),
        cycles: planned.cycles,
        reference: Amount::of(planned.reference, system),
        findings: findings(&all, system),
        working: steps(&planned.proof.working, system),
        cautions: cautions(),
    })
}
