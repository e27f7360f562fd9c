//! The line as a whole: ropes judged, ends laid out, lengths summed.

use crate::cover::{Cover, settle};
use crate::judge::{Verdict, judge};
use crate::more::{Addition, chosen};
use crate::on_lead::{Zone, zones_on_lead};
use crate::request::{CoverWish, EndWish, LineRequest};
use crate::rove::{Reeving, reeving};
use crate::travel::travel;
use crate::weakest::{WeakPoint, weak_points};
use cordage::{REFERENCE_TENSION_FROM, Rope, reference_tension};
use rig::Run;
use sources::{Finding, Grade, LOFT, OURS, Sourced, Step, worst};
use splice::{EndKind, EndRequest, Layout, LoftRules, OwnFigure, SpliceError, layout};
use thiserror::Error;
use units::{Length, Mass, Millimetres, Sentence, Value};

/// Rope cut off when both raw ends are trimmed square.
pub const TRIMMING: Sourced<f64> = Sourced::new(2.0, OURS.at("diameters at each raw end, cut square after taping"));

/// A line made up.
#[derive(Debug, Clone)]
pub struct MadeUp {
    /// The rope taken.
    pub rope: Rope,
    /// What was said of every rope offered, the taken one first.
    pub verdicts: Vec<Verdict>,
    /// The working end.
    pub working: Layout,
    /// The end in the hand; none of a piece that is whole in itself.
    pub bitter: Option<Layout>,
    /// The cover.
    pub cover: Cover,
    /// What is added where it wants more.
    pub added: Vec<Addition>,
    /// By which end it is rove; none where it passes nothing.
    pub reeving: Option<Reeving>,
    /// Weak points, the lowest first.
    pub weak_points: Vec<WeakPoint>,
    /// Finished length at reference tension.
    pub finished: Length,
    /// Length to cut, rounded up once.
    pub cut: Millimetres,
    /// Dry mass of the finished line.
    pub mass: Mass,
    /// What is to be said about it.
    pub findings: Vec<Finding>,
    /// How the lengths were worked out.
    pub steps: Vec<Step>,
}

/// Why a line cannot be made up.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum MakeUpError {
    /// No rope was offered.
    #[error("no rope is offered for it: name one, or give a rope list")]
    NoRope,
    /// Every rope offered was refused for its ends.
    #[error("{rope}: {why}")]
    End {
        /// The rope tried.
        rope: String,
        /// Why its end cannot be made.
        why: SpliceError,
    },
    /// A length that is none.
    #[error("a finished length of {given}: above 50 mm is wanted")]
    Length {
        /// The length.
        given: Length,
    },
}

/// A rope with its ends and what is said of it.
pub(crate) struct Trial {
    pub(crate) rope: Rope,
    pub(crate) working: Layout,
    pub(crate) bitter: Option<Layout>,
    pub(crate) points: Vec<WeakPoint>,
    pub(crate) verdict: Verdict,
}

/// Makes a line up of the best of the ropes offered.
///
/// Ropes that stand are ranked: those without caution first, then the
/// lightest. With a single rope offered that one is taken whatever is said
/// of it, with its findings.
///
/// # Errors
/// When no rope is offered, or no rope offered can take the ends wanted.
pub fn make_up(request: &LineRequest<'_>, ropes: &[Rope]) -> Result<MadeUp, MakeUpError> {
    if request.finished.to_mm() < 50.0 {
        return Err(MakeUpError::Length { given: request.finished });
    }
    let hauled = request.travel.map(|travel| &travel.hauled);
    let mut trials = Vec::new();
    let mut refused = None;
    for rope in ropes {
        match attempt(request, rope, hauled) {
            Ok(trial) => trials.push(trial),
            Err(why) => {
                refused.get_or_insert(MakeUpError::End { rope: rope.name.clone(), why });
            }
        }
    }
    let rank = |trial: &Trial| (trial.verdict.grade().filter(|grade| *grade > Grade::Note), trial.rope.linear_density);
    trials.sort_by(|a, b| {
        let ((grade_a, mass_a), (grade_b, mass_b)) = (rank(a), rank(b));
        grade_a.cmp(&grade_b).then(mass_a.compare(&mass_b))
    });
    let verdicts: Vec<Verdict> = trials.iter().map(|trial| trial.verdict.clone()).collect();
    if trials.is_empty() {
        return Err(refused.unwrap_or(MakeUpError::NoRope));
    }
    let best = trials.swap_remove(0);
    Ok(assemble(request, best, verdicts))
}

