//! Which rope a line should be made of: every candidate with every check, what
//! the rack holds of it, and what would change the choice.

use crate::holding::{Holding, Want, holding, same_colour_beside};
use crate::input::open;
use crate::job::{Listed, Opened, OrderAsked, find_rope, open_order, request, same, suits};
use crate::problem::Problem;
use crate::text::Text;
use crate::wire::{Amount, StepAnswer, WeakPointAnswer, steps};
use drawing::plot::{Axis, Dash, Dot, Group, Limit, LimitAt, Plot, Spot, draw};
use files::LineRecord;
use makeup::{Candidate, Choice, Offer, Outcome, choose};
use pricing::{Money, Rounding, Used, rope_cost};
use schemars::JsonSchema;
use serde::Serialize;
use units::{Length, Millimetres, System};

/// What is asked.
#[derive(Debug, Clone, Default)]
pub struct RopeRequest {
    /// The order file.
    pub order: Text,
    /// The line's name.
    pub line: String,
    /// The rope list; `ropes.csv` beside the order where not given.
    pub ropes: Option<Text>,
    /// The loft's own figures.
    pub own: crate::OwnSource,
    /// The rack; `rack.csv` beside the order where not given.
    pub rack: Option<Text>,
    /// Units to print; the order's own where not given.
    pub units: Option<System>,
}

/// The choice of a rope for a line.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct RopeChoiceAnswer {
    /// The order's number.
    pub order: String,
    /// The boat's name.
    pub boat: String,
    /// The line's name.
    pub line: String,
    /// Its kind.
    pub kind: &'static str,
    /// The recommendation in one sentence.
    pub advice: String,
    /// The rope to take; null where none stands.
    pub take: Option<String>,
    /// The rope that the order names; null where it leaves it open.
    pub ordered: Option<String>,
    /// What is said of the ordered rope, where another is advised.
    pub ordered_against_advice: Option<String>,
    /// Steady pull in the line.
    pub steady: Amount,
    /// Peak pull.
    pub peak: Amount,
    /// Breaking strength wanted at the weakest point.
    pub wanted: Amount,
    /// Every candidate, the one to take first.
    pub candidates: Vec<CandidateAnswer>,
    /// Ropes that no end of the line can be made in, with why.
    pub unmade: Vec<Unmade>,
    /// Ropes of the list that lines of this kind are not made of.
    pub left_out: Vec<String>,
    /// What a tenth more or less of load or bend does to the choice.
    pub moves: Vec<MovedAnswer>,
    /// Lines of the same colour that lie beside it where a hand takes them.
    pub same_colour_beside: Vec<String>,
    /// The rope list that was read.
    pub rope_list: Option<String>,
    /// The rack that was read.
    pub rack: Option<String>,
    /// Strength against mass as SVG.
    #[serde(skip)]
    pub plot: String,
}

/// One rope.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CandidateAnswer {
    /// Its name in the list, or its description.
    pub rope: String,
    /// `pass`, `not assessed`, `caution` or `fail`.
    pub verdict: &'static str,
    /// Why, in one sentence.
    pub why: String,
    /// Is there no other that is as good in everything and better in something?
    pub undominated: bool,
    /// Diameter.
    pub diameter: Amount,
    /// How it is built.
    pub construction: &'static str,
    /// The fibre that carries.
    pub fibre: &'static str,
    /// Kinds of its ends.
    pub ends: Vec<&'static str>,
    /// Strength at the weakest point.
    pub strength: Amount,
    /// Where that is.
    pub weakest: String,
    /// The second worst weak point and its strength.
    pub second_weakest: Option<WeakPointAnswer>,
    /// Strength at the weakest point over the strength wanted.
    pub strength_ratio: f64,
    /// Stretch at the steady load, share; null where unknown.
    pub stretch: Option<f64>,
    /// Length to cut.
    pub cut_length: Amount,
    /// Dry mass of the piece.
    pub mass: Amount,
    /// Price of the line, all its pieces; null where the list has none.
    pub price: Option<String>,
    /// What the rack holds of it; null without a rack.
    pub holding: Option<Holding>,
    /// Every check.
    pub checks: Vec<CheckAnswer>,
    /// How its strength was judged.
    pub working: Vec<StepAnswer>,
}

