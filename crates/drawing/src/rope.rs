//! What is to be drawn: one end of a rope, in plain millimetres.
//!
//! A [`RopeEnd`] holds the end twice: as it lies straight on the bench before
//! anything is done to it (measured from the bitter end), and as it is when
//! made up (measured from the throat, or from the end itself if there is no
//! eye). The caller works both out; nothing is computed from the other here.
//! Values that are printed come in as text, so that they agree with the table
//! beside the picture. Not covered: how the numbers are found.

use crate::DrawingError;

/// How the outside of the standing part looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Look {
    /// A bare single braid: drawn plain.
    Braid,
    /// Three strands laid up: slanted lobes.
    Laid,
    /// Eight strands in pairs: double chevrons.
    Plait,
    /// A braid in a cover: stippled.
    Covered,
}

/// What a stretch of the rope is, and so how it is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum What {
    /// The rope as it comes from the reel.
    Standing,
    /// A tail of full thickness that lies, or will lie, inside: hatched.
    TailInside,
    /// The part of that tail that is tapered, thin end towards the bitter end.
    TaperInside,
    /// A cover's end inside the core, from its tip on: hatched, and stopped by
    /// a broken band where it begins.
    CoverInside,
    /// Cover, stippled, where the rope beside it has none.
    Cover,
    /// Core with the cover taken off: thinner, with fine lines.
    BareCore,
    /// Lock stitching through the rope: short bars.
    Stitching,
    /// Whipping or seizing: turns laid side by side.
    Whipping,
    /// Rope that goes round the eye.
    Eye,
    /// Strands tucked under the strands of the standing part.
    Tucks,
    /// A length to be given a dimension line; nothing is drawn on the rope.
    Length,
}

/// A stretch of rope; stretches may lie over one another.
#[derive(Debug, Clone, PartialEq)]
pub struct Stretch {
    /// Where it begins, in mm.
    pub from_mm: f64,
    /// Where it ends, in mm; not before `from_mm`.
    pub to_mm: f64,
    /// What it is.
    pub what: What,
    /// Text for a dimension line under the picture, such as `bury 720 mm`;
    /// empty for none.
    pub label: String,
}

impl Stretch {
    /// A stretch without a dimension line.
    pub fn new(what: What, from_mm: f64, to_mm: f64) -> Stretch {
        Stretch { from_mm, to_mm, what, label: String::new() }
    }

    /// The same stretch with a dimension line.
    pub fn labelled(self, label: impl Into<String>) -> Stretch {
        Stretch { label: label.into(), ..self }
    }
}

/// The shape a mark is drawn with, on the rope, the strip and in the table.
///
/// The shapes tell what happens at the mark and survive a one-colour printer;
/// none is a count of strokes, because the marks are numbered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MarkShape {
    /// A thin line round the rope: any mark that has no shape of its own.
    Line,
    /// A solid closed band round the rope: a throat.
    ClosedBand,
    /// A band broken into pieces: where a buried end stops.
    BrokenBand,
    /// An arrowhead towards the bitter end: a strand is taken out here.
    Arrowhead,
    /// A cross: where the puller goes in.
    Cross,
}

/// What of the rope a mark is made on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum On {
    /// The rope as a whole.
    Rope,
    /// Its core, the cover slid back or off.
    Core,
    /// Its cover.
    Cover,
}

/// A numbered mark on the rope as it lies straight.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// Its number, counted from the bitter end.
    pub number: u32,
    /// What it is made on.
    pub on: On,
    /// What happens there, such as `throat, tail side`.
    pub name: String,
    /// Distance from the bitter end along the free rope, in mm.
    pub from_bitter_end_mm: f64,
    /// The same distance as it is printed, such as `720 mm` or `28 3/8 in`.
    pub at_text: String,
    /// Its shape.
    pub shape: MarkShape,
}

/// The eye of a made-up end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Eye {
    /// From the bearing point (inside of the crown) to the throat, in mm.
    pub length_mm: f64,
    /// Diameter of the pin or thimble it is made for, in mm; zero for a soft
    /// eye on nothing in particular, which is drawn slack.
    pub pin_mm: f64,
}

/// One step of a taper.
#[derive(Debug, Clone, PartialEq)]
pub struct TaperStep {
    /// Distance from the bitter end, in mm.
    pub from_bitter_end_mm: f64,
    /// What is printed over it, such as `pick 16, one of each hand, 10 stay`;
    /// empty for nothing, where the next step stands at the same place.
    pub words: String,
    /// Strands that go on towards the bitter end from here.
    pub strands_left: u32,
}

/// A taper, strand by strand.
#[derive(Debug, Clone, PartialEq)]
pub struct Taper {
    /// Strands of the full tail.
    pub strands: u32,
    /// The steps, in the order in which they are met from the throat: falling
    /// distance from the bitter end, falling number of strands.
    pub steps: Vec<TaperStep>,
    /// Length of the slanted cut at the bitter end, in mm; zero for none.
    pub slanted_cut_mm: f64,
}

