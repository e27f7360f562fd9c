//! Every check of one rope for one line, each with its outcome and a sentence.
//!
//! The findings that [`judge`](crate::judge) collects say what is wrong; a
//! table of the choice also says what was looked at and is right, and what
//! could not be looked at.

use crate::cover::water_range;
use crate::judge::{basis, duty, fits, in_hand, standing, strength_finding, stretch_finding, tightest, wanted};
use crate::request::LineRequest;
use crate::weakest::WeakPoint;
use cordage::{Fibre, Held, Rope, bend, creep_life, heat, standing_creep, stretch_at, sunlight, wet_strength};
use rig::Run;
use sources::{COMMON_PRACTICE, Citation, EXACT, FIBRE_MEMORY, Finding, GIVEN, Grade, OURS, worst};
use units::{Sentence, Value};

/// How a check came out; the order is that of weight.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Outcome {
    /// Nothing against it.
    Pass,
    /// A figure is missing.
    NotAssessed,
    /// Look before going on.
    Caution,
    /// Not to be made of it.
    Fail,
}

impl Outcome {
    /// The word printed.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Outcome::Pass => "pass",
            Outcome::NotAssessed => "not assessed",
            Outcome::Caution => "caution",
            Outcome::Fail => "fail",
        }
    }

    const fn of(grade: Option<Grade>) -> Outcome {
        match grade {
            None | Some(Grade::Note) => Outcome::Pass,
            Some(Grade::Caution) => Outcome::Caution,
            Some(Grade::Stop) => Outcome::Fail,
        }
    }
}

/// One check of one rope.
#[derive(Debug, Clone, PartialEq)]
pub struct Check {
    /// What was looked at.
    pub what: &'static str,
    /// How it came out.
    pub outcome: Outcome,
    /// Why.
    pub text: Sentence,
    /// What would clear it, where something is wrong.
    pub remedy: Option<Sentence>,
    /// On whose word.
    pub citation: Citation,
}

fn found(what: &'static str, finding: Option<Finding>, else_said: Sentence, citation: Citation) -> Check {
    match finding {
        None => Check { what, outcome: Outcome::Pass, text: else_said, remedy: None, citation },
        Some(finding) => Check {
            what,
            outcome: Outcome::of(Some(finding.grade)),
            text: finding.text,
            remedy: finding.remedy.filter(|_| finding.grade > Grade::Note),
            citation: finding.citation,
        },
    }
}

fn missing(what: &'static str, text: Sentence, citation: Citation) -> Check {
    Check { what, outcome: Outcome::NotAssessed, text, remedy: None, citation }
}

/// Every check of a rope with its weak points for a line.
pub(crate) fn checks(request: &LineRequest<'_>, rope: &Rope, points: &[WeakPoint], run: Option<&Run>) -> Vec<Check> {
    let mut checks = Vec::new();
    if let Some(finding) = duty(request.duty) {
        checks.push(found("duty", Some(finding), Sentence::new(""), OURS.at("duty")));
    }
    checks.extend(strength(request, rope, points));
    checks.push(stretch(request, rope, run));
    checks.push(creep(request, rope));
    checks.push(smallest_bend(rope, run));
    checks.push(fit(request, rope));
    checks.push(hand(request, rope));
    checks.push(warm(request, rope));
    checks.push(found(
        "sunlight",
        sunlight(rope),
        Sentence::new("{} outside stands sunlight well").with(rope.outside_fibre().name()),
        FIBRE_MEMORY.at("sunlight"),
    ));
    checks.push(wet(request, rope, points));
    checks.push(water(request, rope));
    checks
}

