//! One end laid out by itself: a rigger with one question.

use crate::job::{find_rope, read_ropes};
use crate::problem::{Fault, Problem};
use crate::text::Text;
use crate::wire::{Amount, FindingAnswer, Margin, StepAnswer, TaperStepAnswer, WeakPointAnswer, findings, steps};
use schemars::JsonSchema;
use serde::Serialize;
use splice::{Bearing, BuryWish, EndKind, EndRequest, Fitting, Layout, LoftRules, Range, TaperWish, ThroatLock};
use std::str::FromStr;
use units::{Length, System};

/// What is asked, as text: each part is read here, once, for every front end.
#[derive(Debug, Clone, Default)]
pub struct SpliceRequest {
    /// A description, or a name in the rope list.
    pub rope: String,
    /// The kind of end: `long-bury-eye`.
    pub end: String,
    /// A rope list to look the rope up in.
    pub ropes: Option<Text>,
    /// `50d` or `600 mm`.
    pub bury: Option<String>,
    /// Inside length of the eye, flat: `60 mm`.
    pub eye: Option<String>,
    /// `12 mm pin`.
    pub eye_on: Option<String>,
    /// `common`, `none`, `half-at-once` or `chosen`.
    pub taper: Option<String>,
    /// `stitch-and-whip`, `stitch`, `whip`, `full-length` or `none`.
    pub lock: Option<String>,
    /// `0.04..0.08`.
    pub friction: Option<String>,
    /// Grip margin to solve the bury for: `1.5`.
    pub wanted_margin: Option<String>,
    /// Length of one full turn of a strand: `60 mm`.
    pub pitch: Option<String>,
    /// Diameter over a trial bury.
    pub over_bury: Option<String>,
    /// Stripped core's diameter, as measured.
    pub core_diameter: Option<String>,
    /// Working load.
    pub load: Option<String>,
    /// Throat to cover, of a bare-core eye.
    pub stripped_run: Option<String>,
    /// Finished length of a whole piece.
    pub length: Option<String>,
    /// The other rope of a join.
    pub other_rope: Option<String>,
    /// Rope there is for it.
    pub rope_length: Option<String>,
    /// Units to print.
    pub units: System,
}

/// An end laid out.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct SpliceAnswer {
    /// The rope.
    pub rope: String,
    /// The kind of end.
    pub end: &'static str,
    /// Its name in words.
    pub end_name: &'static str,
    /// Bury along the tail; null where nothing is buried.
    pub bury: Option<Amount>,
    /// The same in diameters of the braid that grips.
    pub bury_diameters: Option<f64>,
    /// The eye; null where there is none.
    pub eye: Option<EyeAnswer>,
    /// Strands taken out, from the throat to the tail's end.
    pub taper: Vec<TaperStepAnswer>,
    /// Marks on free rope at reference tension.
    pub marks: Vec<MarkAnswer>,
    /// What the bury takes up of the standing part.
    pub shrinkage: Amount,
    /// What the end adds to the cut length.
    pub rope_used: Amount,
    /// Tension at which marks and lengths are measured.
    pub reference_tension: Amount,
    /// Grip margin; null where nothing is buried.
    pub grip_margin: Option<Margin<f64>>,
    /// Bury at which the margin would be one.
    pub critical_bury: Option<Margin<Amount>>,
    /// Share of the straight rope's strength at the lowest point.
    pub strength_share: Option<Margin<f64>>,
    /// How far the tail's end creeps at the working load.
    pub tail_creep: Option<Amount>,
    /// Where it could break, the lowest first.
    pub weak_points: Vec<WeakPointAnswer>,
    /// Sewing and whipping.
    pub stitching: Vec<StitchingAnswer>,
    /// What to do, in order.
    pub steps: Vec<String>,
    /// Tools, by name.
    pub tools: Vec<&'static str>,
    /// Time at the bench.
    pub time: Amount,
    /// What can hurt, people or rope.
    pub cautions: Vec<String>,
    /// What is to be said about it, the worst first.
    pub findings: Vec<FindingAnswer>,
    /// How the numbers came about.
    pub working: Vec<StepAnswer>,
}

/// An eye.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct EyeAnswer {
    /// Inside length, laid flat: bearing point to throat.
    pub inside: Amount,
    /// What it goes on; null for nothing stated.
    pub on: Option<String>,
    /// Included angle at the throat when on it.
    pub angle: Option<Amount>,
}

