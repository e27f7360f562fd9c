//! The loft's own figures for an end, in place of the defaults or weighed
//! together with them.
//!
//! Strength, friction, shrinkage and time are taken over here, each with a
//! note that says how many measurements stand behind it, by which rule, and
//! what the default is; bedding-in belongs to the whole line and is taken
//! over by who adds it up. Which figures there are, and by which rule they
//! count, is settled before and given as an argument.
//!
//! A strength holds for splices as the loft makes them: an end with another
//! bury, taper or lock keeps the layout's own strength, and says so. Not
//! covered: the shrinkage of a join of two unlike ropes.

use crate::prior::{Belief, Span};
use crate::weak::WeakPoint;
use crate::{BuryWish, EndKind, EndRequest, Layout, SpliceError, TaperWish, ThroatLock};
use sources::{Finding, Grade, LOFT, OURS, Sourced, Step};
use units::{Duration, Sentence, Value};

/// A figure measured so often, and its share of the say.
#[derive(Debug, Clone, PartialEq)]
pub struct OwnFigure {
    /// Mean of the loft's own.
    pub mean: f64,
    /// Share of the say that it has, 0 to 1; the default has the rest.
    pub weight: f64,
    /// Measurements behind it.
    pub count: usize,
}

impl OwnFigure {
    /// What is used, given the default.
    ///
    /// ```
    /// let own = splice::OwnFigure { mean: 40.0, weight: 0.5, count: 2 };
    /// assert_eq!(own.against(30.0), 35.0);
    /// ```
    #[must_use]
    pub fn against(&self, default: f64) -> f64 {
        self.weight * self.mean + (1.0 - self.weight) * default
    }
}

/// What break tests say of one rope and kind of end.
#[derive(Debug, Clone, PartialEq)]
pub struct OwnStrength {
    /// Share of the listed strength; `None` while the default stays.
    pub share: Option<Span<f64>>,
    /// Breaks at the splice.
    pub breaks: usize,
    /// The rule, in words, with mean and limit.
    pub rule: Sentence,
}

/// The loft's own figures for one rope and kind of end.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Own {
    /// Strength at the splice.
    pub strength: Option<OwnStrength>,
    /// Friction of strand on strand.
    pub friction: Option<OwnFigure>,
    /// Shrinkage made over computed.
    pub shrinkage: Option<OwnFigure>,
    /// Length gained when the splice is set, as a share of the line.
    pub bedding_in: Option<OwnFigure>,
    /// Minutes at the bench.
    pub minutes: Option<OwnFigure>,
}

/// One entry of the loft's own figures.
#[derive(Debug, Clone, PartialEq)]
pub struct OwnOf {
    /// The rope; every one where not given.
    pub rope: Option<String>,
    /// The kind of end; every one where not given.
    pub kind: Option<EndKind>,
    /// The figures.
    pub own: Own,
}

/// The loft's own figures, by rope and kind of end.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct OwnFigures {
    entries: Vec<OwnOf>,
}

impl OwnFigures {
    /// Of these entries. Where two give the same figure, the one that names
    /// the rope counts.
    #[must_use]
    pub fn new(mut entries: Vec<OwnOf>) -> OwnFigures {
        entries.sort_by_key(|entry| entry.rope.is_none());
        OwnFigures { entries }
    }

    /// Is there none?
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.entries.is_empty()
    }

    /// Those of a rope and kind of end; names are the same whatever their
    /// capitals and spaces.
    #[must_use]
    pub fn of(&self, rope: &str, kind: EndKind) -> Own {
        let fits = |entry: &&OwnOf| {
            entry.kind.is_none_or(|one| one == kind) && entry.rope.as_deref().is_none_or(|name| same_name(name, rope))
        };
        let mut found = Own::default();
        for OwnOf { own, .. } in self.entries.iter().filter(fits) {
            found.strength = found.strength.or_else(|| own.strength.clone());
            found.friction = found.friction.or_else(|| own.friction.clone());
            found.shrinkage = found.shrinkage.or_else(|| own.shrinkage.clone());
            found.bedding_in = found.bedding_in.or_else(|| own.bedding_in.clone());
            found.minutes = found.minutes.or_else(|| own.minutes.clone());
        }
        found
    }
}

fn same_name(a: &str, b: &str) -> bool {
    a.to_lowercase().split_whitespace().eq(b.to_lowercase().split_whitespace())
}

impl EndRequest<'_> {
    /// How many times the computed shrinkage is taken.
    pub(crate) fn shrinkage_times(&self) -> f64 {
        self.own.and_then(|own| own.shrinkage.as_ref()).map_or(1.0, |figure| figure.against(1.0))
    }

    /// How many times the friction of the fibre's range is taken, so that its
    /// usual value is the one used; a friction asked about outranks it.
    pub(crate) fn friction_times(&self) -> f64 {
        let own = self.own.and_then(|own| own.friction.as_ref()).filter(|_| self.friction.is_none());
        let usual = crate::usual_belief(self.rope.fibre).ok().map(Belief::usual_friction);
        match (own, usual) {
            (Some(own), Some(usual)) if usual > 0.0 => own.against(usual) / usual,
            _ => 1.0,
        }
    }
}