/// One check.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CheckAnswer {
    /// What was looked at.
    pub what: &'static str,
    /// `pass`, `not assessed`, `caution` or `fail`.
    pub verdict: &'static str,
    /// Why.
    pub text: String,
    /// What would clear it.
    pub remedy: Option<String>,
    /// On whose word.
    pub source: String,
}

/// A rope that cannot be made up.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Unmade {
    /// Its name.
    pub rope: String,
    /// Why.
    pub why: String,
}

/// What a change does.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct MovedAnswer {
    /// What is changed.
    pub change: &'static str,
    /// The rope that would be taken; null when none stands.
    pub to: Option<String>,
    /// Is it another?
    pub moves: bool,
}

impl RopeChoiceAnswer {
    /// Does no rope stand?
    #[must_use]
    pub fn has_stop(&self) -> bool {
        self.take.is_none()
    }
}

/// Chooses the rope of a line.
///
/// # Errors
/// When a file has mistakes, no line has the name, or no rope is known.
pub fn rope(request_: &RopeRequest) -> Result<RopeChoiceAnswer, Problem> {
    let opened = open_order(&OrderAsked {
        order: &request_.order,
        ropes: request_.ropes.as_ref(),
        own: &request_.own,
        units: request_.units,
    })?;
    let line = opened.line(&request_.line)?;
    let record = &line.value;
    let prepared = opened.prepared(line)?;
    let asked = request(&opened.order, record, &prepared).map_err(|why| opened.input.problem(&[*why]))?;
    let asked = makeup::LineRequest { own: Some(&opened.own.figures), ..asked };
    let offered = candidates(&opened, record, prepared.kind)?;
    let offers: Vec<Offer> = offered
        .iter()
        .map(|listed| Offer {
            rope: listed.rope.clone(),
            price_per_metre: listed.price.as_ref().and_then(|price| price.amount.parse().ok()),
        })
        .collect();
    let choice = choose(&asked, &offers).map_err(|why| Problem::refused("lead", why.to_string()))?;
    let rack_text = request_.rack.clone().or_else(|| request_.order.beside("rack.csv"));
    let rack = rack_text.as_ref().map(read_rack).transpose()?;
    let system = opened.system;
    let priced = |name: &str| offered.iter().find(|listed| listed.rope.name == name);
    let answers: Vec<CandidateAnswer> = choice
        .candidates
        .iter()
        .map(|candidate| {
            let listed = priced(&candidate.rope.name);
            let held = rack.as_ref().map(|rack| holding(rack, &want(&opened, record, candidate), system));
            candidate_answer(candidate, listed, record, held, system)
        })
        .collect();
    let take = choice.candidates.first().filter(|first| first.outcome != Outcome::Fail);
    let take = take.map(|first| first.rope.name.clone());
    let ordered = record.rope.as_ref().map(|rope| rope.value.clone());
    let wanted = asked.steady * factor(&asked);
    Ok(RopeChoiceAnswer {
        order: opened.order.order.value.number.value.clone(),
        boat: opened.order.boat.value.name.value.clone(),
        line: record.name.value.clone(),
        kind: record.kind.value.word(),
        advice: choice.advice.show(system),
        ordered_against_advice: against(ordered.as_deref(), take.as_deref(), &answers),
        plot: plot(&answers).unwrap_or_default(),
        steady: Amount::of(asked.steady, system),
        peak: Amount::of(asked.peak, system),
        wanted: Amount::of(wanted.max(asked.peak * 2.0), system),
        unmade: choice.unmade.iter().map(|one| Unmade { rope: one.rope.clone(), why: one.why.clone() }).collect(),
        left_out: left_out(&opened, &answers),
        moves: moves(&choice),
        same_colour_beside: same_colour_beside(&opened.order, record),
        rope_list: opened.rope_list.as_ref().map(ToString::to_string),
        rack: rack_text.map(|text| text.to_string()),
        candidates: answers,
        take,
        ordered,
    })
}

fn factor(asked: &makeup::LineRequest<'_>) -> f64 {
    asked.design_factor.unwrap_or_else(|| cordage::design_factor(asked.used_for).get().unwrap_or(5.0))
}

