//! The command line: commands, their arguments and help.

use crate::own::OwnAsk;
use crate::splice_ask::SpliceAsk;
use clap::{Args, Parser, Subcommand, ValueEnum};
use desk::{
    CardsRequest, CutRequest, Document, LinesRequest, Paper, PaperKind, PapersRequest, PieceSource, Problem, System,
};
use std::path::PathBuf;
use std::time::Duration;

/// For the rigger in a rope loft: loads, ropes, splices, cut plans and bench
/// cards, each with its working.
#[derive(Debug, Parser)]
#[command(name = "becket", version, max_term_width = 80, arg_required_else_help = true, disable_help_subcommand = true)]
#[command(after_help = AFTER)]
pub struct Cli {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
    /// Print JSON (its schema: becket schema).
    #[arg(long, global = true)]
    pub json: bool,
    /// Print in these units; what is typed may be in either.
    #[arg(long, global = true, value_enum)]
    pub units: Option<Units>,
}

const AFTER: &str = "\
Exit codes: 0 done; 1 done, with a stop finding; 2 the command is wrong;
3 a file has mistakes; 4 reading or writing failed; 5 it cannot be made.

Not for life support, climbing, lifting people, or signing off standing
rigging. A proof or break test outranks every figure. Local codes, makers'
instructions and qualified people come first.";

/// Units to print.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub enum Units {
    /// Millimetres, metres, kilonewtons, grams.
    Metric,
    /// Feet and inches, pounds-force, pounds.
    Us,
}

impl Units {
    /// The same for desk.
    pub fn system(self) -> System {
        match self {
            Units::Metric => System::Metric,
            Units::Us => System::Us,
        }
    }
}

/// The tasks.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Every line of an order: load, rope, ends, lengths, findings.
    Lines(TableAsk),
    /// One line of an order in full.
    Line(LineAsk),
    /// The loads of many boats from one table (CSV).
    Boats(crate::boats::BoatsAsk),
    /// Choose the rope of a line: every candidate, every check.
    Rope(crate::rope::RopeAsk),
    /// Cover on or off: where it may come off, what that saves and costs.
    Cover(crate::cover::CoverAsk),
    /// Print the loft's rules on ends and covers, to copy and change.
    Rules(crate::cover::RulesAsk),
    /// Lay out one end: marks, taper, grip, weak points.
    Splice(Box<SpliceAsk>),
    /// Plan the cuts from the rack with proven least waste.
    Cut(Box<CutAsk>),
    /// Confirm a cut plan: change the rack once, or take the last one back.
    Confirm(ConfirmAsk),
    /// Write the bench cards of an order.
    Sheets(SheetsAsk),
    /// Proof and break tests: the log, plans, curves, what the loft has learnt.
    Proof(crate::proof::ProofAsk),
    /// What must be looked at by a day; also as a calendar.
    #[cfg(feature = "pages")]
    Due(crate::kept::DueAsk),
    /// One piece by the code on its label; enter what happened to it.
    #[cfg(feature = "pages")]
    Piece(Box<crate::kept::PieceAsk>),
    /// A quote for an order: rope, labour, waste, margin, tax.
    Price(crate::price::PriceAsk),
    /// Write an order's lines as a list for others: spreadsheet or CSV.
    Export(crate::list::ExportAsk),
    /// Read a line list, spreadsheet or CSV, into lines of an order.
    Import(crate::list::ImportAsk),
    /// Find every mistake in an order, rack, rope list or piece list.
    Check(CheckAsk),
    /// Print the JSON schema of the order file or of an answer.
    Schema(SchemaAsk),
    /// Serve the pages: orders, lines, rack and bench in a browser.
    #[cfg(feature = "pages")]
    Pages(Box<crate::pages::PagesAsk>),
    /// Back up, restore, move, export or check the loft's records.
    #[cfg(feature = "pages")]
    Store(crate::records::StoreAsk),
    /// Print shell completions.
    Completions(CompletionsAsk),
    /// Write the man pages to a folder.
    Manual(ManualAsk),
    /// Print a chapter of the rigger's book, or the help of a command.
    Help(HelpAsk),
}

/// An order and its rope list.
#[derive(Debug, Args)]
pub struct LinesAsk {
    /// The order file (TOML).
    pub order: PathBuf,
    /// The loft's rope list (CSV); ropes.csv beside the order if there is one.
    #[arg(long)]
    pub ropes: Option<PathBuf>,
    #[command(flatten)]
    own: OwnAsk,
}

impl LinesAsk {
    /// For desk.
    pub fn request(&self, units: Option<System>) -> Result<LinesRequest, Problem> {
        Ok(LinesRequest {
            order: self.order.clone().into(),
            ropes: self.ropes.clone().map(Into::into),
            own: self.own.source()?,
            units,
            ..LinesRequest::default()
        })
    }
}

