//! The log of tests by rope and kind of splice: statistics from five breaks
//! on, and the strength that is used.

use super::cautions;
use crate::input::open;
use crate::job::{find_rope, read_ropes, same};
use crate::problem::{Fault, Mistake, Problem};
use crate::text::Text;
use crate::wire::{Amount, FindingAnswer, Margin, StepAnswer, findings, steps};
use cordage::Rope;
use proving::{Outcome, SpliceStrength, Test, Wear};
use schemars::JsonSchema;
use serde::Serialize;
use splice::{EndKind, EndRequest, Span};
use std::collections::BTreeMap;
use units::{Force, Length, System};

/// What is asked.
#[derive(Debug, Clone, Default)]
pub struct ProofRequest {
    /// The log of tests (CSV).
    pub tests: Text,
    /// The rope list.
    pub ropes: Option<Text>,
    /// Tests of this rope only.
    pub rope: Option<String>,
    /// Tests of this kind of end only.
    pub end: Option<String>,
    /// Units to print.
    pub units: System,
}

/// What the log says.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ProofAnswer {
    /// By rope and kind of splice.
    pub splices: Vec<SpliceProof>,
    /// Rows that are no tests, each with its place; the others were used.
    pub refused: Vec<Mistake>,
    /// What is said at every test.
    pub cautions: Vec<&'static str>,
}

/// The tests of one rope and kind of splice.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct SpliceProof {
    /// The rope.
    pub rope: String,
    /// The kind of end.
    pub end: &'static str,
    /// Its name in words.
    pub end_name: &'static str,
    /// The tests, in the order of the log.
    pub tests: Vec<TestAnswer>,
    /// Breaks at the splice, new rope.
    pub breaks: usize,
    /// New splices that held at least so much.
    pub held: usize,
    /// Tests of used rope, which never enter.
    pub used: usize,
    /// Tests left out with a reason.
    pub left_out: usize,
    /// Statistics; null under five breaks at the splice.
    pub statistics: Option<StatisticsAnswer>,
    /// The share of the rope's strength that is used; null where nothing is known.
    pub strength: Option<Margin<f64>>,
    /// The layout's own; null where the rope is not known.
    pub default: Option<Margin<f64>>,
    /// The loft's own; null where the tests give none.
    pub own: Option<Margin<f64>>,
    /// Does the loft's own stand in the place of the default?
    pub replaced: bool,
    /// The rule, in words.
    pub rule: String,
    /// What is to be said, the worst first.
    pub findings: Vec<FindingAnswer>,
    /// How the numbers came about.
    pub working: Vec<StepAnswer>,
}

/// One test.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct TestAnswer {
    /// Its number.
    pub number: String,
    /// The piece; null where the log does not say.
    pub piece: Option<String>,
    /// The day; null where the log does not say.
    pub date: Option<String>,
    /// The highest load it saw.
    pub load: Amount,
    /// The same as a share of the rope's listed strength.
    pub share: f64,
    /// How it ended, the word of the log.
    pub broke: &'static str,
    /// How it ended.
    pub ended: &'static str,
    /// How it counts: `break`, `at least`, `used rope` or `left out`.
    pub counts: &'static str,
    /// Why it is left out.
    pub left_out: Option<String>,
}

/// Statistics of the breaks at the splice, as shares of the listed strength.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct StatisticsAnswer {
    /// Mean.
    pub mean: f64,
    /// Interval of the mean, 90 %.
    pub mean_interval: [f64; 2],
    /// Standard deviation.
    pub deviation: f64,
    /// Tolerance factor: nine in ten, with confidence 95 %.
    pub factor: f64,
    /// Normal tolerance limit.
    pub normal_limit: f64,
    /// Chance of so bad a fit if they are normal; null where held loads cut in.
    pub normal_chance: Option<f64>,
    /// Weibull scale.
    pub weibull_scale: f64,
    /// Weibull shape.
    pub weibull_shape: f64,
    /// Weibull limit: nine in ten, with confidence 95 %.
    pub weibull_limit: f64,
    /// Chance of so bad a fit if they are Weibull.
    pub weibull_chance: Option<f64>,
    /// Which limit is taken.
    pub taken: &'static str,
    /// The test farthest from the mean.
    pub farthest: String,
    /// How far, in standard deviations, and how far it may be.
    pub farthest_by: [f64; 2],
    /// Control chart: lower limit, centre, upper limit.
    pub chart: [f64; 3],
    /// What stands out on it.
    pub signals: Vec<String>,
}

