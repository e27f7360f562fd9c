//! Is a rope right for a line: pass, caution or stop, with the reason in a
//! sentence.

use crate::request::{Duty, Fit, LineRequest};
use crate::weakest::WeakPoint;
use cordage::{
    Basis, Held, PEAK_FACTOR, Rope, Standing, THINNEST_FOR_HANDS, bend, creep, creep_life, design_factor, heat,
    standing_creep, stretch_at,
};
use rig::{Bearing, Run, Turn};
use sources::{COMMON_PRACTICE, Citation, EXACT, Finding, GIVEN, Grade, OURS, Step, worst};
use units::{Force, Length, Sentence, Value};

/// What is said of one rope for one line.
#[derive(Debug, Clone, PartialEq)]
pub struct Verdict {
    /// The rope's name.
    pub rope: String,
    /// Strength at the weakest point over the strength wanted.
    pub strength_ratio: f64,
    /// Stretch at the steady load, share of the length; `None` where unknown.
    pub stretch: Option<f64>,
    /// Everything to be said.
    pub findings: Vec<Finding>,
    /// How it was judged.
    pub working: Vec<Step>,
}

impl Verdict {
    /// The worst grade; none is a pass.
    #[must_use]
    pub fn grade(&self) -> Option<Grade> {
        worst(&self.findings)
    }
}

/// Judges a rope whose weak points are known for a line.
#[must_use]
pub fn judge(request: &LineRequest<'_>, rope: &Rope, points: &[WeakPoint], run: Option<&Run>) -> Verdict {
    let wanted = wanted(request);
    let lowest = points.iter().find(|point| point.strength.is_some());
    let strength = lowest.and_then(|point| point.strength).unwrap_or(rope.strength.force);
    let mut working = wanted.working.clone();
    working.push(
        Step::new(
            "strength at the weakest point",
            "lowest of the weak points",
            strength,
            EXACT.at("the worst governs"),
        )
        .input("listed", rope.strength.force)
        .input("basis", rope.strength.basis.word()),
    );
    let mut findings = Vec::new();
    findings.extend(duty(request.duty));
    findings.extend(strength_finding(wanted.force, strength, lowest));
    findings.extend(basis(rope));
    if request.kind.stands() {
        findings.extend(creep(rope, request.steady).or_else(|| life(request, rope)));
    }
    findings.extend(in_hand(request, rope));
    findings.extend(fits(request, rope));
    if request.is_gripped() {
        findings.extend(heat(rope, Held::Gripped).filter(|finding| finding.grade > Grade::Note));
    }
    if let Some(turn) = run.and_then(tightest) {
        findings.extend(bend(rope, turn.diameter));
    }
    let stretch = stretch_at(rope, request.steady);
    findings.extend(stretch_finding(request, stretch));
    Verdict { rope: rope.name.clone(), strength_ratio: strength / wanted.force, stretch, findings, working }
}

/// Too short a life under the standing load, by the user's own rate of creep.
fn life(request: &LineRequest<'_>, rope: &Rope) -> Option<Finding> {
    let standing = standing(request);
    let creep = standing_creep(rope, &standing)?;
    creep.years?;
    creep_life(&creep, &standing)
}

/// The load that stands, how warm and for how long.
pub(crate) fn standing(request: &LineRequest<'_>) -> Standing {
    Standing { load: request.steady, celsius: request.standing.celsius, years: request.standing.years }
}

/// The breaking strength wanted of a line.
pub(crate) struct Wanted {
    pub(crate) force: Force,
    pub(crate) working: Vec<Step>,
}

/// Strength wanted: the use's factor over the steady load, or twice the peak.
pub(crate) fn wanted(request: &LineRequest<'_>) -> Wanted {
    let factor = request.design_factor.map_or_else(
        || {
            let standard = design_factor(request.used_for);
            (standard.get().unwrap_or(5.0), standard.citation)
        },
        |own| (own, GIVEN.at("loft")),
    );
    let peak_factor = PEAK_FACTOR.get().unwrap_or(2.0);
    let by_steady = request.steady * factor.0;
    let by_peak = request.peak * peak_factor;
    let working = vec![
        Step::new("wanted by the steady load", "factor x steady", by_steady, factor.1)
            .input("factor", factor.0)
            .input("steady", request.steady),
        Step::new("wanted by the peak", "2 x peak", by_peak, PEAK_FACTOR.citation).input("peak", request.peak),
    ];
    Wanted { force: by_steady.max(by_peak), working }
}