/// One mark.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct MarkAnswer {
    /// Its number.
    pub number: u32,
    /// What happens there.
    pub name: &'static str,
    /// What it is made on: rope, core or cover.
    pub part: &'static str,
    /// Distance from the bitter end of that part.
    pub from_bitter_end: Amount,
    /// What is drawn.
    pub shape: &'static str,
}

/// Sewing or whipping.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct StitchingAnswer {
    /// What it is.
    pub name: &'static str,
    /// How it runs.
    pub pattern: String,
    /// Twine diameter.
    pub twine: Amount,
    /// Twine to cut off.
    pub length: Amount,
    /// What it must hold when slack.
    pub must_hold: Option<Amount>,
    /// Why it is there.
    pub reason: String,
}

impl SpliceAnswer {
    /// Is there a stop?
    #[must_use]
    pub fn has_stop(&self) -> bool {
        self.findings.iter().any(FindingAnswer::is_stop)
    }
}

/// Lays out one end.
///
/// # Errors
/// When a part of the request cannot be read, or the end cannot be made so.
pub fn splice(request: &SpliceRequest) -> Result<SpliceAnswer, Problem> {
    let ropes = request.ropes.as_ref().map(read_ropes).transpose()?.unwrap_or_default();
    let named = |name: &str, field: &str| {
        find_rope(name, files::Place::default(), &ropes).map_err(|why| {
            Problem::new(Fault::Request, why.code, format!("{field}: {}", why.message)).hint(why.hint.clone())
        })
    };
    let mut rope = named(&request.rope, "rope")?;
    if let Some(core) = quantity::<Length>("core diameter", request.core_diameter.as_deref())? {
        rope.core_diameter = Some(core);
        rope = rope.checked().map_err(|why| Problem::new(Fault::Request, "impossible-rope", why.to_string()))?;
    }
    let other = request.other_rope.as_deref().map(|name| named(name, "other rope")).transpose()?;
    let kind = end_kind(&request.end)?;
    let mut asked = EndRequest::new(kind, &rope);
    asked.other = other.as_ref();
    asked.eye = quantity("eye", request.eye.as_deref())?;
    asked.on = request.eye_on.as_deref().map(bearing).transpose()?;
    asked.bury = match (&request.bury, &request.wanted_margin) {
        (Some(_), Some(_)) => {
            return Err(Problem::new(Fault::Request, "contradiction", "bury and wanted margin are both given")
                .hint("give one: the bury, or the margin to solve it for"));
        }
        (Some(text), None) => Some(bury(text)?),
        (None, Some(text)) => Some(BuryWish::Margin(number("wanted margin", text, 0.1..=20.0)?)),
        (None, None) => None,
    };
    if let Some(text) = &request.taper {
        asked.taper =
            TaperWish::from_word(text).ok_or_else(|| word("taper", text, "common, none, half-at-once, chosen"))?;
    }
    if let Some(text) = &request.lock {
        asked.lock = ThroatLock::from_word(text)
            .ok_or_else(|| word("lock", text, "stitch-and-whip, stitch, whip, full-length, none"))?;
    }
    asked.friction = request.friction.as_deref().map(friction).transpose()?;
    asked.measured.pitch = quantity::<Length>("pitch", request.pitch.as_deref())?.or(rope.pitch);
    asked.measured.over_bury = quantity("diameter over the bury", request.over_bury.as_deref())?;
    asked.load = quantity("load", request.load.as_deref())?;
    asked.stripped_run = quantity("stripped run", request.stripped_run.as_deref())?;
    asked.finished = quantity("length", request.length.as_deref())?;
    asked.rope_length = quantity("rope length", request.rope_length.as_deref())?;
    asked.rules = LoftRules::COMMON;
    let end = splice::layout(&asked).map_err(|why| {
        let mut problem = Problem::refused("cannot-be-made", why.to_string());
        problem.hints = why.hints();
        problem
    })?;
    Ok(answer(&rope, &end, request.units))
}

