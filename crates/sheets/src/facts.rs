//! What a sheet says, as plain facts.
//!
//! Text comes in ready to print, in the unit system the reader wants; only
//! what is drawn comes in as millimetres, inside [`drawing::RopeEnd`] and
//! [`drawing::ReelBar`]. Any text may come from a user: it is printed, never
//! read as markup. Not covered: working any of it out.

use drawing::{Phase, ReelBar, RopeEnd, Ruler};

/// The page a sheet is printed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    /// 210 by 297 mm.
    A4,
    /// 215.9 by 279.4 mm (8 1/2 by 11 in).
    Letter,
    /// A roll 100 mm wide, as label printers take: pages as long as they need
    /// to be, strips along the roll.
    Roll,
}

impl Paper {
    /// Width and height upright, in mm. The height of a page on a roll is its
    /// own; given here is that of a short one.
    pub fn size_mm(self) -> (f64, f64) {
        match self {
            Paper::A4 => (210.0, 297.0),
            Paper::Letter => (215.9, 279.4),
            Paper::Roll => (100.0, 150.0),
        }
    }
}

/// The day printed on a sheet and written into the file. Sheets never ask
/// what day it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Day {
    /// Year.
    pub year: i32,
    /// Month, 1 to 12.
    pub month: u8,
    /// Day of the month.
    pub day: u8,
}

/// How grave a finding is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Grade {
    /// Worth knowing. Printed with a ring.
    Note,
    /// May be used, with care. Printed with a triangle.
    Caution,
    /// Must not be used as it stands. Printed with an octagon.
    Stop,
}

/// Whether a rigger may overrule a stop by name, date and reason.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Overrule {
    /// He may.
    Allowed,
    /// Nobody may: it holds or lifts a person, or is standing rigging.
    Never,
}

/// A finding on a piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FindingLine {
    /// How grave it is.
    pub grade: Grade,
    /// The finding in a sentence.
    pub text: String,
    /// The shortest change that clears it, if one was found.
    pub remedy: Option<String>,
    /// The weak point it is about, as the weak-point table names it.
    pub weak_point: Option<String>,
    /// For a stop: whether it may be overruled.
    pub overrule: Overrule,
}

/// A headline number, set large.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Headline {
    /// What it is, such as `bury`.
    pub name: String,
    /// The number with its unit.
    pub value: String,
}

/// One end of a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct EndCard {
    /// Where it is, such as `end A, halyard shackle`.
    pub name: String,
    /// Its kind, such as `long-bury eye on 12 mm pin`.
    pub kind: String,
    /// Its headline numbers: bury, eye, twine and so on.
    pub headlines: Vec<Headline>,
    /// The end in millimetres: stretches, marks, eye, taper. The marks table,
    /// both drawings, the taper picture and the marking strip come from this,
    /// so they cannot differ. An end without marks, such as a whipped one,
    /// gets no strip.
    pub layout: RopeEnd,
    /// Steps with this piece's numbers, in order.
    pub steps: Vec<String>,
    /// The steps as parts of the work, for the time line; they must come to as
    /// many as there are steps. Empty for no time line.
    pub phases: Vec<Phase>,
    /// What must be done before the tail goes in, because it cannot be later.
    pub before: Vec<String>,
    /// Tools and twine.
    pub tools: Vec<String>,
    /// Time to allow, such as `35 min`.
    pub time: String,
}

/// A box for what was measured.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AsMadeBox {
    /// What is written in it, such as `finished length`.
    pub name: String,
    /// What it should be, with its tolerance; empty for free entries.
    pub wanted: String,
}

/// One row of the weak-point table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WeakPointRow {
    /// Where.
    pub place: String,
    /// Its strength.
    pub strength: String,
    /// What that rests on: its source, or `not assessed`.
    pub basis: String,
    /// Whether it is the lowest.
    pub lowest: bool,
}

/// Who overruled a stop.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OverrideRecord {
    /// By whom.
    pub name: String,
    /// On which day.
    pub date: String,
    /// Why.
    pub reason: String,
}