fn strength(request: &LineRequest<'_>, rope: &Rope, points: &[WeakPoint]) -> Vec<Check> {
    let wanted = wanted(request);
    let assessed: Vec<&WeakPoint> = points.iter().filter(|point| point.strength.is_some()).collect();
    let lowest = assessed.first().copied();
    let strength = lowest.and_then(|point| point.strength).unwrap_or(rope.strength.force);
    let place = lowest.map_or("the rope itself", |point| point.place.as_str());
    let text = Sentence::new("{} at {} is {} times the {} wanted")
        .with(strength)
        .with(place)
        .with(Value::Number(strength / wanted.force))
        .with(wanted.force);
    let mut checks =
        vec![found("strength", strength_finding(wanted.force, strength, lowest), text, EXACT.at("lowest weak point"))];
    if let Some(finding) = basis(rope) {
        checks.push(found("its basis", Some(finding), Sentence::new(""), rope.strength.citation));
    }
    checks
}

fn stretch(request: &LineRequest<'_>, rope: &Rope, run: Option<&Run>) -> Check {
    const BUDGET: Citation = OURS.at("stretch budget of the kind");
    let budget = request.budget();
    let Some(share) = stretch_at(rope, request.steady) else {
        let text =
            Sentence::new("no stretch is listed for it and none was published: put stretch_at_tenth in the rope list");
        return missing("stretch", text, OURS.at("no stiffness read"));
    };
    let loaded = run.map_or(request.finished, |run| run.length);
    let text = match (budget.most, budget.least) {
        (Some(most), _) => Sentence::new("{} at the steady load, {} over the {} that carry; the budget is {}")
            .with(Value::Share(share))
            .with(loaded * share)
            .with(loaded)
            .with(Value::Share(most)),
        (None, Some(least)) => Sentence::new("it gives {} at the steady load; {} or more is wanted")
            .with(Value::Share(share))
            .with(Value::Share(least)),
        (None, None) => Sentence::new("{} at the steady load: {}").with(Value::Share(share)).with(budget.reason),
    };
    found("stretch", stretch_finding(request, Some(share)), text, BUDGET)
}

fn creep(request: &LineRequest<'_>, rope: &Rope) -> Check {
    const NONE: Citation = COMMON_PRACTICE.at("creep is HMPE's");
    if rope.fibre != Fibre::Hmpe {
        let text = Sentence::new("{} does not creep as HMPE does").with(rope.fibre.name());
        return found("creep", None, text, NONE);
    }
    if !request.kind.stands() {
        return found("creep", None, Sentence::new("no load stands on it for days"), NONE);
    }
    let standing = standing(request);
    if let Some(finding) = cordage::creep(rope, request.steady) {
        return found("creep", Some(finding), Sentence::new(""), NONE);
    }
    let Some(creep) = standing_creep(rope, &standing) else {
        return missing("creep", Sentence::new("the core was not weighed: its stress is not known"), NONE);
    };
    match (creep.years, creep_life(&creep, &standing)) {
        (None, Some(finding)) => Check { remedy: finding.remedy, ..missing("creep", finding.text, finding.citation) },
        (Some(years), finding) => {
            let text = Sentence::new(
                "{} a year at {} degrees under the steady load: {} years to discard, margin of 3 in it; {} are wanted",
            )
            .with(Value::Share(creep.per_year.unwrap_or(0.0)))
            .with(standing.celsius)
            .with(years)
            .with(standing.years);
            found("creep", finding, text, request.standing.citation)
        }
        (None, None) => missing("creep", Sentence::new("not known"), NONE),
    }
}

fn smallest_bend(rope: &Rope, run: Option<&Run>) -> Check {
    const EIGHT: Citation = COMMON_PRACTICE.at("8 d and more");
    let Some(run) = run else {
        return missing("bend", Sentence::new("her lead was not given: no sheave is known"), EIGHT);
    };
    let Some(turn) = tightest(run) else {
        return found("bend", None, Sentence::new("it bends round nothing"), EIGHT);
    };
    let text = Sentence::new("{} across at {}, {} times its diameter")
        .with(turn.diameter)
        .with(turn.name.as_str())
        .with(Value::Number(turn.diameter / rope.diameter));
    found("bend", bend(rope, turn.diameter), text, EIGHT)
}

