//! Tests, load curves and certificates on paper.
//!
//! They say what the answers say, in the form that all papers of words and
//! tables share; nothing is worked out here. What gets no certificate never
//! comes so far: it has no answer to print.

use super::certificate::CertificateAnswer;
use super::curve::{CurveAnswer, CurveRequest, answer as curve_answer, curve_of_file};
use super::log::{ProofAnswer, SpliceProof, TestAnswer};
use super::plots::{curve_plot, tests_plot};
use crate::paper_to::PaperTo;
use crate::problem::{Mistake, Problem};
use crate::wire::FindingAnswer;
use sheets::{Block, Column, Document, Headline, Lies, Table};

/// Writes the tests of a log, each rope and kind of splice with its plot.
///
/// # Errors
/// When a page cannot be set or the file cannot be written.
pub fn tests_paper(answer: &ProofAnswer, to: &PaperTo) -> Result<(), Problem> {
    let mut document = to.document("log of tests", "proof and break tests")?;
    for splice in &answer.splices {
        document.blocks.push(Block::Heading(format!("{} in {}", splice.end_name, splice.rope)));
        document.blocks.extend(splice_blocks(splice, to)?);
    }
    refused(&answer.refused, &mut document);
    cautions(&answer.cautions, &mut document);
    to.write(&document)
}

fn splice_blocks(splice: &SpliceProof, to: &PaperTo) -> Result<Vec<Block>, Problem> {
    let picture = tests_plot(splice, to.width_mm(Lies::Upright))?;
    let mut blocks = vec![
        Block::Text(splice.rule.clone()),
        Block::Picture("Each test in the order of the log, with its limits".to_owned(), picture),
        Block::Table(tests_table(&splice.tests)),
    ];
    if let Some(found) = &splice.statistics {
        let share = |share: f64| format!("{:.1} %", share * 100.0);
        let row = |what: &str, value: String| vec![what.to_owned(), value];
        blocks.push(Block::Table(Table {
            columns: vec![Column::words("of the breaks at the splice", 3), Column::words("", 5)],
            rows: vec![
                row("breaks, held at least", format!("{}, {}", splice.breaks, splice.held)),
                row("mean", share(found.mean)),
                row("standard deviation", share(found.deviation)),
                row("normal limit", format!("{}, k {:.3}", share(found.normal_limit), found.factor)),
                row("Weibull limit", format!("{}, shape {:.1}", share(found.weibull_limit), found.weibull_shape)),
                row("limit taken", found.taken.to_owned()),
                row("control chart", format!("{} to {}", share(found.chart[0]), share(found.chart[2]))),
            ],
        }));
    }
    blocks.push(Block::Findings(splice.findings.iter().map(FindingAnswer::line).collect()));
    Ok(blocks)
}

fn tests_table(tests: &[TestAnswer]) -> Table {
    Table {
        columns: vec![
            Column::words("test", 2),
            Column::words("piece", 2),
            Column::words("date", 2),
            Column::result("load"),
            Column::numbers("share"),
            Column::words("ended", 5),
            Column::words("counts", 2),
        ],
        rows: tests
            .iter()
            .map(|test| {
                vec![
                    test.number.clone(),
                    test.piece.clone().unwrap_or_default(),
                    test.date.clone().unwrap_or_default(),
                    test.load.text.clone(),
                    format!("{:.1} %", test.share * 100.0),
                    test.ended.to_owned(),
                    test.counts.to_owned(),
                ]
            })
            .collect(),
    }
}

