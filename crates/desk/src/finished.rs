//! How long a line is to be: given, copied from the old one, along its lead,
//! or by the rule of its kind, in this order.

use crate::job::{Located, find_rope};
use cordage::{Rope, stretch_at};
use files::{CopiedRecord, CopyPart, LineRecord, MeasuredAt, Place};
use rig::{LeadError, LineKind, RuleInput, Travel, length_by_rule};
use sources::{COMMON_PRACTICE, Finding, GIVEN, Grade, OURS, Step};
use units::{Force, Length, Sentence};

/// A length with its working, and what is to be said about it.
pub(crate) struct Finished {
    pub(crate) length: Length,
    pub(crate) steps: Vec<Step>,
    pub(crate) findings: Vec<Finding>,
    /// Marks carried over from an old line, at reference tension.
    pub(crate) marks: Vec<(String, Length)>,
    /// The old rope, where its stretch is known.
    pub(crate) old: Option<Rope>,
}

impl Finished {
    fn plain(length: Length, steps: Vec<Step>) -> Finished {
        Finished { length, steps, findings: Vec::new(), marks: Vec::new(), old: None }
    }
}

/// Tail where none is given along a lead.
const TAIL: Length = Length::of_m(1.5);

/// The finished length of a line.
pub(crate) fn finished(
    boat: &rig::Boat,
    record: &LineRecord,
    kind: LineKind,
    along: (Option<&Travel>, &[Rope]),
) -> Result<Finished, String> {
    let tail = record.tail.as_ref().map(|tail| tail.value);
    if let Some(length) = &record.length {
        return Ok(Finished::plain(
            length.value,
            vec![Step::new("finished length", "", length.value, GIVEN.at("line"))],
        ));
    }
    if let Some(copied) = &record.copied_from {
        return copied_length(&copied.value, along.1);
    }
    if let Some(travel) = along.0 {
        return Ok(along_lead(travel, tail));
    }
    let rule = RuleInput { kind, mast: crate::convert::mast(record.mast.value), parts: record.purchase.value, tail };
    let (length, steps) = length_by_rule(boat, &rule)
        .ok_or_else(|| format!("a {} has no length by rule: give length, or a lead", kind.word()))?;
    let text = Sentence::new("the length {} is by rule, not by her lead").with(length);
    let finding = Finding::new(Grade::Note, "length-by-rule", text, OURS.at("rule of the kind"))
        .remedy(Sentence::new("give lead, or length, or copied_from"));
    Ok(Finished { findings: vec![finding], ..Finished::plain(length, steps) })
}

fn along_lead(travel: &Travel, tail: Option<Length>) -> Finished {
    let longest = travel.longest();
    let from = if tail.is_some() { GIVEN.at("line") } else { COMMON_PRACTICE.at("tail beyond the hand") };
    let tail = tail.unwrap_or(TAIL);
    let length = longest + tail;
    let geometry = sources::EXACT.at("geometry of the lead");
    let steps = vec![
        Step::new("longest path", "legs and arcs, from the working end to the hand", longest, geometry)
            .input("eased", travel.eased.length)
            .input("hauled", travel.hauled.length),
        Step::new("tail", "", tail, from),
        Step::new("finished length", "path + tail", length, sources::EXACT.at("sum")),
        Step::new("tail beyond the hand, hauled in", "finished - path", length - travel.hauled.length, geometry),
        Step::new("tail beyond the hand, eased out", "finished - path", length - travel.eased.length, geometry),
    ];
    Finished::plain(length, steps)
}

