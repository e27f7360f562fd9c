//! A picture as a list of shapes, and the pen that draws it.
//!
//! Everything is in millimetres and in one ink, on paper that may cover what
//! lies under it. A picture may be written as SVG ([`Drawing::svg`]) or set
//! shape by shape, in order, by whoever prints it. Not covered: curves other
//! than circles; they are runs of short lines.

/// Smallest type in a picture, in mm: 9 pt.
pub const SMALL_TYPE_MM: f64 = 3.175;

/// Type for the numbers of marks, in mm: 14 pt.
pub const BENCH_TYPE_MM: f64 = 4.939;

/// Line widths, in mm: outline, fine line, hairline.
pub(crate) const OUTLINE: f64 = 0.35;
pub(crate) const FINE: f64 = 0.2;
pub(crate) const HAIR: f64 = 0.12;

/// A finished picture.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// The shapes, each over those before it.
    pub shapes: Vec<Shape>,
    /// Width, in mm.
    pub width_mm: f64,
    /// Height, in mm.
    pub height_mm: f64,
    /// What a reader must be told: scale, breaks, thickness not to scale.
    /// The picture does not carry these sentences; print them beside it.
    pub notes: Vec<String>,
    /// The picture in words, for those who cannot see it.
    pub alt: String,
}

/// A point, in mm from the top left corner; y runs downwards.
pub type Point = (f64, f64);

/// One shape of a picture.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// Runs of straight lines.
    Lines {
        /// The runs.
        runs: Vec<Vec<Point>>,
        /// What they enclose, if they are closed.
        fill: Option<Tone>,
        /// Their line.
        stroke: Option<Stroke>,
    },
    /// A box with round ends, or a circle.
    Round {
        /// Its middle.
        centre: Point,
        /// Half its width and half its height, in mm. The ends are half
        /// circles, so the width is not less than the height.
        half: Point,
        /// Width of its line, in mm. It is filled in the colour of the paper.
        line_mm: f64,
    },
    /// Dots of ink.
    Dots {
        /// Their middles.
        centres: Vec<Point>,
        /// Their radius, in mm.
        radius_mm: f64,
    },
    /// Words.
    Text {
        /// Where the baseline starts, has its middle or ends.
        at: Point,
        /// The words.
        text: String,
        /// How they are set.
        set: Type,
    },
}

/// What a shape is painted with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tone {
    /// The ink.
    Ink,
    /// The colour of the paper.
    Paper,
}

/// The line of a shape.
#[derive(Debug, Clone, PartialEq)]
pub struct Stroke {
    /// Its width, in mm.
    pub width_mm: f64,
    /// What it is painted with.
    pub tone: Tone,
    /// Lengths of dash and gap in turn, in mm; empty for a solid line.
    pub dashes_mm: Vec<f64>,
}

impl Stroke {
    fn solid(width_mm: f64, tone: Tone) -> Option<Stroke> {
        Some(Stroke { width_mm, tone, dashes_mm: Vec::new() })
    }
}

/// Where text stands against its point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// It begins there.
    Start,
    /// It has its middle there.
    Middle,
    /// It ends there.
    End,
}

/// Weight of text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Weight {
    /// Regular.
    Regular,
    /// Bold.
    Bold,
}

/// How a piece of text is set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Type {
    /// Size of the type, in mm.
    pub size_mm: f64,
    /// Where it stands against its point.
    pub anchor: Anchor,
    /// Its weight.
    pub weight: Weight,
}

impl Type {
    pub(crate) const SMALL: Type = Type { size_mm: SMALL_TYPE_MM, anchor: Anchor::Start, weight: Weight::Regular };
    pub(crate) const BENCH: Type = Type { size_mm: BENCH_TYPE_MM, anchor: Anchor::Middle, weight: Weight::Bold };

    pub(crate) fn anchored(self, anchor: Anchor) -> Type {
        Type { anchor, ..self }
    }

    pub(crate) fn bold(self) -> Type {
        Type { weight: Weight::Bold, ..self }
    }
}

/// Collects shapes; the extent is given when it is finished.
#[derive(Debug, Default)]
pub(crate) struct Pen {
    shapes: Vec<Shape>,
}

impl Pen {
    /// A run of straight lines.
    pub(crate) fn line(&mut self, points: &[Point], width: f64) {
        self.dashed(points, width, &[]);
    }