fn fit(request: &LineRequest<'_>, rope: &Rope) -> Check {
    let passing = request.fits.iter().filter_map(|fit| Some((fit.name.as_str(), fit.passes()?)));
    let narrowest = passing.min_by(|a, b| a.1.compare(&b.1));
    let holding = request.fits.iter().filter_map(|fit| Some((fit.name.as_str(), fit.thinnest?)));
    let pickiest = holding.max_by(|a, b| a.1.compare(&b.1));
    let text = match (narrowest, pickiest) {
        (None, None) => {
            let text = Sentence::new("no place on her lead says what rope it takes (max_rope, min_rope, groove)");
            return missing("fit", text, GIVEN.at("lead"));
        }
        (Some((narrow, room)), Some((picky, from))) => {
            Sentence::new("{} goes through every place, the narrowest is {}, up to {}; jaws hold it, {} from {} up")
                .with(rope.diameter)
                .with(narrow)
                .with(room)
                .with(picky)
                .with(from)
        }
        (Some((narrow, room)), None) => Sentence::new("{} goes through every place; the narrowest is {}, up to {}")
            .with(rope.diameter)
            .with(narrow)
            .with(room),
        (None, Some((picky, from))) => {
            Sentence::new("{} is held everywhere; {} holds from {} up").with(rope.diameter).with(picky).with(from)
        }
    };
    let all = fits(request, rope);
    let worst = worst(&all);
    found("fit", all.into_iter().find(|finding| Some(finding.grade) == worst), text, GIVEN.at("lead"))
}

fn hand(request: &LineRequest<'_>, rope: &Rope) -> Check {
    const HAND: Citation = COMMON_PRACTICE.at("8 mm and a cover for the hand");
    let text = if request.kind.handled() {
        Sentence::new("{} with {} outside can be held").with(rope.diameter).with(rope.outside_fibre().name())
    } else {
        Sentence::new("not held by hand while it is loaded")
    };
    found("hand", in_hand(request, rope), text, HAND)
}

fn warm(request: &LineRequest<'_>, rope: &Rope) -> Check {
    let held = if request.is_gripped() { Held::Gripped } else { Held::Running };
    let critical = rope.fibre.facts().critical_celsius;
    let text = Sentence::new("{} keeps its strength to {} degrees")
        .with(rope.fibre.name())
        .with(critical.get().unwrap_or(0.0));
    found("heat", heat(rope, held), text, critical.citation)
}

/// Wet strength is in the weak points of lines that work wet; on others it is
/// held against what is wanted here.
fn wet(request: &LineRequest<'_>, rope: &Rope, points: &[WeakPoint]) -> Check {
    let facts = rope.fibre.facts().wet_strength;
    let Some(finding) = wet_strength(rope) else {
        let text = Sentence::new("{} is as strong wet as dry").with(rope.fibre.name());
        return found("wet", None, text, facts.citation);
    };
    let counted = request.kind.works_wet();
    let wanted = wanted(request).force;
    let lowest = points.iter().find_map(|point| point.strength).unwrap_or(rope.strength.force);
    let share = facts.get().unwrap_or(1.0);
    if !counted && lowest >= wanted && lowest * share < wanted {
        let text = Sentence::new("dry it is strong enough, wet it keeps {}: {} of the {} wanted")
            .with(Value::Share(share))
            .with(lowest * share)
            .with(wanted);
        return Check { what: "wet", outcome: Outcome::Caution, text, remedy: None, citation: facts.citation };
    }
    let text = if counted {
        Sentence::new("every strength here is that of wet {}, {} of dry")
            .with(rope.fibre.name())
            .with(Value::Share(share))
    } else {
        finding.text
    };
    found("wet", None, text, facts.citation)
}

fn water(request: &LineRequest<'_>, rope: &Rope) -> Check {
    let dry = rope.linear_density * request.finished;
    let range = water_range(rope, dry, request.finished);
    let text = Sentence::new("{} dry, {} to {} more when wet: the fibre's own water, to every void full")
        .with(dry)
        .with(range.low)
        .with(range.high);
    found("water", None, text, OURS.at("fibre's own water, to every void full before dripping"))
}
