//! The SVG writer: lines, shapes and text in millimetres, fixed decimals.
//!
//! One user unit is one millimetre, so a picture printed at its own size is
//! to the scale it was drawn at. Everything is drawn in one ink, which a page
//! may replace by setting `color` on the picture; what is filled or stroked in
//! the colour of the paper carries the class `paper` or `paper-line` for the
//! same purpose.
//! Numbers are written with three decimals (a micrometre), so the same input
//! gives the same bytes. Text is escaped; it cannot become markup.

use std::fmt::Write;

/// The ink of the visual system.
const INK: &str = "#16242C";

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
    /// The picture as SVG; one user unit is one millimetre.
    pub svg: String,
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

/// Where text stands against its point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Anchor {
    Start,
    Middle,
    End,
}

/// Weight of text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Weight {
    Regular,
    Bold,
}

/// A point, in mm; y runs downwards.
pub(crate) type Point = (f64, f64);

/// Collects shapes; the extent is given when it is finished.
#[derive(Debug, Default)]
pub(crate) struct Pen {
    body: String,
}

/// How a piece of text is set.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Type {
    pub size: f64,
    pub anchor: Anchor,
    pub weight: Weight,
}

impl Type {
    pub(crate) const SMALL: Type = Type { size: SMALL_TYPE_MM, anchor: Anchor::Start, weight: Weight::Regular };
    pub(crate) const BENCH: Type = Type { size: BENCH_TYPE_MM, anchor: Anchor::Middle, weight: Weight::Bold };

    pub(crate) fn anchored(self, anchor: Anchor) -> Type {
        Type { anchor, ..self }
    }

    pub(crate) fn bold(self) -> Type {
        Type { weight: Weight::Bold, ..self }
    }
}

impl Pen {
    /// An open or closed run of straight lines.
    pub(crate) fn line(&mut self, points: &[Point], width: f64) {
        self.dashed(points, width, "");
    }

    /// The same, dashed; `dashes` is an SVG dash list, empty for solid.
    pub(crate) fn dashed(&mut self, points: &[Point], width: f64, dashes: &str) {
        let dashes = if dashes.is_empty() { String::new() } else { format!(" stroke-dasharray=\"{dashes}\"") };
        let path = path_of(points);
        self.put(&format!(
            "<path d=\"{path}\" fill=\"none\" stroke=\"currentColor\" stroke-width=\"{}\"{dashes}/>",
            number(width)
        ));
    }

    /// A run of straight lines in the colour of the paper.
    pub(crate) fn paper_line(&mut self, points: &[Point], width: f64) {
        self.put(&format!(
            "<path class=\"paper-line\" d=\"{}\" fill=\"none\" stroke=\"#fff\" stroke-width=\"{}\"/>",
            path_of(points),
            number(width)
        ));
    }

    /// Many separate strokes of one width as a single path.
    pub(crate) fn strokes(&mut self, strokes: &[(Point, Point)], width: f64) {
        if strokes.is_empty() {
            return;
        }
        let mut path = String::new();
        for (from, to) in strokes {
            path.push_str(&path_of(&[*from, *to]));
        }
        self.put(&format!(
            "<path d=\"{path}\" fill=\"none\" stroke=\"currentColor\" stroke-width=\"{}\"/>",
            number(width)
        ));
    }

    /// A polygon in the colour of the paper with an inked outline.
    pub(crate) fn body(&mut self, points: &[Point], width: f64) {
        let path = path_of(points);
        self.put(&format!(
            "<path class=\"paper\" d=\"{path}Z\" fill=\"#fff\" stroke=\"currentColor\" stroke-width=\"{}\"/>",
            number(width)
        ));
    }

    /// A polygon in the colour of the paper, without an outline.
    pub(crate) fn blank(&mut self, points: &[Point]) {
        self.put(&format!("<path class=\"paper\" d=\"{}Z\" fill=\"#fff\"/>", path_of(points)));
    }

    /// A polygon filled with ink.
    pub(crate) fn solid(&mut self, points: &[Point]) {
        self.put(&format!("<path d=\"{}Z\" fill=\"currentColor\"/>", path_of(points)));
    }