/// A load curve from a file, drawn: SVG where the name ends in `.svg`, else a
/// page.
///
/// # Errors
/// As [`curve`](crate::curve), and when it cannot be drawn or written.
pub fn curve_paper(request: &CurveRequest, to: &PaperTo) -> Result<CurveAnswer, Problem> {
    let (curve, problems) = curve_of_file(&request.curve)?;
    let answer = curve_answer(&curve, problems, request.units)?;
    let picture = curve_plot(&curve, request.units, to.width_mm(Lies::Upright))?;
    if to.is_svg() {
        to.save(picture.svg().as_bytes())?;
        return Ok(answer);
    }
    let mut document = to.document("load curve", &request.curve.to_string())?;
    document.headlines = vec![headline("highest load", &answer.peak.text), headline("held", &answer.held.text)];
    let readings = format!("{} readings; of each fifth of a millimetre the lowest and the highest", answer.readings);
    document.blocks.push(Block::Picture(readings, picture));
    let mut rows = vec![
        vec!["highest load".to_owned(), format!("{} after {}", answer.peak.text, answer.peak_at.text)],
        vec!["broke".to_owned(), if answer.broke { "yes" } else { "no" }.to_owned()],
    ];
    rows.extend(answer.extension.as_ref().map(|there| vec!["extension there".to_owned(), there.text.clone()]));
    document.blocks.push(Block::Table(facts_table(rows)));
    refused(&answer.refused, &mut document);
    cautions(&answer.cautions, &mut document);
    to.write(&document)?;
    Ok(answer)
}

/// Writes a certificate of what was made and tested.
///
/// # Errors
/// When the page cannot be set or the file cannot be written.
pub fn certificate_paper(answer: &CertificateAnswer, to: &PaperTo) -> Result<(), Problem> {
    let mut document = to.document("certificate of what was made and tested", &answer.code)?;
    document.subtitle = format!("{}, {}", answer.boat, answer.line);
    document.code = Some(answer.code.clone());
    let proof = &answer.proof;
    document.headlines = vec![headline("proof load held", &proof.load.text), headline("given on", &answer.given_on)];
    let strength = answer.strength.as_ref().map_or("not assessed", |strength| &strength.text);
    let row = |what: &str, value: &str| vec![what.to_owned(), value.to_owned()];
    document.blocks.push(Block::Table(facts_table(vec![
        row("piece", &answer.code),
        row("boat", &answer.boat),
        row("line", &answer.line),
        row("rope", &answer.rope),
        row("made", answer.made_on.as_deref().unwrap_or("not entered")),
        row("estimated strength", strength),
        row("proof test", &format!("{}, {}", proof.number, proof.date.as_deref().unwrap_or("no date"))),
        row("proof load", &format!("{}, {}", proof.load.text, proof.ended)),
        row("method", &answer.method),
        row("machine and load cell", &answer.load_cell),
        row("tested by", &answer.tested_by),
    ])));
    if !answer.other_tests.is_empty() {
        document.blocks.push(Block::Heading("Other tests of this piece".to_owned()));
        document.blocks.push(Block::Table(tests_table(&answer.other_tests)));
    }
    document.blocks.extend(answer.statements.iter().map(|line| Block::Text((*line).to_owned())));
    let empty = |name: &str| sheets::AsMadeBox { name: name.to_owned(), wanted: String::new() };
    document.blocks.push(Block::Boxes(["for the loft", "name", "date"].map(empty).to_vec()));
    to.write(&document)
}

fn headline(name: &str, value: &str) -> Headline {
    Headline { name: name.to_owned(), value: value.to_owned() }
}

fn facts_table(rows: Vec<Vec<String>>) -> Table {
    Table { columns: vec![Column::words("what", 3), Column::words("", 7)], rows }
}

fn refused(mistakes: &[Mistake], document: &mut Document) {
    if !mistakes.is_empty() {
        document.blocks.push(Block::Heading("Refused, and the rest used".to_owned()));
        document.blocks.extend(mistakes.iter().map(|mistake| Block::Text(mistake.to_string())));
    }
}

fn cautions(all: &[&'static str], document: &mut Document) {
    document.blocks.push(Block::Heading("Cautions".to_owned()));
    document.blocks.extend(all.iter().map(|caution| Block::Text((*caution).to_owned())));
}
