//! `becket proof`: the log of tests, proof plans, load curves, what is learnt.

use crate::own::OwnAsk;
use crate::paper::PaperAsk;
use crate::show::{finding_list, working_text};
use crate::tables::{fit, rows, wrapped};
use clap::{Args, Subcommand};
use desk::{
    CurveAnswer, CurveRequest, LearnedAnswer, LearnedRequest, PlanAnswer, PlanRequest, Problem, ProofAnswer,
    ProofRequest, SpliceProof, System,
};
use std::fmt::Write;
use std::path::PathBuf;

/// Proof and break tests.
#[derive(Debug, Args)]
pub struct ProofAsk {
    #[command(subcommand)]
    what: ProofWhat,
}

#[derive(Debug, Subcommand)]
enum ProofWhat {
    /// What the log of tests says, by rope and kind of splice.
    Tests(TestsAsk),
    /// A proof plan for each line of an order.
    Plan(PlanAsk),
    /// What a load curve comes to.
    Curve(CurveAsk),
    /// Defaults beside what the loft has measured, and what that changes.
    Learned(LearnedAsk),
    /// What a certificate of a piece would say; refused where none is given.
    #[cfg(feature = "pages")]
    Certificate(CertificateAsk),
    /// Enter a log of tests into the store, and say what that moves.
    #[cfg(feature = "pages")]
    Enter(EnterAsk),
}

#[cfg(feature = "pages")]
#[derive(Debug, Args)]
struct CertificateAsk {
    /// The code on its label.
    code: String,
    /// The store: a file, or a postgres:// address.
    #[arg(long)]
    store: String,
    /// The loft's rope list (CSV).
    #[arg(long)]
    ropes: Option<PathBuf>,
    #[command(flatten)]
    paper: PaperAsk,
}

#[cfg(feature = "pages")]
#[derive(Debug, Args)]
struct EnterAsk {
    /// The log of tests (CSV), one row or many; a pull-out test has a bury.
    tests: PathBuf,
    /// The store: a file, or a postgres:// address.
    #[arg(long)]
    store: String,
    /// Who enters them.
    #[arg(long)]
    who: String,
    /// Machine and load cell, and the day of its calibration.
    #[arg(long, default_value = "")]
    machine: String,
    /// How they were pulled: rate, pins, cycles.
    #[arg(long, default_value = "")]
    method: String,
    /// The loft's rope list (CSV).
    #[arg(long)]
    ropes: Option<PathBuf>,
}

#[derive(Debug, Args)]
struct TestsAsk {
    /// The log of tests (CSV: test,rope,end,load,broke,strength …).
    #[cfg_attr(feature = "pages", arg(required_unless_present = "store"))]
    tests: Option<PathBuf>,
    /// The store instead of a file: a file, or a postgres:// address.
    #[cfg(feature = "pages")]
    #[arg(long, conflicts_with = "tests")]
    store: Option<String>,
    /// The loft's rope list (CSV), for listed strengths and defaults.
    #[arg(long)]
    ropes: Option<PathBuf>,
    /// Tests of this rope only.
    #[arg(long)]
    rope: Option<String>,
    /// Tests of this kind of end only.
    #[arg(long)]
    end: Option<String>,
    #[command(flatten)]
    paper: PaperAsk,
    /// The day the paper bears; that of the last test if left out.
    #[arg(long)]
    on: Option<String>,
    /// Show how every number came about.
    #[arg(long)]
    working: bool,
}

#[derive(Debug, Args)]
struct PlanAsk {
    /// The order file (TOML).
    order: PathBuf,
    /// The loft's rope list (CSV); ropes.csv beside the order if there is one.
    #[arg(long)]
    ropes: Option<PathBuf>,
    #[command(flatten)]
    own: OwnAsk,
    /// One line only.
    #[arg(long)]
    line: Option<String>,
    /// "40 %" of the estimated strength, "1.5 x" the working load, or "12 kN".
    #[arg(long)]
    load: String,
    /// How long it is held: "2 min".
    #[arg(long)]
    hold: Option<String>,
    /// How often it is pulled.
    #[arg(long, default_value_t = 1)]
    cycles: u32,
    /// Show how every number came about.
    #[arg(long)]
    working: bool,
}

