//! The marking strip: the marks at true size, on tiles to cut out and join.
//!
//! A strip is as long as the distance of the last mark from the bitter end.
//! It is cut into tiles that fit the page; each tile but the first of a run
//! begins with a tab that repeats the end of the one before, so that rulers
//! and marks can be laid over each other. Where the strip would be longer
//! than a whole strip may be, plain rope between marks far apart is left out
//! and named as a length to measure. Tiles and plain lengths add up to the
//! strip exactly; [`MarkingStrip::sum_check`] prints that sum.

use crate::DrawingError;
use crate::course::{Course, Part as RopePart, Texture, rope};
use crate::laid_out::texture_of;
use crate::marks::{self, Label, RING_MM, ROW_MM};
use crate::pen::{Anchor, Drawing, FINE, HAIR, OUTLINE, Pen, Point, Type, shortened};
use crate::rope::{Look, Mark, RopeEnd, positive};
use crate::svg::number;

/// Kept on either side of a mark where plain rope is left out, in mm.
const AROUND_MM: f64 = 30.0;

/// Plain rope shorter than this is never left out, in mm.
const WORTH_LEAVING_OUT_MM: f64 = 200.0;

/// Heights of a tile's rows, in mm: words, ruler, rope.
const WORDS_MM: f64 = 4.6;
const RULER_MM: f64 = 6.6;
const BAND_MM: f64 = 6.0;

/// Free of marks on either side of a cut, in mm.
const CLEAR_MM: f64 = 10.0;

/// The ruler along a strip.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ruler {
    /// Ticks at 5 and 10 mm, numbers every 50 mm.
    Millimetres,
    /// Ticks at half and whole inches, numbers every 2 in.
    Inches,
}

/// How a strip is cut into tiles.
#[derive(Debug, Clone, PartialEq)]
pub struct StripLayout {
    /// What the strip is of, printed on every tile.
    pub title: String,
    /// Room for a tile on the page, in mm; at least 100.
    pub tile_width_mm: f64,
    /// Length of the tab that repeats the tile before, in mm.
    pub overlap_mm: f64,
    /// Longest strip that is printed whole, in mm; in a longer one plain rope
    /// is left out.
    pub longest_whole_mm: f64,
    /// The ruler.
    pub ruler: Ruler,
}

impl StripLayout {
    /// Tabs of 12 mm, whole up to 2 m, ruler in millimetres.
    pub fn for_width(title: impl Into<String>, tile_width_mm: f64) -> StripLayout {
        StripLayout {
            title: title.into(),
            tile_width_mm,
            overlap_mm: 12.0,
            longest_whole_mm: 2000.0,
            ruler: Ruler::Millimetres,
        }
    }
}

/// A tile to cut out.
#[derive(Debug, Clone, PartialEq)]
pub struct Tile {
    /// The tile at true size: one millimetre is one millimetre.
    pub drawing: Drawing,
    /// Where it begins after its tab, in mm from the bitter end.
    pub from_mm: f64,
    /// Where it is cut, in mm from the bitter end.
    pub to_mm: f64,
    /// Where `from_mm` stands, in mm from the left edge of the drawing.
    pub origin_mm: f64,
    /// Number and place of each mark on it, in mm from the left edge.
    pub marks: Vec<(u32, f64)>,
}

/// A part of a strip, in order from the bitter end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Part {
    /// A tile: its index and length.
    Tile {
        /// Index into [`MarkingStrip::tiles`].
        index: usize,
        /// Length without its tab, in mm.
        length_mm: f64,
    },
    /// Plain rope to be measured.
    Plain {
        /// Its length, in mm.
        length_mm: f64,
    },
}

/// A marking strip.
#[derive(Debug, Clone, PartialEq)]
pub struct MarkingStrip {
    /// The tiles, from the bitter end.
    pub tiles: Vec<Tile>,
    /// Tiles and plain lengths in order.
    pub parts: Vec<Part>,
    /// Distance of the last mark from the bitter end, in mm.
    pub length_mm: f64,
}