pub(crate) fn attempt(request: &LineRequest<'_>, rope: &Rope, run: Option<&Run>) -> Result<Trial, SpliceError> {
    let working = end(request, rope, &request.working, usual_working(request, rope))?;
    let bitter = if working.kind.is_whole_piece() {
        None
    } else {
        Some(end(request, rope, &request.bitter, EndKind::WhippedEnd)?)
    };
    let mut ends = vec![("working end", &working)];
    ends.extend(bitter.as_ref().map(|bitter| ("bitter end", bitter)));
    let points = weak_points(request.kind, rope, &ends);
    let verdict = judge(request, rope, &points, run);
    Ok(Trial { rope: rope.clone(), working, bitter, points, verdict })
}

fn usual_working(request: &LineRequest<'_>, rope: &Rope) -> EndKind {
    use rig::LineKind as K;
    match request.kind {
        // A cover that is off from the eye on leaves the eye bare.
        _ if request.strips_the_eye() && rope.construction.load_on_core() => EndKind::BareCoreEye,
        // These are made fast by a knot, or by hand.
        K::Messenger | K::Traveller | K::LazyJack | K::LifelineLashing => EndKind::WhippedEnd,
        _ => EndKind::usual_eye(rope.construction).unwrap_or(EndKind::WhippedEnd),
    }
}

fn end(request: &LineRequest<'_>, rope: &Rope, wish: &EndWish, usual: EndKind) -> Result<Layout, SpliceError> {
    let kind = wish.kind.unwrap_or(usual);
    let mut asked = EndRequest::new(kind, rope);
    asked.on = wish.on;
    asked.eye = wish.eye;
    asked.bury = wish.bury;
    asked.taper = wish.taper;
    asked.load = Some(request.steady);
    asked.measured.pitch = rope.pitch;
    asked.rules = LoftRules { bury_diameters: request.bury_diameters, ..LoftRules::COMMON };
    if kind.is_whole_piece() {
        asked.finished = Some(request.finished);
    }
    if let (EndKind::BareCoreEye, CoverWish::Strip { to, .. }) = (kind, request.cover) {
        asked.stripped_run = Some(to);
    }
    let own = request.own.map(|own| own.of(&rope.name, kind));
    layout(&EndRequest { own: own.as_ref(), ..asked })
}

fn assemble(request: &LineRequest<'_>, best: Trial, verdicts: Vec<Verdict>) -> MadeUp {
    let Trial { rope, working, bitter, points, verdict } = best;
    let stripped = match (request.cover, working.kind) {
        (CoverWish::Strip { from, to }, _) => Some((from, to)),
        _ => None,
    };
    let cover = settle(&rope, stripped);
    let (cut, mut steps) = cut_length(request, &rope, &working, bitter.as_ref());
    let mut findings = verdict.findings.clone();
    findings.extend(working.findings.iter().cloned());
    findings.extend(bitter.iter().flat_map(|end| end.findings.iter().cloned()));
    findings.extend(cover.findings.iter().cloned());
    findings.extend(bedded(request, &rope, &working));
    if let Some(travel) = request.travel {
        let zones = zones(request, (&working, bitter.as_ref()), &cover);
        findings.extend(zones_on_lead(&zones, request.kind, travel));
    }
    let reeving = reeving(request, &rope, &working, bitter.as_ref());
    findings.extend(reeving.iter().filter_map(|reeving| reeving.finding.clone()));
    let added = chosen(request, &rope, &travel(request));
    findings.extend(added.iter().flat_map(|one| std::iter::once(one.finding()).chain(one.findings.iter().cloned())));
    let needed = bitter.as_ref().map_or(Length::ZERO, |bitter| both_buries(&working, bitter));
    if needed > request.finished {
        let text = Sentence::new("the buries of both ends take {} of a line of {}").with(needed).with(request.finished);
        findings.push(
            Finding::new(Grade::Stop, "buries-meet", text, OURS.at("two buries must not overlap"))
                .remedy(Sentence::new("shorter buries, or a strop")),
        );
    }
    findings.sort_by_key(|finding| std::cmp::Reverse(finding.grade));
    findings.dedup();
    let mass = rope.linear_density * cut.to_length();
    let saved = cover.stripped.as_ref().map_or(Mass::ZERO, |stripped| stripped.saved_dry);
    steps.extend(verdict.working.iter().cloned());
    steps.extend(cover.working.iter().cloned());
    steps.extend(added.iter().map(Addition::working));
    let more = added.iter().fold(Mass::ZERO, |sum, one| sum + one.mass);
    MadeUp {
        rope,
        verdicts,
        working,
        bitter,
        cover,
        weak_points: points,
        finished: request.finished,
        cut,
        mass: mass - saved + more,
        added,
        reeving,
        findings,
        steps,
    }
}

