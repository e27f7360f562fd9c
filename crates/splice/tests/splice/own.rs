//! The loft's own figures in place of the defaults, and never silently.

use splice::*;
use units::Sentence;

fn figure(mean: f64, weight: f64) -> Option<OwnFigure> {
    Some(OwnFigure { mean, weight, count: 3 })
}

fn tested(low: f64) -> Own {
    let share = Some(Span { low, usual: low + 0.05, high: low + 0.1 });
    let strength = Some(OwnStrength { share, breaks: 6, rule: Sentence::new("six breaks") });
    Own { strength, ..Own::default() }
}

fn laid(own: &Own, change: impl Fn(&mut EndRequest)) -> Layout {
    let rope = cordage::generic("10 mm 12-strand HMPE").unwrap();
    let mut request = EndRequest::new(EndKind::LongBuryEye, &rope);
    request.own = Some(own);
    change(&mut request);
    layout(&request).unwrap()
}

fn codes(end: &Layout) -> Vec<&'static str> {
    end.findings.iter().map(|finding| finding.code).filter(|code| code.starts_with("own-")).collect()
}

#[test]
fn tests_of_the_whole_splice_stand_for_every_place_in_it() {
    let plain = laid(&Own::default(), |_| {});
    assert!(codes(&plain).is_empty());
    for low in [0.7, 0.99] {
        let end = laid(&tested(low), |_| {});
        assert_eq!(end.strength_share.unwrap().low, low);
        let shares: Vec<f64> = end.weak_points.iter().filter_map(|point| point.share).map(|share| share.low).collect();
        assert_eq!(shares, [low], "only the tests speak, whatever the layout says");
        assert_eq!(end.weak_points.len(), plain.weak_points.len() + 1, "no place is lost");
        assert_eq!(codes(&end), ["own-strength"]);
        assert!(end.working.iter().any(|step| step.inputs.iter().any(|(name, _)| *name == "default, low end")));
        assert_eq!((end.marks, end.shrinkage), (plain.marks.clone(), plain.shrinkage));
    }
}

#[test]
fn another_splice_than_the_tested_keeps_the_layouts_strength() {
    let own = tested(0.6);
    let keeps = |change: &dyn Fn(&mut EndRequest)| {
        let end = laid(&own, change);
        assert_eq!(codes(&end), ["own-strength-elsewhere"]);
        assert_eq!(end.strength_share, laid(&Own::default(), change).strength_share);
    };
    keeps(&|request| request.bury = Some(BuryWish::Diameters(60.0)));
    keeps(&|request| request.taper = TaperWish::None);
    keeps(&|request| request.lock = ThroatLock::FullLength);
    // The usual bury, written out, is the usual splice.
    let end = laid(&own, |request| request.bury = Some(BuryWish::Diameters(72.0)));
    assert_eq!(codes(&end), ["own-strength"]);
    // So is the loft's own usual bury.
    let end = laid(&own, |request| request.rules.bury_diameters = Some(60.0));
    assert_eq!(codes(&end), ["own-strength"]);
}

#[test]
fn without_a_limit_the_rule_is_told_and_nothing_moves() {
    let strength = Some(OwnStrength { share: None, breaks: 4, rule: Sentence::new("four breaks") });
    let end = laid(&Own { strength, ..Own::default() }, |_| {});
    let plain = laid(&Own::default(), |_| {});
    assert_eq!(codes(&end), ["own-strength-waits"]);
    assert_eq!((end.strength_share, end.weak_points), (plain.strength_share, plain.weak_points));
}

#[test]
fn blended_figures_move_what_rests_on_them() {
    let plain = laid(&Own::default(), |_| {});
    let (before, after) =
        (plain.grip.as_ref().unwrap(), laid(&Own { friction: figure(0.2, 0.5), ..Own::default() }, |_| {}));
    let grip = after.grip.as_ref().unwrap();
    // The usual friction is the blend, and the margin goes with it.
    let used = 0.5 * 0.2 + 0.5 * before.friction.usual;
    assert!((grip.friction.usual - used).abs() < 1e-12, "{} {used}", grip.friction.usual);
    let times = used / before.friction.usual;
    assert!((grip.margin.low / before.margin.low - times).abs() < 1e-9);
    assert_eq!(codes(&after), ["own-friction"]);
    // A friction that is asked about outranks it.
    let asked = |own: &Own| laid(own, |request| request.friction = Some(Range::new(0.05, 0.05)));
    let own = Own { friction: figure(0.2, 0.5), ..Own::default() };
    assert_eq!(asked(&own), asked(&Own::default()));

    let shrunk = laid(&Own { shrinkage: figure(1.2, 0.5), ..Own::default() }, |_| {});
    assert!((shrunk.shrinkage / plain.shrinkage - 1.1).abs() < 1e-12);
    let more = shrunk.shrinkage - plain.shrinkage;
    assert!((shrunk.rope_used - plain.rope_used - more).to_mm().abs() < 1e-9, "the cut grows by as much");
    let at = |end: &Layout| end.mark(Part::Rope, "tail ends here").unwrap().from_bitter_end.count();
    assert!((at(&shrunk) - at(&plain) - more.to_mm().round() as i64).abs() <= 1);

    let quick = laid(&Own { minutes: figure(25.0, 0.5), ..Own::default() }, |_| {});
    let planned = plain.time.get().unwrap().to_minutes();
    assert!((quick.time.get().unwrap().to_minutes() - (25.0 + planned) / 2.0).abs() < 1e-9);
}

#[test]
fn the_simulation_takes_the_same_friction() {
    let rope = cordage::generic("10 mm 12-strand HMPE").unwrap();
    let own = Own { friction: figure(0.16, 0.5), ..Own::default() };
    let wish = ChanceWish { draws: 40_000, ..ChanceWish::USUAL };
    let asked = |own| simulated(&EndRequest { own, ..EndRequest::new(EndKind::LongBuryEye, &rope) }, wish).unwrap();
    let (with, without) = (asked(Some(&own)), asked(None));
    let usual = usual_belief(rope.fibre).unwrap().span(|draw| draw.friction).usual;
    let times = (0.08 + 0.5 * usual) / usual;
    assert!((with.margin.usual / without.margin.usual / times - 1.0).abs() < 0.01, "{with:?}");
}

#[test]
fn an_entry_that_names_the_rope_comes_first() {
    let entry = |rope: Option<&str>, kind, mean| OwnOf {
        rope: rope.map(str::to_owned),
        kind,
        own: Own { shrinkage: figure(mean, 0.5), ..Own::default() },
    };
    let all = OwnFigures::new(vec![
        entry(None, Some(EndKind::LongBuryEye), 1.0),
        entry(Some("Loft  s12-8"), Some(EndKind::LongBuryEye), 2.0),
        entry(Some("Loft S12-8"), Some(EndKind::Strop), 3.0),
    ]);
    let mean = |rope: &str, kind| all.of(rope, kind).shrinkage.map(|figure| figure.mean);
    assert_eq!(mean("LOFT S12-8", EndKind::LongBuryEye), Some(2.0));
    assert_eq!(mean("Loft S12-6", EndKind::LongBuryEye), Some(1.0));
    assert_eq!(mean("Loft S12-8", EndKind::Strop), Some(3.0));
    assert_eq!(mean("Loft S12-6", EndKind::Strop), None);
}
