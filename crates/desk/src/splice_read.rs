//! The words of a question about an end, read into the core's request.

use crate::job::{find_rope, read_ropes};
use crate::own::OwnAnswer;
use crate::problem::{Fault, Problem};
use crate::splice_task::SpliceRequest;
use cordage::Rope;
use splice::{
    Bearing, BuryWish, ChanceWish, Duty, EndKind, EndRequest, Fitting, GripLaw, Own, Range, Slack, TaperWish,
    ThroatLock, TuckFinish,
};
use std::str::FromStr;
use units::Length;

/// The ropes of a question: an end's own, and the other of a join.
pub(crate) struct Ropes {
    pub rope: Rope,
    pub other: Option<Rope>,
    /// The loft's own figures for this rope and end.
    pub own: Own,
    pub own_answer: Option<OwnAnswer>,
}

/// The ropes of a request, from their descriptions or the rope list.
pub(crate) fn ropes(request: &SpliceRequest) -> Result<Ropes, Problem> {
    let ropes = request.ropes.as_ref().map(read_ropes).transpose()?.unwrap_or_default();
    let named = |name: &str, field: &str| {
        not_wire(name)?;
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
    let read = request.own.read(&ropes)?;
    let own = read.figures.of(&rope.name, end_kind(&request.end)?);
    Ok(Ropes { rope, other, own, own_answer: read.answer })
}

/// Wire takes none of these ends.
fn not_wire(name: &str) -> Result<(), Problem> {
    let is_wire = |word: &str| {
        let (strands, wires) = word.split_once(['x', '×']).unwrap_or_default();
        let number = |text: &str| !text.is_empty() && text.len() <= 2 && text.bytes().all(|byte| byte.is_ascii_digit());
        word == "wire" || (number(strands) && number(wires))
    };
    if !name.to_lowercase().split_whitespace().any(is_wire) {
        return Ok(());
    }
    let message = format!("{name:?} is wire: no end of fibre rope can be made in it, and no figure here holds for it");
    Err(Problem::refused("wire", message)
        .hint("swage or clamp its end by the fitting's instructions, or splice it by a wire splicer's rules")
        .hint("in place of wire, describe a rope: 10 mm 12-strand HMPE"))
}

/// What is asked of the core.
pub(crate) fn asked<'a>(request: &SpliceRequest, ropes: &'a Ropes) -> Result<EndRequest<'a>, Problem> {
    let rope = &ropes.rope;
    let mut asked = EndRequest::new(end_kind(&request.end)?, rope);
    asked.other = ropes.other.as_ref();
    asked.own = Some(&ropes.own);
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
    asked.stripped_run = quantity("stripped run", request.stripped_run.as_deref())?;
    asked.finished = quantity("length", request.length.as_deref())?;
    asked.rope_length = quantity("rope length", request.rope_length.as_deref())?;
    read_measures(request, &mut asked)?;
    read_loads(request, &mut asked)?;
    read_rules(request, &mut asked)?;
    Ok(asked)
}

/// The rope as it was measured.
fn read_measures(request: &SpliceRequest, asked: &mut EndRequest) -> Result<(), Problem> {
    let pitch = quantity::<Length>("pitch", request.pitch.as_deref())?;
    let picks = request.picks_per_metre.as_deref().map(|text| number("picks per metre", text, 1.0..=5000.0));
    asked.measured.picks_per_metre = picks.transpose()?;
    if pitch.is_some() && asked.measured.picks_per_metre.is_some() {
        return Err(Problem::new(Fault::Request, "contradiction", "pitch and picks per metre are both given")
            .hint("give the one that was measured"));
    }
    // What was measured today outranks the rope list.
    let listed = asked.rope.pitch.filter(|_| asked.measured.picks_per_metre.is_none());
    asked.measured.pitch = pitch.or(listed);
    asked.measured.over_bury = quantity("diameter over the bury", request.over_bury.as_deref())?;
    asked.measured.strand_width = quantity("strand width", request.strand_width.as_deref())?;
    Ok(())
}

