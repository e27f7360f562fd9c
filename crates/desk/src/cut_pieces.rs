//! The pieces to be cut: those of orders, or a bare list.
//!
//! Due ranks: rush pieces first, then by the last day, the earlier first, then
//! those without one. A piece whose first day has not come is not cut; it is
//! named, and its rope is not kept back for it.

use crate::cards::{day, pieces};
use crate::cut_ask::CutRequest;
use crate::cut_table::rules;
use crate::input::open;
use crate::job::same;
use crate::problem::{Fault, Problem};
use crate::text::Text;
use cutting::{Piece, Rules};
use files::Date;
use sheets::Day;
use std::collections::BTreeMap;
use units::System;

/// Pieces before their colour is settled.
pub(crate) struct Wanted {
    pub pieces: Vec<WantedPiece>,
    /// Pieces whose first day has not come, and that day.
    pub later: Vec<(WantedPiece, Date)>,
    pub names: BTreeMap<String, String>,
    pub rules: Rules,
    pub title: String,
    pub day: Option<Day>,
    pub system: System,
    pub notes: Vec<String>,
}

/// A piece and the colour asked for.
pub(crate) struct WantedPiece {
    pub piece: Piece,
    pub colour: Option<String>,
    rush: bool,
    first: Option<Date>,
    last: Option<Date>,
}

/// The pieces of orders that have been read.
pub(crate) fn of_jobs(request: &CutRequest, jobs: &[crate::job::Job]) -> Result<Wanted, Problem> {
    let mut wanted: Option<Wanted> = None;
    for job in jobs {
        let here = wanted.get_or_insert_with(|| Wanted {
            pieces: Vec::new(),
            later: Vec::new(),
            names: BTreeMap::new(),
            rules: rules(request, job.order.loft.as_ref().map(|loft| &loft.value)),
            title: format!("cut plan, order {}", job.number()),
            day: Some(day(request.day.unwrap_or(job.order.order.value.date.value))),
            system: job.system,
            notes: Vec::new(),
        });
        for piece in pieces(job) {
            let record = &piece.line.record;
            let mut cut = Piece::new(piece.code.clone(), piece.line.made.rope.name.clone(), piece.line.made.cut);
            cut.same_reel = record.same_reel.value.then(|| format!("{}/{}", job.number(), record.name.value));
            if here.names.insert(piece.code.clone(), record.name.value.clone()).is_some() {
                return Err(Problem::new(Fault::Request, "piece-twice", format!("piece {} comes twice", piece.code))
                    .hint("give each order once, and each its own number"));
            }
            let due = record.due.as_ref().or(job.order.order.value.due.as_ref());
            here.pieces.push(WantedPiece {
                piece: cut,
                colour: record.colour.as_ref().map(|colour| colour.value.clone()),
                rush: record.rush.value,
                first: None,
                last: due.map(|due| due.value),
            });
        }
    }
    let mut wanted = wanted.ok_or_else(|| {
        Problem::new(Fault::Request, "no-orders", "no order is given").hint("give at least one order file")
    })?;
    rank(&mut wanted, request.day);
    Ok(wanted)
}

