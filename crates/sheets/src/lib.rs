//! Bench cards, cut plans and line tables as PDF.
//!
//! Plain facts go in ([`BenchCard`], [`CutPlanSheet`], [`LineTable`]), the
//! bytes of a PDF come out: [`bench_cards`] sets many cards as one document,
//! [`cut_plan`] and [`line_table`] one sheet. Pages are set by the typst
//! library from a template inside the program, with fonts inside the program;
//! nothing is read from disk or network and no clock is asked, so the same
//! facts give the same bytes. Files are PDF/A-2b, tagged, and ask the printer
//! not to scale them. Text is data: it reaches the template as values, never
//! as markup. Not covered: working out what a sheet says.

mod facts;

pub use facts::*;