/// Loads, and how friction goes with them.
fn read_loads(request: &SpliceRequest, asked: &mut EndRequest) -> Result<(), Problem> {
    asked.load = quantity("load", request.load.as_deref())?;
    asked.peak = quantity("peak", request.peak.as_deref())?;
    asked.hardware = quantity("hardware", request.hardware.as_deref())?;
    asked.slack = if request.never_slack { Slack::Never } else { Slack::Can };
    asked.friction = request.friction.as_deref().map(|text| range("friction", text, "0.04..0.08")).transpose()?;
    let pin = request.pin_friction.as_deref().map(|text| number("pin friction", text, 0.0..=1.0));
    asked.pin_friction = pin.transpose()?;
    if let Some(text) = &request.friction_exponent {
        asked.law.exponent = number("friction exponent", text, 0.3..=1.0)?;
    }
    if let Some(text) = &request.onset {
        let percent = range("onset", text, "0.1..0.5 in percent of the strength")?;
        asked.law = GripLaw { onset: Range::new(percent.low / 100.0, percent.high / 100.0), ..asked.law };
    }
    Ok(())
}

/// The loft's rules, where the request has its own.
fn read_rules(request: &SpliceRequest, asked: &mut EndRequest) -> Result<(), Problem> {
    asked.duty = if request.sling { Duty::Sling } else { Duty::Running };
    if let Some(text) = &request.tucks {
        let tucks = text.trim().parse::<u32>().ok().filter(|tucks| (1..=12).contains(tucks));
        let fault = || {
            Problem::new(Fault::Request, "cannot-be-read", format!("tucks: {text:?} is no number of tucks"))
                .hint("a whole number from 1 to 12")
        };
        asked.rules.tucks = Some(tucks.ok_or_else(fault)?);
    }
    if let Some(text) = &request.finish {
        asked.rules.finish = TuckFinish::from_word(text).ok_or_else(|| word("finish", text, "thinned, proud"))?;
    }
    if let Some(text) = &request.fid {
        asked.rules.fid_diameters = number("fid", text.trim().trim_end_matches('d').trim_end(), 5.0..=60.0)?;
    }
    Ok(())
}

/// The simulation asked for, if any.
pub(crate) fn chance_wish(request: &SpliceRequest) -> Result<Option<ChanceWish>, Problem> {
    let Some(text) = &request.chance else { return Ok(None) };
    let whole = |field: &str, text: &str, most: u64| {
        text.trim().replace([',', '_', ' '], "").parse::<u64>().ok().filter(|n| (1..=most).contains(n)).ok_or_else(
            || {
                Problem::new(Fault::Request, "cannot-be-read", format!("{field}: {text:?} is no whole number in range"))
                    .hint(format!("a whole number from 1 to {most}"))
            },
        )
    };
    let draws = whole("chance", text, 100_000_000)?;
    let seed = request.seed.as_deref().map_or(Ok(ChanceWish::USUAL.seed), |text| whole("seed", text, u64::MAX))?;
    Ok(Some(ChanceWish { draws, seed, ..ChanceWish::USUAL }))
}

/// A refusal of the core, with its way out.
pub(crate) fn cannot(why: &splice::SpliceError) -> Problem {
    let mut problem = Problem::refused("cannot-be-made", why.to_string());
    problem.hints = why.hints();
    problem
}

fn word(field: &str, given: &str, allowed: &str) -> Problem {
    Problem::new(Fault::Request, "unknown-word", format!("{field}: {given:?} is not known"))
        .hint(format!("one of: {allowed}"))
}

pub(crate) fn end_kind(text: &str) -> Result<EndKind, Problem> {
    let plain = text.trim().to_lowercase().replace([' ', '_'], "-");
    EndKind::from_word(&plain).ok_or_else(|| {
        let all = EndKind::ALL.iter().map(|kind| kind.word()).collect::<Vec<_>>().join(", ");
        word("end", text, &all)
    })
}

pub(crate) fn quantity<Q: FromStr<Err = units::ParseError>>(
    field: &str,
    text: Option<&str>,
) -> Result<Option<Q>, Problem> {
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

/// `0.04..0.08`, or one number for both ends.
fn range(field: &str, text: &str, like: &str) -> Result<Range, Problem> {
    let fault = || {
        Problem::new(Fault::Request, "cannot-be-read", format!("{field}: {text:?} is no range"))
            .hint(format!("one number, or two from low to high with two points between: {like}"))
    };
    let (low, high) = text.split_once("..").unwrap_or((text, text));
    let (low, high) = (number(field, low, 0.0..=100.0)?, number(field, high, 0.0..=100.0)?);
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
