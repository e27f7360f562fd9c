//! Inputs that no publication gives: visible, each with a usual value and a
//! range, so that an answer can show what the range does to it.
//!
//! The order replaces any of them; the range is ours, wide enough that an
//! experienced rigger would not look outside it.

use sources::{COMMON_PRACTICE, Citation, GIVEN, OURS};
use thiserror::Error;
use units::{Angle, Value};

/// How an input is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Print {
    Share,
    Degrees,
    Number,
}

macro_rules! inputs {
    ($($(#[$doc:meta])* $variant:ident = $word:literal, $low:literal ..= $usual:literal ..= $high:literal, $print:ident, $from:ident, $says:literal;)+) => {
        /// An input without a publication.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub enum Input {
            $( #[doc = $says] $variant, )+
        }

        impl Input {
            /// Every one of them.
            pub const ALL: [Input; Input::COUNT] = [$(Input::$variant),+];
            const COUNT: usize = [$($low),+].len();

            /// The word in order files and answers.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self { $( Input::$variant => $word, )+ }
            }

            /// What it is.
            #[must_use]
            pub const fn says(self) -> &'static str {
                match self { $( Input::$variant => $says, )+ }
            }

            /// Lowest, usual and highest value.
            #[must_use]
            pub const fn range(self) -> (f64, f64, f64) {
                match self { $( Input::$variant => ($low, $usual, $high), )+ }
            }

            const fn print(self) -> Print {
                match self { $( Input::$variant => Print::$print, )+ }
            }

            const fn usual_from(self) -> Citation {
                match self { $( Input::$variant => $from.at($says), )+ }
            }
        }
    };
}

inputs! {
    MainLeechSag = "main_leech_sag", 0.06 ..= 0.09 ..= 0.15, Share, OURS, "sag of the mainsail's leech over its length";
    JibLeechSag = "jib_leech_sag", 0.06 ..= 0.09 ..= 0.15, Share, OURS, "sag of the headsail's leech over its length";
    LuffOfLeech = "luff_of_leech", 0.4 ..= 0.75 ..= 1.0, Number, OURS, "luff tension over leech tension, set by the crew";
    MainCamber = "main_camber", 0.08 ..= 0.11 ..= 0.14, Share, COMMON_PRACTICE, "depth of the mainsail over its chord, 8 to 14 % upwind";
    JibCamber = "jib_camber", 0.08 ..= 0.11 ..= 0.14, Share, COMMON_PRACTICE, "depth of the headsail over its chord, 8 to 14 % upwind";
    FootShare = "foot_share", 0.1 ..= 0.25 ..= 0.4, Share, OURS, "share of the sail's chordwise pull that its foot takes";
    ForestaySag = "forestay_sag", 0.005 ..= 0.01 ..= 0.02, Share, COMMON_PRACTICE, "sag of the forestay over its length, 1 %";
    TravellerAngle = "traveller_angle", 10.0 ..= 20.0 ..= 35.0, Degrees, OURS, "mainsheet off upright when the car is pulled";
    VangAlong = "vang_along", 0.25 ..= 0.33 ..= 0.4, Share, OURS, "vang on the boom over E, from the gooseneck";
    VangDown = "vang_down", 0.6 ..= 0.8 ..= 0.95, Share, OURS, "vang on the mast below the gooseneck over the boom's height";
    FurlShare = "furl_share", 0.05 ..= 0.15 ..= 0.3, Share, OURS, "sheet kept on while furling over the sheet's full load";
    RollOverDrum = "roll_over_drum", 0.5 ..= 0.75 ..= 1.0, Number, OURS, "mean radius of the furled roll over the drum's";
    FurlFriction = "furl_friction", 0.05 ..= 0.2 ..= 0.5, Share, OURS, "friction of a furler over what the sail makes";
    HalyardLean = "halyard_lean", 20.0 ..= 35.0 ..= 50.0, Degrees, OURS, "spinnaker halyard off the mast";
    TackLean = "tack_lean", 15.0 ..= 30.0 ..= 45.0, Degrees, OURS, "pull of the spinnaker's tack off upright";
    SheetFall = "sheet_fall", 10.0 ..= 25.0 ..= 40.0, Degrees, OURS, "fall of the spinnaker sheet from clew to quarter";
    PolePull = "pole_pull", 30.0 ..= 45.0 ..= 60.0, Degrees, OURS, "pull of the tack off the pole";
    GuyAngle = "guy_angle", 20.0 ..= 25.0 ..= 40.0, Degrees, OURS, "guy off the pole, pole well forward";
    ForeguyRise = "foreguy_rise", 25.0 ..= 40.0 ..= 55.0, Degrees, OURS, "rise of the tack's pull that the foreguy holds down";
    RunnerBase = "runner_base", 0.25 ..= 0.33 ..= 0.4, Share, OURS, "runner's foot abaft the mast over LOA";
    CheckstayShare = "checkstay_share", 0.2 ..= 0.33 ..= 0.5, Share, OURS, "checkstay's share of the runner's pull";
    CarDeflection = "car_deflection", 40.0 ..= 60.0 ..= 75.0, Degrees, OURS, "turn of the sheet at the headsail car";
    PeakBridle = "peak_bridle", 0.55 ..= 0.7 ..= 0.9, Share, OURS, "peak halyard's place along the gaff from the jaws";
    PeakAngle = "peak_angle", 35.0 ..= 45.0 ..= 60.0, Degrees, OURS, "peak halyard off the gaff";
    BoatSpeed = "boat_speed", 0.85 ..= 1.0 ..= 1.15, Number, OURS, "boat speed over the usual share of hull speed";
    BoomMass = "boom_mass", 2.5 ..= 4.0 ..= 6.0, Number, OURS, "boom, kg per metre of E";
    PoleMass = "pole_mass", 1.2 ..= 2.0 ..= 3.0, Number, OURS, "spinnaker pole, kg per metre of J";
    ClothMass = "cloth_mass", 0.3 ..= 0.4 ..= 0.6, Number, OURS, "mainsail with battens, kg per square metre";
}

