//! Facts as the values that a template reads.
//!
//! Every text passes through [`crate::text`]; lengths of fixed boxes are given
//! here, in characters, beside the fact they belong to.

use drawing::{Drawing, PieceBar, ReelBar, RopeEnd, Ruler, Stretch, StripLayout};
use typst::foundations::{Array, Dict, IntoValue, Value, dict};

use crate::code::code;
use crate::facts::*;
use crate::pictures::Pictures;
use crate::text::{boxed, drawn, drawn_number, foot, number, wrapping};
use crate::{SheetError, layout};

/// Characters of a name in a table.
const NAME: usize = 60;

pub(crate) fn array<T>(items: &[T], value: impl FnMut(&T) -> Value) -> Value {
    Value::Array(items.iter().map(value).collect::<Array>())
}

fn try_array<T>(items: &[T], value: impl FnMut(&T) -> Result<Value, SheetError>) -> Result<Value, SheetError> {
    Ok(Value::Array(items.iter().map(value).collect::<Result<Array, SheetError>>()?))
}

fn text(value: String) -> Value {
    value.into_value()
}

pub(crate) fn day(day: Day) -> Value {
    dict! { "year" => i64::from(day.year), "month" => i64::from(day.month), "day" => i64::from(day.day) }.into_value()
}

pub(crate) fn paper(paper: Paper) -> Value {
    let (width, height) = paper.size_mm();
    dict! { "width" => width, "height" => height, "margin" => layout::MARGIN_MM }.into_value()
}

/// The space for the check bar.
pub(crate) fn check_bar(pictures: &mut Pictures) -> Value {
    space(pictures, layout::check_bar())
}

/// The space for a drawing, and the sentences that belong beside it.
fn space(pictures: &mut Pictures, drawing: Drawing) -> Value {
    let label = pictures.keep(drawing.clone());
    labelled(label, &drawing)
}

fn labelled(label: String, drawing: &Drawing) -> Value {
    dict! {
        "width" => drawing.width_mm,
        "height" => drawing.height_mm,
        "notes" => drawing.notes.join(" · "),
        "alt" => drawing.alt.clone(),
        "label" => label,
    }
    .into_value()
}

pub(crate) fn finding(finding: &FindingLine) -> Value {
    dict! {
        "grade" => grade(finding.grade),
        "text" => wrapping(&finding.text),
        "remedy" => finding.remedy.as_deref().map(wrapping).unwrap_or_default(),
        "weak_point" => finding.weak_point.as_deref().map(|point| boxed(point, NAME)).unwrap_or_default(),
        "never" => finding.overrule == Overrule::Never,
    }
    .into_value()
}

/// A finding on a refusal, whose words must leave room for the others: the
/// record has them whole.
fn short_finding(one: &FindingLine) -> Value {
    let short = |text: &str, most: usize| {
        let kept: String = text.chars().take(most).collect();
        if kept.len() < text.len() { format!("{}…", kept.trim_end()) } else { kept }
    };
    let remedy = one.remedy.as_deref().map(|remedy| short(remedy, 200));
    finding(&FindingLine { text: short(&one.text, 300), remedy, ..one.clone() })
}

fn grade(grade: Grade) -> &'static str {
    match grade {
        Grade::Note => "note",
        Grade::Caution => "caution",
        Grade::Stop => "stop",
    }
}

pub(crate) fn headline(headline: &Headline) -> Value {
    dict! { "name" => boxed(&headline.name, NAME), "value" => number(&headline.value) }.into_value()
}