#[derive(Debug, Args)]
struct CurveAsk {
    /// The logger's file (CSV: `time [s],load [kN],extension [mm]`).
    curve: PathBuf,
    #[command(flatten)]
    paper: PaperAsk,
    /// The day of the test, which the paper bears. `--out NAME.svg` draws the
    /// curve alone.
    #[arg(long)]
    on: Option<String>,
}

#[derive(Debug, Args)]
struct LearnedAsk {
    /// The log of tests (CSV); pull-out tests have a bury.
    #[arg(long)]
    tests: Option<PathBuf>,
    /// The store instead of files: a file, or a postgres:// address.
    #[cfg(feature = "pages")]
    #[arg(long, conflicts_with_all = ["tests", "measures"])]
    store: Option<String>,
    /// Measured figures (CSV: what,end,rope,value).
    #[arg(long)]
    measures: Option<PathBuf>,
    /// The loft's rope list (CSV).
    #[arg(long)]
    ropes: Option<PathBuf>,
    /// Show how every number came about.
    #[arg(long)]
    working: bool,
}

/// Does it; gives whether a stop stands against it.
pub fn run(ask: ProofAsk, json: bool, units: Option<System>) -> Result<bool, Problem> {
    match ask.what {
        ProofWhat::Tests(ask) => {
            let answer = tests_of(&ask, units.unwrap_or_default())?;
            let dates = answer.splices.iter().flat_map(|splice| &splice.tests).filter_map(|test| test.date.as_ref());
            let day = ask.on.clone().or_else(|| dates.max().cloned()).unwrap_or_default();
            ask.paper.write(&day, |to| desk::tests_paper(&answer, to))?;
            crate::write(json, &answer, || tests_text(&answer, ask.working))?;
            Ok(false)
        }
        ProofWhat::Plan(ask) => {
            let answers = desk::proof_plans(&PlanRequest {
                order: ask.order.into(),
                ropes: ask.ropes.map(Into::into),
                own: ask.own.source()?,
                line: ask.line,
                load: ask.load,
                hold: ask.hold,
                cycles: ask.cycles,
                units,
            })?;
            crate::write(json, &answers, || plans_text(&answers, ask.working))?;
            Ok(answers.iter().any(PlanAnswer::has_stop))
        }
        ProofWhat::Curve(ask) => {
            let request = CurveRequest { curve: ask.curve.into(), units: units.unwrap_or_default() };
            let answer = match ask.paper.to(ask.on.as_deref().unwrap_or_default()) {
                Some(to) => {
                    let answer = desk::curve_paper(&request, &to)?;
                    crate::say(&format!("written: {}", to.path.display()));
                    answer
                }
                None => desk::curve(&request)?,
            };
            crate::write(json, &answer, || curve_text(&answer))?;
            Ok(false)
        }
        ProofWhat::Learned(ask) => {
            let answer = learned_of(&ask, units.unwrap_or_default())?;
            crate::write(json, &answer, || learned_text(&answer, ask.working))?;
            Ok(false)
        }
        #[cfg(feature = "pages")]
        ProofWhat::Certificate(ask) => {
            let paper = ask.paper.clone();
            let answer = certificate_of(ask, units.unwrap_or_default())?;
            paper.write(&answer.given_on, |to| desk::certificate_paper(&answer, to))?;
            crate::write(json, &answer, || certificate_text(&answer))?;
            Ok(false)
        }
        #[cfg(feature = "pages")]
        ProofWhat::Enter(ask) => {
            let answer = entered(ask, units.unwrap_or_default())?;
            crate::write(json, &answer, || entered_text(&answer))?;
            Ok(!answer.refused.is_empty())
        }
    }
}

