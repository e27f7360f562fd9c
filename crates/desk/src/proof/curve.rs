//! A load curve from a logger's file: what it comes to, what was refused.

use super::cautions;
use crate::input::open;
use crate::problem::{Mistake, Problem};
use crate::text::Text;
use crate::wire::Amount;
use proving::{Curve, Sample};
use schemars::JsonSchema;
use serde::Serialize;
use units::System;

/// What is asked.
#[derive(Debug, Clone, Default)]
pub struct CurveRequest {
    /// The file (CSV): time, load, extension, with units in the header.
    pub curve: Text,
    /// Units to print.
    pub units: System,
}

/// A load curve.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CurveAnswer {
    /// Readings kept.
    pub readings: usize,
    /// The highest load.
    pub peak: Amount,
    /// When, from the first reading.
    pub peak_at: Amount,
    /// Extension there; null where it was not measured.
    pub extension: Option<Amount>,
    /// How long the load stood within a twentieth of the highest.
    pub held: Amount,
    /// Energy put in up to the highest load, joules.
    pub energy: Option<f64>,
    /// Did the load fall by half from one reading to the next?
    pub broke: bool,
    /// Time in seconds, load in newtons, extension in millimetres: at most
    /// some hundred, with every peak.
    pub points: Vec<[Option<f64>; 3]>,
    /// Rows that were refused, and gaps, each with its place.
    pub refused: Vec<Mistake>,
    /// What is said at every test.
    pub cautions: Vec<&'static str>,
}

/// Points that an answer carries: more than a page can show.
const MOST_POINTS: usize = 800;

/// A load curve from a file.
///
/// # Errors
/// When it cannot be read, a column has no unit, or no reading is left.
pub fn curve(request: &CurveRequest) -> Result<CurveAnswer, Problem> {
    let (curve, refused) = curve_of_file(&request.curve)?;
    answer(&curve, refused, request.units)
}

/// The curve of a file, and the rows that were refused.
pub(crate) fn curve_of_file(text: &Text) -> Result<(Curve, Vec<Mistake>), Problem> {
    let input = open(text, files::LARGEST_CURVE)?;
    let (rows, mut refused) = input.partly(files::read_curve(&input.bytes))?;
    let sample = |row: &files::CurveRow| Sample { time: row.time, load: row.load, extension: row.extension };
    let (curve, not) = proving::admit_samples(rows.iter().map(|row| sample(&row.value)));
    let problems: Vec<files::Problem> = not
        .iter()
        .map(|(index, why)| {
            let code = match why {
                proving::SampleError::TimeFalls { .. } => "time-falls",
                proving::SampleError::BelowZero { .. } => "below-zero",
                proving::SampleError::Gap { .. } => "gap",
            };
            files::Problem::new(code, why.to_string()).at(rows[*index].place)
        })
        .collect();
    refused.extend(input.mistakes(&problems));
    refused.sort_by_key(|mistake| mistake.place.as_ref().map_or(0, |place| place.line));
    Ok((curve, refused))
}

pub(crate) fn answer(curve: &Curve, refused: Vec<Mistake>, system: System) -> Result<CurveAnswer, Problem> {
    let Some(found) = proving::summary(curve) else {
        let mut problem = Problem::refused("no-readings", "no reading of the curve can be used");
        problem.mistakes = refused;
        return Err(problem.hint("time must rise from row to row, and loads must be above zero"));
    };
    let points = proving::thinned(curve, MOST_POINTS)
        .iter()
        .map(|sample| {
            [Some(sample.time.to_seconds()), Some(sample.load.to_n()), sample.extension.map(|length| length.to_mm())]
        })
        .collect();
    Ok(CurveAnswer {
        readings: curve.samples.len(),
        peak: Amount::of(found.peak, system),
        peak_at: Amount::of(found.peak_at - curve.samples[0].time, system),
        extension: found.extension.map(|extension| Amount::of(extension, system)),
        held: Amount::of(found.held, system),
        energy: found.energy.map(|joules| (joules * 10.0).round() / 10.0),
        broke: found.broke,
        points,
        refused,
        cautions: cautions(),
    })
}