/// One end of a rope, before and after it is made up.
///
/// ```
/// use drawing::{Eye, Look, Mark, MarkShape, On, RopeEnd, Stretch, What};
///
/// let end = RopeEnd {
///     rope_diameter_mm: 10.0,
///     look: Look::Braid,
///     stretches: vec![
///         Stretch::new(What::TaperInside, 0.0, 240.0),
///         Stretch::new(What::TailInside, 240.0, 720.0),
///         Stretch::new(What::Eye, 720.0, 850.0),
///         Stretch::new(What::Standing, 850.0, 1650.0),
///     ],
///     made_up: vec![
///         Stretch::new(What::TailInside, 0.0, 480.0),
///         Stretch::new(What::TaperInside, 480.0, 720.0),
///         Stretch::new(What::Stitching, 5.0, 60.0),
///     ],
///     eye: Some(Eye { length_mm: 60.0, pin_mm: 12.0 }),
///     marks: vec![Mark {
///         number: 1,
///         on: On::Rope,
///         name: "throat, tail side".into(),
///         from_bitter_end_mm: 720.0,
///         at_text: "720 mm".into(),
///         shape: MarkShape::ClosedBand,
///     }],
///     taper: None,
/// };
/// let picture = drawing::laid_out(&end, 180.0)?;
/// assert_eq!(picture.width_mm, 180.0);
/// assert!(picture.svg().starts_with("<svg"));
/// # Ok::<(), drawing::DrawingError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct RopeEnd {
    /// Diameter of the rope, in mm; more than zero.
    pub rope_diameter_mm: f64,
    /// How the standing part looks.
    pub look: Look,
    /// The end as it lies straight, from the bitter end, in mm of free rope.
    /// What no stretch names is standing part.
    pub stretches: Vec<Stretch>,
    /// The made-up end, from the throat (or from the end itself without an
    /// eye) into the standing part, in finished mm.
    pub made_up: Vec<Stretch>,
    /// The eye, if the end has one.
    pub eye: Option<Eye>,
    /// The marks, in any order.
    pub marks: Vec<Mark>,
    /// The taper, if there is one.
    pub taper: Option<Taper>,
}

impl RopeEnd {
    /// The farthest mark or named stretch from the bitter end, in mm.
    pub fn extent_mm(&self) -> f64 {
        let stretches = self.stretches.iter().map(|stretch| stretch.to_mm);
        let marks = self.marks.iter().map(|mark| mark.from_bitter_end_mm);
        stretches.chain(marks).fold(0.0, f64::max)
    }

    /// How far the made-up end reaches into the standing part, in mm.
    pub fn made_up_extent_mm(&self) -> f64 {
        self.made_up.iter().map(|stretch| stretch.to_mm).fold(0.0, f64::max)
    }

    /// Refuses what cannot be drawn.
    ///
    /// # Errors
    /// A number that is not finite, a negative distance, a stretch that ends
    /// before it begins, a diameter of zero, a taper that grows.
    pub fn check(&self) -> Result<(), DrawingError> {
        positive("rope diameter", self.rope_diameter_mm)?;
        for stretch in self.stretches.iter().chain(&self.made_up) {
            not_negative("start of a stretch", stretch.from_mm)?;
            not_negative("end of a stretch", stretch.to_mm)?;
            if stretch.to_mm < stretch.from_mm {
                return Err(DrawingError::Backwards { from_mm: stretch.from_mm, to_mm: stretch.to_mm });
            }
        }
        for mark in &self.marks {
            not_negative("distance of a mark", mark.from_bitter_end_mm)?;
        }
        if let Some(eye) = self.eye {
            positive("length of the eye", eye.length_mm)?;
            not_negative("pin diameter", eye.pin_mm)?;
        }
        self.taper.as_ref().map_or(Ok(()), Taper::check)
    }
}

impl Taper {
    fn check(&self) -> Result<(), DrawingError> {
        not_negative("slanted cut", self.slanted_cut_mm)?;
        let mut last = (f64::INFINITY, self.strands);
        for step in &self.steps {
            not_negative("distance of a taper step", step.from_bitter_end_mm)?;
            if step.from_bitter_end_mm > last.0 || step.strands_left > last.1 {
                return Err(DrawingError::TaperGrows {
                    at_mm: step.from_bitter_end_mm,
                    strands_left: step.strands_left,
                    strands_before: last.1,
                });
            }
            last = (step.from_bitter_end_mm, step.strands_left);
        }
        Ok(())
    }
}

pub(crate) fn positive(what: &'static str, given: f64) -> Result<(), DrawingError> {
    if given.is_finite() && given > 0.0 { Ok(()) } else { Err(DrawingError::NotPositive { what, given }) }
}

pub(crate) fn not_negative(what: &'static str, given: f64) -> Result<(), DrawingError> {
    if given.is_finite() && given >= 0.0 { Ok(()) } else { Err(DrawingError::Negative { what, given }) }
}
