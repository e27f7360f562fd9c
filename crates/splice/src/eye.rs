//! The eye: how much rope is in it, and how wide it opens on its fitting.
//!
//! The eye's size is its **inside length laid flat**, bearing point to throat:
//! half the inside of the loop. Its rope runs half a diameter outside that and
//! turns half a circle at the crown, so the rope in the eye is twice the size
//! and `pi d / 2`. On a fitting of diameter `D` the inside loop keeps its
//! length; each side is a tangent and an arc,
//! `E = (D/2)/tan b + (D/2)(pi/2 + b)`, and the included angle is `2 b`. At 60
//! degrees the opened eye is `1.5 D` long and measures `1.91 D` flat. Not
//! covered: how much a soft rope flattens at the crown.

use crate::{Bearing, EndRequest, Fitting, SpliceError};
use sources::{CFR_1926_251, EXACT, Finding, GIVEN, GL_0027, Grade, ISO_2307, NSTM_613, Step};
use units::{Angle, Length, Sentence};

/// Widest angle between the legs of an eye on its fitting.
pub const WIDEST: Angle = Angle::of_degrees(60.0);

/// An eye, laid flat and on its fitting.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Eye {
    /// Inside length laid flat, bearing point to throat.
    pub inside: Length,
    /// Bearing point to throat on the fitting; the inside length without one.
    pub bearing_to_throat: Length,
    /// Rope in the eye, throat to throat along its middle.
    pub rope: Length,
    /// What it goes over.
    pub on: Option<Bearing>,
    /// Angle between the legs on the fitting.
    pub angle: Option<Angle>,
}

/// Half angle between the legs of an eye of inside flat length `inside` on a
/// fitting of diameter `on`; `None` where it does not go over at all.
#[must_use]
pub fn half_angle(inside: Length, on: Length) -> Option<Angle> {
    let radius = on.to_mm() / 2.0;
    let half_loop = |b: f64| radius / b.tan() + radius * (std::f64::consts::FRAC_PI_2 + b);
    let (mut narrow, mut wide) = (1e-9, std::f64::consts::FRAC_PI_2);
    if half_loop(wide) > inside.to_mm() {
        return None;
    }
    for _ in 0..80 {
        let middle = (narrow + wide) / 2.0;
        if half_loop(middle) > inside.to_mm() {
            narrow = middle;
        } else {
            wide = middle;
        }
    }
    Some(Angle::of_radians(wide))
}

/// The smallest eye, inside and flat, that opens to no more than 60 degrees.
///
/// ```
/// use units::Length;
/// let least = splice::least_eye(Length::of_mm(10.0)).to_mm();
/// assert!((least - 19.13).abs() < 0.01);
/// ```
#[must_use]
pub fn least_eye(on: Length) -> Length {
    let b = WIDEST.si() / 2.0;
    on * 0.5 * (1.0 / b.tan() + std::f64::consts::FRAC_PI_2 + b)
}

/// Throat to crown of the opened eye.
fn opened(half: Angle, on: Length) -> Length {
    on * 0.5 * (1.0 + 1.0 / half.sin())
}

/// What is said of the eye beside its sizes.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct EyeAnswer {
    pub eye: Eye,
    pub findings: Vec<Finding>,
    pub working: Vec<Step>,
}

