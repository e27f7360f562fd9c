//! becket: arguments to desk, answers to text or JSON.
//!
//! Data goes to standard output, everything else to standard error. A closed
//! pipe is success. Exit codes: 0 done, 1 done with a stop finding, 2 the
//! command itself is wrong, 3 a file has mistakes, 4 reading or writing
//! failed, 5 what was asked cannot be made.

mod arguments;
mod boats;
mod book;
mod cover;
mod cut;
#[cfg(feature = "pages")]
mod kept;
mod list;
mod manual;
mod own;
#[cfg(feature = "pages")]
mod pages;
mod paper;
mod price;
mod proof;
#[cfg(feature = "pages")]
mod records;
mod rope;
mod show;
mod show_cut;
mod show_splice;
mod splice_ask;
mod tables;

use arguments::{Cli, Command, SheetsAsk};
use clap::Parser;
use desk::{Fault, Problem};
use serde::Serialize;
use splice_ask::SpliceAsk;
use std::io::Write;
use std::process::ExitCode;

/// Done, and nothing stands against it.
const DONE: u8 = 0;
/// Done, with a stop finding among the answers.
const STOP: u8 = 1;

/// How a fault ends the program.
const fn code(fault: Fault) -> u8 {
    match fault {
        Fault::Request => 2,
        Fault::File => 3,
        Fault::Disk => 4,
        Fault::Refused => 5,
    }
}

fn main() -> ExitCode {
    let cli = Cli::parse();
    let json = cli.json;
    match run(cli) {
        Ok(code) => ExitCode::from(code),
        Err(problem) => {
            complain(&problem, json);
            ExitCode::from(code(problem.fault))
        }
    }
}

fn run(cli: Cli) -> Result<u8, Problem> {
    let units = cli.units.map(arguments::Units::system);
    match cli.command {
        Command::Lines(ask) => {
            let answer = desk::lines(&ask.request(units)?)?;
            say_rope_list(answer.rope_list.as_deref());
            own::say(answer.own.as_ref());
            write(cli.json, &answer, || show::lines(&answer))?;
            Ok(verdict(answer.has_stop()))
        }
        Command::Line(ask) => {
            let answer = desk::lines(&ask.request(units)?)?;
            say_rope_list(answer.rope_list.as_deref());
            own::say(answer.own.as_ref());
            write(cli.json, &answer, || answer.lines.iter().map(|line| show::line(line, ask.working)).collect())?;
            Ok(verdict(answer.has_stop()))
        }
        Command::Boats(ask) => {
            let count = boats::boats(&ask)?;
            Ok(if count.refused > 0 { code(Fault::File) } else { DONE })
        }
        Command::Rope(ask) => {
            let answer = desk::rope(&ask.request(units)?)?;
            say_rope_list(answer.rope_list.as_deref());
            if let Some(plot) = &ask.plot {
                desk::save(plot, answer.plot.as_bytes())?;
                say(&format!("written: {}", plot.display()));
            }
            write(cli.json, &answer, || rope::text(&answer, ask.checks))?;
            Ok(verdict(answer.has_stop()))
        }
        Command::Cover(ask) => {
            let answer = desk::cover(&ask.request(units)?)?;
            say_rope_list(answer.rope_list.as_deref());
            if let Some(plot) = &ask.plot {
                desk::save(plot, answer.plot.as_bytes())?;
                say(&format!("written: {}", plot.display()));
            }
            write(cli.json, &answer, || {
                let working = if ask.working { show::working_text(&answer.working) } else { String::new() };
                cover::text(&answer) + &working
            })?;
            Ok(verdict(answer.findings.iter().any(desk::FindingAnswer::is_stop)))
        }
        Command::Rules(ask) => {
            let facts = desk::rule_facts();
            match (ask.facts, cli.json) {
                (true, json) => write(json, &facts, || cover::facts(&facts))?,
                (false, _) => put(desk::LOFT_RULES.as_bytes())?,
            }
            Ok(DONE)
        }
        Command::Splice(ask) => splice(&ask, cli.json, units),
        Command::Cut(ask) => cut::cut(&ask, cli.json, units),
        Command::Confirm(ask) => cut::confirm(&ask, cli.json),
        Command::Sheets(ask) => sheets(&ask, units, cli.json),
        Command::Proof(ask) => Ok(verdict(proof::run(ask, cli.json, units)?)),
        #[cfg(feature = "pages")]
        Command::Due(ask) => Ok(verdict(kept::due(&ask, cli.json)?)),
        #[cfg(feature = "pages")]
        Command::Piece(ask) => Ok(verdict(kept::piece(*ask, cli.json, units)?)),
        Command::Price(ask) => Ok(verdict(price::run(ask, cli.json, units)?)),
        Command::Export(ask) => {
            let ropes = ask.ropes.clone().map(desk::Text::from);
            let answer = desk::export(&ask.order.clone().into(), ropes.as_ref(), &ask.out)?;
            write(cli.json, &answer, || list::exported(&answer))?;
            Ok(DONE)
        }
        Command::Import(ask) => import(&ask, cli.json),
        Command::Check(ask) => {
            let answer = desk::check_with(&ask.file.clone().into(), &ask.own.source()?)?;
            write(cli.json, &answer, || {
                let mut text = format!("{}: {} of {}, no mistakes\n", answer.file, answer.kind.words(), answer.records);
                answer
                    .look_again
                    .iter()
                    .for_each(|row| text.push_str(&tables::wrapped(&format!("look again: {row}"), "  ")));
                text
            })?;
            Ok(DONE)
        }
        Command::Schema(ask) => {
            let schema = desk::schema(ask.document());
            write(true, &schema, String::new)?;
            Ok(DONE)
        }
        #[cfg(feature = "pages")]
        Command::Store(ask) => {
            let (json, text) = records::run(&ask)?;
            write(cli.json, &json, || text)?;
            Ok(DONE)
        }
        Command::Completions(ask) => {
            put(&manual::completions(ask.shell))?;
            Ok(DONE)
        }
        Command::Help(ask) => {
            put(book::help(ask.topic.as_deref())?.as_bytes())?;
            Ok(DONE)
        }
        #[cfg(feature = "pages")]
        Command::Pages(ask) => {
            // The address is for who started it; a closed pipe stops no pages.
            ask.run(|line| drop(put(format!("{line}\n").as_bytes())))?;
            Ok(DONE)
        }
        Command::Manual(ask) => {
            manual::pages(&ask.out)?;
            Ok(DONE)
        }
    }
}