/// A test with what its row says beside it.
#[derive(Debug, Clone)]
pub(crate) struct TestFacts {
    pub test: Test,
    pub piece: Option<String>,
    pub date: Option<String>,
    pub rope: String,
    pub end: EndKind,
    pub bury: Option<Length>,
    pub tail_load: Option<Force>,
}

/// The log of tests by rope and kind of splice.
///
/// # Errors
/// When the file or the rope list cannot be read, or nothing is as asked.
pub fn proof(request: &ProofRequest) -> Result<ProofAnswer, Problem> {
    let ropes = request.ropes.as_ref().map(read_ropes).transpose()?.unwrap_or_default();
    let (tests, refused) = tests_of_file(&request.tests, &ropes)?;
    answer(tests, refused, &ropes, request)
}

pub(crate) fn answer(
    tests: Vec<TestFacts>,
    refused: Vec<Mistake>,
    ropes: &[Rope],
    request: &ProofRequest,
) -> Result<ProofAnswer, Problem> {
    let end = request.end.as_deref().map(crate::splice_read::end_kind).transpose()?;
    let rope = request.rope.as_deref().map(same);
    let mut groups: BTreeMap<(String, EndKind), Vec<TestFacts>> = BTreeMap::new();
    for facts in tests {
        let wanted = rope.as_ref().is_none_or(|rope| same(&facts.rope) == *rope);
        if wanted && end.is_none_or(|end| facts.end == end) {
            groups.entry((same(&facts.rope), facts.end)).or_default().push(facts);
        }
    }
    if groups.is_empty() && refused.is_empty() {
        return Err(Problem::new(Fault::Request, "no-tests", "no test of this rope and kind of end is in the log")
            .hint("leave --rope and --end out to see every test"));
    }
    let splices = groups
        .into_iter()
        .map(|((_, end), tests)| splice_proof(end, tests, ropes, request.units))
        .collect::<Result<Vec<_>, _>>()?;
    Ok(ProofAnswer { splices, refused, cautions: cautions() })
}

/// Tests of a file, and the rows that are none.
pub(crate) fn tests_of_file(text: &Text, ropes: &[Rope]) -> Result<(Vec<TestFacts>, Vec<Mistake>), Problem> {
    let input = open(text, files::LARGEST_TABLE)?;
    let (rows, mut refused) = input.partly(files::read_tests(&input.bytes))?;
    let mut kept = Vec::new();
    let mut problems = Vec::new();
    for row in rows {
        match test_of(&row.value, ropes) {
            Ok(facts) => kept.push((row.place, facts)),
            Err(problem) => problems.push(*problem),
        }
    }
    let (places, facts): (Vec<_>, Vec<_>) = kept.into_iter().unzip();
    let (_, not) = proving::admit(facts.iter().map(|facts: &TestFacts| facts.test.clone()).collect());
    for (index, why) in &not {
        // Two of one number are told by the reader, with both places.
        if !matches!(why, proving::TestError::NumberTwice { .. }) {
            problems.push(files::Problem::new("no-test", why.to_string()).hint(why.hint()).at(places[*index]));
        }
    }
    let out: Vec<usize> = not.iter().map(|(index, _)| *index).collect();
    let facts = facts.into_iter().enumerate().filter(|(index, _)| !out.contains(index)).map(|(_, facts)| facts);
    refused.extend(input.mistakes(&problems));
    Ok((facts.collect(), refused))
}

/// A row of the log as a test.
pub(crate) fn test_of(row: &files::TestRecord, ropes: &[Rope]) -> Result<TestFacts, Box<files::Problem>> {
    let end = crate::convert::end_kind(row.end.value)
        .map_err(|why| Box::new(files::Problem::new("unknown-word", why.message).at(row.end.place)))?;
    let listed = match &row.strength {
        Some(strength) => strength.value,
        None => find_rope(&row.rope.value, row.rope.place, ropes)?.strength.force,
    };
    let outcome = match row.broke.value {
        files::BrokeAt::Splice => Outcome::BrokeAtSplice,
        files::BrokeAt::DrewOut => Outcome::DrewOut,
        files::BrokeAt::Rope => Outcome::BrokeElsewhere,
        files::BrokeAt::Fitting => Outcome::FittingFailed,
        files::BrokeAt::Held => Outcome::Held,
    };
    let used = row
        .used_months
        .as_ref()
        .map(|months| Wear { months: months.value, hours: row.used_hours.as_ref().map(|hours| hours.value) });
    Ok(TestFacts {
        test: Test {
            number: row.test.value.clone(),
            load: row.load.value,
            outcome,
            listed,
            used,
            left_out: row.left_out.as_ref().map(|why| why.value.clone()),
        },
        piece: row.piece.as_ref().map(|piece| piece.value.clone()),
        date: row.date.as_ref().map(|date| date.value.to_string()),
        rope: row.rope.value.clone(),
        end,
        bury: row.bury.as_ref().map(|bury| bury.value),
        tail_load: row.tail_load.as_ref().map(|load| load.value),
    })
}