/// The values used: usual ones, and those that the order replaces.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Inputs {
    given: [Option<f64>; Input::COUNT],
}

impl Default for Inputs {
    fn default() -> Self {
        Inputs { given: [None; Input::COUNT] }
    }
}

/// An input outside what can be.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[error("{word} is {given}: {low} to {high} is allowed")]
pub struct InputOutside {
    /// Its word.
    pub word: &'static str,
    /// What was given.
    pub given: f64,
    /// The lowest allowed: half the low end of the range.
    pub low: f64,
    /// The highest allowed: twice the high end.
    pub high: f64,
}

impl Inputs {
    /// With one replaced.
    ///
    /// # Errors
    /// Outside half the range's low end to twice its high end.
    pub fn with(mut self, input: Input, value: f64) -> Result<Inputs, InputOutside> {
        let (low, _, high) = input.range();
        let (low, high) =
            (low / 2.0, if input.print() == Print::Degrees { (high * 2.0).min(89.0) } else { high * 2.0 });
        if !(low..=high).contains(&value) {
            return Err(InputOutside { word: input.word(), given: value, low, high });
        }
        self.given[input as usize] = Some(value);
        Ok(self)
    }

    /// The value used.
    #[must_use]
    pub fn get(&self, input: Input) -> f64 {
        self.given[input as usize].unwrap_or(input.range().1)
    }

    /// Is it the order's own?
    #[must_use]
    pub fn is_given(&self, input: Input) -> bool {
        self.given[input as usize].is_some()
    }

    /// Where the value used is from.
    #[must_use]
    pub fn citation(&self, input: Input) -> Citation {
        if self.is_given(input) { GIVEN.at("assumed") } else { input.usual_from() }
    }

    /// A value of the input, to be printed.
    #[must_use]
    pub fn value(input: Input, number: f64) -> Value {
        match input.print() {
            Print::Share => Value::Share(number),
            Print::Degrees => Value::Angle(Angle::of_degrees(number)),
            Print::Number => Value::Number(number),
        }
    }

    /// One value replaced without asking whether it can be: for the ends of
    /// its own range, and a tenth to either side of what was checked before.
    pub(crate) fn at(mut self, input: Input, value: f64) -> Inputs {
        self.given[input as usize] = Some(value);
        self
    }

    pub(crate) fn angle(&self, input: Input) -> Angle {
        Angle::of_degrees(self.get(input))
    }
}
