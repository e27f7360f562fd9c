//! Many boats from one table: the load on every line that each rig has, as
//! rows of a table, written as they are worked out.
//!
//! The table is read and answered some hundred boats at a time on every core,
//! so that memory does not grow with it. A row with a mistake becomes a row
//! that says so, and the rest goes on.

use crate::convert;
use crate::problem::{Fault, Problem};
use files::FleetRecord;
use rayon::prelude::*;
use rig::{Boat, Headsail, LineKind, Mainsail, Mast, Question, Sails, Setup, Spinnaker, SpinnakerKind, Sweep};
use std::io::{BufRead, Write};

/// Boats worked out together.
const TOGETHER: usize = 256;

/// The columns of the answer: forces in newtons, wind in knots. Low and high are
/// over the range of any one unpublished input; those of stability over the band
/// of her righting moment, empty where it is given.
pub const BOATS_HEADER: &str = "row,boat,line,mast,steady_n,peak_n,low_n,high_n,stability_low_n,stability_high_n,wind_kn,angle_deg,sails,second_n,righting_moment_n_m,mistake";

/// How many boats were answered, and how many refused.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct BoatsCount {
    /// Boats with loads.
    pub answered: usize,
    /// Rows with a mistake.
    pub refused: usize,
}

/// Works out every boat of a table and writes a row for each of her lines;
/// `told` hears the count after every batch.
///
/// # Errors
/// When the table cannot be read, has no line of column names, or the answer
/// cannot be written.
pub fn boats(
    table: &mut dyn BufRead,
    out: &mut dyn Write,
    told: &mut dyn FnMut(BoatsCount),
) -> Result<BoatsCount, Problem> {
    let mut header = Vec::new();
    let mut number = 0;
    while header.iter().all(u8::is_ascii_whitespace) {
        if read_line(table, &mut header)? == 0 {
            return Err(Problem::new(Fault::File, "empty-file", "the table holds no line of column names"));
        }
        number += 1;
    }
    let disk = |why: std::io::Error| Problem::disk(&why.to_string());
    writeln!(out, "{BOATS_HEADER}").map_err(disk)?;
    let mut count = BoatsCount::default();
    let mut rows: Vec<(usize, Vec<u8>)> = Vec::with_capacity(TOGETHER);
    loop {
        let mut line = Vec::new();
        let more = read_line(table, &mut line)? > 0;
        if more {
            number += 1;
            if !line.iter().all(|byte| byte.is_ascii_whitespace() || *byte == b',') {
                rows.push((number, line));
            }
        }
        if rows.len() == TOGETHER || (!more && !rows.is_empty()) {
            let answers: Vec<(String, bool)> =
                rows.par_iter().map(|(number, row)| answer(&header, *number, row)).collect();
            for (text, good) in &answers {
                out.write_all(text.as_bytes()).map_err(disk)?;
                if *good { count.answered += 1 } else { count.refused += 1 }
            }
            rows.clear();
            told(count);
        }
        if !more {
            out.flush().map_err(disk)?;
            return Ok(count);
        }
    }
}

/// Longer than any row: a file without line ends is not read whole.
const LONGEST_ROW: u64 = 64 * 1024;

fn read_line(table: &mut dyn BufRead, line: &mut Vec<u8>) -> Result<usize, Problem> {
    line.clear();
    let read = std::io::Read::take(&mut *table, LONGEST_ROW).read_until(b'\n', line);
    let read = read.map_err(|why| Problem::disk(&why.to_string()))?;
    if read as u64 == LONGEST_ROW {
        let message = "a row of more than 64 KiB: one boat a line is wanted";
        return Err(Problem::new(Fault::File, "row-too-long", message));
    }
    Ok(read)
}

/// The rows of one boat, and whether she could be worked out.
fn answer(header: &[u8], number: usize, row: &[u8]) -> (String, bool) {
    let bytes = [header, row].concat();
    let read = files::read_fleet(&bytes);
    match read.complete() {
        Ok(records) => match records.first() {
            Some(record) => loads(number, &record.value),
            None => (mistake(number, "", "no boat in it"), false),
        },
        Err(problems) => {
            let said = problems.iter().map(|problem| {
                let allowed = &problem.allowed;
                let allowed = if allowed.is_empty() { String::new() } else { format!(" (allowed: {allowed})") };
                format!("{}{allowed}", problem.message)
            });
            (mistake(number, "", &said.collect::<Vec<_>>().join("; ")), false)
        }
    }
}

fn mistake(number: usize, name: &str, why: &str) -> String {
    format!("{number},{},,,,,,,,,,,,,,{}\n", cell(name), cell(why))
}