/// The table of an order's lines.
#[derive(Debug, Args)]
pub struct TableAsk {
    /// Order and rope list.
    #[command(flatten)]
    pub lines: LinesAsk,
    /// Say for which lines a tenth more or less of an input moves rope, weak
    /// point or verdict.
    #[arg(long)]
    pub tenths: bool,
}

impl TableAsk {
    /// For desk.
    pub fn request(&self, units: Option<System>) -> Result<LinesRequest, Problem> {
        Ok(LinesRequest { tenths: self.tenths, ..self.lines.request(units)? })
    }
}

/// One line.
#[derive(Debug, Args)]
pub struct LineAsk {
    /// Order and rope list.
    #[command(flatten)]
    pub lines: LinesAsk,
    /// The line's name, capitals or not.
    pub name: String,
    /// Show how every number came about.
    #[arg(long)]
    pub working: bool,
}

impl LineAsk {
    /// For desk.
    pub fn request(&self, units: Option<System>) -> Result<LinesRequest, Problem> {
        Ok(LinesRequest { name: Some(self.name.clone()), tenths: true, ..self.lines.request(units)? })
    }
}

/// A cut plan.
#[derive(Debug, Args)]
pub struct CutAsk {
    /// Order files (TOML).
    #[arg(required_unless_present = "pieces")]
    orders: Vec<PathBuf>,
    /// A bare list of pieces instead of orders (CSV: piece,rope,length,count,
    /// colour,allowance,pair,batch_set,rush,not_before,not_after).
    #[arg(long, conflicts_with = "orders")]
    pieces: Option<PathBuf>,
    /// The rack (CSV: reel,rope,length,colour,batch,count,remnant,flaws,
    /// price_per_metre).
    #[arg(long)]
    pub rack: PathBuf,
    /// What a supplier sells (CSV: rope,length,price,count,colour,batch): where
    /// the rack runs short, what to buy for the least money.
    #[arg(long)]
    offers: Option<PathBuf>,
    /// The loft's rope list (CSV); ropes.csv beside each order if there is one.
    #[arg(long)]
    ropes: Option<PathBuf>,
    #[command(flatten)]
    own: OwnAsk,
    /// Rope lost at each cut: 10mm.
    #[arg(long)]
    loss: Option<String>,
    /// Rope cut off a reel's free end before its first piece: 50mm.
    #[arg(long)]
    loss_per_end: Option<String>,
    /// Smallest remnant worth keeping: 2m.
    #[arg(long)]
    smallest_remnant: Option<String>,
    /// What one more remnant is held to cost, as rope spoiled: 2m.
    #[arg(long)]
    remnant_value: Option<String>,
    /// Most remnants of one rope that are to lie in the rack: 4.
    #[arg(long)]
    most_remnants: Option<u32>,
    /// The day of cutting, for first and last days: 2026-03-31.
    #[arg(long)]
    day: Option<String>,
    /// Longest search: 10s, 2min.
    #[arg(long)]
    limit: Option<String>,
    /// Seed of the search; the same seed gives the same plan.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// Print CSV, one row a cut.
    #[arg(long)]
    pub csv: bool,
    /// Confirm the plan at once: the rack file is changed, and a journal beside
    /// it kept.
    #[arg(long)]
    pub confirm: bool,
    /// Write cut-plan.pdf, cut-plan.json and cut-plan.csv to this folder.
    #[arg(long)]
    pub out: Option<PathBuf>,
    /// Paper of the sheet.
    #[arg(long, value_enum, default_value_t = PaperSize::A4)]
    pub paper: PaperSize,
}

/// A plan to be confirmed or taken back.
#[derive(Debug, Args)]
pub struct ConfirmAsk {
    /// The cut-plan.json that cut --out wrote.
    #[arg(required_unless_present = "take_back", conflicts_with = "take_back")]
    pub plan: Option<PathBuf>,
    /// The rack file that the plan was made for.
    #[arg(long)]
    pub rack: PathBuf,
    /// Take the last confirmed plan back instead.
    #[arg(long)]
    take_back: bool,
}

impl CutAsk {
    /// For desk.
    pub fn request(&self, units: Option<System>) -> Result<CutRequest, Problem> {
        let source = match &self.pieces {
            Some(list) => PieceSource::List(list.clone().into()),
            None => PieceSource::Orders {
                orders: self.orders.iter().cloned().map(Into::into).collect(),
                ropes: self.ropes.clone().map(Into::into),
            },
        };
        let length =
            |field: &str, text: &Option<String>| text.as_deref().map(|text| desk::length(field, text)).transpose();
        let limit = self.limit.as_deref().map(|text| desk::time("--limit", text)).transpose()?;
        Ok(CutRequest {
            source,
            own: self.own.source()?,
            rack: self.rack.clone().into(),
            offers: self.offers.clone().map(Into::into),
            loss: length("--loss", &self.loss)?,
            loss_per_end: length("--loss-per-end", &self.loss_per_end)?,
            smallest_remnant: length("--smallest-remnant", &self.smallest_remnant)?,
            remnant_value: length("--remnant-value", &self.remnant_value)?,
            most_remnants: self.most_remnants,
            day: self.day.as_deref().map(|text| desk::day("--day", text)).transpose()?,
            limit: limit.map(Duration::from_secs_f64),
            seed: self.seed,
            units,
        })
    }
}