fn tests_of(ask: &TestsAsk, units: System) -> Result<ProofAnswer, Problem> {
    #[cfg(feature = "pages")]
    if let Some(store) = &ask.store {
        let request = desk::StoredRequest {
            ropes: ask.ropes.clone().map(Into::into),
            rope: ask.rope.clone(),
            end: ask.end.clone(),
            units,
        };
        return desk::records::wait(async {
            let records = desk::records::Records::open_existing(store).await?;
            desk::stored_proof(&records, &request).await
        })?;
    }
    desk::proof(&ProofRequest {
        tests: ask.tests.clone().unwrap_or_default().into(),
        ropes: ask.ropes.clone().map(Into::into),
        rope: ask.rope.clone(),
        end: ask.end.clone(),
        units,
    })
}

fn learned_of(ask: &LearnedAsk, units: System) -> Result<LearnedAnswer, Problem> {
    #[cfg(feature = "pages")]
    if let Some(store) = &ask.store {
        let request = desk::StoredRequest { ropes: ask.ropes.clone().map(Into::into), units, ..Default::default() };
        return desk::records::wait(async {
            let records = desk::records::Records::open_existing(store).await?;
            desk::stored_learned(&records, &request).await
        })?;
    }
    desk::learned(&LearnedRequest {
        tests: ask.tests.clone().map(Into::into),
        measures: ask.measures.clone().map(Into::into),
        ropes: ask.ropes.clone().map(Into::into),
        units,
    })
}

#[cfg(feature = "pages")]
fn certificate_of(ask: CertificateAsk, units: System) -> Result<desk::CertificateAnswer, Problem> {
    let on = desk::records::stamp("becket")?.day().to_owned();
    let request = desk::CertifyRequest { code: ask.code, on, ropes: ask.ropes.map(Into::into), units };
    desk::records::wait(async {
        let records = desk::records::Records::open_existing(&ask.store).await?;
        desk::certify(&records, &request).await
    })?
}

#[cfg(feature = "pages")]
fn entered(ask: EnterAsk, units: System) -> Result<desk::EnterTestsAnswer, Problem> {
    let stamp = desk::records::stamp(&ask.who)?;
    let request = desk::EnterTestsRequest {
        tests: ask.tests.into(),
        ropes: ask.ropes.map(Into::into),
        machine: ask.machine,
        method: ask.method,
        units,
    };
    desk::records::wait(async {
        let records = desk::records::Records::open_existing(&ask.store).await?;
        let answer = desk::enter_tests(&records, &request, &stamp).await;
        records.close().await;
        answer
    })?
}

#[cfg(feature = "pages")]
fn entered_text(answer: &desk::EnterTestsAnswer) -> String {
    let mut text = format!("{} tests entered\n", answer.entered.len());
    for figure in &answer.moved {
        let of = if figure.rope.is_empty() { String::new() } else { format!(", {}", figure.rope) };
        let line =
            format!("{}{of}: {:.4} before, {:.4} now; {}", figure.what, figure.before, figure.after, figure.rule);
        text.push_str(&wrapped(&line, "  "));
        text.push_str(&wrapped(&format!("  {}", figure.changes), "    "));
    }
    refused_text(&answer.refused, &mut text);
    text
}

#[cfg(feature = "pages")]
fn certificate_text(answer: &desk::CertificateAnswer) -> String {
    let fact = |name: &str, value: &str| vec![name.to_owned(), value.to_owned()];
    let facts = vec![
        fact("piece", &answer.code),
        fact("boat, line", &format!("{}, {}", answer.boat, answer.line)),
        fact("rope", &answer.rope),
        fact("made", answer.made_on.as_deref().unwrap_or("not entered")),
        fact("proof test", &format!("{}, {}, {}", answer.proof.number, answer.proof.load.text, answer.proof.ended)),
        fact("method", &answer.method),
        fact("load cell", &answer.load_cell),
        fact("tested by", &answer.tested_by),
        fact("given on", &answer.given_on),
    ];
    let mut text = rows(&["", ""], facts);
    text.push('\n');
    answer.statements.iter().for_each(|line| text.push_str(&wrapped(line, "  ")));
    cautions_text(&answer.cautions, &mut text);
    text
}