/// The pieces of a bare list.
pub(crate) fn of_list(request: &CutRequest, list: &Text) -> Result<Wanted, Problem> {
    let input = open(list, files::LARGEST_TABLE)?;
    let records = input.complete(files::read_pieces(&input.bytes))?;
    let count: u64 = records.iter().map(|record| u64::from(record.value.count.value)).sum();
    if count > cutting::MOST_PIECES as u64 {
        let message = format!("{count} pieces in one list, at most {} allowed", cutting::MOST_PIECES);
        return Err(Problem::refused("too-many-pieces", message).hint("split the list by rope or by day"));
    }
    let mut pieces = Vec::new();
    let mut names = BTreeMap::new();
    for record in records.iter().map(|record| &record.value) {
        for copy in 1..=record.count.value {
            let id = match record.count.value {
                1 => record.piece.value.clone(),
                _ => format!("{}/{copy}", record.piece.value),
            };
            let mut piece = Piece::new(id.clone(), record.rope.value.clone(), record.length.value.up_to_mm());
            piece.allowance = record.allowance.as_ref().map_or(piece.allowance, |extra| extra.value.up_to_mm());
            piece.same_reel = record.pair.as_ref().map(|pair| pair.value.clone());
            piece.same_batch = record.batch_set.as_ref().map(|set| set.value.clone());
            names.insert(id, record.piece.value.clone());
            let colour = record.colour.as_ref().map(|colour| colour.value.clone());
            let rush = record.rush.value;
            let (first, last) = (record.not_before.as_ref(), record.not_after.as_ref());
            let (first, last) = (first.map(|day| day.value), last.map(|day| day.value));
            pieces.push(WantedPiece { piece, colour, rush, first, last });
        }
    }
    if request.day.is_none() && pieces.iter().any(|piece| piece.first.is_some() || piece.last.is_some()) {
        let message = "pieces have a first or a last day, and the day of cutting is not given";
        return Err(Problem::new(Fault::Request, "no-day", message).hint("give it: --day 2026-03-31"));
    }
    let mut wanted = Wanted {
        pieces,
        later: Vec::new(),
        names,
        rules: rules(request, None),
        title: "cut plan".to_owned(),
        day: request.day.map(day),
        system: request.units.unwrap_or_default(),
        notes: Vec::new(),
    };
    rank(&mut wanted, request.day);
    Ok(wanted)
}

/// Gives every piece its due rank and puts aside what is not to be cut yet.
fn rank(wanted: &mut Wanted, today: Option<Date>) {
    let (now, later): (Vec<_>, Vec<_>) = std::mem::take(&mut wanted.pieces)
        .into_iter()
        .partition(|piece| today.zip(piece.first).is_none_or(|(today, first)| first <= today));
    wanted.later = later.into_iter().filter_map(|piece| piece.first.map(|first| (piece, first))).collect();
    wanted.pieces = now;
    let mut days: Vec<Option<Date>> =
        wanted.pieces.iter().filter(|piece| !piece.rush).map(|piece| piece.last).collect();
    // Without a last day comes after every day.
    days.sort_by_key(|day| (day.is_none(), *day));
    days.dedup();
    for piece in &mut wanted.pieces {
        let place = days.iter().position(|day| *day == piece.last).unwrap_or(0) as u32;
        piece.piece.rank = if piece.rush { 0 } else { place + 1 };
        if let Some((last, today)) = piece.last.zip(today).filter(|(last, today)| last < today) {
            wanted.notes.push(format!("{} was due on {last}, before {today}", piece.piece.id));
        }
    }
}

impl WantedPiece {
    /// The piece under its rope's key: the colour asked for, or that of which
    /// the rack has most.
    pub fn coloured(self, rack: &[files::ReelRecord], notes: &mut Vec<String>) -> Piece {
        let WantedPiece { mut piece, colour, .. } = self;
        let rope = same(&piece.rope);
        let colour = colour.map(|colour| same(&colour)).or_else(|| {
            let mut lengths: BTreeMap<String, f64> = BTreeMap::new();
            for reel in rack.iter().filter(|reel| same(&reel.rope.value) == rope) {
                let length = reel.length.value.to_m() * f64::from(reel.count.value);
                *lengths.entry(colour_of(reel)).or_default() += length;
            }
            let most = lengths.iter().max_by(|a, b| a.1.total_cmp(b.1)).map(|(colour, _)| colour.clone());
            if let (Some(colour), true) = (&most, lengths.len() > 1) {
                notes.push(format!(
                    "no colour was said for {}: {colour} is taken, of which the rack has most",
                    piece.rope
                ));
            }
            most
        });
        piece.rope = key(&rope, &colour.unwrap_or_default());
        piece
    }
}

fn colour_of(reel: &files::ReelRecord) -> String {
    reel.colour.as_ref().map_or_else(String::new, |colour| same(&colour.value))
}

/// The name under which rope and colour are one problem.
pub(crate) fn key(rope: &str, colour: &str) -> String {
    if colour.is_empty() { rope.to_owned() } else { format!("{rope}, {colour}") }
}