/// One end: text, JSON, variants side by side, or drawings.
fn splice(ask: &SpliceAsk, json: bool, units: Option<desk::System>) -> Result<u8, Problem> {
    let request = ask.request(units)?;
    if ask.compare {
        let answers = desk::compare(&request)?;
        write(json, &answers, || show_splice::compare(&answers))?;
        return Ok(verdict(answers.first().is_some_and(|asked| asked.answer.has_stop())));
    }
    if let Some(name) = &ask.svg {
        put(desk::splice_svg(&request, name, desk::DRAWING_WIDTH_MM)?.as_bytes())?;
        return Ok(DONE);
    }
    let (answer, files) = match &ask.out {
        Some(out) => desk::splice_to(&request, out)?,
        None => (desk::splice(&request)?, Vec::new()),
    };
    own::say(answer.own.as_ref());
    write(json, &answer, || show_splice::splice(&answer, ask.working))?;
    files.iter().for_each(|file| say(&format!("written: {file}")));
    Ok(verdict(answer.has_stop()))
}

/// Cards, and the other papers asked for beside them.
fn sheets(ask: &SheetsAsk, units: Option<desk::System>, json: bool) -> Result<u8, Problem> {
    let papers = ask.papers(units)?.map(|request| desk::papers(&request)).transpose()?;
    let cards = ask.wants_cards().then(|| ask.request(units).and_then(|request| desk::cards(&request))).transpose()?;
    let read = cards.as_ref().and_then(|cards| cards.own.as_ref());
    own::say(read.or(papers.as_ref().and_then(|papers| papers.own.as_ref())));
    if let Some(cards) = &cards {
        write(json, cards, || show::cards(cards))?;
    }
    if let Some(papers) = &papers {
        if cards.is_none() {
            write(json, papers, || format!("papers of order {}\n", papers.order))?;
        }
        papers.files.iter().for_each(|file| say(&format!("written: {file}")));
        papers.refused.iter().for_each(|piece| say(&format!("{piece} is refused: no label, not delivered")));
    }
    let refused = papers.is_some_and(|papers| !papers.refused.is_empty());
    Ok(verdict(refused || cards.is_some_and(|cards| cards.has_stop())))
}

/// Lines to standard output or a file; what was refused to standard error.
fn import(ask: &list::ImportAsk, json: bool) -> Result<u8, Problem> {
    let Some(path) = ask.list.as_ref().filter(|_| !ask.columns) else {
        let columns = desk::line_list_columns();
        write(json, &columns, || list::columns(&columns))?;
        return Ok(DONE);
    };
    let answer = desk::import(path)?;
    if let Some(out) = &ask.out {
        desk::save(out, answer.tables.as_bytes())?;
    }
    say(&list::refused(&answer));
    write(json, &answer, || if ask.out.is_some() { String::new() } else { answer.tables.clone() })?;
    Ok(verdict(!answer.refused.is_empty()))
}

const fn verdict(stop: bool) -> u8 {
    if stop { STOP } else { DONE }
}

/// An answer to standard output: JSON, or the text for a person.
pub(crate) fn write<T: Serialize>(json: bool, answer: &T, text: impl FnOnce() -> String) -> Result<(), Problem> {
    if json {
        let mut bytes = serde_json::to_vec_pretty(answer).map_err(|why| Problem::disk(&why.to_string()))?;
        bytes.push(b'\n');
        put(&bytes)
    } else {
        put(text().as_bytes())
    }
}

/// Bytes to standard output; a reader that has had enough is no failure.
fn put(bytes: &[u8]) -> Result<(), Problem> {
    let mut out = std::io::stdout().lock();
    match out.write_all(bytes).and_then(|()| out.flush()) {
        Err(why) if why.kind() != std::io::ErrorKind::BrokenPipe => {
            Err(Problem::disk(&format!("standard output: {why}")))
        }
        _ => Ok(()),
    }
}

/// A line to standard error.
pub(crate) fn say(text: &str) {
    // Nobody can be told that standard error is closed.
    let _ = writeln!(std::io::stderr(), "{text}");
}

fn say_rope_list(list: Option<&str>) {
    if let Some(list) = list {
        say(&format!("rope list: {list}"));
    }
}

fn complain(problem: &Problem, json: bool) {
    match serde_json::to_string_pretty(problem) {
        Ok(text) if json => say(&text),
        _ => {
            say(&format!("becket: {problem}"));
            if let Some(topic) = book::topic_of(&problem.code) {
                say(&format!("  more: becket help {topic}"));
            }
        }
    }
}
