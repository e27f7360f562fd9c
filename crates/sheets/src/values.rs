//! Facts as the values that a template reads.
//!
//! Every text passes through [`crate::text`]; lengths of fixed boxes are given
//! here, in characters, beside the fact they belong to.

use drawing::{Drawing, Look, Mark, On, Phase, PieceBar, ReelBar, RopeEnd, Stretch, StripLayout};
use typst::foundations::{Array, Dict, IntoValue, Value, dict};

use crate::code::code;
use crate::facts::*;
use crate::pictures::Pictures;
use crate::text::{boxed, drawn, drawn_number, foot, lines_taken, number, wrapping};
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
    dict! {
        "width" => width, "height" => height, "margin" => layout::margin(paper), "roll" => paper == Paper::Roll,
    }
    .into_value()
}

/// The space for the check bar, with its words.
pub(crate) fn check_bar(paper: Paper, pictures: &mut Pictures) -> Value {
    let bar = layout::check_bar(paper);
    let label = pictures.keep(bar.clone());
    dict! {
        "width" => bar.width_mm,
        "height" => bar.height_mm,
        "label" => label,
        "words" => format!("{} mm · print at 100 %", layout::check_bar_mm(paper)),
    }
    .into_value()
}

/// The space for a drawing, and the sentences that belong beside it.
pub(crate) fn space(pictures: &mut Pictures, drawing: Drawing) -> Value {
    let label = pictures.keep(drawing.clone());
    labelled(label, &drawing)
}

/// The space for a code, refused if its text is empty or too long.
pub(crate) fn code_space(text: &str, pictures: &mut Pictures) -> Result<Value, SheetError> {
    if text.is_empty() || text.len() > 1000 {
        return Err(SheetError::CodeTooLong { bytes: text.len() });
    }
    let code = code(text)?;
    Ok(labelled(pictures.keep(code.clone()), &code))
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

/// How close the lines of a card are set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Set {
    /// With room between them.
    Airy,
    /// Close, for a card that would not stay on its page otherwise.
    Tight,
}

/// A card with everything the template prints.
pub(crate) fn card(card: &BenchCard, (paper, set): (Paper, Set), pictures: &mut Pictures) -> Result<Value, SheetError> {
    let refused = card.refused();
    let code = code_space(&card.code, pictures)?;
    let ends = if refused {
        Value::Array(Array::new())
    } else {
        try_array(&card.ends, |end| end_card((card, end), (paper, set), pictures))?
    };
    let mut findings = card.findings.clone();
    findings.sort_by_key(|finding| std::cmp::Reverse(finding.grade));
    let value = dict! {
        "refused" => refused,
        "narrow" => paper == Paper::Roll,
        "tight" => set == Set::Tight,
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
            "name" => boxed(&one.name, 28), "wanted" => boxed(&one.wanted, 28),
        }.into_value()),
        "weak_points" => array(&card.weak_points, |row| dict! {
            "place" => boxed(&row.place, NAME),
            "strength" => number(&row.strength),
            "basis" => boxed(&row.basis, 140),
            "lowest" => row.lowest,
        }.into_value()),
        "not_assessed" => not_assessed(card),
        "rests_on" => array(&card.rests_on, |one| text(boxed(one, 300))),
        "override" => card.override_record.as_ref().map_or(Value::None, |record| dict! {
            "name" => boxed(&record.name, NAME),
            "date" => number(&record.date),
            "reason" => wrapping(&record.reason),
        }.into_value()),
        "code" => code,
        "day" => day(card.day),
    };
    Ok(value.into_value())
}

/// Places that nobody has assessed, without the strength of the others.
fn not_assessed(card: &BenchCard) -> Value {
    let rows: Vec<&WeakPointRow> = card.weak_points.iter().filter(|row| row.strength == "not assessed").collect();
    array(&rows, |row| text(boxed(&row.place, NAME)))
}

/// An end with few marks and few steps needs no drawing of its marks.
fn compact(end: &EndCard) -> bool {
    end.layout.marks.len() <= 4 && end.steps.len() <= 5 && end.layout.extent_mm() <= 200.0 && end.layout.taper.is_none()
}

/// Which steps and whether the tools stand in the first column of an end, so
/// that both are about as long: the first has the table of marks on top, the
/// second `drawn_mm` of drawings. Gives the first step of the second column.
fn turn(end: &EndCard, (marks, drawn_mm, column_mm): (&[Mark], f64, f64)) -> (usize, bool) {
    // A line of text, set close.
    const LINE_MM: f64 = 3.3;
    let steps: Vec<f64> =
        end.steps.iter().map(|step| lines_taken(step, column_mm - 8.4) as f64 * LINE_MM + 0.3).collect();
    let tools = lines_taken(&format!("Tools: {}", end.tools.join(" · ")), column_mm) as f64 * LINE_MM + 1.2;
    let rows: f64 = marks.iter().map(|mark| if mark.name.chars().count() > 22 { 6.4 } else { 4.65 }).sum();
    let table = if marks.is_empty() { 0.0 } else { rows + 4.0 };
    let all: f64 = steps.iter().sum();
    let mut best = (f64::INFINITY, (0, false));
    for tools_first in [false, true] {
        let (mut left, mut right) = (table, drawn_mm + all);
        *(if tools_first { &mut left } else { &mut right }) += tools;
        for index in 0..=steps.len() {
            if left.max(right) < best.0 {
                best = (left.max(right), (index, tools_first));
            }
            let step = steps.get(index).copied().unwrap_or_default();
            left += step;
            right -= step;
        }
    }
    best.1
}