fn answer(rope: &cordage::Rope, end: &Layout, system: System) -> SpliceAnswer {
    let amount = |value: units::Value| Amount::of(value, system);
    let grip = end.grip.as_ref();
    SpliceAnswer {
        rope: rope.name.clone(),
        end: end.kind.word(),
        end_name: end.kind.name(),
        bury: end.bury.map(|bury| amount(bury.nearest_mm().into())),
        bury_diameters: end.bury.map(|bury| ((bury / end.gripping_diameter) * 10.0).round() / 10.0),
        eye: end.eye.as_ref().map(|eye| EyeAnswer {
            inside: amount(eye.inside.nearest_mm().into()),
            on: eye.on.map(|on| format!("{} {}", amount(on.diameter.into()).text, on.what.word())),
            angle: eye.angle.map(|angle| amount(angle.into())),
        }),
        taper: taper(end, system),
        marks: end
            .marks
            .iter()
            .map(|mark| MarkAnswer {
                number: mark.number,
                name: mark.name,
                part: mark.part.word(),
                from_bitter_end: amount(mark.from_bitter_end.into()),
                shape: mark.shape.word(),
            })
            .collect(),
        shrinkage: amount(end.shrinkage.nearest_mm().into()),
        rope_used: amount(end.rope_used.nearest_mm().into()),
        reference_tension: amount(cordage::reference_tension(rope.diameter).into()),
        grip_margin: grip.map(|grip| Margin::of(grip.margin, hundredth)),
        critical_bury: grip.map(|grip| Margin::of(grip.critical_bury, |bury| amount(bury.nearest_mm().into()))),
        strength_share: end.strength_share.map(|share| Margin::of(share, hundredth)),
        tail_creep: grip.and_then(|grip| grip.tail_creep).map(|creep| amount(creep.into())),
        weak_points: end
            .weak_points
            .iter()
            .map(|point| WeakPointAnswer {
                place: point.place.to_owned(),
                strength: point.share.map(|share| amount((rope.strength.force * share.low).into())),
                share: point.share.map(|share| hundredth(share.low)),
                reason: point.reason.show(system),
                source: point.citation.to_string(),
            })
            .collect(),
        stitching: end
            .stitching
            .iter()
            .map(|stitching| StitchingAnswer {
                name: stitching.name,
                pattern: stitching.pattern.show(system),
                twine: amount(stitching.twine.into()),
                length: amount(stitching.length.into()),
                must_hold: stitching.must_hold.map(|load| amount(load.into())),
                reason: stitching.reason.show(system),
            })
            .collect(),
        steps: end.steps.iter().map(|step| step.show(system)).collect(),
        tools: end.tools.clone(),
        time: amount(end.time.get().unwrap_or(units::Duration::ZERO).into()),
        cautions: end.cautions.iter().map(|caution| caution.show(system)).collect(),
        findings: findings(&end.findings, system),
        working: steps(&end.working, system),
    }
}

pub(crate) fn taper(end: &Layout, system: System) -> Vec<TaperStepAnswer> {
    end.taper
        .iter()
        .map(|step| TaperStepAnswer {
            at: Amount::of(step.at, system),
            pick: step.pick,
            hand: step.hand.word(),
            strands_left: step.strands_left,
        })
        .collect()
}

fn hundredth(number: f64) -> f64 {
    (number * 100.0).round() / 100.0
}

fn word(field: &str, given: &str, allowed: &str) -> Problem {
    Problem::new(Fault::Request, "unknown-word", format!("{field}: {given:?} is not known"))
        .hint(format!("one of: {allowed}"))
}

fn end_kind(text: &str) -> Result<EndKind, Problem> {
    let plain = text.trim().to_lowercase().replace([' ', '_'], "-");
    EndKind::from_word(&plain).ok_or_else(|| {
        let all = EndKind::ALL.iter().map(|kind| kind.word()).collect::<Vec<_>>().join(", ");
        word("end", text, &all)
    })
}

fn quantity<Q: FromStr<Err = units::ParseError>>(field: &str, text: Option<&str>) -> Result<Option<Q>, Problem> {
    text.map(|text| {
        text.parse::<Q>().map_err(|why| Problem::new(Fault::Request, "cannot-be-read", format!("{field}: {why}")))
    })
    .transpose()
}

fn number(field: &str, text: &str, allowed: std::ops::RangeInclusive<f64>) -> Result<f64, Problem> {
    let fault = || {
        Problem::new(Fault::Request, "cannot-be-read", format!("{field}: {text:?} is not a number in range"))
            .hint(format!("a number from {} to {}", allowed.start(), allowed.end()))
    };
    let number: f64 = text.trim().parse().map_err(|_| fault())?;
    if allowed.contains(&number) { Ok(number) } else { Err(fault()) }
}