/// A card with everything the template prints.
pub(crate) fn card(card: &BenchCard, paper: Paper, pictures: &mut Pictures) -> Result<Value, SheetError> {
    if card.code.is_empty() || card.code.len() > 1000 {
        return Err(SheetError::CodeTooLong { bytes: card.code.len() });
    }
    let refused = card.refused();
    let code = code(&card.code)?;
    let ends = if refused {
        Value::Array(Array::new())
    } else {
        try_array(&card.ends, |end| end_card((card, end), paper, pictures))?
    };
    let mut findings = card.findings.clone();
    findings.sort_by_key(|finding| std::cmp::Reverse(finding.grade));
    let value = dict! {
        "refused" => refused,
        "foot" => foot(&format!("{} · {}", card.piece, card.line)),
        "order" => boxed(&card.order, 40),
        "boat" => boxed(&card.boat, 40),
        "customer" => boxed(&card.customer, 40),
        "line" => boxed(&card.line, 52),
        "piece" => boxed(&card.piece, 16),
        "rope" => boxed(&card.rope, 90),
        "cut_length" => number(&card.cut_length),
        "finished_length" => number(&card.finished_length),
        "reference_tension" => number(&card.reference_tension),
        "ends" => ends,
        "findings" => array(&findings, if refused { short_finding } else { finding }),
        "cautions" => array(&card.cautions, |caution| text(wrapping(caution))),
        "as_made" => array(&card.as_made, |one| dict! {
            "name" => boxed(&one.name, 40), "wanted" => boxed(&one.wanted, 40),
        }.into_value()),
        "weak_points" => array(&card.weak_points, |row| dict! {
            "place" => boxed(&row.place, NAME),
            "strength" => number(&row.strength),
            "basis" => boxed(&row.basis, 140),
            "lowest" => row.lowest,
        }.into_value()),
        "working" => array(&card.working, |row| dict! {
            "what" => wrapping(&row.what),
            "formula" => wrapping(&row.formula),
            "result" => boxed(&row.result, 40),
            "source" => wrapping(&row.source),
        }.into_value()),
        "override" => card.override_record.as_ref().map_or(Value::None, |record| dict! {
            "name" => boxed(&record.name, NAME),
            "date" => number(&record.date),
            "reason" => wrapping(&record.reason),
        }.into_value()),
        "code" => labelled(pictures.keep_code(code.clone()), &code),
        "day" => day(card.day),
    };
    Ok(value.into_value())
}

fn end_card((card, end): (&BenchCard, &EndCard), paper: Paper, pictures: &mut Pictures) -> Result<Value, SheetError> {
    let rope = printable_end(&end.layout);
    let (wide, half) = layout::drawing_widths(paper);
    let laid_out = drawing::laid_out(&rope, wide)?;
    let finished = drawing::finished(&rope, half)?;
    let taper = drawing::taper(&rope, half)?;
    let strip = strip(&strip_title(card, end), (&rope, card.ruler), paper, pictures)?;
    let mut marks = rope.marks.clone();
    marks.sort_by_key(|mark| mark.number);
    let value = dict! {
        "name" => boxed(&end.name, NAME),
        "kind" => boxed(&end.kind, 90),
        "headlines" => array(&end.headlines, headline),
        "marks" => array(&marks, |mark| dict! {
            "number" => i64::from(mark.number),
            "name" => boxed(&mark.name, NAME),
            "at" => number(&mark.at_text),
            "shape" => space(pictures, drawing::mark_shape(mark.shape)),
        }.into_value()),
        "laid_out" => space(pictures, laid_out),
        "finished" => space(pictures, finished),
        "taper_picture" => taper.map_or(Value::None, |taper| space(pictures, taper)),
        "taper" => array(&end.taper, |row| dict! {
            "at" => number(&row.at),
            "pick" => boxed(&row.pick, 12),
            "taken_out" => boxed(&row.taken_out, NAME),
            "strands_left" => boxed(&row.strands_left, 12),
        }.into_value()),
        "steps" => array(&end.steps, |step| text(wrapping(step))),
        "tools" => array(&end.tools, |tool| text(wrapping(tool))),
        "time" => number(&end.time),
        "strip" => strip,
    };
    Ok(value.into_value())
}

fn strip_title(card: &BenchCard, end: &EndCard) -> String {
    drawn(&format!("{} {}, {}", card.piece, card.line, end.name), 48)
}

/// The strip's tiles, or nothing for an end without marks.
fn strip(
    title: &str,
    (rope, ruler): (&RopeEnd, Ruler),
    paper: Paper,
    pictures: &mut Pictures,
) -> Result<Value, SheetError> {
    if rope.marks.iter().all(|mark| mark.from_bitter_end_mm <= 0.0) {
        return Ok(Value::None);
    }
    let layout = StripLayout { ruler, ..StripLayout::for_width(title, layout::tile_width(paper)) };
    let strip = drawing::marking_strip(rope, &layout)?;
    Ok(dict! {
        "title" => title,
        "sum" => strip.sum_check(),
        "tiles" => array(&strip.tiles, |tile| space(pictures, tile.drawing.clone())),
    }
    .into_value())
}