fn share(share: f64) -> String {
    format!("{:.1} %", share * 100.0)
}

fn tests_text(answer: &ProofAnswer, working: bool) -> String {
    let mut text = String::new();
    for splice in &answer.splices {
        splice_text(splice, working, &mut text);
    }
    refused_text(&answer.refused, &mut text);
    cautions_text(&answer.cautions, &mut text);
    text
}

fn splice_text(splice: &SpliceProof, working: bool, text: &mut String) {
    let _ = writeln!(text, "{} in {}", splice.end_name, splice.rope);
    let _ = writeln!(
        text,
        "{} breaks at the splice, {} held at least, {} of used rope, {} left out\n",
        splice.breaks, splice.held, splice.used, splice.left_out
    );
    let table = splice
        .tests
        .iter()
        .map(|test| {
            vec![
                fit(&test.number, 12),
                test.date.clone().unwrap_or_default(),
                test.load.text.clone(),
                share(test.share),
                fit(test.ended, 33),
                test.counts.to_owned(),
            ]
        })
        .collect();
    text.push_str(&rows(&["test", "date", ">load", ">share", "ended", "counts"], table));
    if let Some(found) = &splice.statistics {
        let chance =
            |chance: Option<f64>| chance.map_or_else(|| "not tested".to_owned(), |chance| format!("{chance:.2}"));
        let facts = vec![
            vec![
                "mean".to_owned(),
                format!(
                    "{} ({} to {}, 90 %)",
                    share(found.mean),
                    share(found.mean_interval[0]),
                    share(found.mean_interval[1])
                ),
            ],
            vec!["standard deviation".to_owned(), share(found.deviation)],
            vec![
                "normal limit".to_owned(),
                format!("{} (k {:.3}; fit {})", share(found.normal_limit), found.factor, chance(found.normal_chance)),
            ],
            vec![
                "Weibull limit".to_owned(),
                format!(
                    "{} (shape {:.1}; fit {})",
                    share(found.weibull_limit),
                    found.weibull_shape,
                    chance(found.weibull_chance)
                ),
            ],
            vec![
                "farthest".to_owned(),
                format!(
                    "test {}, {:.2} deviations of {:.2} allowed",
                    found.farthest, found.farthest_by[0], found.farthest_by[1]
                ),
            ],
            vec![
                "control chart".to_owned(),
                format!("{} / {} / {}", share(found.chart[0]), share(found.chart[1]), share(found.chart[2])),
            ],
        ];
        let _ = write!(text, "\n{}", rows(&["", ""], facts));
    }
    let span = |of: &Option<desk::Margin<f64>>| {
        of.as_ref()
            .map_or_else(|| "not known".to_owned(), |of| format!("{} low, {} usual", share(of.low), share(of.usual)))
    };
    let _ = write!(
        text,
        "\n{}",
        rows(
            &["", ""],
            vec![
                vec!["default".to_owned(), span(&splice.default)],
                vec!["own".to_owned(), span(&splice.own)],
                vec!["used".to_owned(), span(&splice.strength)],
            ]
        )
    );
    text.push_str(&wrapped(&splice.rule, "  "));
    text.push_str(&finding_list(&splice.findings));
    if working {
        text.push_str(&working_text(&splice.working));
    }
    text.push('\n');
}

