//! Is a rope right for a line: pass, caution or stop, with the reason in a
//! sentence.

use crate::request::{Duty, LineRequest};
use crate::weakest::WeakPoint;
use cordage::{Basis, PEAK_FACTOR, Rope, bend, creep, design_factor, grip_by_hand, stretch_at};
use rig::{Run, Turn};
use sources::{COMMON_PRACTICE, Citation, EXACT, Finding, GIVEN, Grade, OURS, Step, worst};
use units::{Force, Sentence, Value};

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

/// Stretch at which a halyard's luff drops visibly, share of its length.
const HALYARD_STRETCH: f64 = 0.01;

/// Judges a rope whose weak points are known for a line.
#[must_use]
pub fn judge(request: &LineRequest<'_>, rope: &Rope, points: &[WeakPoint], run: Option<&Run>) -> Verdict {
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
    let wanted = by_steady.max(by_peak);
    let lowest = points.iter().find(|point| point.strength.is_some());
    let strength = lowest.and_then(|point| point.strength).unwrap_or(rope.strength.force);
    let working = vec![
        Step::new("wanted by the steady load", "factor x steady", by_steady, factor.1)
            .input("factor", factor.0)
            .input("steady", request.steady),
        Step::new("wanted by the peak", "2 x peak", by_peak, PEAK_FACTOR.citation).input("peak", request.peak),
        Step::new(
            "strength at the weakest point",
            "lowest of the weak points",
            strength,
            EXACT.at("the worst governs"),
        )
        .input("listed", rope.strength.force)
        .input("basis", rope.strength.basis.word()),
    ];
    let mut findings = Vec::new();
    findings.extend(duty(request.duty));
    findings.extend(strength_finding(wanted, strength, lowest));
    findings.extend(basis(rope));
    if request.kind.stands() {
        findings.extend(creep(rope, request.steady));
    }
    if request.kind.handled() {
        findings.extend(grip_by_hand(rope));
    }
    findings.extend(request.fits.iter().filter(|fit| rope.diameter > fit.thickest).map(|fit| {
        let text = Sentence::new("{} takes rope up to {}, this is {}")
            .with(fit.name.as_str())
            .with(fit.thickest)
            .with(rope.diameter);
        Finding::new(Grade::Stop, "does-not-fit", text, GIVEN.at("lead"))
            .remedy(Sentence::new("a rope of {} or less, or another fitting").with(fit.thickest))
    }));
    if let Some(turn) = run.and_then(tightest) {
        findings.extend(bend(rope, turn.diameter));
    }
    let stretch = stretch_at(rope, request.steady);
    findings.extend(stretch_finding(request, stretch));
    Verdict { rope: rope.name.clone(), strength_ratio: strength / wanted, stretch, findings, working }
}

/// The turn with the smallest diameter that the loaded rope really bends round.
fn tightest(run: &Run) -> Option<&Turn> {
    const STRAIGHT_DEGREES: f64 = 10.0;
    run.turns
        .iter()
        .filter(|turn| turn.wrap.to_degrees() > STRAIGHT_DEGREES && turn.diameter.to_mm() > 0.0)
        .min_by(|a, b| a.diameter.compare(&b.diameter))
}

fn duty(duty: Duty) -> Option<Finding> {
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

fn strength_finding(wanted: Force, strength: Force, lowest: Option<&WeakPoint>) -> Option<Finding> {
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

fn basis(rope: &Rope) -> Option<Finding> {
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

fn stretch_finding(request: &LineRequest<'_>, stretch: Option<f64>) -> Option<Finding> {
    use rig::LineKind as K;
    let holds_luff = matches!(request.kind, K::MainHalyard | K::JibHalyard | K::StaysailHalyard | K::BackstayAdjuster);
    let share = stretch.filter(|share| holds_luff && *share > HALYARD_STRETCH)?;
    let text = Sentence::new("it stretches {} at the steady load, {} over its length")
        .with(Value::Share(share))
        .with(request.finished * share);
    Some(
        Finding::new(Grade::Caution, "stretchy", text, COMMON_PRACTICE.at("a halyard to 1 %"))
            .remedy(Sentence::new("a stiffer fibre or a thicker rope")),
    )
}