/// The same end with its texts fit for a drawing.
fn printable_end(end: &RopeEnd) -> RopeEnd {
    let stretches = |stretches: &[Stretch]| {
        stretches.iter().map(|one| Stretch { label: drawn(&one.label, 40), ..one.clone() }).collect()
    };
    let mut end = RopeEnd { stretches: stretches(&end.stretches), made_up: stretches(&end.made_up), ..end.clone() };
    for mark in &mut end.marks {
        mark.name = drawn(&mark.name, NAME);
        mark.at_text = drawn_number(&mark.at_text);
    }
    for step in end.taper.iter_mut().flat_map(|taper| &mut taper.steps) {
        step.at_text = drawn_number(&step.at_text);
    }
    end
}

/// A cut plan.
pub(crate) fn plan(plan: &CutPlanSheet, paper_size: Paper, pictures: &mut Pictures) -> Result<Dict, SheetError> {
    let width = layout::drawing_widths(paper_size).0;
    let ropes = try_array(&plan.ropes, |group| {
        let reels: Vec<ReelBar> = group.reels.iter().map(printable_reel).collect();
        // A few reels to a picture, so that a page may turn between them; the
        // scale stays that of the longest reel of the group.
        let longest = reels.iter().map(|reel| reel.length_mm).fold(0.0, f64::max);
        let pictures = try_array(&layout::pictures_of(&reels), |reels| {
            Ok(space(pictures, drawing::cut_bars(reels, longest, width)?))
        })?;
        Ok(dict! { "rope" => boxed(&group.rope, 90), "pictures" => pictures }.into_value())
    })?;
    Ok(dict! {
        "paper" => paper(paper_size),
        "bar" => check_bar(pictures),
        "title" => boxed(&plan.title, NAME),
        "foot" => foot(&plan.title),
        "verdict" => wrapping(&plan.verdict),
        "headlines" => array(&plan.headlines, headline),
        "ropes" => ropes,
        "rows" => array(&plan.rows, |row| dict! {
            "number" => i64::from(row.number),
            "piece" => boxed(&row.piece, NAME),
            "boat" => boxed(&row.boat, 40),
            "reel" => boxed(&row.reel, 40),
            "length" => number(&row.length),
            "running" => number(&row.running),
        }.into_value()),
        "findings" => array(&plan.findings, finding),
        "day" => day(plan.day),
    })
}

fn printable_reel(reel: &ReelBar) -> ReelBar {
    let pieces = reel
        .pieces
        .iter()
        .map(|piece| PieceBar {
            name: drawn(&piece.name, NAME),
            running_text: drawn_number(&piece.running_text),
            ..piece.clone()
        })
        .collect();
    ReelBar { name: drawn(&reel.name, 100), rest_text: drawn(&reel.rest_text, 40), pieces, ..reel.clone() }
}

/// A line table.
pub(crate) fn lines(table: &LineTable, paper_size: Paper, pictures: &mut Pictures) -> Dict {
    dict! {
        "paper" => paper(paper_size),
        "bar" => check_bar(pictures),
        "title" => boxed(&table.title, NAME),
        "foot" => foot(&table.title),
        "subtitle" => boxed(&table.subtitle, 100),
        "rows" => array(&table.rows, |row| dict! {
            "line" => boxed(&row.line, NAME),
            "load" => boxed(&row.load, 40),
            "rope" => boxed(&row.rope, NAME),
            "ends" => boxed(&row.ends, 80),
            "finished_length" => number(&row.finished_length),
            "cut_length" => number(&row.cut_length),
            "finding" => row.finding.as_ref().map_or(Value::None, |(how, words)| dict! {
                "grade" => grade(*how), "words" => boxed(words, 80),
            }.into_value()),
        }.into_value()),
        "notes" => array(&table.notes, |note| text(wrapping(note))),
        "day" => day(table.day),
    }
}
