//! Text for a person: cut plans, and what confirming one did.

use crate::tables::{fit, rows, wrapped};
use desk::{ConfirmAnswer, CutAnswer, RackRow};
use std::fmt::Write;

/// A cut plan, reel by reel.
pub fn cut(answer: &CutAnswer) -> String {
    let mut text = wrapped(&answer.verdict, "");
    let spoiled = format!(
        "{} pieces; spoiled {} (scrap {}, cuts {}, ends {}); bound {}, gap {}",
        answer.pieces.len(),
        answer.waste.text,
        answer.scrap.text,
        answer.cut_loss.text,
        answer.end_loss.text,
        answer.bound.text,
        answer.gap.text
    );
    text.push_str(&wrapped(&spoiled, ""));
    let _ = writeln!(
        text,
        "back on the rack: {} in {} remnant{}; {:.1} s",
        answer.remnant_length.text,
        answer.remnants,
        if answer.remnants == 1 { "" } else { "s" },
        answer.seconds
    );
    if let Some(cost) = &answer.cost {
        let _ = writeln!(text, "rope taken: {cost}");
    }
    if !answer.buy.is_empty() {
        text.push_str(&bought(answer));
    }
    for reel in &answer.cuts {
        let batch = reel.batch.as_ref().map_or_else(String::new, |batch| format!(", batch {batch}"));
        let copy = if reel.copy > 1 { format!(" no. {}", reel.copy) } else { String::new() };
        let _ = write!(
            text,
            "\n{}",
            wrapped(
                &format!(
                    "{}{copy}: {}, {} on it{batch}{}",
                    reel.reel,
                    reel.rope,
                    reel.length.text,
                    if reel.bought { ", to be bought" } else { "" }
                ),
                "  "
            )
        );
        let table = reel
            .pieces
            .iter()
            .map(|piece| {
                vec![fit(&piece.piece, 20), fit(&piece.name, 24), piece.from.text.clone(), piece.to.text.clone()]
            })
            .collect();
        text.push_str(&rows(&["  piece", "for", ">from", ">cut at"], table));
        for left in &reel.leftovers {
            let _ =
                writeln!(text, "  {} {}, from {} to {}", left.becomes, left.length.text, left.from.text, left.to.text);
        }
    }
    if !answer.uncut.is_empty() {
        text.push_str("\nnot cut\n");
        let table = answer
            .uncut
            .iter()
            .map(|uncut| {
                vec![fit(&uncut.piece, 20), fit(&uncut.rope, 30), uncut.length.text.clone(), uncut.why.clone()]
            })
            .collect();
        text.push_str(&rows(&["piece", "rope", ">length", "why"], table));
    }
    for later in &answer.later {
        let (piece, length) = (&later.piece, &later.length.text);
        text.push_str(&wrapped(
            &format!("later: {piece}, {} {length}, not before {}", later.rope, later.not_before),
            "  ",
        ));
    }
    for note in &answer.notes {
        text.push_str(&wrapped(&format!("note: {note}"), "  "));
    }
    text
}

/// What to buy, and for which pieces.
fn bought(answer: &CutAnswer) -> String {
    let table = answer
        .buy
        .iter()
        .map(|buy| {
            let rope = buy.colour.as_ref().map_or_else(|| buy.rope.clone(), |colour| format!("{}, {colour}", buy.rope));
            vec![buy.count.to_string(), buy.length.text.clone(), fit(&rope, 30), buy.each.clone(), buy.total.clone()]
        })
        .collect();
    let names: Vec<&str> = answer.not_from_rack.iter().map(|piece| piece.piece.as_str()).collect();
    let pieces = wrapped(&format!("not from the rack alone: {}", names.join(", ")), "  ");
    format!("\nto buy\n{}{pieces}", rows(&[">count", ">length", "rope", ">each", ">all"], table))
}

/// What confirming a plan, or taking it back, did to the rack.
pub fn confirmed(answer: &ConfirmAnswer, word: &str) -> String {
    let mut text = format!("{word}: {} changed, journal {}\n", answer.rack, answer.journal);
    let list = |text: &mut String, word: &str, rows: &[RackRow]| {
        for row in rows {
            let count = if row.count > 1 { format!("{} × ", row.count) } else { String::new() };
            let kind = if row.remnant { " (remnant)" } else { "" };
            let line = format!("{word} {}: {count}{} mm of {}{kind}", row.reel, row.length_mm, row.rope);
            text.push_str(&wrapped(&line, "  "));
        }
    };
    list(&mut text, "gone", &answer.gone);
    list(&mut text, "here", &answer.come);
    let _ = writeln!(text, "plans that can be taken back: {}", answer.can_be_taken_back);
    text
}