    /// The same, dashed.
    pub(crate) fn dashed(&mut self, points: &[Point], width: f64, dashes: &[f64]) {
        let stroke = Stroke { width_mm: width, tone: Tone::Ink, dashes_mm: dashes.to_vec() };
        self.shapes.push(Shape::Lines { runs: vec![points.to_vec()], fill: None, stroke: Some(stroke) });
    }

    /// A run of straight lines in the colour of the paper.
    pub(crate) fn paper_line(&mut self, points: &[Point], width: f64) {
        let stroke = Stroke::solid(width, Tone::Paper);
        self.shapes.push(Shape::Lines { runs: vec![points.to_vec()], fill: None, stroke });
    }

    /// Many separate strokes of one width as one shape.
    pub(crate) fn strokes(&mut self, strokes: &[(Point, Point)], width: f64) {
        if strokes.is_empty() {
            return;
        }
        let runs = strokes.iter().map(|(from, to)| vec![*from, *to]).collect();
        self.shapes.push(Shape::Lines { runs, fill: None, stroke: Stroke::solid(width, Tone::Ink) });
    }

    /// A polygon in the colour of the paper with an inked outline.
    pub(crate) fn body(&mut self, points: &[Point], width: f64) {
        self.polygon(points, Tone::Paper, Stroke::solid(width, Tone::Ink));
    }

    /// A polygon in the colour of the paper, without an outline.
    pub(crate) fn blank(&mut self, points: &[Point]) {
        self.polygon(points, Tone::Paper, None);
    }

    /// A polygon filled with ink.
    pub(crate) fn solid(&mut self, points: &[Point]) {
        self.polygon(points, Tone::Ink, None);
    }

    fn polygon(&mut self, points: &[Point], fill: Tone, stroke: Option<Stroke>) {
        self.shapes.push(Shape::Lines { runs: vec![points.to_vec()], fill: Some(fill), stroke });
    }

    /// Dots of one radius as one shape.
    pub(crate) fn dots(&mut self, centres: Vec<Point>, radius: f64) {
        if !centres.is_empty() {
            self.shapes.push(Shape::Dots { centres, radius_mm: radius });
        }
    }

    /// A circle in the colour of the paper with an inked outline.
    pub(crate) fn circle(&mut self, centre: Point, radius: f64, width: f64) {
        self.pill(centre, (radius, radius), width);
    }

    /// A box with round ends in the colour of the paper, given by half its sides.
    pub(crate) fn pill(&mut self, centre: Point, half: Point, width: f64) {
        self.shapes.push(Shape::Round { centre, half, line_mm: width });
    }

    /// Text with its baseline at the point.
    pub(crate) fn text(&mut self, at: Point, text: &str, set: Type) {
        if !text.is_empty() {
            self.shapes.push(Shape::Text { at, text: text.to_owned(), set });
        }
    }

    /// The picture, `width` by `height` millimetres.
    pub(crate) fn finish(self, width: f64, height: f64, notes: Vec<String>, alt: String) -> Drawing {
        Drawing { shapes: self.shapes, width_mm: width, height_mm: height, notes, alt }
    }
}

/// Width that text takes at most, in mm. An estimate on the wide side: there
/// is no font here, and a label that is given too much room does no harm.
pub(crate) fn text_width(text: &str, set: Type) -> f64 {
    let em: f64 = text.chars().map(character_width).sum();
    em * set.size_mm * if set.weight == Weight::Bold { 1.06 } else { 1.0 }
}

fn character_width(character: char) -> f64 {
    match character {
        'i' | 'j' | 'l' | '.' | ',' | ':' | ';' | '\'' | '|' | ' ' | '\u{2009}' | '\u{202f}' | '\u{a0}' => 0.3,
        'f' | 't' | 'r' | 'I' | '(' | ')' | '-' | '/' => 0.4,
        'm' | 'w' | 'M' | 'W' | '@' | '%' => 0.95,
        'A'..='Z' => 0.7,
        _ if character.is_ascii() => 0.6,
        _ => 1.0,
    }
}

/// The text, shortened with an ellipsis to fit `width` mm; empty if not even
/// one character and the ellipsis fit.
pub(crate) fn shortened(text: &str, set: Type, width: f64) -> String {
    if text_width(text, set) <= width {
        return text.to_owned();
    }
    let mut kept = String::new();
    for character in text.chars() {
        kept.push(character);
        if text_width(&kept, set) + text_width("…", set) > width {
            kept.pop();
            break;
        }
    }
    let kept = kept.trim_end();
    if kept.is_empty() { String::new() } else { format!("{kept}…") }
}