/// `50d`, `50 d` or a length.
fn bury(text: &str) -> Result<BuryWish, Problem> {
    match text.trim().strip_suffix('d').map(str::trim_end) {
        Some(diameters) if diameters.ends_with(|c: char| c.is_ascii_digit() || c == '.') => {
            Ok(BuryWish::Diameters(number("bury", diameters, 1.0..=400.0)?))
        }
        _ => Ok(BuryWish::Length(quantity("bury", Some(text))?.unwrap_or(Length::ZERO))),
    }
}

/// `0.04..0.08`.
fn friction(text: &str) -> Result<Range, Problem> {
    let fault = || {
        Problem::new(Fault::Request, "cannot-be-read", format!("friction: {text:?} is no range"))
            .hint("two numbers from 0 to 1 with two points between: 0.04..0.08")
    };
    let (low, high) = text.split_once("..").ok_or_else(fault)?;
    let (low, high) = (number("friction", low, 0.0..=1.0)?, number("friction", high, 0.0..=1.0)?);
    if low <= high { Ok(Range::new(low, high)) } else { Err(fault()) }
}

/// `12 mm pin`.
fn bearing(text: &str) -> Result<Bearing, Problem> {
    let fault = |why: &str| {
        Problem::new(Fault::Request, "cannot-be-read", format!("eye on: {text:?} {why}"))
            .hint("a diameter and pin, thimble, ring or shackle: 12 mm pin")
    };
    let (size, what) = text.trim().rsplit_once(' ').ok_or_else(|| fault("is no diameter with a fitting"))?;
    let what = Fitting::from_word(what).ok_or_else(|| fault("names no fitting"))?;
    let diameter: Length = size.parse().map_err(|why: units::ParseError| fault(&why.to_string()))?;
    if diameter.to_mm() > 0.0 { Ok(Bearing { what, diameter }) } else { Err(fault("is not above zero")) }
}

/// A variant of an end.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Variant {
    /// What it is: `as asked`, `common practice`, `no taper` …
    pub name: String,
    /// Its layout.
    pub answer: SpliceAnswer,
}

/// The end as asked beside the common practice, other tapers and other buries.
///
/// # Errors
/// When the end as asked cannot be made; a variant that cannot is left out.
pub fn compare(request: &SpliceRequest) -> Result<Vec<Variant>, Problem> {
    let asked = Variant { name: "as asked".to_owned(), answer: splice(request)? };
    let with = |name: &str, change: &dyn Fn(&mut SpliceRequest)| {
        let mut other = request.clone();
        change(&mut other);
        splice(&other).ok().map(|answer| Variant { name: name.to_owned(), answer })
    };
    let plain = |other: &mut SpliceRequest| {
        (other.bury, other.wanted_margin, other.taper, other.friction) = (None, None, None, None);
    };
    let bury = |text: &'static str| {
        move |other: &mut SpliceRequest| (other.bury, other.wanted_margin) = (Some(text.to_owned()), None)
    };
    let taper = |text: &'static str| move |other: &mut SpliceRequest| other.taper = Some(text.to_owned());
    let others = [
        with("common practice", &plain),
        with("bury 50 d", &bury("50d")),
        with("bury 100 d", &bury("100d")),
        with("no taper", &taper("none")),
        with("half at once", &taper("half-at-once")),
        with("taper chosen", &taper("chosen")),
    ];
    Ok(std::iter::once(asked).chain(others.into_iter().flatten()).collect())
}

/// A length from text, for a front end's own field.
///
/// # Errors
/// When it is no length, or below zero.
pub fn length(field: &str, text: &str) -> Result<Length, Problem> {
    let length = quantity::<Length>(field, Some(text))?.unwrap_or(Length::ZERO);
    if length < Length::ZERO {
        return Err(Problem::new(Fault::Request, "below-zero", format!("{field}: {text:?} is below zero")));
    }
    Ok(length)
}

/// Seconds from text, for a front end's own field: `10s`, `2 min`.
///
/// # Errors
/// When it is no time, or outside a second to a day.
pub fn time(field: &str, text: &str) -> Result<f64, Problem> {
    let seconds = quantity::<units::Duration>(field, Some(text))?.map_or(0.0, |time| time.to_seconds());
    if (0.0..=86_400.0).contains(&seconds) {
        return Ok(seconds);
    }
    Err(Problem::new(Fault::Request, "out-of-range", format!("{field}: {text:?} is outside 0 s to 24 h")))
}
