//! A curve of many points made fit to draw: nothing that a printer could show
//! is lost.
//!
//! Of every column of the picture the first, lowest, highest and last point
//! stay, in their order. A line through those covers each column exactly as
//! the whole curve does, so that no peak and no dip is smoothed away.

use crate::plot::Curve;

impl Curve {
    /// The curve for a picture of so many columns. A curve with few points, or
    /// one whose x falls anywhere, stays as it is.
    ///
    /// ```
    /// use drawing::plot::{Curve, Dash};
    /// let wave = |n: u32| (f64::from(n), if n == 7_321 { 99.0 } else { f64::from(n % 7) });
    /// let curve = Curve { name: String::new(), points: (0..10_000).map(wave).collect(), dash: Dash::Solid };
    /// let thin = curve.thinned(500);
    /// assert!(thin.points.len() <= 2_000);
    /// assert!(thin.points.contains(&(7_321.0, 99.0)));
    /// ```
    #[must_use]
    pub fn thinned(self, columns: usize) -> Curve {
        let points = &self.points;
        let rises = points.windows(2).all(|pair| pair[0].0 <= pair[1].0);
        let (Some(first), Some(last)) = (points.first(), points.last()) else { return self };
        let wide = last.0 - first.0;
        if columns == 0 || points.len() <= 4 * columns || !rises || wide <= 0.0 {
            return self;
        }
        let column = |x: f64| (((x - first.0) / wide * columns as f64) as usize).min(columns - 1);
        let mut kept = Vec::with_capacity(4 * columns);
        let mut from = 0;
        while from < points.len() {
            let here = column(points[from].0);
            let to = points[from..].iter().position(|point| column(point.0) != here).map_or(points.len(), |n| from + n);
            keep(&points[from..to], &mut kept);
            from = to;
        }
        Curve { points: kept, ..self }
    }
}

/// First, lowest, highest and last of a column, in their order.
fn keep(column: &[(f64, f64)], kept: &mut Vec<(f64, f64)>) {
    let by = |a: &usize, b: &usize| column[*a].1.total_cmp(&column[*b].1);
    let low = (0..column.len()).min_by(by).unwrap_or(0);
    let high = (0..column.len()).max_by(by).unwrap_or(0);
    let mut picks = [0, low.min(high), low.max(high), column.len() - 1].to_vec();
    picks.dedup();
    kept.extend(picks.into_iter().map(|index| column[index]));
}
