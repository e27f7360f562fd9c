//! A load curve: what the load cell wrote while a piece was pulled.
//!
//! Samples that cannot be are refused one by one and the rest is kept: time
//! that falls or stands still, loads below zero, gaps. A load a little below
//! zero is a cell that was not zeroed, and is refused like any other, because
//! nobody knows by how much the others are off.

use thiserror::Error;
use units::{Duration, Force, Length};

/// One reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sample {
    /// Time since the start of the record.
    pub time: Duration,
    /// Load.
    pub load: Force,
    /// Extension since the start; `None` where it was not measured.
    pub extension: Option<Length>,
}

/// A curve of samples in order of time.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Curve {
    /// The samples kept.
    pub samples: Vec<Sample>,
}

/// Why a sample is not kept.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum SampleError {
    /// Time that does not go on.
    #[error("time {time} s after {before} s: time must rise from row to row")]
    TimeFalls {
        /// This row's, seconds.
        time: f64,
        /// The last kept row's, seconds.
        before: f64,
    },
    /// A load below zero.
    #[error("a load of {load}: a rope cannot push; zero the load cell")]
    BelowZero {
        /// As given.
        load: Force,
    },
    /// No reading for longer than the rest of the record would let expect.
    #[error("a gap of {gap} s before this row, where {usual} s is usual: what happened between is not known")]
    Gap {
        /// The gap, seconds.
        gap: f64,
        /// The usual step, seconds.
        usual: f64,
    },
}

/// A gap is this many times the usual step between samples.
const GAP: f64 = 10.0;

/// The samples that can be, and the others with their place in the list. A
/// gap is told and its sample kept.
#[must_use]
pub fn admit_samples(samples: impl IntoIterator<Item = Sample>) -> (Curve, Vec<(usize, SampleError)>) {
    let mut kept: Vec<(usize, Sample)> = Vec::new();
    let mut refused = Vec::new();
    for (index, sample) in samples.into_iter().enumerate() {
        let time = sample.time.to_seconds();
        let before = kept.last().map(|(_, last)| last.time.to_seconds());
        if let Some(before) = before.filter(|before| time <= *before) {
            refused.push((index, SampleError::TimeFalls { time, before }));
        } else if sample.load < Force::ZERO {
            refused.push((index, SampleError::BelowZero { load: sample.load }));
        } else {
            kept.push((index, sample));
        }
    }
    refused.extend(gaps(&kept));
    refused.sort_by_key(|(index, _)| *index);
    (Curve { samples: kept.into_iter().map(|(_, sample)| sample).collect() }, refused)
}

fn gaps(kept: &[(usize, Sample)]) -> Vec<(usize, SampleError)> {
    let step = |pair: &[(usize, Sample)]| pair[1].1.time.to_seconds() - pair[0].1.time.to_seconds();
    let mut steps: Vec<f64> = kept.windows(2).map(step).collect();
    if steps.len() < 3 {
        return Vec::new();
    }
    steps.sort_by(f64::total_cmp);
    let usual = steps[steps.len() / 2];
    kept.windows(2)
        .filter(|pair| step(pair) > GAP * usual)
        .map(|pair| (pair[1].0, SampleError::Gap { gap: step(pair), usual }))
        .collect()
}

/// What a curve comes to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CurveSummary {
    /// The highest load.
    pub peak: Force,
    /// When.
    pub peak_at: Duration,
    /// Extension there, where measured.
    pub extension: Option<Length>,
    /// How long the load stood within a twentieth of the highest, in one go.
    pub held: Duration,
    /// Energy put in up to the highest load, joules, where extension was
    /// measured: what a recoil gives back at most.
    pub energy: Option<f64>,
    /// Did the load drop by half within one sample after its highest?
    pub broke: bool,
}