/// A groove is a tenth wider than its rope: cheeks rub what is tighter, and in
/// one of twice its width a rope finds the gap beside the sheave.
const ROOM_IN_GROOVE: f64 = 1.1;
const LOOSE_IN_GROOVE: f64 = 2.0;
const GROOVE_FROM: Citation = COMMON_PRACTICE.at("a groove a tenth wider than its rope, and not twice");

/// Places on the lead that the rope is too thick for, or too thin.
pub(crate) fn fits(request: &LineRequest<'_>, rope: &Rope) -> Vec<Finding> {
    request.fits.iter().flat_map(|fit| [passes(fit, rope), is_held(request, fit, rope)]).flatten().collect()
}

fn passes(fit: &Fit, rope: &Rope) -> Option<Finding> {
    if let Some(room) = fit.passes().filter(|room| rope.diameter > *room) {
        let text =
            Sentence::new("{} takes rope up to {}, this is {}").with(fit.name.as_str()).with(room).with(rope.diameter);
        return Some(
            Finding::new(Grade::Stop, "does-not-fit", text, GIVEN.at("lead"))
                .remedy(Sentence::new("a rope of {} or less, or another fitting").with(room)),
        );
    }
    let groove = fit.groove?;
    let over = groove / rope.diameter;
    let words = if over < ROOM_IN_GROOVE {
        "the groove of {} is {} wide, hardly more than the rope's {}: its cheeks rub"
    } else if over > LOOSE_IN_GROOVE {
        "the groove of {} is {} wide, over twice the rope's {}: it may climb and jam beside the sheave"
    } else {
        return None;
    };
    let text = Sentence::new(words).with(fit.name.as_str()).with(groove).with(rope.diameter);
    let grade = if over < ROOM_IN_GROOVE { Grade::Note } else { Grade::Caution };
    Some(
        Finding::new(grade, "groove", text, GROOVE_FROM)
            .remedy(Sentence::new("a groove of {} or a little more").with(rope.diameter * ROOM_IN_GROOVE)),
    )
}

/// Jaws and self-tailing drums hold from a thickness on.
fn is_held(request: &LineRequest<'_>, fit: &Fit, rope: &Rope) -> Option<Finding> {
    let thinnest = fit.thinnest.filter(|thinnest| rope.diameter < *thinnest)?;
    let helped = crate::more::chosen(request, rope, &crate::travel::travel(request))
        .into_iter()
        .find(|addition| addition.place == fit.name && addition.thickness >= thinnest);
    let text = Sentence::new("{} holds rope of {} and more, this is {}: it slips")
        .with(fit.name.as_str())
        .with(thinnest)
        .with(rope.diameter);
    Some(match helped {
        Some(addition) => {
            let text = Sentence::new("{} holds rope of {} and more, this is {}: a {} makes it {} there")
                .with(fit.name.as_str())
                .with(thinnest)
                .with(rope.diameter)
                .with(addition.added.word())
                .with(addition.thickness);
            Finding::new(Grade::Note, "thickened-for-jaws", text, GIVEN.at("lead"))
        }
        None => Finding::new(Grade::Stop, "slips-in-jaws", text, GIVEN.at("lead")).remedy(
            Sentence::new("a rope of {} or more, other jaws, or cover = \"choose\" for a filled core or second cover")
                .with(thinnest),
        ),
    })
}

/// Pull above which a thin rope cuts into the hand: what one person pulls.
const HARD_PULL_N: f64 = 250.0;

/// What the hand makes of it: too thin under a hard pull, or too slippery.
pub(crate) fn in_hand(request: &LineRequest<'_>, rope: &Rope) -> Option<Finding> {
    if !request.kind.handled() {
        return None;
    }
    let least = Length::of_mm(THINNEST_FOR_HANDS.get()?);
    let hard = request.steady.to_n() > HARD_PULL_N;
    if rope.diameter < least {
        let grade = if hard { Grade::Caution } else { Grade::Note };
        let text = Sentence::new("at {} it is hard to hold by hand").with(rope.diameter);
        return Some(
            Finding::new(grade, "thin-for-hands", text, THINNEST_FOR_HANDS.citation)
                .remedy(Sentence::new("{} or more, or a second cover where it is handled").with(least)),
        );
    }
    (rope.outside_fibre().is_high_modulus() && hard).then(|| {
        let text = Sentence::new("bare {} slips through the hand and off the drum").with(rope.fibre.name());
        Finding::new(Grade::Caution, "slippery", text, COMMON_PRACTICE.at("bare high-modulus braid in the hand"))
            .remedy(Sentence::new("a cover where it is handled"))
    })
}