impl MarkingStrip {
    /// The sum of tiles and plain lengths, to be compared with the marks
    /// table: `tile 1 250 + tile 2 250 + measure 900 plain + tile 3 95 = 1495 mm`.
    pub fn sum_check(&self) -> String {
        let parts: Vec<String> = self
            .parts
            .iter()
            .map(|part| match part {
                Part::Tile { index, length_mm } => format!("tile {} {}", index + 1, number(*length_mm)),
                Part::Plain { length_mm } => format!("measure {} plain", number(*length_mm)),
            })
            .collect();
        format!("{} = {} mm", parts.join(" + "), number(self.length_mm))
    }
}

/// The marking strip of an end at true size.
///
/// # Errors
/// As [`RopeEnd::check`]; an end without marks, or whose marks are all at the
/// bitter end, has no strip length and is refused, as are tiles under 100 mm.
///
/// ```
/// # use drawing::{Look, Mark, MarkShape, On, RopeEnd, StripLayout, marking_strip};
/// # let mark = |number, at: f64| Mark { number, on: On::Rope, name: "throat".into(), from_bitter_end_mm: at,
/// #     at_text: format!("{at} mm"), shape: MarkShape::ClosedBand };
/// # let end = RopeEnd { rope_diameter_mm: 10.0, look: Look::Braid, stretches: vec![], made_up: vec![],
/// #     eye: None, taper: None, marks: vec![mark(1, 0.0), mark(2, 610.0)] };
/// let strip = marking_strip(&end, &StripLayout::for_width("end A", 277.0))?;
/// assert_eq!(strip.sum_check(), "tile 1 250 + tile 2 250 + tile 3 110 = 610 mm");
/// # Ok::<(), drawing::DrawingError>(())
/// ```
pub fn marking_strip(end: &RopeEnd, layout: &StripLayout) -> Result<MarkingStrip, DrawingError> {
    end.check()?;
    if !(layout.tile_width_mm.is_finite() && layout.tile_width_mm >= 100.0) {
        return Err(DrawingError::TooNarrow { given_mm: layout.tile_width_mm, least_mm: 100.0 });
    }
    positive("overlap of the tiles", layout.overlap_mm)?;
    let mut marks: Vec<Mark> = end.marks.clone();
    marks.sort_by(|a, b| a.from_bitter_end_mm.total_cmp(&b.from_bitter_end_mm));
    let length_mm = marks.last().map_or(0.0, |mark| mark.from_bitter_end_mm);
    positive("length of the marking strip", length_mm)?;

    let spans = spans(&marks, length_mm, layout);
    let count = spans.iter().filter(|span| span.printed).count();
    let mut tiles = Vec::new();
    let mut parts = Vec::new();
    let mut plain_before = None;
    for (index, span) in spans.iter().enumerate() {
        let length = span.to - span.from;
        if !span.printed {
            parts.push(Part::Plain { length_mm: length });
            plain_before = Some(length);
            continue;
        }
        let next = spans.get(index + 1);
        let face = Face {
            layout,
            look: end.look,
            tile: tiles.len() + 1,
            count,
            span: *span,
            plain_before,
            plain_after: next.filter(|next| !next.printed).map(|next| next.to - next.from),
            last: next.is_none(),
        };
        parts.push(Part::Tile { index: tiles.len(), length_mm: length });
        tiles.push(tile(&face, &marks));
        plain_before = None;
    }
    Ok(MarkingStrip { tiles, parts, length_mm })
}

#[derive(Debug, Clone, Copy)]
struct Span {
    from: f64,
    to: f64,
    printed: bool,
}

/// Everything a tile's face needs to know.
struct Face<'a> {
    layout: &'a StripLayout,
    look: Look,
    tile: usize,
    count: usize,
    span: Span,
    plain_before: Option<f64>,
    plain_after: Option<f64>,
    last: bool,
}

/// Net length of a full tile: whole centimetres.
fn net_length(layout: &StripLayout) -> f64 {
    ((layout.tile_width_mm - layout.overlap_mm - 6.0) / 10.0).floor() * 10.0
}

