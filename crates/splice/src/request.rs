//! What is asked: which end, in which rope, on what, with which wishes.
//!
//! Everything that can be left out is an `Option` whose default is decided,
//! and cited, where the layout is worked out.

use crate::{EndKind, GripLaw, Own, Range, TaperWish};
use cordage::Rope;
use units::{Force, Length, Mass};

/// What an eye goes over.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Fitting {
    /// A clevis or snap shackle's pin.
    Pin,
    /// A thimble: the diameter is that of its crown, inside the score.
    Thimble,
    /// A closed ring: the diameter is that of its rod.
    Ring,
    /// A shackle's bow or pin.
    Shackle,
}

impl Fitting {
    /// The word printed and read.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Fitting::Pin => "pin",
            Fitting::Thimble => "thimble",
            Fitting::Ring => "ring",
            Fitting::Shackle => "shackle",
        }
    }

    /// From its word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Fitting> {
        [Fitting::Pin, Fitting::Thimble, Fitting::Ring, Fitting::Shackle]
            .into_iter()
            .find(|fitting| fitting.word().eq_ignore_ascii_case(word.trim()))
    }

    /// Must the rope be rove through it before the splice is closed?
    #[must_use]
    pub const fn is_closed(self) -> bool {
        matches!(self, Fitting::Ring | Fitting::Thimble)
    }
}

/// The fitting and the diameter that the rope bears on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bearing {
    /// What it is.
    pub what: Fitting,
    /// Diameter the rope bends round.
    pub diameter: Length,
}

/// How long the bury is to be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BuryWish {
    /// In diameters of the braid that grips.
    Diameters(f64),
    /// As a length along the tail.
    Length(Length),
    /// As long as it takes for this grip margin at the low end.
    Margin(f64),
}

/// What holds the throat when the rope hangs slack.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum ThroatLock {
    /// Lock stitching at the throat, and a whipping over it.
    #[default]
    StitchAndWhip,
    /// Lock stitching at the throat alone.
    Stitch,
    /// Whipping of the throat alone.
    Whip,
    /// Stitched from end to end of the bury: warned against.
    FullLength,
    /// Nothing.
    None,
}

impl ThroatLock {
    /// The word of files and commands.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            ThroatLock::StitchAndWhip => "stitch-and-whip",
            ThroatLock::Stitch => "stitch",
            ThroatLock::Whip => "whip",
            ThroatLock::FullLength => "full-length",
            ThroatLock::None => "none",
        }
    }

    /// From its word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<ThroatLock> {
        [ThroatLock::StitchAndWhip, ThroatLock::Stitch, ThroatLock::Whip, ThroatLock::FullLength, ThroatLock::None]
            .into_iter()
            .find(|lock| lock.word().eq_ignore_ascii_case(word.trim()))
    }
}

/// Can the end hang slack or flog?
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Slack {
    /// It can, as nearly every end does at some time.
    #[default]
    Can,
    /// It is under load from the day it is rigged to the day it comes down.
    Never,
}

/// Which rules of the trade the end falls under.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Duty {
    /// Running rigging and the like.
    #[default]
    Running,
    /// A sling or strop that lifts: the sling rules for tucks and tails.
    Sling,
}

/// How a laid rope's tucks are finished where no rule says: both are common.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum TuckFinish {
    /// Two more tucks, thinned to a half and a quarter: slimmer, and passes
    /// where the rope passes.
    #[default]
    Thinned,
    /// No more tucks, the tails cut off a diameter proud: quicker, and thicker.
    Proud,
}

impl TuckFinish {
    /// From its word: `thinned` or `proud`.
    #[must_use]
    pub fn from_word(word: &str) -> Option<TuckFinish> {
        match word.trim().to_ascii_lowercase().as_str() {
            "thinned" => Some(TuckFinish::Thinned),
            "proud" => Some(TuckFinish::Proud),
            _ => None,
        }
    }
}

/// The rope as the bench measured it; what is absent is assumed and said so.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct BenchMeasures {
    /// Length of one full turn of a strand of the free rope or core.
    pub pitch: Option<Length>,
    /// Picks in a metre of the free rope or core, counted along one line.
    pub picks_per_metre: Option<f64>,
    /// Diameter over a trial bury.
    pub over_bury: Option<Length>,
    /// Width of one strand as it lies in the braid.
    pub strand_width: Option<Length>,
}