fn moves(choice: &Choice) -> Vec<MovedAnswer> {
    choice
        .moves
        .iter()
        .map(|moved| MovedAnswer { change: moved.change, to: moved.to.clone(), moves: moved.moves })
        .collect()
}

/// The ordered rope and the line's own candidates first; else every rope of
/// the list that suits the kind.
fn candidates(opened: &Opened, record: &LineRecord, kind: rig::LineKind) -> Result<Vec<Listed>, Problem> {
    let ropes: Vec<cordage::Rope> = opened.ropes.iter().map(|listed| listed.rope.clone()).collect();
    let mut offered: Vec<Listed> = Vec::new();
    for name in record.rope.iter().chain(&record.candidates) {
        let rope = find_rope(&name.value, name.place, &ropes).map_err(|why| opened.input.problem(&[*why]))?;
        let listed = opened.ropes.iter().find(|listed| listed.rope.name == rope.name).cloned();
        offered.push(listed.unwrap_or(Listed { rope, price: None, row: None, doubt: None }));
    }
    if record.candidates.is_empty() {
        let more = opened.ropes.iter().filter(|listed| suits(kind, &listed.rope));
        for listed in more {
            if !offered.iter().any(|one| same(&one.rope.name) == same(&listed.rope.name)) {
                offered.push(listed.clone());
            }
        }
    }
    if offered.is_empty() {
        return Err(Problem::refused("no-rope", "no rope is known for this line")
            .hint("give a rope list, or name rope or candidates in the order"));
    }
    Ok(offered)
}

fn left_out(opened: &Opened, answers: &[CandidateAnswer]) -> Vec<String> {
    let names = opened.ropes.iter().map(|listed| listed.rope.name.clone());
    names.filter(|name| !answers.iter().any(|answer| answer.rope == *name)).collect()
}

pub(crate) fn read_rack(text: &Text) -> Result<Vec<files::ReelRecord>, Problem> {
    let input = open(text, files::LARGEST_TABLE)?;
    Ok(input.complete(files::read_rack(&input.bytes))?.into_iter().map(|reel| reel.value).collect())
}

fn want<'a>(opened: &Opened, record: &'a LineRecord, candidate: &'a Candidate) -> Want<'a> {
    let loss = opened.order.loft.as_ref().and_then(|loft| loft.value.loss_per_cut.as_ref());
    Want {
        rope: &candidate.rope.name,
        colour: record.colour.as_ref().map(|colour| colour.value.as_str()),
        cut: candidate.cut,
        count: u64::from(record.count.value),
        same_reel: record.same_reel.value,
        loss: loss.map_or(Length::of_mm(10.0), |loss| loss.value).up_to_mm(),
    }
}

fn candidate_answer(
    candidate: &Candidate,
    listed: Option<&Listed>,
    record: &LineRecord,
    held: Option<Holding>,
    system: System,
) -> CandidateAnswer {
    let points = crate::lines::weak_points(&candidate.points, system);
    let mut assessed = points.into_iter().filter(|point| point.strength.is_some());
    let lowest = assessed.next();
    let mut checks: Vec<CheckAnswer> = candidate.checks.iter().map(|check| check_answer(check, system)).collect();
    if let Some(doubt) = listed.and_then(|listed| listed.doubt.as_ref()) {
        checks.push(CheckAnswer {
            what: "figures",
            verdict: Outcome::Caution.word(),
            text: doubt.text.show(system),
            remedy: doubt.remedy.as_ref().map(|remedy| remedy.show(system)),
            source: doubt.citation.to_string(),
        });
    }
    CandidateAnswer {
        rope: candidate.rope.name.clone(),
        verdict: candidate.outcome.word(),
        why: why(candidate, &checks),
        undominated: candidate.undominated,
        diameter: Amount::of(candidate.rope.diameter, system),
        construction: candidate.rope.construction.name(),
        fibre: candidate.rope.fibre.name(),
        ends: candidate.ends.iter().map(|end| end.word()).collect(),
        strength: lowest
            .as_ref()
            .and_then(|point| point.strength.clone())
            .unwrap_or_else(|| Amount::of(candidate.rope.strength.force, system)),
        weakest: lowest.map_or_else(|| "the rope itself".to_owned(), |point| point.place),
        second_weakest: assessed.next(),
        strength_ratio: candidate.strength_ratio,
        stretch: candidate.stretch,
        cut_length: Amount::of(candidate.cut, system),
        mass: Amount::of(candidate.mass, system),
        price: listed.and_then(|listed| price(listed, candidate, record)),
        holding: held,
        checks,
        working: steps(&candidate.working, system),
    }
}

