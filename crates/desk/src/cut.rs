//! The cut plan: pieces of orders, or a bare list, from the rack.

use crate::cards::{Paper, day, pieces};
use crate::input::open;
use crate::job::{read, same};
use crate::problem::{Fault, Problem};
use crate::save::{ready, save};
use crate::taken::{ReelTaken, reel_taken};
use crate::text::Text;
use crate::wire::Amount;
use cutting::{Aim, Becomes, CutReel, Flaw, Job, Origin, Piece, Plan, Reel, Rules, Settings, check, plan};
use drawing::{PieceBar, ReelBar, Rest};
use pricing::{Money, Rounding, Used, rope_cost};
use schemars::JsonSchema;
use serde::Serialize;
use sheets::{CutPlanSheet, CutRow, Day, FindingLine, Grade, Headline, Overrule, RopeReels};
use std::collections::BTreeMap;
use std::path::Path;
use std::time::{Duration, Instant};
use units::{Length, Millimetres, System, Value};

/// Where the pieces come from.
#[derive(Debug, Clone)]
pub enum PieceSource {
    /// The pieces of orders.
    Orders {
        /// Order files.
        orders: Vec<Text>,
        /// The rope list; `ropes.csv` beside each order where not given.
        ropes: Option<Text>,
    },
    /// A bare list.
    List(Text),
}

/// What is asked.
#[derive(Debug, Clone)]
pub struct CutRequest {
    /// The pieces.
    pub source: PieceSource,
    /// The rack file.
    pub rack: Text,
    /// Rope lost at each cut; the order's own or 10 mm where not given.
    pub loss: Option<Length>,
    /// Smallest remnant worth keeping; the order's own or 2 m where not given.
    pub smallest_remnant: Option<Length>,
    /// How long the search may take; 10 s where not given.
    pub limit: Option<Duration>,
    /// Seed of the search.
    pub seed: u64,
    /// Units to print; the first order's own where not given.
    pub units: Option<System>,
}

impl Default for CutRequest {
    fn default() -> Self {
        CutRequest {
            source: PieceSource::List(Text::default()),
            rack: Text::default(),
            loss: None,
            smallest_remnant: None,
            limit: None,
            seed: 1,
            units: None,
        }
    }
}

/// A cut plan.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CutAnswer {
    /// The pieces wanted.
    pub pieces: Vec<PieceAnswer>,
    /// Reel by reel, in the order to cut.
    pub cuts: Vec<ReelAnswer>,
    /// Pieces that cannot be cut, and why.
    pub uncut: Vec<UncutAnswer>,
    /// Rope spoiled: scrap, and what is lost at cuts and ends.
    pub waste: Amount,
    /// No plan that keeps as many remnants wastes less than this, but for cuts
    /// saved at a reel's end. Where no leftover can be kept it bounds every plan.
    pub bound: Amount,
    /// Is the plan proven to be the best?
    pub proven: bool,
    /// Goal by goal, in order of weight.
    pub goals: Vec<GoalAnswer>,
    /// Scrap alone.
    pub scrap: Amount,
    /// Lost at cuts.
    pub cut_loss: Amount,
    /// Remnants that go back on the rack.
    pub remnants: u64,
    /// Their length.
    pub remnant_length: Amount,
    /// Was the search stopped by its limit?
    pub interrupted: bool,
    /// Cost of the rope taken, where the rack has prices.
    pub cost: Option<String>,
    /// What is to be said about it.
    pub notes: Vec<String>,
    /// The plan in a sentence.
    pub verdict: String,
    /// The same exactly, in whole millimetres, for whoever cuts by it; not part
    /// of the JSON.
    #[serde(skip)]
    pub taken: Vec<ReelTaken>,
    /// Time the search took, s; not part of the JSON, so that it repeats.
    #[serde(skip)]
    pub seconds: f64,
}

/// A piece.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PieceAnswer {
    /// Its code.
    pub piece: String,
    /// What it is for.
    pub name: String,
    /// Its rope, with its colour.
    pub rope: String,
    /// Its cut length.
    pub length: Amount,
}

/// A reel with its cuts.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ReelAnswer {
    /// Its label.
    pub reel: String,
    /// Which of several alike, from 1.
    pub copy: u32,
    /// Its rope, with its colour.
    pub rope: String,
    /// Its batch.
    pub batch: Option<String>,
    /// Length on it before.
    pub length: Amount,
    /// Pieces in the order to cut.
    pub pieces: Vec<CutPieceAnswer>,
    /// What is left of it.
    pub leftovers: Vec<LeftoverAnswer>,
}