fn end_card(
    (card, end): (&BenchCard, &EndCard),
    (paper, set): (Paper, Set),
    pictures: &mut Pictures,
) -> Result<Value, SheetError> {
    let rope = printable_end(&end.layout);
    let (wide, half) = layout::drawing_widths(paper);
    let compact = compact(end);
    let laid_out = drawing::laid_out(&rope, wide)?;
    let finished = drawing::finished(&rope, half)?;
    let taper = drawing::taper(&rope, half)?;
    let phased: usize = end.phases.iter().map(|phase| phase.steps).sum();
    let time_line = if phased > 0 && phased == end.steps.len() {
        space(pictures, drawing::time_line(&printable_phases(&end.phases), wide)?)
    } else {
        Value::None
    };
    let mut marks = rope.marks.clone();
    marks.sort_by_key(|mark| mark.number);
    let parted = marks.iter().any(|mark| mark.on != On::Rope);
    // Each drawing has a line of words over it.
    let drawn_mm = [&finished].into_iter().chain(&taper).map(|one| one.height_mm + 4.8).sum();
    let (turn, tools_first) = turn(end, (&marks, drawn_mm, half));
    let value = dict! {
        "name" => boxed(&end.name, NAME),
        "kind" => boxed(&end.kind, 90),
        "compact" => compact,
        "tight" => set == Set::Tight,
        "headlines" => array(&end.headlines, headline),
        "marks" => array(&marks, |mark| dict! {
            "number" => i64::from(mark.number),
            "name" => boxed(&mark.name, NAME),
            "on" => if parted { made_on(mark.on) } else { "" },
            "at" => number(&mark.at_text),
            "shape" => space(pictures, drawing::mark_shape(mark.shape)),
        }.into_value()),
        "laid_out" => space(pictures, laid_out),
        "finished" => space(pictures, finished),
        "taper_picture" => taper.map_or(Value::None, |taper| space(pictures, taper)),
        "time_line" => time_line,
        "before" => array(&end.before, |one| text(wrapping(one))),
        "steps" => array(&end.steps, |step| text(wrapping(step))),
        "column" => half,
        "turn" => turn as i64,
        "tools_first" => tools_first,
        "tools" => array(&end.tools, |tool| text(wrapping(tool))),
        "time" => number(&end.time),
        "strips" => strips((card, end), &rope, paper, pictures)?,
    };
    Ok(value.into_value())
}

/// What a mark is made on.
fn made_on(on: On) -> &'static str {
    match on {
        On::Rope => "rope",
        On::Core => "core",
        On::Cover => "cover",
    }
}

fn printable_phases(phases: &[Phase]) -> Vec<Phase> {
    phases.iter().map(|phase| Phase { name: drawn(&phase.name, 40), steps: phase.steps }).collect()
}

/// The strips of an end: one for marks on the core, one for all others, each
/// laid along what it marks. An end without marks has none.
fn strips(
    (card, end): (&BenchCard, &EndCard),
    rope: &RopeEnd,
    paper: Paper,
    pictures: &mut Pictures,
) -> Result<Value, SheetError> {
    let on_core = |mark: &&Mark| mark.on == On::Core;
    let parted = rope.marks.iter().any(|mark| on_core(&mark)) && rope.marks.iter().any(|mark| !on_core(&mark));
    let mut strips = Vec::new();
    for core in [false, true] {
        let marks: Vec<Mark> = rope.marks.iter().filter(|mark| on_core(mark) == core).cloned().collect();
        let length = marks.iter().map(|mark| mark.from_bitter_end_mm).fold(0.0, f64::max);
        // A few marks close to the end are set out with a rule.
        if length <= 0.0 || (compact(end) && length < 100.0) {
            continue;
        }
        let part = match (parted, core) {
            (false, _) => "",
            (true, true) => " · core",
            (true, false) if marks.iter().any(|mark| mark.on == On::Cover) => " · cover",
            (true, false) => " · rope",
        };
        let title = format!("{}{part}", drawn(&format!("{} {}, {}", card.piece, card.line, end.name), 48));
        let look = if core && parted { Look::Braid } else { rope.look };
        let marked = RopeEnd { marks, look, ..rope.clone() };
        let layout = StripLayout {
            ruler: card.ruler,
            ..StripLayout::for_width(title.clone(), layout::tile_width(paper, length))
        };
        let strip = drawing::marking_strip(&marked, &layout)?;
        strips.push(
            dict! {
                "title" => title,
                "sum" => strip.sum_check(),
                "tiles" => array(&strip.tiles, |tile| space(pictures, tile.drawing.clone())),
            }
            .into_value(),
        );
    }
    Ok(Value::Array(strips.into_iter().collect()))
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
        step.words = drawn(&step.words, NAME);
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
        "bar" => check_bar(paper_size, pictures),
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
        "bar" => check_bar(paper_size, pictures),
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