/// The turn with the smallest diameter that the loaded rope really bends round.
pub(crate) fn tightest(run: &Run) -> Option<&Turn> {
    const STRAIGHT_DEGREES: f64 = 10.0;
    run.turns
        .iter()
        // What is wound on a drum goes right round it.
        .filter(|turn| turn.wrap.to_degrees() > STRAIGHT_DEGREES || turn.bearing == Bearing::Winch)
        .filter(|turn| turn.diameter.to_mm() > 0.0)
        .min_by(|a, b| a.diameter.compare(&b.diameter))
}

pub(crate) fn duty(duty: Duty) -> Option<Finding> {
    const LIMIT: Citation = OURS.at("what this program never passes");
    let text = match duty {
        Duty::Running => return None,
        Duty::HoldsPerson => {
            "a line that holds or lifts a person is not ours to pass: qualified people and their standards decide"
        }
        Duty::StandingRigging => "standing rigging is not ours to sign off: its designer and surveyor decide",
    };
    let code = if duty == Duty::HoldsPerson { "holds-person" } else { "standing-rigging" };
    Some(Finding::new(Grade::Stop, code, Sentence::new(text), LIMIT))
}

pub(crate) fn strength_finding(wanted: Force, strength: Force, lowest: Option<&WeakPoint>) -> Option<Finding> {
    let place = lowest.map_or("the rope itself", |point| point.place.as_str());
    let share = strength / wanted;
    if share >= 1.0 {
        return None;
    }
    // Within the lower quarter the factor is what is eaten, not the rope.
    const STOP_BELOW: f64 = 0.75;
    let (grade, code) = if share < STOP_BELOW { (Grade::Stop, "too-weak") } else { (Grade::Caution, "thin-margin") };
    let text = Sentence::new("{} at {} is {} of the {} wanted")
        .with(strength)
        .with(place)
        .with(Value::Share(share))
        .with(wanted);
    let finding = Finding::new(grade, code, text, OURS.at("caution down to three quarters of the strength wanted"));
    Some(finding.remedy(Sentence::new("a rope {} times as strong").with((1.0 / share * 100.0).ceil() / 100.0)))
}

pub(crate) fn basis(rope: &Rope) -> Option<Finding> {
    if let Some((low, high)) = rope.strength.range {
        let text =
            Sentence::new("strength is an estimate, {} to {}: no standard's table was read").with(low).with(high);
        return Some(
            Finding::new(Grade::Note, "strength-estimated", text, rope.strength.citation)
                .remedy(Sentence::new("put the supplier's figure in the rope list")),
        );
    }
    let text = match rope.strength.basis {
        Basis::Unknown => "whether the listed strength is of spliced rope is not said: taken as unspliced",
        Basis::Average => "the listed strength is an average, not a minimum",
        Basis::Spliced | Basis::Unspliced => return None,
    };
    Some(Finding::new(Grade::Note, "strength-basis", Sentence::new(text), rope.strength.citation))
}

pub(crate) fn stretch_finding(request: &LineRequest<'_>, stretch: Option<f64>) -> Option<Finding> {
    let budget = request.budget();
    let share = stretch?;
    if let Some(most) = budget.most.filter(|most| share > *most) {
        let text = Sentence::new("it stretches {} at the steady load, more than {}: {}")
            .with(Value::Share(share))
            .with(Value::Share(most))
            .with(budget.reason);
        return Some(
            Finding::new(Grade::Caution, "stretchy", text, OURS.at("stretch budget of the kind"))
                .remedy(Sentence::new("a stiffer fibre or a thicker rope")),
        );
    }
    let least = budget.least.filter(|least| share < *least)?;
    let text = Sentence::new("it stretches {} at the steady load, less than {}: {}")
        .with(Value::Share(share))
        .with(Value::Share(least))
        .with(budget.reason);
    Some(
        Finding::new(Grade::Caution, "stiff", text, OURS.at("stretch budget of the kind"))
            .remedy(Sentence::new("polyamide or polyester, or a snubber")),
    )
}