/// The loft's own rules; each default is common practice or ours.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LoftRules {
    /// Bury in diameters, in place of the common one.
    pub bury_diameters: Option<f64>,
    /// Full tucks of a laid rope, in place of the common ones.
    pub tucks: Option<u32>,
    /// How they are finished, slings apart.
    pub finish: TuckFinish,
    /// A fid in rope diameters.
    pub fid_diameters: f64,
    /// A short fid as a share of a fid.
    pub short_fid_share: f64,
    /// How far beyond the tail's end the puller goes in, in diameters.
    pub puller_lead_diameters: f64,
    /// Eye, inside and flat, in diameters of its fitting.
    pub eye_per_fitting: f64,
    /// Eye, inside and flat, at least so many rope diameters.
    pub eye_least_diameters: f64,
    /// How far a finished length may be off.
    pub tolerance: Length,
}

impl LoftRules {
    /// The rules of a loft that has set none.
    pub const COMMON: LoftRules = LoftRules {
        bury_diameters: None,
        tucks: None,
        finish: TuckFinish::Thinned,
        fid_diameters: 21.0,
        short_fid_share: 0.375,
        puller_lead_diameters: 5.0,
        eye_per_fitting: 5.0,
        eye_least_diameters: 6.0,
        tolerance: Length::of_mm(5.0),
    };
}

/// One end to be laid out.
///
/// ```
/// use splice::{EndKind, EndRequest, layout};
/// let rope = cordage::generic("10 mm 12-strand HMPE")?;
/// let end = layout(&EndRequest::new(EndKind::LongBuryEye, &rope))?;
/// assert_eq!(end.bury.unwrap().to_mm(), 720.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct EndRequest<'a> {
    /// Which end.
    pub kind: EndKind,
    /// In which rope.
    pub rope: &'a Rope,
    /// The other rope of a join of two.
    pub other: Option<&'a Rope>,
    /// What the eye goes over.
    pub on: Option<Bearing>,
    /// Inside length of the eye, laid flat: bearing point to throat. Of a
    /// loop: its inside length pulled flat.
    pub eye: Option<Length>,
    /// Bearing point to bearing point of a piece with both ends (a strop).
    pub finished: Option<Length>,
    /// How long the bury is to be.
    pub bury: Option<BuryWish>,
    /// How the tail is tapered.
    pub taper: TaperWish,
    /// What holds the throat when slack.
    pub lock: ThroatLock,
    /// Can it hang slack?
    pub slack: Slack,
    /// Which rules it falls under.
    pub duty: Duty,
    /// The eye's bearing point to where the cover begins, of a bare-core eye;
    /// of a core-to-cover join, its end to where the cover begins.
    pub stripped_run: Option<Length>,
    /// Working load.
    pub load: Option<Force>,
    /// The highest load it sees, where that is not its listed strength.
    pub peak: Option<Force>,
    /// Mass of what hangs on the eye when slack.
    pub hardware: Option<Mass>,
    /// Friction of strand on strand, in place of the fibre's range.
    pub friction: Option<Range>,
    /// How friction and contact depend on load.
    pub law: GripLaw,
    /// Friction of the eye on its fitting; `None` takes even legs.
    pub pin_friction: Option<f64>,
    /// The rope as measured.
    pub measured: BenchMeasures,
    /// Rope there is for the piece, where that is known.
    pub rope_length: Option<Length>,
    /// The loft's rules.
    pub rules: LoftRules,
    /// The loft's own figures for this rope and kind of end.
    pub own: Option<&'a Own>,
}

impl<'a> EndRequest<'a> {
    /// The end with every wish left to the common practice.
    #[must_use]
    pub fn new(kind: EndKind, rope: &'a Rope) -> Self {
        EndRequest {
            kind,
            rope,
            other: None,
            on: None,
            eye: None,
            finished: None,
            bury: None,
            taper: TaperWish::Common,
            lock: ThroatLock::StitchAndWhip,
            slack: Slack::Can,
            duty: Duty::Running,
            stripped_run: None,
            load: None,
            peak: None,
            hardware: None,
            friction: None,
            law: GripLaw::COULOMB,
            pin_friction: None,
            measured: BenchMeasures::default(),
            rope_length: None,
            rules: LoftRules::COMMON,
            own: None,
        }
    }
}