fn spans(marks: &[Mark], length: f64, layout: &StripLayout) -> Vec<Span> {
    let mut runs = vec![(0.0, length)];
    if length > layout.longest_whole_mm {
        runs.clear();
        let mut start = 0.0;
        let mut before = 0.0;
        for mark in marks {
            let at = mark.from_bitter_end_mm;
            // Whole millimetres on both sides, so that the length to measure
            // is no odd fraction unless the mark itself is.
            let (stop, resume) = ((before + AROUND_MM).floor(), (at - AROUND_MM).ceil());
            if resume - stop >= WORTH_LEAVING_OUT_MM {
                runs.push((start, stop));
                start = resume;
            }
            before = at;
        }
        runs.push((start, length));
    }
    let mut spans: Vec<Span> = Vec::new();
    for (from, to) in runs {
        if let Some(last) = spans.last().copied() {
            spans.push(Span { from: last.to, to: from, printed: false });
        }
        tile_run(&mut spans, marks, (from, to), net_length(layout));
    }
    spans
}

/// Cuts a run into tiles, with no mark close to a cut where that can be had.
fn tile_run(spans: &mut Vec<Span>, marks: &[Mark], (from, to): (f64, f64), net: f64) {
    let mut start = from;
    while to - start > net {
        let mut cut = start + net;
        for mark in marks.iter().rev() {
            let at = mark.from_bitter_end_mm;
            let clear = (at - CLEAR_MM).floor();
            if (at - cut).abs() < CLEAR_MM && clear > start + net / 2.0 {
                cut = clear;
            }
        }
        spans.push(Span { from: start, to: cut, printed: true });
        start = cut;
    }
    spans.push(Span { from: start, to, printed: true });
}

fn tile(face: &Face<'_>, marks: &[Mark]) -> Tile {
    let Span { from, to, .. } = face.span;
    let origin = face.layout.overlap_mm;
    let x_of = |mm: f64| origin + mm - from;
    let joined = face.tile > 1 && face.plain_before.is_none();
    let shown_from = if joined { from - origin } else { from };
    let shown_to = if face.last { to + 4.0 } else { to };
    let here: Vec<&Mark> =
        marks.iter().filter(|mark| (shown_from..=shown_to).contains(&mark.from_bitter_end_mm)).collect();
    let labels = here
        .iter()
        .filter(|mark| mark.from_bitter_end_mm >= from)
        .map(|mark| Label {
            x: x_of(mark.from_bitter_end_mm),
            number: Some(mark.number),
            text: shortened(&format!("{}, {}", mark.name, mark.at_text), Type::SMALL, 84.0),
        })
        .collect();
    let width = face.layout.tile_width_mm;
    // Words stay clear of the join line and of the line to cut along.
    let room = (if joined { origin + 0.6 } else { 0.5 }, if face.last { width - 0.5 } else { x_of(to) - 0.6 });
    let placed = marks::place(labels, room.0, room.1);
    let band_y = WORDS_MM + RULER_MM + BAND_MM / 2.0;
    let band_foot = WORDS_MM + RULER_MM + BAND_MM;
    let height = band_foot + 2.4 + ROW_MM * marks::rows(&placed) as f64;

    let mut pen = Pen::default();
    let course = Course::level(0.0, width, band_y);
    let texture = if face.look == Look::Braid { Texture::Plain } else { texture_of(face.look) };
    rope(&mut pen, &course, RopePart::even(x_of(shown_from), x_of(shown_to), BAND_MM), texture);
    ruler(&mut pen, face, (shown_from, shown_to), x_of);
    edges(&mut pen, face, x_of(to), height);
    words(&mut pen, face, width);
    marks::draw(&mut pen, &placed, band_foot + 0.8, band_foot + 2.0 + RING_MM);
    for mark in &here {
        marks::shape(&mut pen, &course, x_of(mark.from_bitter_end_mm), BAND_MM, mark.shape);
    }
    let places = here.iter().map(|mark| (mark.number, x_of(mark.from_bitter_end_mm))).collect();
    let alt =
        format!("Tile {} of {} of the marking strip, {} to {} mm", face.tile, face.count, number(from), number(to));
    let drawing = pen.finish(width, height, vec!["true size".to_owned()], alt);
    Tile { drawing, from_mm: from, to_mm: to, origin_mm: origin, marks: places }
}