impl MadeUp {
    /// The worst grade of its findings.
    #[must_use]
    pub fn grade(&self) -> Option<Grade> {
        worst(&self.findings)
    }

    /// Its ends, by name.
    #[must_use]
    pub fn ends(&self) -> Vec<(&'static str, &Layout)> {
        let mut ends = vec![("working end", &self.working)];
        ends.extend(self.bitter.as_ref().map(|bitter| ("bitter end", bitter)));
        ends
    }
}

/// How far a buried end reaches from its bearing point.
fn reach(end: &Layout) -> Length {
    let eye = end.eye.as_ref().map_or(Length::ZERO, |eye| eye.bearing_to_throat);
    end.bury.map_or(Length::ZERO, |bury| eye + bury)
}

fn both_buries(working: &Layout, bitter: &Layout) -> Length {
    if working.bury.is_some() && bitter.bury.is_some() { reach(working) + reach(bitter) } else { Length::ZERO }
}

fn zones(request: &LineRequest<'_>, (working, bitter): (&Layout, Option<&Layout>), cover: &Cover) -> Vec<Zone> {
    let mut zones = Vec::new();
    if let Some(bitter) = bitter.filter(|bitter| bitter.bury.is_some()) {
        let from = request.finished - reach(bitter);
        zones.push(Zone { name: "the bury of the bitter end", from, to: request.finished, bare: false });
    }
    if working.bury.is_some() {
        let from = working.eye.as_ref().map_or(Length::ZERO, |eye| eye.bearing_to_throat);
        zones.push(Zone { name: "the bury", from, to: reach(working), bare: false });
    }
    if let Some(stripped) = &cover.stripped {
        zones.push(Zone { name: "the stripped run", from: stripped.from, to: stripped.to, bare: true });
    }
    zones
}

pub(crate) fn cut_length(
    request: &LineRequest<'_>,
    rope: &Rope,
    working: &Layout,
    bitter: Option<&Layout>,
) -> (Millimetres, Vec<Step>) {
    let trimming = rope.diameter * (2.0 * TRIMMING.get().unwrap_or(2.0));
    let tension = reference_tension(rope.diameter);
    let mut steps =
        vec![Step::new("reference tension", "1.25 d² N", tension, REFERENCE_TENSION_FROM).input("d", rope.diameter)];
    let whole = working.kind.is_whole_piece();
    let finished = if whole { Length::ZERO } else { request.finished };
    let at_bitter = bitter.map_or(Length::ZERO, |end| end.rope_used);
    let gained = bedding_in(request, rope, working);
    let off = request.finished * gained.as_ref().map_or(0.0, |own| own.against(0.0));
    let total = finished + working.rope_used + at_bitter + trimming - off;
    let cut = total.up_to_mm();
    let formula = match gained {
        None => "finished + both ends + trimming, rounded up once",
        Some(_) => "finished + both ends + trimming - bedding-in, rounded up once",
    };
    let mut step = Step::new("cut length", formula, cut, OURS.at("sum of what each end uses"))
        .input("finished", finished)
        .input("working end", working.rope_used)
        .input("bitter end", at_bitter)
        .input("trimming", trimming);
    if gained.is_some() {
        step = step.input("bedding-in", off);
    }
    steps.push(step);
    (cut, steps)
}

/// What the line gains when its working end is set, by the loft's own
/// measurements; the default takes nothing off.
fn bedding_in(request: &LineRequest<'_>, rope: &Rope, working: &Layout) -> Option<OwnFigure> {
    request.own?.of(&rope.name, working.kind).bedding_in
}

/// A note wherever a cut length has bedding-in taken off.
fn bedded(request: &LineRequest<'_>, rope: &Rope, working: &Layout) -> Option<Finding> {
    let own = bedding_in(request, rope, working)?;
    let text = Sentence::new(
        "bedding-in: {} of the finished length is taken off the cut; {} of the loft's own with mean {} have {} of the say, the default takes nothing off",
    )
    .with(Value::Share(own.against(0.0)))
    .with(own.count)
    .with(Value::Share(own.mean))
    .with(Value::Share(own.weight));
    Some(Finding::new(Grade::Note, "own-bedding-in", text, LOFT.at("measured figures")))
}
