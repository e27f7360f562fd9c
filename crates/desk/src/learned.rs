//! What the loft has learnt: default against own, what is used, and what
//! that changes.
//!
//! Friction comes from pull-out tests of the log (a `bury` in the row);
//! shrinkage, bedding-in and minutes from the list of measured figures.

use crate::input::open;
use crate::job::{find_rope, read_ropes, same};
use crate::problem::{Mistake, Problem};
use crate::proof::{TestFacts, tests_of_file};
use crate::text::Text;
use crate::wire::{FindingAnswer, StepAnswer, findings, steps};
use cordage::Rope;
use proving::{Default as Known, Learned, Learns, PullOut, Results, blend, friction_of};
use schemars::JsonSchema;
use serde::Serialize;
use sources::OURS;
use splice::{EndKind, EndRequest, Measured, Tail};
use std::collections::BTreeMap;
use units::{Force, Length, System, Value};

/// What is asked.
#[derive(Debug, Clone, Default)]
pub struct LearnedRequest {
    /// The log of tests (CSV).
    pub tests: Option<Text>,
    /// Measured figures (CSV).
    pub measures: Option<Text>,
    /// The rope list.
    pub ropes: Option<Text>,
    /// Units to print.
    pub units: System,
}

/// What the loft has learnt.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct LearnedAnswer {
    /// Figure by figure.
    pub figures: Vec<FigureAnswer>,
    /// Rows that were refused, each with its place; the others were used.
    pub refused: Vec<Mistake>,
}

/// A default beside the loft's own.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct FigureAnswer {
    /// `friction`, `shrinkage`, `bedding-in` or `minutes`.
    pub what: &'static str,
    /// The kind of end.
    pub end: String,
    /// The rope, or its fibre for friction.
    pub rope: String,
    /// Measurements.
    pub count: usize,
    /// Of them, how many only say "at least".
    pub at_least: usize,
    /// The default.
    pub default: f64,
    /// On whose word.
    pub default_source: String,
    /// Mean of the loft's own.
    pub own: Option<f64>,
    /// Interval of that mean, 90 %.
    pub interval: Option<[f64; 2]>,
    /// As how many measurements the default counts.
    pub default_counts_as: f64,
    /// Share of the say that the loft's own has.
    pub weight: f64,
    /// What is used.
    pub used: f64,
    /// The rule, in words.
    pub rule: String,
    /// What would change, in words.
    pub changes: String,
    /// What is to be said.
    pub findings: Vec<FindingAnswer>,
    /// How it came about.
    pub working: Vec<StepAnswer>,
}

/// A measured figure, from a file or the store.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Measure {
    pub what: Learns,
    pub end: EndKind,
    pub rope: Option<String>,
    pub value: f64,
}

/// What the loft has learnt, from files.
///
/// # Errors
/// When a file cannot be read.
pub fn learned(request: &LearnedRequest) -> Result<LearnedAnswer, Problem> {
    let ropes = request.ropes.as_ref().map(read_ropes).transpose()?.unwrap_or_default();
    let mut refused = Vec::new();
    let tests = match &request.tests {
        Some(text) => {
            let (tests, mistakes) = tests_of_file(text, &ropes)?;
            refused.extend(mistakes);
            tests
        }
        None => Vec::new(),
    };
    let measures = match &request.measures {
        Some(text) => {
            let (measures, mistakes) = measures_of_file(text)?;
            refused.extend(mistakes);
            measures
        }
        None => Vec::new(),
    };
    let figures = figures(&tests, &measures, &ropes, request.units)?;
    Ok(LearnedAnswer { figures, refused })
}

/// Measured figures of a file; those left out with a reason are passed over.
pub(crate) fn measures_of_file(text: &Text) -> Result<(Vec<Measure>, Vec<Mistake>), Problem> {
    let input = open(text, files::LARGEST_TABLE)?;
    let (rows, refused) = input.partly(files::read_measures(&input.bytes))?;
    let measures = rows
        .iter()
        .filter(|row| row.value.left_out.is_none())
        .map(|row| {
            let row = &row.value;
            Ok(Measure {
                what: match row.what.value {
                    files::MeasuredWhat::Shrinkage => Learns::Shrinkage,
                    files::MeasuredWhat::BeddingIn => Learns::BeddingIn,
                    files::MeasuredWhat::Minutes => Learns::Minutes,
                    files::MeasuredWhat::Friction => Learns::Friction,
                },
                end: crate::convert::end_kind(row.end.value)?,
                rope: row.rope.as_ref().map(|rope| rope.value.clone()),
                value: row.value.value,
            })
        })
        .collect::<Result<_, Problem>>()?;
    Ok((measures, refused))
}