/// One cut.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CutPieceAnswer {
    /// The piece's code.
    pub piece: String,
    /// What it is for.
    pub name: String,
    /// Running length where it begins.
    pub from: Amount,
    /// Running length where it is cut off.
    pub to: Amount,
}

/// What is left of a reel.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct LeftoverAnswer {
    /// Its length.
    pub length: Amount,
    /// `remnant`, `scrap` or `untouched`.
    pub becomes: String,
}

/// A piece that cannot be cut.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct UncutAnswer {
    /// The piece's code.
    pub piece: String,
    /// Its rope.
    pub rope: String,
    /// Its length: what to buy at least.
    pub length: Amount,
    /// Why.
    pub why: String,
}

/// One goal of the plan.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct GoalAnswer {
    /// What it is.
    pub goal: String,
    /// What the plan reaches.
    pub value: i64,
    /// The best that any plan could reach.
    pub bound: i64,
    /// Are the two proven to meet?
    pub proven: bool,
}

/// Everything a plan is made from.
struct Table {
    job: Job,
    names: BTreeMap<String, String>,
    reels: BTreeMap<String, files::ReelRecord>,
    notes: Vec<String>,
    title: String,
    day: Option<Day>,
    system: System,
}

/// Plans the cuts.
///
/// # Errors
/// When a file has mistakes, a piece is longer than any reel, or no plan
/// passes the independent check.
pub fn cut(request: &CutRequest) -> Result<CutAnswer, Problem> {
    let table = table(request, wanted(request)?)?;
    let (plan, seconds) = solve(&table, request)?;
    Ok(answer(&table, &plan, seconds))
}

/// Plans the cuts, and writes `cut-plan.pdf` and `cut-plan.json` to a folder.
///
/// # Errors
/// As [`cut`], and when the folder cannot be written.
pub fn cut_to(request: &CutRequest, out: &Path, paper: Paper) -> Result<(CutAnswer, Vec<String>), Problem> {
    write_plan(request, wanted(request)?, out, paper)
}

/// The same for pieces that are known already.
pub(crate) fn write_plan(
    request: &CutRequest,
    wanted: Wanted,
    out: &Path,
    paper: Paper,
) -> Result<(CutAnswer, Vec<String>), Problem> {
    ready(out)?;
    let table = table(request, wanted)?;
    let (plan, seconds) = solve(&table, request)?;
    let answer = answer(&table, &plan, seconds);
    let sheet = sheet(&table, &plan, &answer);
    let pdf = sheets::cut_plan(&sheet, paper.sheet()).map_err(|why| Problem::refused("cannot-set", why.to_string()))?;
    let json = serde_json::to_vec_pretty(&answer).map_err(|why| Problem::refused("cannot-write", why.to_string()))?;
    let paths = [(out.join("cut-plan.pdf"), pdf), (out.join("cut-plan.json"), json)];
    let written = paths.into_iter().map(|(path, bytes)| save(&path, &bytes).map(|()| path.display().to_string()));
    let written = written.collect::<Result<Vec<_>, _>>()?;
    Ok((answer, written))
}

const USUAL_LOSS: Length = Length::of_mm(10.0);
const USUAL_REMNANT: Length = Length::of_m(2.0);
const USUAL_LIMIT: Duration = Duration::from_secs(10);

fn solve(table: &Table, request: &CutRequest) -> Result<(Plan, f64), Problem> {
    let begun = Instant::now();
    let limit = request.limit.unwrap_or(USUAL_LIMIT);
    let stop = || begun.elapsed() >= limit;
    let settings = Settings { seed: request.seed, tolerance: 0, stop: &stop, progress: &|_| {} };
    let plan = plan(&table.job, &settings).map_err(|refused| {
        let mut problem = Problem::refused("cannot-plan", "these pieces cannot be cut from this rack");
        problem.hints = refused.mistakes.iter().map(ToString::to_string).collect();
        problem
    })?;
    check(&table.job, &plan).map_err(|faults| {
        let mut problem =
            Problem::refused("plan-faulty", "the plan did not pass its independent check: nothing is to be cut by it");
        problem.hints = faults.iter().map(ToString::to_string).collect();
        problem
    })?;
    Ok((plan, begun.elapsed().as_secs_f64()))
}