/// An end with the loft's own strength and time in place of the default, and
/// a note for every figure of the loft's own that stands in it.
pub(crate) fn with_own(request: &EndRequest, mut end: Layout) -> Result<Layout, SpliceError> {
    let Some(own) = request.own else { return Ok(end) };
    if let Some(strength) = &own.strength {
        take_strength(request, strength, &mut end)?;
    }
    if let (Some(friction), None, Some(_)) = (&own.friction, request.friction, &end.grip) {
        let usual = crate::usual_belief(request.rope.fibre)?.usual_friction();
        note("own-friction", FRICTION, (friction, usual), &mut end);
    }
    if let Some(shrinkage) = own.shrinkage.as_ref().filter(|_| is_shrunk(&end)) {
        note("own-shrinkage", SHRINKAGE, (shrinkage, 1.0), &mut end);
    }
    if let (Some(minutes), Some(default)) = (&own.minutes, end.time.get()) {
        note("own-minutes", MINUTES, (minutes, default.to_minutes()), &mut end);
        let used = Duration::of_minutes(minutes.against(default.to_minutes()));
        end.time = Sourced::new(used, LOFT.at("minutes of this kind of end"));
    }
    Ok(end)
}

fn is_shrunk(end: &Layout) -> bool {
    end.shrinkage > units::Length::ZERO && end.kind != EndKind::UnlikeRopes
}

const FRICTION: &str =
    "friction of strand on strand: {} is used; {} of the loft's own with mean {} have {} of the say, the default is {}";
const SHRINKAGE: &str =
    "shrinkage: {} times the computed is used; {} of the loft's own with mean {} have {} of the say, the default is {}";
const MINUTES: &str =
    "time at the bench: {} min are used; {} of the loft's own with mean {} have {} of the say, the default is {}";

/// What is used of a blended figure, with the default beside it.
fn note(code: &'static str, words: &'static str, (own, default): (&OwnFigure, f64), end: &mut Layout) {
    let used = own.against(default);
    let text =
        Sentence::new(words).with(used).with(own.count).with(own.mean).with(Value::Share(own.weight)).with(default);
    end.findings.push(Finding::new(Grade::Note, code, text, LOFT.at("measured figures")));
    end.working.push(
        Step::new(code, "weight own + (1 - weight) default", used, OURS.at("weight of a default"))
            .input("weight", Value::Share(own.weight))
            .input("own", own.mean)
            .input("default", default),
    );
}

fn take_strength(request: &EndRequest, own: &OwnStrength, end: &mut Layout) -> Result<(), SpliceError> {
    let say = |code, text| Finding::new(Grade::Note, code, text, LOFT.at("break tests of this rope and splice"));
    let Some(share) = own.share else {
        end.findings.push(say("own-strength-waits", own.rule.clone()));
        return Ok(());
    };
    if !is_usual(request, end)? {
        let text = Sentence::new(
            "{} own breaks are of splices as the loft makes them; this one has another bury, taper or lock, so the layout's own strength stays",
        )
        .with(own.breaks);
        end.findings.push(say("own-strength-elsewhere", text));
        return Ok(());
    }
    let mut step = Step::new(
        "strength at the splice",
        "own break tests: low end that nine in ten exceed, confidence 95 %",
        Value::Share(share.low),
        LOFT.at("break tests of this rope and splice"),
    )
    .input("breaks", own.breaks)
    .input("usual", Value::Share(share.usual));
    if let Some(default) = end.strength_share {
        step = step.input("default, low end", Value::Share(default.low));
    }
    end.working.push(step);
    end.findings.push(say("own-strength", own.rule.clone()));
    for point in &mut end.weak_points {
        // The breaks were of whole splices: they speak for every place in one.
        if let Some(computed) = point.share.take() {
            point.reason = Sentence::new("the layout alone says {}; the loft's own breaks of the whole splice stand")
                .with(Value::Share(computed.low));
        }
    }
    end.weak_points.insert(
        0,
        WeakPoint {
            place: "splice, as tested",
            from_throat: None,
            share: Some(share),
            reason: own.rule.clone(),
            citation: LOFT.at("break tests of this rope and splice"),
        },
    );
    end.strength_share = Some(share);
    Ok(())
}

/// Is it made as the loft makes its splices, which are what was tested?
fn is_usual(request: &EndRequest, end: &Layout) -> Result<bool, SpliceError> {
    let locked = !matches!(request.lock, ThroatLock::FullLength | ThroatLock::None);
    if request.taper != TaperWish::Common || !locked {
        return Ok(false);
    }
    let Some(wish) = request.bury else { return Ok(true) };
    let usual = match (request.rules.bury_diameters, wish) {
        (Some(own), _) => own,
        (None, _) => crate::usual_belief(request.rope.fibre)?.prior.common_bury,
    };
    let usual = EndRequest { bury: Some(BuryWish::Diameters(usual)), own: None, ..request.clone() };
    let usual = crate::kinds::lay_out(&usual)?;
    Ok(match (usual.bury, end.bury) {
        (Some(usual), Some(bury)) => (usual - bury).to_mm().abs() <= request.rules.tolerance.to_mm(),
        _ => true,
    })
}
