//! A picture written as SVG, in millimetres, with fixed decimals.
//!
//! One user unit is one millimetre, so a picture printed at its own size is
//! to the scale it was drawn at. A page may replace the ink by setting
//! `color` on the picture; what is filled or stroked in the colour of the
//! paper carries the class `paper` or `paper-line` for the same purpose.
//! Numbers are written with three decimals (a micrometre), so the same
//! picture gives the same bytes. Text is escaped; it cannot become markup.

use std::fmt::Write;

use crate::pen::{Anchor, Drawing, Point, Shape, Stroke, Tone, Type, Weight};

/// The ink of the visual system.
const INK: &str = "#16242C";

impl Drawing {
    /// The picture as SVG.
    pub fn svg(&self) -> String {
        let (width, height) = (number(self.width_mm), number(self.height_mm));
        let mut svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" \
             viewBox=\"0 0 {width} {height}\" role=\"img\" aria-label=\"{}\" class=\"drawing\" color=\"{INK}\" \
             font-family=\"Noto Sans\" fill=\"currentColor\">",
            escaped(&self.alt)
        );
        for shape in &self.shapes {
            write_shape(&mut svg, shape);
        }
        svg.push_str("</svg>");
        svg
    }
}

fn write_shape(svg: &mut String, shape: &Shape) {
    match shape {
        Shape::Lines { runs, fill, stroke } => write_lines(svg, runs, *fill, stroke.as_ref()),
        Shape::Round { centre, half, line_mm } => {
            let _ = write!(
                svg,
                "<rect class=\"paper\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" rx=\"{}\" fill=\"#fff\" \
                 stroke=\"currentColor\" stroke-width=\"{}\"/>",
                number(centre.0 - half.0),
                number(centre.1 - half.1),
                number(2.0 * half.0),
                number(2.0 * half.1),
                number(half.1),
                number(*line_mm)
            );
        }
        Shape::Dots { centres, radius_mm } => {
            // Strokes of next to no length with round ends: a quarter of the
            // size of as many circles.
            let path: String = centres.iter().map(|(x, y)| format!("M{} {}h.01", rounded(*x), rounded(*y))).collect();
            let _ = write!(
                svg,
                "<path d=\"{path}\" fill=\"none\" stroke=\"currentColor\" stroke-linecap=\"round\" \
                 stroke-width=\"{}\"/>",
                number(2.0 * radius_mm)
            );
        }
        Shape::Text { at, text, set } => write_text(svg, *at, text, *set),
    }
}

fn write_lines(svg: &mut String, runs: &[Vec<Point>], fill: Option<Tone>, stroke: Option<&Stroke>) {
    let close = if fill.is_some() { "Z" } else { "" };
    let path: String = runs.iter().map(|run| path_of(run) + close).collect();
    let class = match (fill, stroke.map(|stroke| stroke.tone)) {
        (Some(Tone::Paper), _) => " class=\"paper\"",
        (_, Some(Tone::Paper)) => " class=\"paper-line\"",
        _ => "",
    };
    let _ = write!(svg, "<path{class} d=\"{path}\" fill=\"{}\"", fill.map_or("none", colour));
    if let Some(stroke) = stroke {
        let _ = write!(svg, " stroke=\"{}\" stroke-width=\"{}\"", colour(stroke.tone), number(stroke.width_mm));
        if !stroke.dashes_mm.is_empty() {
            let dashes: Vec<String> = stroke.dashes_mm.iter().map(|dash| number(*dash)).collect();
            let _ = write!(svg, " stroke-dasharray=\"{}\"", dashes.join(" "));
        }
    }
    svg.push_str("/>");
}

fn write_text(svg: &mut String, at: Point, text: &str, set: Type) {
    let anchor = match set.anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    };
    let weight = if set.weight == Weight::Bold { " font-weight=\"700\"" } else { "" };
    let _ = write!(
        svg,
        "<text x=\"{}\" y=\"{}\" font-size=\"{}\" text-anchor=\"{anchor}\"{weight}>{}</text>",
        number(at.0),
        number(at.1),
        number(set.size_mm),
        escaped(text)
    );
}

fn colour(tone: Tone) -> &'static str {
    match tone {
        Tone::Ink => "currentColor",
        Tone::Paper => "#fff",
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
fn escaped(text: &str) -> String {
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