fn ruler(pen: &mut Pen, face: &Face<'_>, (from, to): (f64, f64), x_of: impl Fn(f64) -> f64) {
    // Step between ticks, ticks to a long one, ticks to a number, number per tick.
    let (step, long, numbered, per_tick) = match face.layout.ruler {
        Ruler::Millimetres => (5.0, 2, 10, 5.0),
        Ruler::Inches => (12.7, 2, 4, 0.5),
    };
    let foot = WORDS_MM + RULER_MM;
    let first = (from / step - 1e-9).ceil() as i64;
    let last = (to / step + 1e-9).floor() as i64;
    let mut ticks: Vec<(Point, Point)> = Vec::new();
    for tick in first..=last {
        let x = x_of(tick as f64 * step);
        let long_tick = tick % long == 0;
        ticks.push(((x, foot), (x, foot - if long_tick { 2.4 } else { 1.3 })));
        // The tab is covered by the tile before; its word stands there instead.
        let on_tab = tick as f64 * step < face.span.from - 1e-6;
        if tick % numbered == 0 && !on_tab {
            // At a join the number stands on the side that stays visible.
            let (anchor, aside) = if (x - x_of(face.span.to)).abs() < 4.0 && !face.last {
                (Anchor::End, -0.8)
            } else if (x - x_of(face.span.from)).abs() < 4.0 {
                (Anchor::Start, 0.8)
            } else {
                (Anchor::Middle, 0.0)
            };
            pen.text((x + aside, foot - 3.0), &number(tick as f64 * per_tick), Type::SMALL.anchored(anchor));
        }
    }
    pen.strokes(&ticks, FINE);
}

/// The join line with its tab at the start, and the line to cut along at the end.
fn edges(pen: &mut Pen, face: &Face<'_>, cut_x: f64, height: f64) {
    let origin = face.layout.overlap_mm;
    let (top, foot) = (WORDS_MM, height - 0.4);
    if face.tile > 1 && face.plain_before.is_none() {
        let band_foot = WORDS_MM + RULER_MM + BAND_MM;
        pen.dashed(&[(origin, top), (origin, band_foot + 1.6)], OUTLINE, &[1.6, 0.8]);
        pen.solid(&[(origin, band_foot + 0.9), (origin - 1.0, band_foot + 2.4), (origin + 1.0, band_foot + 2.4)]);
        pen.text((0.6, WORDS_MM + RULER_MM - 3.0), "tab", Type::SMALL);
    } else if face.tile == 1 {
        pen.line(&[(origin, top), (origin, WORDS_MM + RULER_MM + BAND_MM)], OUTLINE);
    } else {
        pen.dashed(&[(origin, top), (origin, foot)], OUTLINE, &[3.0, 1.0]);
    }
    if !face.last {
        pen.line(&[(cut_x, top), (cut_x, foot)], OUTLINE);
    }
    pen.dashed(&[(0.0, foot + 0.3), (face.layout.tile_width_mm, foot + 0.3)], HAIR, &[2.0, 2.0]);
}

fn words(pen: &mut Pen, face: &Face<'_>, width: f64) {
    let Span { from, to, .. } = face.span;
    let title = shortened(&face.layout.title, Type::SMALL, 0.32 * width);
    let mut left = format!("{title} · tile {} of {} · {} to {} mm", face.tile, face.count, number(from), number(to));
    if let Some(plain) = face.plain_before {
        left = format!("{left}, after {} plain", measured(plain, face.layout.ruler));
    }
    let right = match (face.plain_after, face.last) {
        (Some(plain), _) => format!("cut at {}, then measure {} plain", number(to), measured(plain, face.layout.ruler)),
        (None, true) => "last tile".to_owned(),
        (None, false) => format!("cut at {} and lay on the join line of tile {}", number(to), face.tile + 1),
    };
    pen.text((0.4, 3.2), &left, Type::SMALL);
    pen.text((width - 0.4, 3.2), &right, Type::SMALL.anchored(Anchor::End));
}

fn measured(mm: f64, ruler: Ruler) -> String {
    match ruler {
        Ruler::Millimetres => format!("{} mm", number(mm)),
        Ruler::Inches => format!("{} mm ({:.2} in)", number(mm), mm / 25.4),
    }
}