fn check_answer(check: &makeup::Check, system: System) -> CheckAnswer {
    CheckAnswer {
        what: check.what,
        verdict: check.outcome.word(),
        text: check.text.show(system),
        remedy: check.remedy.as_ref().map(|remedy| remedy.show(system)),
        source: check.citation.to_string(),
    }
}

/// The worst check's sentence and what else is as bad; of a rope that passes,
/// that on strength.
fn why(candidate: &Candidate, checks: &[CheckAnswer]) -> String {
    let word = if candidate.outcome <= Outcome::NotAssessed { "pass" } else { candidate.outcome.word() };
    let mut telling =
        checks.iter().filter(|check| check.verdict == word && (word != "pass" || check.what == "strength"));
    let mut text = telling.next().map_or_else(String::new, |check| check.text.clone());
    let also: Vec<&str> = telling.map(|check| check.what).collect();
    if !also.is_empty() {
        text.push_str(&format!("; also {}", also.join(", ")));
    }
    text
}

/// Price of all pieces of the line, rounded to a coin as a quote does.
fn price(listed: &Listed, candidate: &Candidate, record: &LineRecord) -> Option<String> {
    let price = listed.price.as_ref()?;
    let per_metre = Money::read(&format!("{} {}", price.amount, price.currency)).ok()?;
    let millimetres = candidate.cut.count().checked_mul(i64::from(record.count.value))?;
    let used = Used {
        rope: candidate.rope.name.clone(),
        pieces: Millimetres::new(millimetres),
        spoiled: Millimetres::new(0),
        per_metre,
    };
    rope_cost(&[used], Rounding::HalfUp).ok()?.total.map(|total| total.to_string())
}

fn against(ordered: Option<&str>, take: Option<&str>, answers: &[CandidateAnswer]) -> Option<String> {
    let ordered = ordered?;
    let own = answers.iter().find(|answer| same(&answer.rope) == same(ordered))?;
    if take.is_some_and(|take| same(take) == same(ordered)) {
        return None;
    }
    Some(match own.verdict {
        "fail" => format!("the order names {}, which fails: {}", own.rope, own.why),
        "caution" => format!("the order names {}, with a caution: {}", own.rope, own.why),
        _ => format!(
            "the order names {}, which stands too, at {} times the strength wanted",
            own.rope,
            three_digits(own.strength_ratio)
        ),
    })
}

/// A ratio as it is printed.
pub(crate) fn three_digits(value: f64) -> String {
    units::Value::Number(value).show(System::Metric)
}

/// Strength over what is wanted against the mass of the line.
fn plot(answers: &[CandidateAnswer]) -> Option<String> {
    let spot =
        |answer: &CandidateAnswer| Spot::new(answer.mass.value, answer.strength_ratio).named(answer.rope.clone());
    let group = |name: &str, dot, keep: &dyn Fn(&CandidateAnswer) -> bool| Group {
        name: name.to_owned(),
        dot,
        spots: answers.iter().filter(|answer| keep(answer)).map(spot).collect(),
    };
    let unit = answers.first()?.mass.unit;
    let plot = Plot {
        limits: vec![Limit { name: "wanted".to_owned(), at: LimitAt::Y(1.0), dash: Dash::Long }],
        groups: [
            group("nothing offered beats it", Dot::Filled, &|answer| answer.undominated),
            group("beaten by another", Dot::Ring, &|answer| !answer.undominated && answer.verdict != "fail"),
            group("fails", Dot::Cross, &|answer| answer.verdict == "fail"),
        ]
        .into_iter()
        .filter(|group| !group.spots.is_empty())
        .collect(),
        ..Plot::new("strength against mass", Axis::new("mass of the line", unit), Axis::new("strength over wanted", ""))
    };
    draw(&plot, 160.0, 100.0).ok().map(|picture| picture.svg())
}