/// Measurements of one figure.
pub(crate) struct Group {
    pub what: Learns,
    pub end: EndKind,
    pub rope: Option<String>,
    pub own: Results,
}

/// Measurements figure by figure, in a fixed order: minutes by kind of end,
/// friction by rope, the others by both.
pub(crate) fn groups(tests: &[TestFacts], measures: &[Measure], ropes: &[Rope]) -> Vec<Group> {
    let mut groups: BTreeMap<(Learns, Option<EndKind>, String), Group> = BTreeMap::new();
    let mut add = |(what, end, rope): (Learns, EndKind, Option<&String>), value: f64, at_least: bool| {
        let rope = rope.filter(|_| what != Learns::Minutes).cloned();
        let by_end = Some(end).filter(|_| what != Learns::Friction);
        let key = (what, by_end, rope.as_deref().map(same).unwrap_or_default());
        let group = groups.entry(key).or_insert_with(|| Group { what, end, rope, own: Results::default() });
        if at_least { group.own.held.push(value) } else { group.own.breaks.push(value) }
    };
    for measure in measures {
        add((measure.what, measure.end, measure.rope.as_ref()), measure.value, false);
    }
    for facts in tests.iter().filter(|facts| facts.bury.is_some() && facts.test.used.is_none()) {
        let Some((friction, at_least)) = pull_out(facts, ropes) else { continue };
        add((Learns::Friction, facts.end, Some(&facts.rope)), friction, at_least);
    }
    groups.into_values().collect()
}

/// A default and the group's measurements weighed together.
pub(crate) fn settled(group: &Group, ropes: &[Rope]) -> Result<Learned, Problem> {
    let rope = rope_for(group.rope.as_deref(), group.end, ropes);
    let known = default_of(group.what, group.end, rope.as_ref());
    blend(group.what, known, &group.own)
        .map_err(|why| Problem::refused("no-figure", format!("{}, {}: {why}", group.what.word(), group.end.name())))
}

/// Figure by figure, in a fixed order.
pub(crate) fn figures(
    tests: &[TestFacts],
    measures: &[Measure],
    ropes: &[Rope],
    system: System,
) -> Result<Vec<FigureAnswer>, Problem> {
    groups(tests, measures, ropes)
        .iter()
        .map(|group| {
            let rope = rope_for(group.rope.as_deref(), group.end, ropes);
            Ok(figure(&settled(group, ropes)?, group.end, rope.as_ref(), system))
        })
        .collect()
}

/// The friction a test tells; none where the rope is not known, the row was
/// left out, or the braid does not grip.
fn pull_out(facts: &TestFacts, ropes: &[Rope]) -> Option<(f64, bool)> {
    let rope = find_rope(&facts.rope, files::Place::default(), ropes).ok()?;
    let bury = facts.bury.filter(|_| facts.test.left_out.is_none())?;
    let measured = Measured { pitch: rope.pitch.map(|pitch| pitch / rope.diameter), ..Measured::default() };
    let belief = splice::usual_belief(rope.fibre).ok()?;
    let (braid, _, _) = belief.bench_braid(measured).ok()?;
    let test = PullOut {
        braid,
        tail: Tail::blunt(bury / gripping(&rope)).slices(),
        load: facts.test.load,
        tail_load: facts.tail_load.filter(|load| *load > Force::ZERO),
        outcome: facts.test.outcome,
    };
    friction_of(&test).ok()
}

/// Diameter of the braid that grips.
fn gripping(rope: &Rope) -> Length {
    rope.core_diameter.filter(|_| rope.construction.load_on_core()).unwrap_or(rope.diameter)
}

