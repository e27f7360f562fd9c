//! Rope drawn to scale, in millimetres.
//!
//! What the other rooms work out, as pictures that agree with one another on
//! card, page and book: [`laid_out`] shows an end straight on the bench with
//! its numbered marks, [`finished`] the same end made up with its throat and
//! taper enlarged, [`piece`] a join, ring or strop as a whole, [`taper`] the
//! tail strand by strand, [`marking_strip`] the marks at true size on tiles to
//! cut out, [`time_line`] the order of the steps, and [`cut_bars`] the reels with
//! their pieces. [`plot`] sets one quantity against another.
//!
//! How rope looks, always: standing part plain (three strands as slanted
//! lobes, eight-plait as double chevrons), tail inside hatched, cover
//! stippled, stripped core thinner with fine lines, stitches as short bars,
//! whipping as turns side by side. Marks have a number and a shape that says
//! what happens there ([`MarkShape`]). All in one ink.
//!
//! Method: plane geometry of our own. Not covered: working out any length.

mod bars;
mod course;
mod dimensions;
mod error;
mod finished;
mod laid_out;
mod lead;
mod line_plan;
mod marks;
mod pen;
mod piece;
pub mod plot;
mod rope;
mod scale;
mod strip;
mod svg;
mod taper;
mod time_line;

pub use bars::{PieceBar, ReelBar, Rest, RestBar, cut_bars};
pub use error::DrawingError;
pub use finished::finished;
pub use laid_out::laid_out;
pub use lead::{LeadPath, LeadTurn, Place, View, lead};
pub use line_plan::{BoatOutline, PlanLine, line_plan};
pub use marks::mark_shape;
pub use pen::{Anchor, BENCH_TYPE_MM, Drawing, Point, SMALL_TYPE_MM, Shape, Stroke, Tone, Type, Weight};
pub use piece::{Form, piece};
pub use rope::{Eye, Look, Mark, MarkShape, On, RopeEnd, Stretch, Taper, TaperStep, What};
pub use strip::{MarkingStrip, Part, Ruler, StripLayout, Tile, marking_strip};
pub use taper::taper;
pub use time_line::{Phase, time_line};
