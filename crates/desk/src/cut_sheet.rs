//! The cut plan as a sheet: bars to scale, a row for each cut, what is short.

use crate::cut_answer::CutAnswer;
use crate::cut_table::Table;
use crate::wire::Amount;
use cutting::{Becomes, CutReel, Plan};
use drawing::{PieceBar, ReelBar, Rest, RestBar};
use sheets::{CutPlanSheet, CutRow, Day, FindingLine, Grade, Headline, Overrule, RopeReels};
use units::{Millimetres, Value};

/// The plan as a sheet.
pub(crate) fn sheet(table: &Table, plan: &Plan, answer: &CutAnswer) -> CutPlanSheet {
    let show = |length: Millimetres| Value::from(length).show(table.system);
    let mut ropes: Vec<RopeReels> = Vec::new();
    let mut rows = Vec::new();
    let mut number = 0;
    for reel in plan.reels.iter().filter(|reel| !reel.cuts.is_empty()) {
        let mut bars = Vec::new();
        let mut reached = Millimetres::ZERO;
        for cut in &reel.cuts {
            number += 1;
            // Rope left out before a piece, a flaw or an untouched stretch, must be seen.
            let running = match cut.from - reached > table.job.rules.loss_per_cut + table.job.rules.trim {
                true => format!("{}–{}", show(cut.from).trim_end_matches(" mm"), show(cut.to)),
                false => show(cut.to),
            };
            reached = cut.to;
            let name = table.names.get(&cut.piece).cloned().unwrap_or_default();
            bars.push(PieceBar {
                number,
                name: name.clone(),
                from_mm: cut.from.count() as f64,
                length_mm: (cut.to - cut.from).count() as f64,
                running_text: running.clone(),
            });
            rows.push(CutRow {
                number,
                piece: cut.piece.clone(),
                boat: name,
                reel: reel.reel.clone(),
                length: Value::Cut(cut.to - cut.from).show(table.system),
                running,
            });
        }
        let bar = reel_bar(table, reel, bars);
        match ropes.iter_mut().find(|rope| rope.rope == reel.rope) {
            Some(rope) => rope.reels.push(bar),
            None => ropes.push(RopeReels { rope: reel.rope.clone(), reels: vec![bar] }),
        }
    }
    let headline = |name: &str, value: &Amount| Headline { name: name.to_owned(), value: value.text.clone() };
    CutPlanSheet {
        title: table.title.clone(),
        verdict: answer.verdict.clone(),
        headlines: vec![
            headline("spoiled", &answer.waste),
            headline("bound, as many remnants kept", &answer.bound),
            headline("back on the rack", &answer.remnant_length),
        ],
        ropes,
        rows,
        findings: shortages(answer),
        day: table.day.unwrap_or(Day { year: 1970, month: 1, day: 1 }),
    }
}

/// A reel's bar: pieces and everything between them where they lie.
fn reel_bar(table: &Table, reel: &CutReel, pieces: Vec<PieceBar>) -> ReelBar {
    let show = |length: Millimetres| Value::from(length).show(table.system);
    // Each leftover by itself: one may be kept and the next be scrap.
    let rest = reel.leftovers.iter().map(|left| {
        let word = if left.becomes == Becomes::Remnant { "left".to_owned() } else { left.becomes.to_string() };
        format!("{word} {}", show(left.to - left.from))
    });
    let row = table.row(&reel.reel);
    let lefts = reel.leftovers.iter().map(|left| RestBar {
        from_mm: left.from.count() as f64,
        to_mm: left.to.count() as f64,
        rest: if left.becomes == Becomes::Scrap { Rest::Scrap } else { Rest::Kept },
    });
    let flaws = row.into_iter().flat_map(|row| &row.flaws_mm).map(|&(from, to)| RestBar {
        from_mm: from as f64,
        to_mm: to as f64,
        rest: Rest::Flaw,
    });
    ReelBar {
        name: format!("{}, {}", reel.reel, reel.rope),
        length_mm: row.map_or(0.0, |row| row.length_mm as f64),
        pieces,
        rest_text: rest.collect::<Vec<_>>().join(", "),
        rests: lefts.chain(flaws).collect(),
    }
}

fn shortages(answer: &CutAnswer) -> Vec<FindingLine> {
    let mut lines: Vec<FindingLine> = answer
        .uncut
        .iter()
        .map(|uncut| FindingLine {
            grade: Grade::Caution,
            text: format!("{} ({}) cannot be cut: {}", uncut.piece, uncut.rope, uncut.why),
            remedy: Some(format!("buy {} or more of {}", uncut.length.text, uncut.rope)),
            weak_point: None,
            overrule: Overrule::Allowed,
        })
        .collect();
    lines.extend(answer.buy.iter().map(|buy| FindingLine {
        grade: Grade::Caution,
        text: format!("not enough {} in the rack", buy.rope),
        remedy: Some(format!("buy {} × {} at {}, {} in all", buy.count, buy.length.text, buy.each, buy.total)),
        weak_point: None,
        overrule: Overrule::Allowed,
    }));
    lines.extend(answer.notes.iter().map(|note| FindingLine {
        grade: Grade::Note,
        text: note.clone(),
        remedy: None,
        weak_point: None,
        overrule: Overrule::Allowed,
    }));
    lines
}
