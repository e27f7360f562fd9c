//! Which rope: every candidate with every check, those that nothing offered
//! beats, the one to take, and what would change the choice.
//!
//! A rope is *undominated* when no other that stands as well is at least as good
//! in strength at its weakest point, stretch, mass and price, and better in one.
//! Taken is: no fail, then the fewest doubts, then the lightest, as
//! [`make_up`](crate::make_up) does.

use crate::checks::{Check, Outcome, checks};
use crate::line::{Trial, attempt};
use crate::request::{EndWish, LineRequest};
use crate::weakest::WeakPoint;
use cordage::Rope;
use rig::{Lead, LeadError, Run};
use sources::Step;
use splice::EndKind;
use units::{Mass, Millimetres, Sentence, Value};

/// A rope offered, and what a metre of it costs in any one currency.
#[derive(Debug, Clone, PartialEq)]
pub struct Offer {
    /// The rope.
    pub rope: Rope,
    /// Price of a metre, only compared with the others'.
    pub price_per_metre: Option<f64>,
}

/// One rope with everything that was found.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    /// The rope.
    pub rope: Rope,
    /// Kinds of its ends: working, then bitter.
    pub ends: Vec<EndKind>,
    /// Can the ends be made as the order wishes? Else they are the usual ones.
    pub ends_as_wished: bool,
    /// Where it would break, the lowest first.
    pub points: Vec<WeakPoint>,
    /// Every check, in a fixed order.
    pub checks: Vec<Check>,
    /// The worst of them.
    pub outcome: Outcome,
    /// Strength at the weakest point over what is wanted.
    pub strength_ratio: f64,
    /// Stretch at the steady load, share; `None` where unknown.
    pub stretch: Option<f64>,
    /// Dry mass of the piece that is cut.
    pub mass: Mass,
    /// Length to cut.
    pub cut: Millimetres,
    /// Price of the piece, in the offers' currency.
    pub price: Option<f64>,
    /// Is it among those that no other beats in everything?
    pub undominated: bool,
    /// How strength was judged.
    pub working: Vec<Step>,
}

/// A rope that no end can be made in.
#[derive(Debug, Clone, PartialEq)]
pub struct Unmade {
    /// Its name.
    pub rope: String,
    /// Why.
    pub why: String,
}

/// What a tenth more or less of an input does to the choice.
#[derive(Debug, Clone, PartialEq)]
pub struct Moved {
    /// What is changed.
    pub change: &'static str,
    /// The rope that would then be taken; `None` when none stands.
    pub to: Option<String>,
    /// Is it another than before?
    pub moves: bool,
}

/// The choice of a rope.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// Every candidate, the one to take first.
    pub candidates: Vec<Candidate>,
    /// Ropes that no end can be made in.
    pub unmade: Vec<Unmade>,
    /// The recommendation in one sentence.
    pub advice: Sentence,
    /// What a tenth moves.
    pub moves: Vec<Moved>,
}

/// Chooses among the ropes offered.
///
/// # Errors
/// When the line's lead cannot be with its sheaves a tenth larger.
pub fn choose(request: &LineRequest<'_>, offers: &[Offer]) -> Result<Choice, LeadError> {
    let (candidates, unmade) = judged(request, offers);
    let advice = advice(&candidates);
    let moves = moves(request, offers, candidates.first())?;
    Ok(Choice { candidates, unmade, advice, moves })
}

fn judged(request: &LineRequest<'_>, offers: &[Offer]) -> (Vec<Candidate>, Vec<Unmade>) {
    let hauled = request.travel.map(|travel| &travel.hauled);
    let (mut candidates, mut unmade) = (Vec::new(), Vec::new());
    for offer in offers {
        match candidate(request, offer, hauled) {
            Ok(candidate) => candidates.push(candidate),
            Err(why) => unmade.push(Unmade { rope: offer.rope.name.clone(), why }),
        }
    }
    mark_undominated(&mut candidates);
    let rank = |candidate: &Candidate| match candidate.outcome {
        Outcome::Pass | Outcome::NotAssessed => Outcome::Pass,
        worse => worse,
    };
    candidates.sort_by(|a, b| rank(a).cmp(&rank(b)).then(a.rope.linear_density.compare(&b.rope.linear_density)));
    (candidates, unmade)
}

fn candidate(request: &LineRequest<'_>, offer: &Offer, run: Option<&Run>) -> Result<Candidate, String> {
    let (trial, ends_as_wished) = match attempt(request, &offer.rope, run) {
        Ok(trial) => (trial, true),
        Err(why) => {
            let open = |wish: EndWish| EndWish { kind: None, bury: None, ..wish };
            let usual = LineRequest { working: open(request.working), bitter: open(request.bitter), ..request.clone() };
            match attempt(&usual, &offer.rope, run) {
                Ok(trial) => (trial, false),
                Err(_) => return Err(why.to_string()),
            }
        }
    };
    let Trial { rope, working, bitter, points, verdict } = trial;
    let (cut, _) = crate::line::cut_length(request, &rope, &working, bitter.as_ref());
    let mut checks = checks(request, &rope, &points, run);
    if !ends_as_wished {
        checks.insert(0, other_end(request, &rope, working.kind));
    }
    let outcome = checks.iter().map(|check| check.outcome).max().unwrap_or(Outcome::Pass);
    Ok(Candidate {
        ends: std::iter::once(working.kind).chain(bitter.as_ref().map(|bitter| bitter.kind)).collect(),
        ends_as_wished,
        outcome,
        strength_ratio: verdict.strength_ratio,
        stretch: verdict.stretch,
        mass: rope.linear_density * cut.to_length(),
        cut,
        price: offer.price_per_metre.map(|price| price * cut.to_length().to_m()),
        undominated: false,
        working: verdict.working,
        rope,
        points,
        checks,
    })
}