/// The rope named, or one that takes this kind of end.
fn rope_for(name: Option<&str>, end: EndKind, ropes: &[Rope]) -> Option<Rope> {
    if let Some(name) = name {
        return find_rope(name, files::Place::default(), ropes).ok();
    }
    let usual =
        ["10 mm 12-strand HMPE", "10 mm double braid polyester", "12 mm 3-strand polyester", "12 mm 8-plait polyester"];
    ropes
        .iter()
        .cloned()
        .chain(usual.iter().filter_map(|name| cordage::generic(name).ok()))
        .find(|rope| splice::layout(&EndRequest::new(end, rope)).is_ok())
}

fn default_of(what: Learns, end: EndKind, rope: Option<&Rope>) -> Known {
    let layout = rope.and_then(|rope| splice::layout(&EndRequest::new(end, rope)).ok());
    let none = |value| Known { value, citation: OURS.at("the layout as it is") };
    match what {
        // Made over planned: the layout itself is one.
        Learns::Shrinkage => none(1.0),
        Learns::BeddingIn => Known { value: 0.0, citation: OURS.at("no bedding-in is taken off") },
        Learns::Minutes => layout.map_or(none(0.0), |layout| Known {
            value: layout.time.get().map_or(0.0, |time| time.to_minutes()),
            citation: layout.time.citation,
        }),
        Learns::Friction => {
            let belief = rope.and_then(|rope| splice::usual_belief(rope.fibre).ok());
            belief.map_or(none(0.0), |belief| Known {
                value: belief.span(|draw| draw.friction).usual,
                citation: belief.prior.citation,
            })
        }
    }
}

fn figure(found: &Learned, end: EndKind, rope: Option<&Rope>, system: System) -> FigureAnswer {
    FigureAnswer {
        what: found.kind.word(),
        end: end.word().to_owned(),
        rope: match (found.kind, rope) {
            (Learns::Minutes, _) | (_, None) => String::new(),
            (_, Some(rope)) => rope.name.clone(),
        },
        count: found.count,
        at_least: found.at_least,
        default: fine(found.default.value),
        default_source: found.default.citation.to_string(),
        own: found.own.map(fine),
        interval: found.interval.map(|(low, high)| [fine(low), fine(high)]),
        default_counts_as: found.kind.weight_of_default(),
        weight: fine(found.weight),
        used: fine(found.used),
        rule: found.rule.show(system),
        changes: changes(found, end, rope, system),
        findings: findings(&found.findings, system),
        working: steps(&found.working, system),
    }
}

/// What the figure used changes against the default, in words.
fn changes(found: &Learned, end: EndKind, rope: Option<&Rope>, system: System) -> String {
    let (before, after) = (found.default.value, found.used);
    let show = |value: Value| value.show(system);
    let length = |length: Length| show(length.nearest_mm().into());
    match found.kind {
        Learns::Minutes => {
            format!("time of an end: {} instead of {}", minutes(after, system), minutes(before, system))
        }
        Learns::Shrinkage => {
            let Some(layout) = rope.and_then(|rope| splice::layout(&EndRequest::new(end, rope)).ok()) else {
                return format!("shrinkage: {after:.2} times the layout's");
            };
            let gone = |times: f64| length(layout.shrinkage * times);
            format!("shrinkage of an end: {} instead of {}", gone(after), gone(before))
        }
        Learns::BeddingIn => {
            let off = Length::of_m(10.0) * after;
            format!("a line of {} is cut {} shorter", show(Length::of_m(10.0).into()), length(off))
        }
        Learns::Friction => {
            let Some(belief) = rope.and_then(|rope| splice::usual_belief(rope.fibre).ok()) else {
                return String::new();
            };
            let bury = belief.prior.common_bury;
            let slices = splice::common_taper(bury).slices();
            let at = |friction: f64| {
                belief.span(|draw| splice::margin(&draw.braid, friction, &slices, splice::EVEN_LEGS)).usual
            };
            format!("grip margin of a bury of {bury:.0} d: {:.2} instead of {:.2}", at(after), at(before))
        }
    }
}

fn minutes(minutes: f64, system: System) -> String {
    Value::from(units::Duration::of_minutes(minutes)).show(system)
}

fn fine(number: f64) -> f64 {
    (number * 1e6).round() / 1e6
}
