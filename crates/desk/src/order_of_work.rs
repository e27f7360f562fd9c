//! The parts of the work on an end: what comes before the tail goes in, and
//! what after.
//!
//! The steps of an end are sentences; the step at which the tail goes in is
//! the first that works the puller into the rope or tucks a strand, and the
//! setting is the first after it that pulls the splice to its load. Tests hold
//! this against every kind of end, so that a change of words is seen. Not
//! covered: ends in which nothing goes in, which get no line.

use drawing::Phase;

/// The parts of the work, in order; empty where nothing goes in.
pub(crate) fn phases(steps: &[String]) -> Vec<Phase> {
    let Some(inside) = steps.iter().position(|step| goes_in(step)).filter(|inside| *inside > 0) else {
        return Vec::new();
    };
    let setting = steps.iter().skip(inside).position(|step| sets(step)).map(|after| inside + after);
    let phase = |name: &str, steps: usize| Phase { name: name.to_owned(), steps };
    let mut phases = vec![phase("before the tail goes in", inside)];
    match setting {
        Some(setting) => {
            phases.push(phase("in and milked", setting - inside));
            phases.push(phase("set", 1));
            phases.push(phase("measure, finish", steps.len() - setting - 1));
        }
        None => phases.push(phase("in and finished", steps.len() - inside)),
    }
    phases.retain(|phase| phase.steps > 0);
    phases
}

fn goes_in(step: &str) -> bool {
    let worked = step.contains("puller") && !step.contains("to the puller");
    worked || ["tuck the", "lay mark", "draw the tail inside"].iter().any(|words| step.contains(words))
}

fn sets(step: &str) -> bool {
    step.contains("three times")
}

/// What cannot be done once the tail is in.
pub(crate) fn before(end: &splice::Layout) -> Vec<String> {
    let mut before = Vec::new();
    if end.kind.has_eye() {
        before.push(match end.eye.as_ref().and_then(|eye| eye.on) {
            Some(on) if on.what.is_closed() => format!("the {} on the tail", on.what.word()),
            _ => "a closed thimble, ring or block".to_owned(),
        });
        before.push("sleeves for the eye".to_owned());
    }
    if end.kind.is_buried() || end.bury.is_some() {
        before.push("what the eye will not go through".to_owned());
    }
    before
}

#[cfg(test)]
mod tests {
    use super::*;

    fn laid_out(rope: &str, kind: splice::EndKind) -> Option<Vec<String>> {
        let request = crate::SpliceRequest {
            rope: rope.to_owned(),
            end: kind.word().to_owned(),
            eye_on: Some("20 mm thimble".to_owned()),
            stripped_run: Some("2 m".to_owned()),
            length: Some("2 m".to_owned()),
            other_rope: Some(rope.to_owned()),
            ..crate::SpliceRequest::default()
        };
        crate::splice(&request).ok().map(|answer| answer.steps)
    }

    #[test]
    fn every_buried_or_tucked_end_has_its_moment() {
        let ropes = [
            "10 mm 12-strand HMPE",
            "10 mm double braid HMPE",
            "10 mm double braid polyester",
            "16 mm 3-strand polyester",
        ];
        let mut found = 0;
        for kind in splice::EndKind::ALL.iter().filter(|kind| kind.is_buried() || kind.has_eye()) {
            for steps in ropes.iter().filter_map(|rope| laid_out(rope, *kind)) {
                let parts = phases(&steps);
                assert!(parts.len() >= 2, "{}: {steps:#?}", kind.word());
                assert_eq!(parts.iter().map(|part| part.steps).sum::<usize>(), steps.len());
                found += 1;
            }
        }
        assert!(found >= 12, "only {found} ends could be laid out");
    }

    #[test]
    fn nothing_goes_in_at_a_whipping() {
        let steps = laid_out("10 mm 12-strand HMPE", splice::EndKind::WhippedEnd).unwrap_or_default();
        assert!(!steps.is_empty() && phases(&steps).is_empty());
    }
}
