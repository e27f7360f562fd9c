//! Where a line would break: every weak point with its strength, the lowest
//! named.
//!
//! Local weak points combine by the worst, never by multiplying; what weakens
//! the whole rope (wet polyamide) multiplies all of them. A strength listed
//! for spliced rope already contains a splice, which is not taken off again.

use cordage::{Basis, Rope};
use rig::LineKind;
use sources::{Citation, LOFT, OURS};
use splice::Layout;
use units::{Force, Sentence};

/// One place where a line could break.
#[derive(Debug, Clone, PartialEq)]
pub struct WeakPoint {
    /// Where: `working end: tail's end`.
    pub place: String,
    /// Its strength; `None` is not assessed.
    pub strength: Option<Force>,
    /// Share of the rope's listed strength.
    pub share: Option<f64>,
    /// Why.
    pub reason: Sentence,
    /// On whose word.
    pub citation: Citation,
}

/// The weak points of a rope with its ends, the lowest first, those not
/// assessed last.
#[must_use]
pub fn weak_points(kind: LineKind, rope: &Rope, ends: &[(&'static str, &Layout)]) -> Vec<WeakPoint> {
    let wet = wet_share(kind, rope);
    let listed = rope.strength.force;
    let mut points = vec![WeakPoint {
        place: "the rope itself".to_owned(),
        strength: Some(listed * wet),
        share: Some(wet),
        reason: Sentence::new("listed strength, {}").with(rope.strength.basis.word()),
        citation: rope.strength.citation,
    }];
    for (name, end) in ends {
        for point in &end.weak_points {
            let share = point.share.map(|span| span.low.min(1.0));
            let share = match (share, rope.strength.basis) {
                // A splice is in the listed figure already.
                (Some(_), Basis::Spliced) if point.citation.source != &LOFT => Some(1.0),
                (share, _) => share,
            };
            let share = share.map(|share| share * wet);
            points.push(WeakPoint {
                place: format!("{name}: {}", point.place),
                strength: share.map(|share| listed * share),
                share,
                reason: point.reason.clone(),
                citation: point.citation,
            });
        }
    }
    if wet < 1.0 {
        points.push(WeakPoint {
            place: "wet".to_owned(),
            strength: None,
            share: None,
            reason: Sentence::new("every strength here is that of wet {}, {} of dry")
                .with(rope.fibre.name())
                .with(units::Value::Share(wet)),
            citation: wet_from(rope),
        });
    }
    points.sort_by(|a, b| match (a.strength, b.strength) {
        (Some(a), Some(b)) => a.compare(&b),
        (Some(_), None) => std::cmp::Ordering::Less,
        (None, Some(_)) => std::cmp::Ordering::Greater,
        (None, None) => std::cmp::Ordering::Equal,
    });
    points
}

fn wet_share(kind: LineKind, rope: &Rope) -> f64 {
    if kind.works_wet() { rope.fibre.facts().wet_strength.get().unwrap_or(1.0) } else { 1.0 }
}

fn wet_from(rope: &Rope) -> Citation {
    let citation = rope.fibre.facts().wet_strength.citation;
    if citation.locator.is_empty() { OURS.at("wet strength") } else { citation }
}