fn other_end(request: &LineRequest<'_>, rope: &Rope, taken: EndKind) -> Check {
    let wished = request.working.kind.map_or("the end wished", EndKind::name);
    Check {
        what: "ends",
        outcome: Outcome::Pass,
        text: Sentence::new("{} is not made in {} {}: a {} is reckoned with")
            .with(wished)
            .with(rope.construction.name())
            .with(rope.fibre.name())
            .with(taken.name()),
        remedy: None,
        citation: sources::COMMON_PRACTICE.at("usual end of the construction"),
    }
}

/// Marks those of the best standing that no other of them beats: without a
/// caution where there are any such, else with one.
fn mark_undominated(candidates: &mut [Candidate]) {
    let standing = |candidate: &Candidate| candidate.outcome.max(Outcome::NotAssessed);
    let best = candidates.iter().map(standing).min().filter(|best| *best != Outcome::Fail);
    let marks: Vec<bool> = candidates
        .iter()
        .map(|one| {
            Some(standing(one)) == best
                && !candidates.iter().any(|other| Some(standing(other)) == best && dominates(other, one))
        })
        .collect();
    for (candidate, mark) in candidates.iter_mut().zip(marks) {
        candidate.undominated = mark;
    }
}

/// At least as good in everything that both have, and better in something.
///
/// An unknown figure is neither better nor worse than a known one, so it never
/// rules a rope out.
#[must_use]
pub fn dominates(one: &Candidate, other: &Candidate) -> bool {
    let [no_worse, better] = [|a: f64, b: f64| a <= b, |a: f64, b: f64| a < b];
    let pairs = [
        Some((-one.strength_ratio, -other.strength_ratio)),
        Some((one.mass.si(), other.mass.si())),
        one.stretch.zip(other.stretch),
        one.price.zip(other.price),
    ];
    let comparable = one.stretch.is_some() == other.stretch.is_some() && one.price.is_some() == other.price.is_some();
    comparable
        && pairs.iter().flatten().all(|(a, b)| no_worse(*a, *b))
        && pairs.iter().flatten().any(|(a, b)| better(*a, *b))
}

fn advice(candidates: &[Candidate]) -> Sentence {
    let Some(first) = candidates.first() else {
        return Sentence::new("no rope offered can take these ends");
    };
    let lowest = first.points.iter().find(|point| point.strength.is_some());
    let place = lowest.map_or("the rope itself", |point| point.place.as_str());
    let against = first.checks.iter().find(|check| check.outcome == first.outcome).map_or("", |check| check.what);
    match first.outcome {
        Outcome::Fail => Sentence::new("none of the {} stands; {} comes nearest and fails on {}")
            .with(candidates.len())
            .with(first.rope.name.as_str())
            .with(against),
        Outcome::Caution => {
            Sentence::new("take {} with a caution on {}: no rope offered passes everything; {} times the strength wanted, weakest at {}")
                .with(first.rope.name.as_str())
                .with(against)
                .with(Value::Number(first.strength_ratio))
                .with(place)
        }
        Outcome::Pass | Outcome::NotAssessed => {
            let standing = candidates.iter().filter(|one| one.outcome <= Outcome::NotAssessed).count();
            Sentence::new("take {}: the lightest of {} that nothing stands against, {} times the strength wanted, weakest at {}")
                .with(first.rope.name.as_str())
                .with(standing)
                .with(Value::Number(first.strength_ratio))
                .with(place)
        }
    }
}

/// A tenth more and less of the load, and of every bend.
fn moves(request: &LineRequest<'_>, offers: &[Offer], now: Option<&Candidate>) -> Result<Vec<Moved>, LeadError> {
    let mut moves = Vec::new();
    let mut tell = |change, changed: &LineRequest<'_>| {
        let (candidates, _) = judged(changed, offers);
        let to = candidates.first().filter(|first| first.outcome != Outcome::Fail).map(|first| first.rope.name.clone());
        let before = now.filter(|now| now.outcome != Outcome::Fail).map(|now| &now.rope.name);
        moves.push(Moved { change, moves: to.as_ref() != before, to });
    };
    for (change, factor) in [("a tenth more load", 1.1), ("a tenth less load", 0.9)] {
        tell(change, &LineRequest { steady: request.steady * factor, peak: request.peak * factor, ..request.clone() });
    }
    if let Some(lead) = request.lead {
        for (change, factor) in [("sheaves a tenth smaller", 0.9), ("sheaves a tenth larger", 1.1)] {
            let mut scaled: Lead = lead.clone();
            for turn in &mut scaled.turns {
                turn.diameter = turn.diameter * factor;
            }
            let travel = rig::travel(&scaled)?;
            tell(change, &LineRequest { lead: Some(&scaled), travel: Some(&travel), ..request.clone() });
        }
    }
    Ok(moves)
}