/// The eye of a request, in rope of outside diameter `diameter`.
pub(crate) fn eye(request: &EndRequest, diameter: Length) -> Result<EyeAnswer, SpliceError> {
    let mut working = Vec::new();
    let mut findings = Vec::new();
    if let Some(on) = request.on.filter(|on| on.diameter <= Length::ZERO) {
        return Err(SpliceError::NotAboveZero { what: "the fitting's diameter", given: on.diameter });
    }
    let inside = size(request, diameter, &mut working)?;
    let rope = inside * 2.0 + diameter * std::f64::consts::FRAC_PI_2;
    let Some(on) = request.on else {
        working.push(rope_in_eye(inside, diameter, rope));
        return Ok(EyeAnswer {
            eye: Eye { inside, bearing_to_throat: inside, rope, on: None, angle: None },
            findings,
            working,
        });
    };
    let half = half_angle(inside, on.diameter);
    let included = half.map_or(Angle::of_degrees(180.0), |half| half * 2.0);
    let (Some(half), true) = (half, included <= WIDEST) else {
        return Err(SpliceError::EyeTooSmall {
            eye: inside,
            fitting: on.what.word(),
            diameter: on.diameter,
            angle: included,
            least: least_eye(on.diameter).up_to_mm().to_length(),
        });
    };
    working.push(
        Step::new(
            "angle between the eye's legs",
            "2 b of E = (D/2)/tan b + (D/2)(pi/2 + b)",
            included,
            CFR_1926_251.at("at most 60 degrees on its pin"),
        )
        .input("E", inside)
        .input("D", on.diameter),
    );
    let bearing_to_throat = opened(half, on.diameter);
    working.push(
        Step::new(
            "bearing point to throat on the fitting",
            "(D/2)(1 + 1/sin b)",
            bearing_to_throat,
            EXACT.at("geometry"),
        )
        .input("D", on.diameter)
        .input("b", half),
    );
    working.push(rope_in_eye(inside, diameter, rope));
    findings.extend(crown_finding(on, diameter));
    Ok(EyeAnswer {
        eye: Eye { inside, bearing_to_throat, rope, on: Some(on), angle: Some(included) },
        findings,
        working,
    })
}

fn rope_in_eye(inside: Length, diameter: Length, rope: Length) -> Step {
    Step::new("rope in the eye", "2 E + pi d / 2", rope, EXACT.at("half a turn of the rope's middle at the crown"))
        .input("E", inside)
        .input("d", diameter)
}

fn size(request: &EndRequest, diameter: Length, working: &mut Vec<Step>) -> Result<Length, SpliceError> {
    if let Some(given) = request.eye {
        if given <= Length::ZERO {
            return Err(SpliceError::NotAboveZero { what: "the eye", given });
        }
        working.push(Step::new("eye, inside, flat", "", given, GIVEN.at("the eye asked for")));
        return Ok(given);
    }
    let rules = request.rules;
    let least = diameter * rules.eye_least_diameters;
    Ok(match request.on {
        Some(on) if on.diameter * rules.eye_per_fitting > least => {
            let eye = on.diameter * rules.eye_per_fitting;
            let cited = if rules.eye_per_fitting == 5.0 {
                NSTM_613.at("2.5.1, rule of thumb")
            } else {
                GIVEN.at("loft's rule")
            };
            working.push(
                Step::new("eye, inside, flat", "n D", eye, cited)
                    .input("n", rules.eye_per_fitting)
                    .input("D", on.diameter),
            );
            eye
        }
        _ => {
            let cited = if rules.eye_least_diameters == 6.0 {
                ISO_2307.at("test pieces, eye at least 6 d closed")
            } else {
                GIVEN.at("loft's rule")
            };
            working.push(
                Step::new("eye, inside, flat", "n d", least, cited)
                    .input("n", rules.eye_least_diameters)
                    .input("d", diameter),
            );
            least
        }
    })
}

fn crown_finding(on: Bearing, diameter: Length) -> Option<Finding> {
    if on.diameter >= diameter * 2.0 {
        return None;
    }
    let text =
        Sentence::new("the crown bends over {}, less than twice the rope's {}; what that costs is in no open table")
            .with(on.diameter)
            .with(diameter);
    let remedy = match on.what {
        Fitting::Thimble => Sentence::new("use a thimble with a crown of {} or more").with(diameter * 2.0),
        _ => Sentence::new("use a thimble, or a fitting of {} or more").with(diameter * 2.0),
    };
    Some(Finding::new(Grade::Caution, "tight-crown", text, GL_0027.at("7.8, eye not under 2 d")).remedy(remedy))
}
