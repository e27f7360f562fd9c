//! Dimension lines under a picture, in rows that do not touch.

use crate::pen::{Anchor, FINE, OUTLINE, Pen, SMALL_TYPE_MM, Type, shortened, text_width};

/// Height of a row, in mm.
const ROW_MM: f64 = SMALL_TYPE_MM + 1.9;

/// A length with its words.
#[derive(Debug, Clone)]
pub(crate) struct Dimension {
    pub from: f64,
    pub to: f64,
    pub text: String,
}

/// Draws dimension lines from `top` downwards, words kept within
/// `left..right`; gives where they end.
pub(crate) fn draw(pen: &mut Pen, mut dimensions: Vec<Dimension>, top: f64, (left, right): (f64, f64)) -> f64 {
    dimensions.retain(|one| !one.text.is_empty());
    dimensions.sort_by(|a, b| a.from.total_cmp(&b.from).then(b.to.total_cmp(&a.to)));
    let mut rows: Vec<f64> = Vec::new();
    for one in dimensions {
        let text = shortened(&one.text, Type::SMALL, right - left);
        let half = text_width(&text, Type::SMALL) / 2.0;
        let middle = f64::midpoint(one.from, one.to).min(right - half).max(left + half);
        let (low, high) = (one.from.min(middle - half), one.to.max(middle + half));
        // Lines that meet end to end may share a row; words may not touch.
        let row = rows.iter().position(|taken| *taken <= low + 0.01).unwrap_or(rows.len());
        if row == rows.len() {
            rows.push(0.0);
        }
        rows[row] = if high > one.to { high + 1.5 } else { high };
        let y = top + ROW_MM * row as f64 + 1.0;
        pen.line(&[(one.from, y), (one.to, y)], FINE);
        pen.strokes(&[((one.from, y - 0.9), (one.from, y + 0.9)), ((one.to, y - 0.9), (one.to, y + 0.9))], OUTLINE);
        pen.text((middle, y + SMALL_TYPE_MM + 0.2), &text, Type::SMALL.anchored(Anchor::Middle));
    }
    if rows.is_empty() { top } else { top + ROW_MM * rows.len() as f64 + 1.2 }
}