fn loads(number: usize, record: &FleetRecord) -> (String, bool) {
    let name = &record.name.value;
    let boat = match boat(record).checked() {
        Ok(boat) => boat,
        Err(why) => return (mistake(number, name, &why.to_string()), false),
    };
    let sweep = Sweep::of(question(boat, record));
    let moment = sweep.righting().moment.to_n_m();
    let mut text = String::new();
    for (kind, mast) in lines(&sweep) {
        let row = match sweep.line(&Setup { mast, ..Setup::of(kind) }) {
            Ok(load) => {
                let (low, high) = load.range.unwrap_or((load.steady, load.steady));
                let state = load.governing.as_ref().map_or_else(
                    || ",,".to_owned(),
                    |state| {
                        format!("{:.1},{:.0},{}", state.wind.to_knots(), state.angle.to_degrees(), state.set.words())
                    },
                );
                let stability = load
                    .stability
                    .map_or_else(|| ",".to_owned(), |(low, high)| format!("{:.0},{:.0}", low.to_n(), high.to_n()));
                let second = load.second.map_or_else(String::new, |(_, pull)| format!("{:.0}", pull.to_n()));
                format!(
                    "{:.0},{:.0},{:.0},{:.0},{stability},{state},{second},{moment:.0},",
                    load.steady.to_n(),
                    load.peak.to_n(),
                    low.to_n(),
                    high.to_n()
                )
            }
            Err(why) => format!(",,,,,,,,,,{moment:.0},{}", cell(&why.to_string())),
        };
        let mast = if mast == Mast::Mizzen { "mizzen" } else { "main" };
        text.push_str(&format!("{number},{},{},{mast},{row}\n", cell(name), kind.word()));
    }
    (text, true)
}

fn boat(record: &FleetRecord) -> Boat {
    let value = |placed: &Option<files::Placed<units::Length>>| placed.as_ref().map(|placed| placed.value);
    let (hull, rig) = (convert::hull(record.hull.value), convert::rig_type(record.rig.value));
    Boat {
        lwl: value(&record.lwl),
        beam: value(&record.beam),
        draught: value(&record.draught),
        displacement: record.displacement.as_ref().map(|placed| placed.value),
        freeboard: value(&record.freeboard),
        righting_moment: record.righting_moment.as_ref().map(|placed| placed.value),
        i: value(&record.i),
        j: value(&record.j),
        p: value(&record.p),
        e: value(&record.e),
        isp: value(&record.isp),
        bas: value(&record.bas),
        ..Boat::of_length(record.loa.value, hull, rig)
    }
}

fn question(boat: Boat, record: &FleetRecord) -> Question {
    let area = |placed: &Option<files::Placed<units::Area>>| placed.as_ref().map(|placed| placed.value);
    let spinnaker = record.spinnaker.as_ref().map(|kind| Spinnaker {
        kind: match kind.value {
            files::SpinnakerKind::Symmetric => SpinnakerKind::Symmetric,
            files::SpinnakerKind::Asymmetric => SpinnakerKind::Asymmetric,
        },
        area: area(&record.spinnaker_area),
        mass: None,
    });
    let sails = Sails {
        main: Some(Mainsail { area: area(&record.main_area), ..Mainsail::default() }),
        jib: boat.rig.has_forestay().then(|| Headsail { area: area(&record.jib_area), ..Headsail::default() }),
        staysail: (boat.rig == rig::RigType::Cutter).then(Headsail::default),
        mizzen: boat.rig.has_mizzen().then(Mainsail::default),
        spinnaker,
    };
    let conditions = rig::Conditions {
        wind_upwind: record.wind_upwind.as_ref().map(|placed| placed.value),
        wind_downwind: record.wind_downwind.as_ref().map(|placed| placed.value),
        hand_pull: None,
    };
    Question::usual(boat, sails, conditions)
}

/// The lines that her sails and rig have, without any purchase.
fn lines(sweep: &Sweep) -> Vec<(LineKind, Mast)> {
    use LineKind as K;
    let (boat, sails) = (&sweep.question().boat, &sweep.question().sails);
    let hoists: &[K] =
        if boat.rig == rig::RigType::Gaff { &[K::PeakHalyard, K::ThroatHalyard] } else { &[K::MainHalyard] };
    let mut kinds: Vec<(K, Mast)> = hoists.iter().map(|kind| (*kind, Mast::Main)).collect();
    let mut add = |own: &[K], mast| kinds.extend(own.iter().map(|kind| (*kind, mast)));
    add(&[K::Mainsheet, K::Vang, K::Outhaul, K::ReefLineSlab, K::ToppingLift], Mast::Main);
    if sails.jib.is_some() {
        add(&[K::JibHalyard, K::JibSheet, K::FurlingLine, K::BackstayAdjuster], Mast::Main);
    }
    if sails.staysail.is_some() {
        add(&[K::StaysailHalyard, K::StaysailSheet], Mast::Main);
    }
    match sails.spinnaker.map(|spinnaker| spinnaker.kind) {
        Some(SpinnakerKind::Symmetric) => {
            add(&[K::SpinnakerHalyard, K::SpinnakerSheet, K::Guy, K::Foreguy], Mast::Main)
        }
        Some(SpinnakerKind::Asymmetric) => add(&[K::SpinnakerHalyard, K::SpinnakerSheet, K::TackLine], Mast::Main),
        None => {}
    }
    if sails.mizzen.is_some() {
        add(&[K::MainHalyard, K::Mainsheet], Mast::Mizzen);
    }
    add(&[K::DockLine, K::AnchorRode], Mast::Main);
    kinds
}

/// A cell of the answer: quoted where it must be, and never a formula.
fn cell(text: &str) -> String {
    let text = text.replace(['\n', '\r'], " ");
    let formula = text.starts_with(['=', '+', '-', '@']);
    let text = if formula { format!("'{text}") } else { text };
    if text.contains([',', '"']) { format!("\"{}\"", text.replace('"', "\"\"")) } else { text }
}