    /// Dots of one radius as a single path: strokes of next to no length with
    /// round ends, a quarter of the size of as many circles.
    pub(crate) fn dots(&mut self, centres: &[Point], radius: f64) {
        if centres.is_empty() {
            return;
        }
        let mut path = String::new();
        for (x, y) in centres {
            let _ = write!(path, "M{} {}h.01", rounded(*x), rounded(*y));
        }
        self.put(&format!(
            "<path d=\"{path}\" fill=\"none\" stroke=\"currentColor\" stroke-linecap=\"round\" stroke-width=\"{}\"/>",
            number(2.0 * radius)
        ));
    }

    /// A circle in the colour of the paper with an inked outline.
    pub(crate) fn circle(&mut self, centre: Point, radius: f64, width: f64) {
        self.put(&format!(
            "<circle class=\"paper\" cx=\"{}\" cy=\"{}\" r=\"{}\" fill=\"#fff\" stroke=\"currentColor\" \
             stroke-width=\"{}\"/>",
            number(centre.0),
            number(centre.1),
            number(radius),
            number(width)
        ));
    }

    /// A rounded box in the colour of the paper, given by half its sides.
    pub(crate) fn pill(&mut self, centre: Point, half: (f64, f64), width: f64) {
        self.put(&format!(
            "<rect class=\"paper\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" rx=\"{}\" fill=\"#fff\" \
             stroke=\"currentColor\" stroke-width=\"{}\"/>",
            number(centre.0 - half.0),
            number(centre.1 - half.1),
            number(2.0 * half.0),
            number(2.0 * half.1),
            number(half.1),
            number(width)
        ));
    }

    /// Text with its baseline at the point.
    pub(crate) fn text(&mut self, at: Point, text: &str, set: Type) {
        let anchor = match set.anchor {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
            Anchor::End => "end",
        };
        let weight = if set.weight == Weight::Bold { " font-weight=\"700\"" } else { "" };
        self.put(&format!(
            "<text x=\"{}\" y=\"{}\" font-size=\"{}\" text-anchor=\"{anchor}\"{weight}>{}</text>",
            number(at.0),
            number(at.1),
            number(set.size),
            escaped(text)
        ));
    }

    /// The picture, `width` by `height` millimetres.
    pub(crate) fn finish(self, width: f64, height: f64, notes: Vec<String>, alt: String) -> Drawing {
        let (w, h) = (number(width), number(height));
        let svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" viewBox=\"0 0 {w} {h}\" \
             role=\"img\" aria-label=\"{}\" class=\"drawing\" color=\"{INK}\" font-family=\"Noto Sans\" \
             fill=\"currentColor\">{}</svg>",
            escaped(&alt),
            self.body
        );
        Drawing { svg, width_mm: width, height_mm: height, notes, alt }
    }

    fn put(&mut self, element: &str) {
        self.body.push_str(element);
    }
}

/// A number with at most three decimals, without trailing zeros or `-0`.
pub(crate) fn number(value: f64) -> String {
    let text = format!("{value:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// A place that need not be exact, to a hundredth of a millimetre.
fn rounded(value: f64) -> String {
    number((value * 100.0).round() / 100.0)
}

fn path_of(points: &[Point]) -> String {
    let mut path = String::new();
    for (index, (x, y)) in points.iter().enumerate() {
        let _ = write!(path, "{}{} {}", if index == 0 { 'M' } else { 'L' }, number(*x), number(*y));
    }
    path
}

/// Text made safe for SVG: markup escaped, control characters replaced.
pub(crate) fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&#39;"),
            // XML allows no control characters and no non-characters at all.
            _ if character.is_control() || matches!(character, '\u{fffe}' | '\u{ffff}') => safe.push('\u{fffd}'),
            _ => safe.push(character),
        }
    }
    safe
}

/// Width that text takes at most, in mm. An estimate on the wide side: there
/// is no font here, and a label that is given too much room does no harm.
pub(crate) fn text_width(text: &str, set: Type) -> f64 {
    let em: f64 = text.chars().map(character_width).sum();
    em * set.size * if set.weight == Weight::Bold { 1.06 } else { 1.0 }
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