/// A bench card: one piece, or the refusal to make it.
///
/// A card with a stop finding becomes a one-page refusal without a marking
/// strip unless an override is recorded and every stop on it may be overruled.
#[derive(Debug, Clone, PartialEq)]
pub struct BenchCard {
    /// Order.
    pub order: String,
    /// Boat.
    pub boat: String,
    /// Customer.
    pub customer: String,
    /// Line, such as `main halyard`.
    pub line: String,
    /// Piece code.
    pub piece: String,
    /// Rope, such as `10 mm 12-strand HMPE, grey`.
    pub rope: String,
    /// Cut length.
    pub cut_length: String,
    /// Finished length.
    pub finished_length: String,
    /// Tension at which lengths are measured.
    pub reference_tension: String,
    /// The ends; usually two.
    pub ends: Vec<EndCard>,
    /// Findings on the piece.
    pub findings: Vec<FindingLine>,
    /// Cautions of this piece, beside those on every card.
    pub cautions: Vec<String>,
    /// Boxes for what was measured. Batch, date and initials are always there.
    pub as_made: Vec<AsMadeBox>,
    /// Weak points.
    pub weak_points: Vec<WeakPointRow>,
    /// Numbers on the card that rest on no published source, each with what
    /// it rests on, such as `bury: common practice`.
    pub rests_on: Vec<String>,
    /// Override, if a stop was overruled.
    pub override_record: Option<OverrideRecord>,
    /// Text of the code that leads back to the record; at most 1,000 bytes.
    pub code: String,
    /// The day of the card.
    pub day: Day,
    /// Ruler of the marking strip.
    pub ruler: Ruler,
}

impl BenchCard {
    /// Whether the card is printed as a refusal.
    pub fn refused(&self) -> bool {
        refused(&self.findings, self.override_record.as_ref())
    }
}

/// Whether a piece with these findings is refused: by a stop that nobody has
/// overruled, or that nobody may.
pub fn refused(findings: &[FindingLine], overruled: Option<&OverrideRecord>) -> bool {
    let mut stops = findings.iter().filter(|finding| finding.grade == Grade::Stop);
    stops.any(|stop| overruled.is_none() || stop.overrule == Overrule::Never)
}

/// One row of the cut plan's table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CutRow {
    /// Number on the bars.
    pub number: u32,
    /// Piece code and name.
    pub piece: String,
    /// Boat or order.
    pub boat: String,
    /// Reel it is cut from.
    pub reel: String,
    /// Length to cut.
    pub length: String,
    /// Running length on the reel at which the cut is made.
    pub running: String,
}

/// The cut plan of one order or day.
#[derive(Debug, Clone, PartialEq)]
pub struct CutPlanSheet {
    /// Title, such as `cut plan, order 114`.
    pub title: String,
    /// The plan's first sentence: waste, bound, proven or the gap.
    pub verdict: String,
    /// Figures set beside it: used, left, scrap, bound.
    pub headlines: Vec<Headline>,
    /// Reels with their pieces, grouped as they are to be printed.
    pub ropes: Vec<RopeReels>,
    /// Every cut in order.
    pub rows: Vec<CutRow>,
    /// Findings: what is short and must be bought, and so on.
    pub findings: Vec<FindingLine>,
    /// The day of the plan.
    pub day: Day,
}

/// The reels of one rope, drawn to one scale.
#[derive(Debug, Clone, PartialEq)]
pub struct RopeReels {
    /// The rope.
    pub rope: String,
    /// Its reels in the order in which they are cut.
    pub reels: Vec<ReelBar>,
}

/// One row of the line table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LineRow {
    /// Line.
    pub line: String,
    /// Steady and peak load.
    pub load: String,
    /// Rope.
    pub rope: String,
    /// Ends.
    pub ends: String,
    /// Finished length.
    pub finished_length: String,
    /// Cut length.
    pub cut_length: String,
    /// Gravest finding, if any, in a word or two.
    pub finding: Option<(Grade, String)>,
}

/// An order on one sheet: its lines.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LineTable {
    /// Title, such as `order 114`.
    pub title: String,
    /// Boat and customer.
    pub subtitle: String,
    /// The lines.
    pub rows: Vec<LineRow>,
    /// What the table rests on, sentence by sentence.
    pub notes: Vec<String>,
    /// The day of the sheet.
    pub day: Day,
}