fn plans_text(answers: &[PlanAnswer], working: bool) -> String {
    let table = answers
        .iter()
        .map(|plan| {
            vec![
                fit(&plan.line, 20),
                plan.count.to_string(),
                plan.strength.as_ref().map_or_else(|| "not known".to_owned(), |strength| strength.text.clone()),
                plan.load.as_ref().map_or_else(String::new, |load| load.text.clone()),
                plan.share.map(share).unwrap_or_default(),
                plan.reference.text.clone(),
                plan.findings.first().map_or("pass", |finding| finding.grade).to_owned(),
            ]
        })
        .collect();
    let mut text = rows(&["line", ">pieces", ">strength", ">proof load", ">share", ">measured at", "verdict"], table);
    if let Some(first) = answers.first() {
        let _ = writeln!(text, "\nheld {}, pulled {} times", first.hold.text, first.cycles);
    }
    for plan in answers {
        for finding in &plan.findings {
            text.push_str(&wrapped(&crate::show::finding_text(&format!("{}: ", plan.line), finding), "  "));
        }
        if working {
            let _ = write!(text, "\n{}{}", plan.line, working_text(&plan.working));
        }
    }
    cautions_text(answers.first().map_or(&[], |first| &first.cautions), &mut text);
    text
}

fn curve_text(answer: &CurveAnswer) -> String {
    let mut facts = vec![
        vec!["readings".to_owned(), answer.readings.to_string()],
        vec!["highest load".to_owned(), format!("{} after {}", answer.peak.text, answer.peak_at.text)],
        vec!["held".to_owned(), format!("{} within a twentieth of it", answer.held.text)],
        vec!["broke".to_owned(), if answer.broke { "yes" } else { "no" }.to_owned()],
    ];
    if let Some(extension) = &answer.extension {
        facts.push(vec!["extension there".to_owned(), extension.text.clone()]);
    }
    if let Some(energy) = answer.energy {
        facts.push(vec!["energy put in".to_owned(), format!("{energy:.0} J: what a recoil gives back at most")]);
    }
    let mut text = rows(&["", ""], facts);
    refused_text(&answer.refused, &mut text);
    cautions_text(&answer.cautions, &mut text);
    text
}

fn learned_text(answer: &LearnedAnswer, working: bool) -> String {
    let mut text = String::new();
    let table = answer
        .figures
        .iter()
        .map(|figure| {
            let number = |number: f64| format!("{number:.3}");
            let own = match (figure.own, figure.interval) {
                (Some(own), Some([low, high])) => format!("{} ({} to {})", number(own), number(low), number(high)),
                (Some(own), None) => number(own),
                (None, _) => "none".to_owned(),
            };
            vec![
                figure.what.to_owned(),
                fit(&figure.end, 16),
                figure.count.to_string(),
                number(figure.default),
                own,
                format!("{:.0} %", figure.weight * 100.0),
                number(figure.used),
            ]
        })
        .collect();
    text.push_str(&rows(&["figure", "end", ">n", ">default", ">own, mean (90 %)", ">say", ">used"], table));
    for figure in &answer.figures {
        let of = if figure.rope.is_empty() { String::new() } else { format!(", {}", figure.rope) };
        let _ = write!(text, "\n{}", wrapped(&format!("{}, {}{of}: {}", figure.what, figure.end, figure.rule), "  "));
        text.push_str(&wrapped(&format!("  {}", figure.changes), "    "));
        text.push_str(&finding_list(&figure.findings));
        if working {
            text.push_str(&working_text(&figure.working));
        }
    }
    refused_text(&answer.refused, &mut text);
    text
}

/// Rows that were refused; what was kept is above.
pub fn refused_text(refused: &[desk::Mistake], text: &mut String) {
    if refused.is_empty() {
        return;
    }
    text.push_str("\nrefused, and the rest used\n");
    for mistake in refused {
        let place = mistake.place.as_ref().map_or_else(String::new, |place| format!("{}:{}: ", place.file, place.line));
        let hint = if mistake.hint.is_empty() { String::new() } else { format!("; {}", mistake.hint) };
        text.push_str(&wrapped(&format!("{place}{}{hint}", mistake.message), "  "));
    }
}

/// What is said at every test.
pub fn cautions_text(cautions: &[&str], text: &mut String) {
    text.push_str("\ncautions\n");
    for caution in cautions {
        text.push_str(&wrapped(&format!("- {caution}"), "  "));
    }
}