/// What a curve comes to; `None` without a sample.
///
/// # Example
/// ```
/// use proving::{Curve, Sample, summary};
/// use units::{Duration, Force, Length};
/// let samples = (0..=10).map(|n| Sample {
///     time: Duration::of_seconds(f64::from(n)),
///     load: Force::of_kn(f64::from(n)),
///     extension: Some(Length::of_mm(10.0 * f64::from(n))),
/// });
/// let found = summary(&Curve { samples: samples.collect() }).unwrap();
/// // A straight pull to 10 kN over 100 mm: half of the product.
/// assert!((found.energy.unwrap() - 500.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn summary(curve: &Curve) -> Option<CurveSummary> {
    const HELD_ABOVE: f64 = 0.95;
    let samples = &curve.samples;
    let peak_index = (0..samples.len()).max_by(|a, b| samples[*a].load.compare(&samples[*b].load))?;
    let peak = samples[peak_index];
    let floor = peak.load * HELD_ABOVE;
    let first = samples[..=peak_index].iter().rposition(|sample| sample.load < floor).map_or(0, |below| below + 1);
    let last =
        samples[peak_index..].iter().position(|sample| sample.load < floor).map_or(samples.len(), |n| peak_index + n);
    let held = samples[last - 1].time - samples[first].time;
    let energy = samples[..=peak_index]
        .windows(2)
        .map(|pair| {
            let (from, to) = (pair[0].extension?, pair[1].extension?);
            Some((pair[0].load + pair[1].load).to_n() / 2.0 * (to - from).to_m())
        })
        .sum::<Option<f64>>()
        .filter(|_| peak.extension.is_some());
    let broke = samples.get(peak_index + 1).is_some_and(|after| after.load < peak.load * 0.5);
    Some(CurveSummary { peak: peak.load, peak_at: peak.time, extension: peak.extension, held, energy, broke })
}

/// The curve with at most about `most` samples for a drawing: of each stretch
/// of time the lowest and the highest, so that no peak is lost.
#[must_use]
pub fn thinned(curve: &Curve, most: usize) -> Vec<Sample> {
    let samples = &curve.samples;
    let buckets = (most / 2).max(1);
    if samples.len() <= most {
        return samples.clone();
    }
    let size = samples.len().div_ceil(buckets);
    let mut kept = Vec::with_capacity(2 * buckets);
    for (at, chunk) in samples.chunks(size).enumerate() {
        let by = |a: &usize, b: &usize| chunk[*a].load.compare(&chunk[*b].load);
        let (Some(low), Some(high)) = ((0..chunk.len()).min_by(by), (0..chunk.len()).max_by(by)) else { continue };
        let mut picks = vec![low.min(high), low.max(high)];
        if at == 0 {
            picks.insert(0, 0);
        }
        if (at + 1) * size >= samples.len() {
            picks.push(chunk.len() - 1);
        }
        picks.dedup();
        kept.extend(picks.into_iter().map(|index| chunk[index]));
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sample(seconds: f64, newtons: f64) -> Sample {
        Sample { time: Duration::of_seconds(seconds), load: Force::of_n(newtons), extension: None }
    }

    #[test]
    fn what_cannot_be_is_refused_and_the_rest_kept() {
        let times = [0.0, 0.1, 0.2, 0.15, 0.3, 0.4, 0.4, 0.5, 9.0];
        let loads = [0.0, 5.0, -1.0, 6.0, 7.0, 8.0, 9.0, 9.5, 10.0];
        let (curve, refused) = admit_samples(times.iter().zip(loads).map(|(time, load)| sample(*time, load)));
        assert_eq!(curve.samples.len(), 7);
        let what: Vec<(usize, &str)> = refused
            .iter()
            .map(|(index, why)| {
                (
                    *index,
                    match why {
                        SampleError::TimeFalls { .. } => "time",
                        SampleError::BelowZero { .. } => "load",
                        SampleError::Gap { .. } => "gap",
                    },
                )
            })
            .collect();
        // Row 3 is after row 1 in time, because row 2 was not kept.
        assert_eq!(what, [(2, "load"), (6, "time"), (8, "gap")]);
    }

    #[test]
    fn hold_and_break_are_read_off() {
        let loads = [0.0, 50.0, 96.0, 100.0, 99.0, 97.0, 94.0];
        let curve = Curve { samples: (0..).map(f64::from).zip(loads).map(|(t, n)| sample(t, n)).collect() };
        let found = summary(&curve).unwrap();
        assert_eq!((found.held.to_seconds(), found.broke), (3.0, false));
        let broken = Curve { samples: vec![sample(0.0, 0.0), sample(1.0, 80.0), sample(2.0, 3.0)] };
        assert!(summary(&broken).unwrap().broke);
        assert!(summary(&Curve::default()).is_none());
    }

    #[test]
    fn thinning_loses_no_peak() {
        let samples: Vec<Sample> =
            (0..10_000).map(|n| sample(f64::from(n), if n == 7_321 { 1e5 } else { f64::from(n % 50) })).collect();
        let thin = thinned(&Curve { samples }, 800);
        assert!(thin.len() <= 804, "{}", thin.len());
        assert!(thin.iter().any(|sample| sample.load.to_n() == 1e5));
        assert!(thin.windows(2).all(|pair| pair[0].time < pair[1].time));
    }
}
