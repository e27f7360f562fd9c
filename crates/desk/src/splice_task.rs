//! One end laid out by itself: a rigger with one question.

use crate::own::OwnSource;
use crate::problem::{Fault, Problem};
use crate::splice_answer::{ChanceAnswer, SpliceAnswer, answer};
use crate::splice_read::{asked, cannot, chance_wish, quantity, ropes};
use crate::text::Text;
use schemars::JsonSchema;
use serde::Serialize;
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
    /// The loft's own figures.
    pub own: OwnSource,
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
    /// Picks in a metre of the free braid, counted along one line: `62`.
    pub picks_per_metre: Option<String>,
    /// Width of one strand as it lies in the braid.
    pub strand_width: Option<String>,
    /// Stripped core's diameter, as measured.
    pub core_diameter: Option<String>,
    /// Working load.
    pub load: Option<String>,
    /// The highest load it sees.
    pub peak: Option<String>,
    /// Mass of what hangs on the eye when slack.
    pub hardware: Option<String>,
    /// It never hangs slack or flogs.
    pub never_slack: bool,
    /// Friction of the eye on its fitting: `0.1`.
    pub pin_friction: Option<String>,
    /// Exponent of friction that falls with load: `0.75`.
    pub friction_exponent: Option<String>,
    /// Load over which the braid closes, in percent of strength: `0.1..0.5`.
    pub onset: Option<String>,
    /// It is a sling: its tucks and tails go by the sling rule.
    pub sling: bool,
    /// Full tucks, in place of the common ones: `5`.
    pub tucks: Option<String>,
    /// How tucks are finished: `thinned` or `proud`.
    pub finish: Option<String>,
    /// A fid in rope diameters: `21`, `22`.
    pub fid: Option<String>,
    /// Draws of a simulation; none without it: `100000`.
    pub chance: Option<String>,
    /// Its seed.
    pub seed: Option<String>,
    /// The eye's bearing point to where the cover begins, of a bare-core eye.
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

/// Lays out one end, and simulates it where that is asked for.
///
/// # Errors
/// When a part of the request cannot be read, or the end cannot be made so.
pub fn splice(request: &SpliceRequest) -> Result<SpliceAnswer, Problem> {
    let ropes = ropes(request)?;
    let asked = asked(request, &ropes)?;
    let end = splice::layout(&asked).map_err(|why| cannot(&why))?;
    let mut answer = answer(&ropes.rope, &end, request.units);
    answer.own = ropes.own_answer.clone();
    if let Some(wish) = chance_wish(request)? {
        let chance = splice::simulated(&asked, wish).map_err(|why| cannot(&why))?;
        answer.chance = Some(ChanceAnswer::of(&chance, wish));
    }
    Ok(answer)
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
        // Friction and measures stay: it is the same rope.
        (other.bury, other.wanted_margin, other.taper) = (None, None, None);
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

/// Two counts from text, for a front end's own field: `2x6`.
///
/// # Errors
/// When it is not two whole numbers from 1 to 50 with an x between.
pub fn grid(field: &str, text: &str) -> Result<(u32, u32), Problem> {
    let count = |text: &str| text.trim().parse::<u32>().ok().filter(|count| (1..=50).contains(count));
    let pair = text.split_once(['x', 'X', '×']).and_then(|(across, down)| Some((count(across)?, count(down)?)));
    pair.ok_or_else(|| {
        Problem::new(Fault::Request, "cannot-be-read", format!("{field}: {text:?} is no number across and down"))
            .hint("two whole numbers from 1 to 50 with an x between: 2x6")
    })
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