fn table(request: &CutRequest, wanted: Wanted) -> Result<Table, Problem> {
    let rack = open(&request.rack, files::LARGEST_TABLE)?;
    let rack: Vec<files::ReelRecord> =
        rack.complete(files::read_rack(&rack.bytes))?.into_iter().map(|reel| reel.value).collect();
    let mut notes = Vec::new();
    let Wanted { pieces, names, rules, title, day, system } = wanted;
    let pieces = pieces.into_iter().map(|piece| piece.coloured(&rack, &mut notes)).collect();
    let reels = rack.iter().map(reel).collect();
    let table = rack.into_iter().map(|reel| (reel.reel.value.clone(), reel)).collect();
    notes.dedup();
    Ok(Table { job: Job { pieces, reels, rules }, names, reels: table, notes, title, day, system })
}

fn wanted(request: &CutRequest) -> Result<Wanted, Problem> {
    match &request.source {
        PieceSource::Orders { orders, ropes } => {
            let jobs = orders.iter().map(|order| read(order, ropes.as_ref(), request.units));
            of_jobs(request, &jobs.collect::<Result<Vec<_>, _>>()?)
        }
        PieceSource::List(list) => of_list(request, list),
    }
}

/// Pieces before their colour is settled.
pub(crate) struct Wanted {
    pieces: Vec<WantedPiece>,
    names: BTreeMap<String, String>,
    rules: Rules,
    title: String,
    day: Option<Day>,
    system: System,
}

struct WantedPiece {
    piece: Piece,
    colour: Option<String>,
}

