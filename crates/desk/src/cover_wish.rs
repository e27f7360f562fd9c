//! `cover = "choose"`: the loft's rules settle whether a run comes off, and what
//! is added where the line needs more.
//!
//! The same facts and rules as `becket cover` uses, at the heavy end of the wet
//! masses. An end that the order names and that needs its cover keeps it.

use crate::cover_facts::{Numbers, facts};
use crate::cover_task::{CoverRequest, bare_run, least_run, worked};
use crate::job::{Located, Prepared, at};
use cordage::Rope;
use files::{LineRecord, OrderFile, Placed};
use makeup::{Added, CoverWish, LineRequest, Rule, Weighed, strippable, travel, weigh};
use sources::{Finding, GIVEN, Grade};
use splice::EndKind;
use units::{Length, Sentence};

/// What the rules settled for a line of a rope.
pub(crate) struct Settled {
    pub(crate) cover: CoverWish,
    /// What may be added, the loft's first choice first.
    pub(crate) more: Vec<Added>,
    /// What was settled and which rules spoke for it.
    pub(crate) finding: Finding,
}

/// Settles the cover of a line whose rope is chosen.
pub(crate) fn settle(
    (order, rules): (&OrderFile, &[Rule]),
    placed: &Placed<LineRecord>,
    prepared: &Prepared,
    line: &LineRequest<'_>,
    rope: &Rope,
) -> Result<Settled, Located> {
    let record = &placed.value;
    let met = travel(line);
    let run = bare_run(&strippable(line, &met, least_run(rope)), record, rope);
    let worked = worked(&CoverRequest::default(), order, prepared, line, rope, &run)
        .map_err(|why| at(placed.place, "cover-not-settled", why.message))?;
    let facts = facts(order, record, line, rope, &met, &run, &Numbers::of(&worked, true));
    let weighed = weigh(rules, &facts, &["keep", "strip"]);
    let wanted = weigh(rules, &facts, &Added::ALL.map(Added::choice));
    let more: Vec<Added> = wanted
        .iter()
        .filter(|choice| choice.score > 0.0)
        .filter_map(|choice| Added::ALL.into_iter().find(|added| added.choice() == choice.choice))
        .collect();
    let best = weighed.first();
    let strips = best.is_some_and(|best| best.choice == "strip");
    let (cover, text) = if !rope.construction.has_cover() {
        (CoverWish::Keep, Sentence::new("{} has no cover to take off").with(rope.name.as_str()))
    } else if run.to <= Length::ZERO {
        (CoverWish::Keep, Sentence::new("the cover stays on: {}").with(run.because.as_str()))
    } else if let Some(named) = line.working.kind.filter(|kind| strips && *kind != EndKind::BareCoreEye) {
        let text = "the cover stays on: the order names a {}, which needs it; the rules would take it off to {} ({})";
        (CoverWish::Keep, Sentence::new(text).with(named.name()).with(run.to).with(reasons(best)))
    } else if strips {
        let text = "the cover comes off from {} to {} from the working end's bearing point, by the loft's rules ({})";
        let wish = CoverWish::Strip { from: run.from, to: run.to };
        (wish, Sentence::new(text).with(run.from.nearest_mm()).with(run.to.nearest_mm()).with(reasons(best)))
    } else {
        (CoverWish::Keep, Sentence::new("the cover stays on, by the loft's rules ({})").with(reasons(best)))
    };
    let finding = Finding::new(Grade::Note, "cover-settled", text, GIVEN.at("the loft's rules"));
    Ok(Settled { cover, more, finding })
}

/// The heaviest rules that spoke for a choice, by name.
fn reasons(best: Option<&Weighed>) -> String {
    let spoken = best.into_iter().flat_map(|best| &best.spoken).filter(|spoken| spoken.is_for);
    spoken.map(|spoken| spoken.rule.as_str()).take(3).collect::<Vec<_>>().join(", ")
}