/// The cards of an order.
#[derive(Debug, Args)]
pub struct SheetsAsk {
    /// Order and rope list.
    #[command(flatten)]
    lines: LinesAsk,
    /// The folder to write to; made if it is missing.
    #[arg(long)]
    out: PathBuf,
    /// A rack (CSV): the cut plan is written too.
    #[arg(long)]
    rack: Option<PathBuf>,
    /// Paper of the sheets.
    #[arg(long, value_enum, default_value_t = PaperSize::A4)]
    paper: PaperSize,
    /// What is written, commas between: cards (with the cut plan, where a rack
    /// is given), labels, line-plan, calculation, delivery.
    #[arg(long, value_delimiter = ',', default_value = "cards", value_parser = sheet_words())]
    what: Vec<String>,
    /// One line only; not for cards.
    #[arg(long)]
    line: Option<String>,
    /// Width of a label: "70 mm".
    #[arg(long, default_value = "70 mm")]
    label_width: String,
    /// Height of a label: "42 mm".
    #[arg(long, default_value = "42 mm")]
    label_height: String,
    /// Labels across and down a sheet of the paper, such as 2x6; without it
    /// they are for a roll.
    #[arg(long)]
    label_sheet: Option<String>,
}

fn sheet_words() -> Vec<&'static str> {
    std::iter::once("cards").chain(desk::PaperKind::ALL.iter().map(|kind| kind.word())).collect()
}

impl SheetsAsk {
    /// For desk.
    pub fn request(&self, units: Option<System>) -> Result<CardsRequest, Problem> {
        Ok(CardsRequest {
            lines: self.lines.request(units)?,
            out: self.out.clone(),
            paper: self.paper.desk(),
            rack: self.rack.clone().map(Into::into),
        })
    }

    /// Are the cards among what is asked for?
    pub fn wants_cards(&self) -> bool {
        self.what.iter().any(|word| word == "cards")
    }

    /// The other papers, for desk; nothing where none is asked for.
    pub fn papers(&self, units: Option<System>) -> Result<Option<PapersRequest>, Problem> {
        let wanted = |kind: &PaperKind| self.what.iter().any(|word| word == kind.word());
        let kinds: Vec<PaperKind> = PaperKind::ALL.into_iter().filter(wanted).collect();
        if kinds.is_empty() {
            return Ok(None);
        }
        let label_sheet = self.label_sheet.as_deref().map(|text| desk::grid("--label-sheet", text)).transpose()?;
        Ok(Some(PapersRequest {
            lines: LinesRequest { name: self.line.clone(), ..self.lines.request(units)? },
            out: self.out.clone(),
            paper: self.paper.desk(),
            kinds,
            label_mm: (
                desk::length("--label-width", &self.label_width)?.to_mm(),
                desk::length("--label-height", &self.label_height)?.to_mm(),
            ),
            label_sheet,
            pages_at: None,
        }))
    }
}

/// Paper sizes.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub enum PaperSize {
    /// 210 x 297 mm.
    A4,
    /// 8 1/2 x 11 in.
    Letter,
    /// A roll 100 mm wide; strips lie along it, whole.
    Roll,
}

impl PaperSize {
    /// The same for desk.
    pub fn desk(self) -> Paper {
        match self {
            PaperSize::A4 => Paper::A4,
            PaperSize::Letter => Paper::Letter,
            PaperSize::Roll => Paper::Roll,
        }
    }
}

/// A file to check.
#[derive(Debug, Args)]
pub struct CheckAsk {
    /// An order (.toml), or a table (.csv): rack, rope list, piece list,
    /// offers, log of tests, measured figures, items of a quote, load curve.
    pub file: PathBuf,
    #[command(flatten)]
    pub own: OwnAsk,
}

/// A schema.
#[derive(Debug, Args)]
pub struct SchemaAsk {
    /// Of which document.
    #[arg(default_value = "order", value_parser = document_words())]
    document: String,
}

fn document_words() -> Vec<&'static str> {
    Document::ALL.iter().map(|(_, word)| *word).collect()
}

impl SchemaAsk {
    /// For desk.
    pub fn document(&self) -> Document {
        Document::from_word(&self.document).unwrap_or(Document::Order)
    }
}

/// Completions.
#[derive(Debug, Args)]
pub struct CompletionsAsk {
    /// For which shell.
    #[arg(value_enum)]
    pub shell: clap_complete::Shell,
}

/// Help.
#[derive(Debug, Args)]
pub struct HelpAsk {
    /// A chapter, such as first-day or cautions, or a command; without it the
    /// list of both.
    pub topic: Option<String>,
}

/// Man pages.
#[derive(Debug, Args)]
pub struct ManualAsk {
    /// The folder to write to.
    #[arg(long)]
    pub out: PathBuf,
}
