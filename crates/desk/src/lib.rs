//! The application: one function a task, plain data in and out.
//!
//! Front ends call these functions and nothing else. A task takes paths or
//! texts and settings, reads what it needs, asks the rooms of the core, and
//! returns an answer that serialises to the published JSON; a task that
//! cannot be done returns a [`Problem`] that says what was given, what is
//! allowed and what to do. Knows neither HTTP nor the terminal.

mod bench;
mod boat;
mod boats;
mod book;
mod cards;
mod check;
mod choices;
mod convert;
mod cover_answer;
mod cover_facts;
mod cover_plot;
mod cover_task;
mod cover_wish;
mod cut;
mod cut_answer;
mod cut_ask;
mod cut_confirm;
mod cut_pieces;
mod cut_rack;
mod cut_rows;
mod cut_sheet;
mod cut_solve;
mod cut_table;
mod demo;
mod drawn;
mod factors;
mod finished;
mod holding;
mod inland;
mod input;
#[cfg(feature = "records")]
mod interface;
mod job;
#[cfg(feature = "records")]
mod kept;
mod lead_answer;
mod learned;
mod lines;
mod list_task;
mod made_up;
mod one_line;
mod order_of_work;
mod own;
mod paper_to;
mod papers;
mod picture;
mod print;
mod problem;
mod proof;
mod question;
mod quote;
mod quote_paper;
#[cfg(feature = "records")]
pub mod records;
mod rope_task;
mod rule_table;
mod save;
mod schema;
mod short;
mod splice_answer;
mod splice_out;
mod splice_read;
mod splice_task;
mod taken;
mod tenths;
mod terms;
mod text;
mod wire;

pub use bench::{
    BenchAnswer, BenchEnd, Measured, PieceListed, Wanted, bench, bench_cards, measured, order_pieces, show_millimetres,
};
pub use boat::{BoatAnswer, boat};
pub use boats::{BOATS_HEADER, BoatsCount, boats};
pub use book::sources_chapter;
pub use cards::{CardsAnswer, CardsRequest, Paper, cards};
pub use check::{CheckAnswer, FileKind, check, check_with};
pub use choices::{Choice, Choices, choices};
pub use cover_answer::{CoverAnswer, MoreAnswer, RangeAnswer};
pub use cover_task::{CoverRequest, cover};
pub use cut::{
    BuyAnswer, CutAnswer, CutProgress, CutRequest, LaterAnswer, PieceSource, ReelAnswer, UncutAnswer, Watch, cut,
    cut_to, cut_watched,
};
pub use cut_ask::day;
pub use cut_confirm::{ConfirmAnswer, confirm, confirm_change, take_back};
pub use cut_rack::{RackChange, RackRow, confirm_rows, rack_fingerprint, take_back_rows};
pub use demo::{DEMO, Demo, blank_order};
pub use drawn::{LineDrawn, LinePictures, Picture, SpliceDrawn, line_drawn, plan_drawn, splice_drawn};
pub use factors::{FACTORS, check_factors, factors_text, with_factors};
pub use holding::{HeldReel, Holding};
#[cfg(feature = "records")]
pub use interface::interface_schemas;
#[cfg(feature = "records")]
pub use kept::{
    BringIn, CertifyRequest, CriterionAnswer, DueAnswer, DueEntry, DueRequest, EnterTestsAnswer, EnterTestsRequest,
    EntryAnswer, EventRequest, FIGURES, FigureEntry, InspectAnswer, InspectRequest, KeptFigures, KeptPrices,
    MovedFigure, PieceAnswer, PieceRequest, ProveRequest, ResidualAnswer, StoredRequest, TakenInAnswer, TestEntry,
    bring_in, certify, due, due_calendar, due_paper, enter_event, enter_figure, enter_test, enter_tests, inspect,
    keep_curve, kept_curve, piece, plan_piece, quote_kept, stored_learned, stored_proof, take_in_tests,
};
pub use lead_answer::{FitAnswer, LeadAnswer, TightestAnswer, TurnAnswer};
pub use learned::{FigureAnswer, LearnedAnswer, LearnedRequest, learned};
pub use lines::{
    EffectAnswer, EndAnswer, LineAnswer, LineMark, LinesAnswer, LinesRequest, LoadAnswer, SecondState, StateAnswer,
    lines,
};
pub use list_task::{ColumnAnswer, ExportAnswer, ImportAnswer, export, import, line_list_columns};
pub use own::{OwnAnswer, OwnSource};
pub use paper_to::PaperTo;
pub use papers::{PaperKind, PapersAnswer, PapersRequest, papers};
pub use print::{cards_pdf, paper_pdf};
pub use problem::{Fault, Mistake, Problem, Where};
pub use proof::{
    CertificateAnswer, CertificateRequest, CurveAnswer, CurveRequest, PlanAnswer, PlanRequest, ProofAnswer,
    ProofRequest, SpliceProof, StatisticsAnswer, TestAnswer, certificate, certificate_paper, curve, curve_drawn,
    curve_paper, proof, proof_plans, show_force, tests_drawn, tests_paper,
};
pub use quote::{QuoteAnswer, QuoteLineAnswer, QuoteRequest, RefusedAnswer, quote};
pub use quote_paper::quote_paper;
pub use rope_task::{CandidateAnswer, MovedAnswer, RopeChoiceAnswer, RopeRequest, rope};
pub use rule_table::{FactAnswer, LOFT_RULES, SpokenAnswer, WeighedAnswer, check_rules, rule_facts};
pub use save::save;
pub use schema::{Document, schema};
pub use short::{ShortAnswer, Wants, short};
pub use splice_answer::{ChanceAnswer, LoadGripAnswer, SpliceAnswer};
pub use splice_out::{DRAWING_WIDTH_MM, splice_svg, splice_to};
pub use splice_task::{SpliceRequest, Variant, compare, grid, length, splice, time};
pub use taken::ReelTaken;
pub use tenths::{OtherwiseAnswer, TenthAnswer};
pub use terms::{TERMS, check_items, check_terms};
pub use text::Text;
pub use wire::{Amount, FindingAnswer, Margin, StepAnswer, TaperStepAnswer, WeakPointAnswer};

/// Which units an answer is printed in.
pub use units::System;