/// The layout's own strength of this end in this rope, where it can be laid out.
pub(crate) fn default_of(rope: &str, end: EndKind, ropes: &[Rope]) -> Option<Span<f64>> {
    let rope = find_rope(rope, files::Place::default(), ropes).ok()?;
    splice::layout(&EndRequest::new(end, &rope)).ok()?.strength_share
}

fn splice_proof(end: EndKind, tests: Vec<TestFacts>, ropes: &[Rope], system: System) -> Result<SpliceProof, Problem> {
    let rope = tests.first().map(|facts| facts.rope.clone()).unwrap_or_default();
    let plain: Vec<Test> = tests.iter().map(|facts| facts.test.clone()).collect();
    let found = proving::strength_of(&plain, default_of(&rope, end, ropes)).map_err(|why| {
        Problem::refused("no-statistics", format!("{rope}, {}: {why}", end.name()))
            .hint("look the loads up in the log: two tests seldom read the same")
    })?;
    let counted: Vec<&TestFacts> = tests.iter().filter(|facts| counts(&facts.test) == "break").collect();
    let margin = |span: Option<Span<f64>>| span.map(|span| Margin::of(span, thousandth));
    Ok(SpliceProof {
        rope,
        end: end.word(),
        end_name: end.name(),
        breaks: found.breaks,
        held: found.held,
        used: found.used,
        left_out: found.left_out,
        statistics: found.statistics.as_ref().map(|_| statistics(&found, &counted)).and_then(|found| found),
        strength: margin(found.efficiency.used),
        default: margin(found.efficiency.default),
        own: margin(found.efficiency.own),
        replaced: found.efficiency.replaced,
        rule: found.efficiency.rule.show(system),
        findings: findings(&found.findings, system),
        working: steps(&found.working, system),
        tests: tests.iter().map(|facts| test_answer(facts, system)).collect(),
    })
}

fn counts(test: &Test) -> &'static str {
    match (&test.left_out, test.used, test.outcome.is_of_splice()) {
        (_, Some(_), _) => "used rope",
        (Some(_), None, _) => "left out",
        (None, None, true) => "break",
        (None, None, false) => "at least",
    }
}

pub(crate) fn test_answer(facts: &TestFacts, system: System) -> TestAnswer {
    let test = &facts.test;
    TestAnswer {
        number: test.number.clone(),
        piece: facts.piece.clone(),
        date: facts.date.clone(),
        load: Amount::of(test.load, system),
        share: thousandth(test.share()),
        broke: test.outcome.word(),
        ended: test.outcome.words(),
        counts: counts(test),
        left_out: test.left_out.clone(),
    }
}

fn statistics(found: &SpliceStrength, counted: &[&TestFacts]) -> Option<StatisticsAnswer> {
    let of = found.statistics.as_ref()?;
    let number = |index: usize| counted.get(index).map(|facts| facts.test.number.clone()).unwrap_or_default();
    Some(StatisticsAnswer {
        mean: fine(of.normal.mean),
        mean_interval: [fine(of.mean_interval.0), fine(of.mean_interval.1)],
        deviation: fine(of.normal.deviation),
        factor: fine(of.factor),
        normal_limit: fine(of.normal_limit),
        normal_chance: of.normal_goodness.map(|fit| fine(fit.chance)),
        weibull_scale: fine(of.weibull.scale),
        weibull_shape: fine(of.weibull.shape),
        weibull_limit: fine(of.weibull_limit),
        weibull_chance: of.weibull_goodness.map(|fit| fine(fit.chance)),
        taken: of.taken.words(),
        farthest: number(of.farthest.index),
        farthest_by: [fine(of.farthest.statistic), fine(of.farthest.critical)],
        chart: [fine(of.chart.lower), fine(of.chart.centre), fine(of.chart.upper)],
        signals: of
            .chart
            .signals
            .iter()
            .map(|signal| format!("test {}: {}", number(signal.at), signal.rule.words()))
            .collect(),
    })
}

pub(crate) fn thousandth(number: f64) -> f64 {
    (number * 1e3).round() / 1e3
}

/// A millionth: what a script compares, without the last bits.
fn fine(number: f64) -> f64 {
    (number * 1e6).round() / 1e6
}
