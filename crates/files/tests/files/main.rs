//! The reader through its public face: good files, bad files, hostile bytes.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test that cannot go on fails")]

mod cells;
mod description;
mod examples;
mod hostile;
mod line_list;
mod mistakes;
mod round_trip;
mod shown;

/// Line, column and code of every problem of an order.
fn problems(text: &str) -> Vec<(usize, usize, &'static str)> {
    let read = files::read_order(text.as_bytes());
    let source = files::Source::new("order.toml", text.as_bytes());
    read.problems
        .iter()
        .map(|problem| {
            let position = problem.place.map(|place| source.position(place));
            position.map_or((0, 0, problem.code), |position| (position.line, position.column, problem.code))
        })
        .collect()
}

/// The smallest order without a mistake.
const SMALLEST: &str = "becket = 1
[order]
number = \"1\"
date = 2026-03-31
[boat]
name = \"Tern\"
hull = \"monohull\"
rig = \"cutter\"
loa = \"10 m\"
[use]
kind = \"offshore\"
";
