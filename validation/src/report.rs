//! The report: how far off, by source and by room.

use crate::case::{Case, is_outside};
use crate::rows::Rows;
use crate::run::{Outcome, run};
use std::fmt::Write as _;

const OPENING: &str = "# Validation report

Written by `cargo run -p validation`; a test fails when it is out of date.

An error is told over its tolerance: at most 1 is a hit. The tolerance is half
of the last digit that the source prints, or wider with its reason in the case;
of a band it is half of its width. What is counted, such as reels or tucks, is
exact and shows as 0. Each case also runs with one mistake made on purpose (a
sign, a factor of two, a unit) and must miss then.
";

/// The text of REPORT.md.
///
/// # Errors
/// When a case cannot be run; names it.
pub fn report(cases: &[Case], tables: &[Rows]) -> Result<String, String> {
    let outcomes = cases
        .iter()
        .map(|case| run(case).map(|outcome| (case, outcome)).map_err(|fault| format!("{}: {fault}", case.name)))
        .collect::<Result<Vec<_>, _>>()?;
    let mut text = OPENING.to_owned();
    summary(&mut text, cases);
    by_source(&mut text, &outcomes);
    by_room(&mut text, cases);
    text.push_str(&crate::rows::section(tables)?);
    marked(&mut text, cases);
    differing(&mut text, &outcomes);
    every_case(&mut text, &outcomes);
    Ok(text)
}

fn summary(text: &mut String, cases: &[Case]) {
    let (differ, outside): (Vec<&Case>, Vec<&Case>) =
        cases.iter().filter(|case| case.is_outside()).partition(|case| case.differs.is_some());
    let computing = cases.iter().filter(|case| case.computes).count();
    let mut sources: Vec<&str> = outside.iter().map(|case| case.source.id).collect();
    sources.sort_unstable();
    sources.dedup();
    let _ = writeln!(
        text,
        "\n{} cases. {} agree with {} outside sources, and {} more are kept where we differ from one. \
         Of all cases {} compute something ({} %); the rest look a row up.",
        cases.len(),
        outside.len(),
        sources.len(),
        differ.len(),
        computing,
        (100.0 * computing as f64 / cases.len().max(1) as f64).round(),
    );
}

fn by_source(text: &mut String, outcomes: &[(&Case, Outcome)]) {
    text.push_str("\n## By source\n\nCases that differ on purpose are counted and left out of the errors.\n\n");
    text.push_str("| source | kind | cases | compute | median | 99 % | largest |\n|---|---|---|---|---|---|---|\n");
    let mut ids: Vec<&str> = outcomes.iter().map(|(case, _)| case.source.id).collect();
    ids.dedup();
    for id in ids {
        let own: Vec<&(&Case, Outcome)> = outcomes.iter().filter(|(case, _)| case.source.id == id).collect();
        let mut errors: Vec<f64> =
            own.iter().filter(|(case, _)| case.differs.is_none()).map(|(_, outcome)| outcome.error).collect();
        errors.sort_by(f64::total_cmp);
        let kind = own.first().map_or("", |(case, _)| case.source.kind.words());
        let computing = own.iter().filter(|(case, _)| case.computes).count();
        let at = |share| percentile(&errors, share).map_or("-".to_owned(), shown);
        let _ = writeln!(
            text,
            "| {id} | {kind} | {} | {computing} | {} | {} | {} |",
            own.len(),
            at(0.5),
            at(0.99),
            at(1.0)
        );
    }
}

/// The value that a share of the sorted values does not pass.
fn percentile(sorted: &[f64], share: f64) -> Option<f64> {
    let rank = (share * sorted.len() as f64).ceil().max(1.0) as usize;
    sorted.get(rank - 1).copied()
}

/// Two decimals; an error that is none but for rounding is 0.
fn shown(error: f64) -> String {
    if error < 0.005 { "0".to_owned() } else { format!("{error:.2}") }
}

fn by_room(text: &mut String, cases: &[Case]) {
    text.push_str("\n## By room\n\n| room | cases | outside | compute |\n|---|---|---|---|\n");
    let mut rooms: Vec<&str> = cases.iter().map(|case| case.room.as_str()).collect();
    rooms.sort_unstable();
    rooms.dedup();
    for room in rooms {
        let own = || cases.iter().filter(|case| case.room == room);
        let outside = own().filter(|case| case.is_outside()).count();
        let computing = own().filter(|case| case.computes).count();
        let _ = writeln!(text, "| {room} | {} | {outside} | {computing} |", own().count());
    }
}

fn marked(text: &mut String, cases: &[Case]) {
    text.push_str("\n## Not counted as outside\n\n");
    for case in cases.iter().filter(|case| !case.is_outside()) {
        let why = match &case.fitted {
            Some(why) => format!("a fit, not validation: {why}"),
            None => case.source.kind.words().to_owned(),
        };
        debug_assert!(case.fitted.is_some() || !is_outside(case.source.kind));
        let _ = writeln!(text, "- {}: {why}", case.name);
    }
}

fn differing(text: &mut String, outcomes: &[(&Case, Outcome)]) {
    text.push_str("\n## Where we differ from a source\n\nEach of these must miss; a hit fails the run.\n\n");
    for (case, outcome) in outcomes {
        if let Some(why) = &case.differs {
            let _ = writeln!(text, "- {} ({} x its tolerance): {why}", case.name, shown(outcome.error));
        }
    }
}

fn every_case(text: &mut String, outcomes: &[(&Case, Outcome)]) {
    text.push_str(
        "\n## Every case\n\n| case | place | asks | error | confidence | obtained |\n|---|---|---|---|---|---|\n",
    );
    for (case, outcome) in outcomes {
        let _ = writeln!(
            text,
            "| {} | {} | {} | {} | {} | {} |",
            case.name,
            case.locator,
            case.asks,
            shown(outcome.error),
            case.confidence,
            case.obtained
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn percentiles_are_values_that_occurred() {
        let sorted = [0.1, 0.2, 0.3, 0.4];
        let read: Vec<f64> = [0.5, 0.99, 1.0].iter().filter_map(|share| percentile(&sorted, *share)).collect();
        assert_eq!(read, [0.2, 0.4, 0.4]);
        assert_eq!(percentile(&[], 0.5), None);
    }
}