impl WantedPiece {
    /// The piece under its rope's key: the colour asked for, or that of which
    /// the rack has most.
    fn coloured(self, rack: &[files::ReelRecord], notes: &mut Vec<String>) -> Piece {
        let WantedPiece { mut piece, colour } = self;
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

fn key(rope: &str, colour: &str) -> String {
    if colour.is_empty() { rope.to_owned() } else { format!("{rope}, {colour}") }
}

fn reel(record: &files::ReelRecord) -> Reel {
    let mut reel = Reel::new(
        record.reel.value.clone(),
        key(&same(&record.rope.value), &colour_of(record)),
        record.length.value.down_to_mm(),
    );
    reel.batch = record.batch.as_ref().map(|batch| batch.value.clone());
    reel.count = record.count.value;
    reel.origin = if record.remnant.value { Origin::Remnant } else { Origin::Rack };
    reel.flaws = record
        .flaws
        .iter()
        .map(|flaw| Flaw { from: flaw.value.from.down_to_mm(), to: flaw.value.to.up_to_mm() })
        .collect();
    reel
}

fn rules(request: &CutRequest, loft: Option<&files::LoftRecord>) -> Rules {
    let own = |of: fn(&files::LoftRecord) -> &Option<files::Placed<Length>>| {
        loft.and_then(|loft| of(loft).as_ref()).map(|placed| placed.value)
    };
    let loss = request.loss.or(own(|loft| &loft.loss_per_cut)).unwrap_or(USUAL_LOSS);
    let remnant = request.smallest_remnant.or(own(|loft| &loft.smallest_remnant)).unwrap_or(USUAL_REMNANT);
    Rules { loss_per_cut: loss.up_to_mm(), ..Rules::keeping(remnant.up_to_mm()) }
}

/// The pieces of orders that have been read.
pub(crate) fn of_jobs(request: &CutRequest, jobs: &[crate::job::Job]) -> Result<Wanted, Problem> {
    let mut wanted: Option<Wanted> = None;
    for job in jobs {
        let here = wanted.get_or_insert_with(|| Wanted {
            pieces: Vec::new(),
            names: BTreeMap::new(),
            rules: rules(request, job.order.loft.as_ref().map(|loft| &loft.value)),
            title: format!("cut plan, order {}", job.number()),
            day: Some(day(job.order.order.value.date.value)),
            system: job.system,
        });
        for piece in pieces(job) {
            let record = &piece.line.record;
            let mut cut = Piece::new(piece.code.clone(), piece.line.made.rope.name.clone(), piece.line.made.cut);
            cut.rank = u32::from(!record.rush.value);
            cut.same_reel = record.same_reel.value.then(|| format!("{}/{}", job.number(), record.name.value));
            if here.names.insert(piece.code.clone(), record.name.value.clone()).is_some() {
                return Err(Problem::new(Fault::Request, "piece-twice", format!("piece {} comes twice", piece.code))
                    .hint("give each order once, and each its own number"));
            }
            here.pieces
                .push(WantedPiece { piece: cut, colour: record.colour.as_ref().map(|colour| colour.value.clone()) });
        }
    }
    wanted.ok_or_else(|| {
        Problem::new(Fault::Request, "no-orders", "no order is given").hint("give at least one order file")
    })
}

fn of_list(request: &CutRequest, list: &Text) -> Result<Wanted, Problem> {
    let input = open(list, files::LARGEST_TABLE)?;
    let records = input.complete(files::read_pieces(&input.bytes))?;
    let mut pieces = Vec::new();
    let mut names = BTreeMap::new();
    for record in records.iter().map(|record| &record.value) {
        for copy in 1..=record.count.value {
            let id = match record.count.value {
                1 => record.piece.value.clone(),
                _ => format!("{}/{copy}", record.piece.value),
            };
            let mut piece = Piece::new(id.clone(), record.rope.value.clone(), record.length.value.up_to_mm());
            piece.rank = u32::from(!record.rush.value);
            piece.same_reel = record.pair.as_ref().map(|pair| pair.value.clone());
            piece.same_batch = record.batch_set.as_ref().map(|set| set.value.clone());
            names.insert(id, record.piece.value.clone());
            let colour = record.colour.as_ref().map(|colour| colour.value.clone());
            pieces.push(WantedPiece { piece, colour });
        }
    }
    Ok(Wanted {
        pieces,
        names,
        rules: rules(request, None),
        title: "cut plan".to_owned(),
        day: None,
        system: request.units.unwrap_or_default(),
    })
}

fn answer(table: &Table, plan: &Plan, seconds: f64) -> CutAnswer {
    let system = table.system;
    let bench = |length: Millimetres| Amount::of(length, system);
    let name = |piece: &str| table.names.get(piece).cloned().unwrap_or_default();
    let lengths: BTreeMap<&str, &Piece> = table.job.pieces.iter().map(|piece| (piece.id.as_str(), piece)).collect();
    let totals = plan.totals;
    let gap = plan.gap();
    CutAnswer {
        pieces: table
            .job
            .pieces
            .iter()
            .map(|piece| PieceAnswer {
                piece: piece.id.clone(),
                name: name(&piece.id),
                rope: piece.rope.clone(),
                length: Amount::of(Value::Cut(piece.cut_length()), system),
            })
            .collect(),
        cuts: plan.reels.iter().filter(|reel| !reel.cuts.is_empty()).map(|reel| reel_answer(table, reel)).collect(),
        uncut: plan
            .uncut
            .iter()
            .map(|uncut| {
                let piece = lengths.get(uncut.piece.as_str());
                UncutAnswer {
                    piece: uncut.piece.clone(),
                    rope: piece.map_or_else(String::new, |piece| piece.rope.clone()),
                    length: bench(piece.map_or(Millimetres::ZERO, |piece| piece.cut_length())),
                    why: uncut.why.to_string(),
                }
            })
            .collect(),
        waste: bench(totals.waste),
        bound: bench(totals.waste - gap),
        proven: plan.proven_least_waste(),
        goals: plan
            .goals
            .iter()
            .map(|goal| GoalAnswer {
                goal: goal.aim.to_string(),
                value: goal.value,
                bound: goal.bound,
                proven: goal.proven,
            })
            .collect(),
        scrap: bench(totals.scrap),
        cut_loss: bench(totals.cut_loss),
        remnants: totals.remnants,
        remnant_length: bench(totals.remnant_length),
        interrupted: plan.interrupted,
        cost: cost(table, plan),
        notes: table.notes.clone(),
        verdict: verdict(table, plan),
        taken: taken(table, plan),
        seconds,
    }
}

fn reel_answer(table: &Table, reel: &CutReel) -> ReelAnswer {
    let bench = |length: Millimetres| Amount::of(length, table.system);
    let record = table.reels.get(&reel.reel);
    ReelAnswer {
        reel: reel.reel.clone(),
        copy: reel.copy,
        rope: reel.rope.clone(),
        batch: record.and_then(|record| record.batch.as_ref()).map(|batch| batch.value.clone()),
        length: bench(record.map_or(Millimetres::ZERO, |record| record.length.value.down_to_mm())),
        pieces: reel
            .cuts
            .iter()
            .map(|cut| CutPieceAnswer {
                piece: cut.piece.clone(),
                name: table.names.get(&cut.piece).cloned().unwrap_or_default(),
                from: bench(cut.from),
                to: bench(cut.to),
            })
            .collect(),
        leftovers: reel
            .leftovers
            .iter()
            .map(|left| LeftoverAnswer { length: bench(left.to - left.from), becomes: left.becomes.to_string() })
            .collect(),
    }
}

fn taken(table: &Table, plan: &Plan) -> Vec<ReelTaken> {
    let exact = |cut: &CutReel| {
        let known = table.job.reels.iter().find(|reel| reel.id == cut.reel)?;
        Some(reel_taken(cut, known.length.count(), &known.flaws))
    };
    plan.reels.iter().filter_map(exact).collect()
}

/// The plan in a sentence: what it spoils, and how sure that is the least.
fn verdict(table: &Table, plan: &Plan) -> String {
    let show = |length: Millimetres| Value::from(length).show(table.system);
    let waste = show(plan.totals.waste);
    if !plan.uncut.is_empty() {
        let count = plan.uncut.len();
        let word = if count == 1 { "piece" } else { "pieces" };
        return format!("Not enough rope: {count} {word} cannot be cut. The rest spoils {waste}.");
    }
    // What is least is scrap and trim with each kept remnant charged, not the
    // rope spoiled alone: fewer remnants would be bought with more scrap.
    let charged = match plan.totals.remnants {
        0 => String::new(),
        _ => format!(", with each remnant kept counted as {}", show(table.job.rules.value_of_a_remnant())),
    };
    match (plan.proven_least_waste(), plan.goal(Aim::Loss)) {
        (true, _) => format!("Best possible: {waste} spoiled; no plan loses less{charged}."),
        (false, Some(goal)) => {
            let gap = show(Millimetres::new(goal.value - goal.bound));
            format!("{waste} spoiled; within {gap} of the best possible{charged}, which was not reached in the time.")
        }
        (false, None) => format!("{waste} spoiled."),
    }
}

/// Rope taken at the rack's prices; `None` unless every reel cut has one.
fn cost(table: &Table, plan: &Plan) -> Option<String> {
    let used: Option<Vec<Used>> = plan
        .reels
        .iter()
        .filter(|reel| !reel.cuts.is_empty())
        .map(|reel| {
            let record = table.reels.get(&reel.reel)?;
            let price = &record.price_per_metre.as_ref()?.value;
            let per_metre = Money::read(&format!("{} {}", price.amount, price.currency)).ok()?;
            let pieces: Millimetres = reel.cuts.iter().map(|cut| cut.to - cut.from).sum();
            let left: Millimetres = reel
                .leftovers
                .iter()
                .filter(|left| left.becomes != Becomes::Scrap)
                .map(|left| left.to - left.from)
                .sum();
            let spoiled = record.length.value.down_to_mm() - pieces - left;
            Some(Used { rope: reel.rope.clone(), pieces, spoiled, per_metre })
        })
        .collect();
    let cost = rope_cost(&used?, Rounding::HalfUp).ok()?;
    cost.total.map(|total| total.to_string())
}

fn sheet(table: &Table, plan: &Plan, answer: &CutAnswer) -> CutPlanSheet {
    let show = |length: Millimetres| Value::from(length).show(table.system);
    let mut ropes: Vec<RopeReels> = Vec::new();
    let mut rows = Vec::new();
    let mut number = 0;
    for reel in plan.reels.iter().filter(|reel| !reel.cuts.is_empty()) {
        let record = table.reels.get(&reel.reel);
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
        // Each leftover by itself: one may be kept and the next be scrap.
        let rest = reel.leftovers.iter().map(|left| {
            let word = if left.becomes == Becomes::Remnant { "left".to_owned() } else { left.becomes.to_string() };
            format!("{word} {}", show(left.to - left.from))
        });
        let rest_text = rest.collect::<Vec<_>>().join(", ");
        let kept = reel.leftovers.last().is_some_and(|left| left.becomes != Becomes::Scrap);
        let bar = ReelBar {
            name: format!("{}, {}", reel.reel, reel.rope),
            length_mm: record.map_or(0.0, |record| record.length.value.to_mm()),
            pieces: bars,
            loss_mm: table.job.rules.loss_per_cut.count() as f64,
            rest_text,
            rest: if kept { Rest::Kept } else { Rest::Scrap },
        };
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
    lines.extend(answer.notes.iter().map(|note| FindingLine {
        grade: Grade::Note,
        text: note.clone(),
        remedy: None,
        weak_point: None,
        overrule: Overrule::Allowed,
    }));
    lines
}
