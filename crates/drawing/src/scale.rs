//! A scale that says where it is broken.
//!
//! Distances along a rope become millimetres on paper at one scale, except
//! that long plain gaps may be left out where the rest could not be read
//! otherwise. A gap is only ever shortened, each has a break drawn in it, and
//! the picture's notes say so.

/// Least distance between two points of interest that can be read, in mm.
const READABLE_MM: f64 = 3.5;

/// What is kept of a gap that is left out, in mm on paper.
const STUB_MM: f64 = 14.0;

/// A mapping from the rope to paper.
#[derive(Debug, Clone)]
pub(crate) struct Scale {
    /// Rope distance, place on paper; in order.
    stations: Vec<(f64, f64)>,
    /// Places on paper of the breaks.
    pub breaks: Vec<f64>,
    /// Paper per rope outside the breaks.
    pub ratio: f64,
}

impl Scale {
    /// Fits the points of interest (first and last included) into `width` mm
    /// from `start`, breaking the longest gaps if that makes the rest legible.
    pub(crate) fn fit(mut points: Vec<f64>, start: f64, width: f64) -> Scale {
        points.sort_by(f64::total_cmp);
        points.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
        let gaps: Vec<f64> = points.windows(2).map(|pair| pair[1] - pair[0]).collect();
        let mut broken = vec![false; gaps.len()];
        let mut ratio = ratio_of(&gaps, &broken, width);
        for _ in 0..3 {
            let smallest = gaps.iter().copied().fold(f64::INFINITY, f64::min);
            let longest = (0..gaps.len()).filter(|&gap| !broken[gap]).max_by(|&a, &b| gaps[a].total_cmp(&gaps[b]));
            let Some(longest) = longest else { break };
            if smallest * ratio >= READABLE_MM || gaps[longest] * ratio < 2.5 * STUB_MM {
                break;
            }
            broken[longest] = true;
            ratio = ratio_of(&gaps, &broken, width);
        }
        let mut stations = Vec::with_capacity(points.len());
        let mut breaks = Vec::new();
        let mut at = start;
        for (index, point) in points.iter().enumerate() {
            stations.push((*point, at));
            if let Some(gap) = gaps.get(index) {
                if broken[index] {
                    breaks.push(at + STUB_MM / 2.0);
                }
                at += if broken[index] { STUB_MM } else { gap * ratio };
            }
        }
        Scale { stations, breaks, ratio }
    }

    /// Where a distance on the rope stands on paper, in mm.
    pub(crate) fn at(&self, distance: f64) -> f64 {
        let next = self.stations.partition_point(|(rope, _)| *rope < distance);
        let (Some(after), before) = (self.stations.get(next), next.checked_sub(1).and_then(|i| self.stations.get(i)))
        else {
            // Beyond the last station the scale goes on unbroken.
            return self
                .stations
                .last()
                .map_or(distance * self.ratio, |(rope, paper)| paper + (distance - rope) * self.ratio);
        };
        let Some(before) = before else { return after.1 - (after.0 - distance) * self.ratio };
        before.1 + (distance - before.0) / (after.0 - before.0) * (after.1 - before.1)
    }

    /// The scale in words: `scale 1 : 8.6`, and how many breaks there are.
    pub(crate) fn note(&self) -> String {
        let scale = in_words(self.ratio);
        match self.breaks.len() {
            0 => scale,
            1 => format!("{scale}, with one long stretch left out at the break"),
            count => format!("{scale}, with {count} long stretches left out at the breaks"),
        }
    }
}

/// A ratio of paper to rope in words.
pub(crate) fn in_words(ratio: f64) -> String {
    if ratio <= 0.0 || !ratio.is_finite() {
        return "not to scale".to_owned();
    }
    if ratio >= 1.0 { format!("scale {ratio:.1} : 1") } else { format!("scale 1 : {:.1}", 1.0 / ratio) }
}

fn ratio_of(gaps: &[f64], broken: &[bool], width: f64) -> f64 {
    let kept: f64 = gaps.iter().zip(broken).filter(|(_, broken)| !**broken).map(|(gap, _)| gap).sum();
    let stubs = broken.iter().filter(|broken| **broken).count() as f64 * STUB_MM;
    if kept > 0.0 { (width - stubs) / kept } else { 1.0 }
}