/// A line brought in: its length at reference tension, from the tension it
/// was measured at and the old rope's stretch.
fn copied_length(copied: &CopiedRecord, ropes: &[Rope]) -> Result<Finished, String> {
    let measured = copied.length.value;
    let old = copied.rope.as_ref().and_then(|name| find_rope(&name.value, name.place, ropes).ok());
    let tension = match copied.tension.value {
        MeasuredAt::Slack => Force::ZERO,
        MeasuredAt::Tension(tension) => tension,
    };
    let stretch = old.as_ref().and_then(|rope| {
        Some(stretch_at(rope, tension)? - stretch_at(rope, cordage::reference_tension(rope.diameter))?)
    });
    if let (Some(rope), true) = (&old, tension > Force::ZERO)
        && tension > rope.strength.force
    {
        return Err(format!("measured under {tension}, and the old {} breaks at {}", rope.name, rope.strength.force));
    }
    let share = stretch.filter(|_| tension > Force::ZERO).unwrap_or(0.0);
    let at_reference = |at: Length| at / (1.0 + share);
    let length = at_reference(measured);
    let step = Step::new(
        "finished length",
        "measured / (1 + stretch at its tension - at reference)",
        length,
        GIVEN.at("copied_from"),
    )
    .input("measured", measured)
    .input("tension", tension)
    .input("stretch", units::Value::Share(share));
    let kept = copied.keep.iter().any(|part| part.value == CopyPart::Marks);
    let marks = copied
        .marks
        .iter()
        .filter(|_| kept)
        .map(|mark| (mark.value.name.value.clone(), at_reference(mark.value.at.value)));
    let (marks, findings) = (marks.collect(), copied_findings(tension, stretch.is_some()));
    Ok(Finished { findings, marks, old, ..Finished::plain(length, vec![step]) })
}

fn copied_findings(tension: Force, stretch_known: bool) -> Vec<Finding> {
    let finding = if tension == Force::ZERO {
        let text = Sentence::new("the old line was measured slack: up to 2 % may be missing");
        Finding::new(
            Grade::Caution,
            "measured-slack",
            text,
            COMMON_PRACTICE.at("slack braid against tensioned, about 2 %"),
        )
        .remedy(Sentence::new("measure it again under its reference tension"))
    } else if stretch_known {
        return Vec::new();
    } else {
        let text = Sentence::new("how far the old rope stretched under {} is not known").with(tension);
        Finding::new(Grade::Caution, "old-rope-unknown", text, COMMON_PRACTICE.at("stretch of the old rope"))
            .remedy(Sentence::new("say what it was: rope = \"10 mm double braid polyester\""))
    };
    vec![finding]
}

/// What another rope does to a copied line under its load.
pub(crate) fn against_old(old: &Rope, new: &Rope, length: Length, steady: Force) -> Option<Finding> {
    let difference = length * (stretch_at(old, steady)? - stretch_at(new, steady)?);
    if difference.abs().to_mm() < 5.0 {
        return None;
    }
    let words = if difference > Length::ZERO {
        "under {} the new rope is {} shorter than the old one was: marks made under load move by as much"
    } else {
        "under {} the new rope is {} longer than the old one was: marks made under load move by as much"
    };
    let text = Sentence::new(words).with(steady).with(difference.abs());
    Some(
        Finding::new(Grade::Note, "copy-stretches-otherwise", text, OURS.at("both ropes' stretch at the steady load"))
            .remedy(Sentence::new("put marks on under load, on board")),
    )
}

/// A lead that cannot be, told at the place on it that is at fault.
pub(crate) fn at_lead(record: &LineRecord, why: &LeadError) -> Located {
    let named = match why {
        LeadError::TooClose { second, .. } | LeadError::DoublesBack { at: second, .. } => {
            record.lead.iter().find(|turn| turn.value.name.value == *second).map(|turn| turn.place)
        }
        LeadError::Parts { .. } => Some(record.purchase.place),
        LeadError::Empty => None,
    };
    let place: Place =
        named.or_else(|| record.working.as_ref().map(|working| working.place)).unwrap_or(record.name.place);
    Box::new(files::Problem::new("impossible-lead", why.to_string()).at(place))
}

/// Places of a lead below her keel.
pub(crate) fn below_the_keel(sized: &rig::Dimensions, record: &LineRecord) -> Result<(), Located> {
    let keel = sized.freeboard + sized.draught;
    let ends = record.working.iter().flat_map(|working| [&working.value.hauled, &working.value.eased]);
    let points = ends.chain(record.lead.iter().map(|turn| &turn.value.at));
    for point in points {
        let below = -point.value.z;
        if below > keel {
            let message = format!("a place {below} below the deck at the mast: her keel is {keel} below it");
            let problem =
                files::Problem::new("contradiction", message).allowed(format!("no more than {keel} below it"));
            return Err(Box::new(problem.hint("heights are from the deck at the mast, up").at(point.place)));
        }
    }
    Ok(())
}
