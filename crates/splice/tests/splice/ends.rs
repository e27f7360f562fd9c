//! Ends as they are asked for at the bench.

use cordage::{Rope, generic};
use proptest::prelude::*;
use sources::{Grade, worst};
use splice::*;
use units::{Length, Mass, System};

fn rope(description: &str) -> Rope {
    generic(description).unwrap()
}

fn covered() -> Rope {
    Rope { core_diameter: Some(Length::of_mm(7.5)), ..rope("10 mm double braid HMPE") }
}

fn pin(mm: f64) -> Option<Bearing> {
    Some(Bearing { what: Fitting::Pin, diameter: Length::of_mm(mm) })
}

fn codes(layout: &Layout) -> Vec<&'static str> {
    layout.findings.iter().map(|finding| finding.code).collect()
}

/// Every sentence has as many values as places, and marks are in order,
/// inside the rope and numbered.
fn sound(layout: &Layout) {
    let sentences = layout.steps.iter().chain(&layout.cautions).chain(layout.stitching.iter().map(|s| &s.pattern));
    let sentences = sentences.chain(layout.weak_points.iter().map(|w| &w.reason));
    for sentence in sentences.chain(layout.findings.iter().map(|f| &f.text)) {
        assert_eq!(sentence.words().matches("{}").count(), sentence.values().len(), "{}", sentence.words());
        assert!(!sentence.show(System::Us).contains("{}"), "{}", sentence.words());
    }
    assert!(layout.marks.windows(2).all(|pair| pair[0].number + 1 == pair[1].number));
    let own = layout.marks.iter().filter(|mark| mark.part != Part::OtherRope).collect::<Vec<_>>();
    assert!(own.windows(2).all(|pair| pair[0].from_bitter_end <= pair[1].from_bitter_end));
    assert!(layout.marks.iter().all(|mark| mark.from_bitter_end.count() >= 0));
    assert!(!layout.steps.is_empty() && !layout.working.is_empty() && !layout.cautions.is_empty());
}

#[test]
fn a_ten_millimetre_rope_is_buried_720() {
    let rope = rope("10 mm 12-strand HMPE");
    let end = layout(&EndRequest { on: pin(12.0), ..EndRequest::new(EndKind::LongBuryEye, &rope) }).unwrap();
    sound(&end);
    assert_eq!(end.bury.unwrap().to_mm(), 720.0);
    assert_eq!(end.mark(Part::Rope, "throat, tail side").unwrap().from_bitter_end.count(), 720);
    let eye = end.eye.unwrap();
    assert_eq!(eye.inside.to_mm(), 60.0);
    assert_eq!(end.taper.iter().map(|step| step.strands_left).collect::<Vec<_>>(), [11, 10, 9, 8, 7, 6]);
    for pair in end.taper.chunks(2) {
        assert_eq!(pair[0].at, pair[1].at);
        assert_ne!(pair[0].hand, pair[1].hand);
    }
    assert!(
        end.mark(Part::Rope, "puller goes in").unwrap().from_bitter_end
            > end.mark(Part::Rope, "tail ends here").unwrap().from_bitter_end
    );
    assert!(worst(&end.findings) < Some(Grade::Stop), "{:?}", codes(&end));
    let grip = end.grip.as_ref().unwrap();
    assert!(grip.margin.low > 1.0 && grip.critical_bury.high < Length::of_mm(720.0));
    assert!(end.strength_share.unwrap().usual > 0.9);
    // Consumption: free rope to the tail's end mark, less what is finished.
    let tail_end = end.mark(Part::Rope, "tail ends here").unwrap().from_bitter_end.to_length();
    let finished = eye.bearing_to_throat + end.bury.unwrap();
    assert!(((tail_end - finished) - end.rope_used).to_mm().abs() < 0.51);
}

#[test]
fn a_short_bury_is_a_stop_that_names_the_bury_that_clears_it() {
    let rope = rope("10 mm 12-strand HMPE");
    let ask =
        |bury| EndRequest { bury: Some(BuryWish::Diameters(bury)), ..EndRequest::new(EndKind::LongBuryEye, &rope) };
    let end = layout(&ask(50.0)).unwrap();
    let stop = end.findings.iter().find(|finding| finding.code == "grip-margin").unwrap();
    assert_eq!(stop.grade, Grade::Stop);
    let units::Value::Bench(cure) = stop.remedy.as_ref().unwrap().values()[0].clone() else { unreachable!() };
    let cured = layout(&EndRequest { bury: Some(BuryWish::Length(cure.to_length())), ..ask(50.0) }).unwrap();
    assert!(!codes(&cured).contains(&"grip-margin") && codes(&cured).contains(&"short-bury"), "{:?}", codes(&cured));
    let wanted = layout(&EndRequest { bury: Some(BuryWish::Margin(1.5)), ..ask(50.0) }).unwrap();
    let margin = wanted.grip.unwrap().margin.low;
    assert!((1.5..1.53).contains(&margin), "{margin}");
}

#[test]
fn a_throat_without_stitching_is_a_stop() {
    let rope = rope("10 mm 12-strand HMPE");
    let ask = |lock, slack| EndRequest { lock, slack, ..EndRequest::new(EndKind::LongBuryEye, &rope) };
    let bare = layout(&ask(ThroatLock::None, Slack::Can)).unwrap();
    assert_eq!(worst(&bare.findings), Some(Grade::Stop));
    let never = layout(&ask(ThroatLock::None, Slack::Never)).unwrap();
    assert_eq!(worst(&never.findings), Some(Grade::Caution));
    let full = layout(&ask(ThroatLock::FullLength, Slack::Can)).unwrap();
    assert!(codes(&full).contains(&"full-length-stitching"));
    assert_eq!(full.strength_share.unwrap().usual, 0.5);
    let hanging = EndRequest { hardware: Some(Mass::of_g(500.0)), ..ask(ThroatLock::StitchAndWhip, Slack::Can) };
    let stitch = layout(&hanging).unwrap().stitching[0].must_hold.unwrap();
    assert!(stitch.to_n() > 0.5 * 9.80665 * SHAKE && stitch.to_n() < 0.7 * 9.80665 * SHAKE, "{stitch}");
}

#[test]
fn no_taper_costs_strength() {
    let rope = rope("10 mm 12-strand HMPE");
    let share = |taper| {
        layout(&EndRequest { taper, ..EndRequest::new(EndKind::LongBuryEye, &rope) }).unwrap().strength_share.unwrap()
    };
    assert!(share(TaperWish::None).usual < share(TaperWish::Common).usual);
    assert!(share(TaperWish::None).usual < share(TaperWish::HalfAtOnce).usual);
}

#[test]
fn what_cannot_be_made_is_refused_with_the_way_out() {
    let hmpe = rope("10 mm 12-strand HMPE");
    let refused = |request: &EndRequest, part: &str| {
        let error = layout(request).unwrap_err();
        assert!(error.to_string().contains(part), "{error}");
        assert!(error.hints().iter().all(|hint| !hint.is_empty()) && !error.hints().is_empty());
    };
    let eye = EndRequest::new(EndKind::LongBuryEye, &hmpe);
    refused(&EndRequest { eye: Some(Length::of_mm(20.0)), on: pin(12.0), ..eye.clone() }, "60 degrees");
    refused(&EndRequest { eye: Some(Length::of_mm(5.0)), on: pin(12.0), ..eye.clone() }, "60 degrees");
    refused(&EndRequest { eye: Some(Length::of_mm(-5.0)), ..eye.clone() }, "above zero");
    refused(&EndRequest { bury: Some(BuryWish::Diameters(0.0)), ..eye.clone() }, "above zero");
    refused(&EndRequest { bury: Some(BuryWish::Diameters(1000.0)), ..eye.clone() }, "between 5 and 400");
    refused(&EndRequest { rope_length: Some(Length::of_mm(1000.0)), ..eye.clone() }, "1,000 mm of rope");
    refused(
        &EndRequest {
            measured: BenchMeasures { strand_width: Some(Length::of_mm(7.5)), ..BenchMeasures::default() },
            ..eye.clone()
        },
        "jammed",
    );
    refused(&EndRequest::new(EndKind::TuckedEye, &hmpe), "cannot be made");
    let parallel = Rope {
        construction: cordage::Construction::ParallelCore,
        core_diameter: Some(Length::of_mm(7.0)),
        ..covered()
    };
    refused(&EndRequest::new(EndKind::CoveredEye, &parallel), "cannot be made");
    let unmeasured = Rope { core_diameter: None, ..covered() };
    refused(&EndRequest::new(EndKind::CoveredEye, &unmeasured), "core's diameter");
    let core = covered();
    refused(
        &EndRequest { stripped_run: Some(Length::of_mm(300.0)), ..EndRequest::new(EndKind::BareCoreEye, &core) },
        "stripped run",
    );
    refused(&EndRequest { taper: TaperWish::Even { pairs: 6, share: 0.3 }, ..eye.clone() }, "6 pairs");
    refused(
        &EndRequest {
            taper: TaperWish::Even { pairs: 5, share: 0.05 },
            ..EndRequest { bury: Some(BuryWish::Diameters(6.0)), ..eye }
        },
        "whole picks",
    );
}

#[test]
fn covered_ropes_are_buried_by_their_core() {
    let core = covered();
    for kind in [EndKind::CoveredEye, EndKind::BareCoreEye] {
        let end = layout(&EndRequest { on: pin(12.0), ..EndRequest::new(kind, &core) }).unwrap();
        sound(&end);
        assert_eq!(end.bury.unwrap().to_mm(), 540.0);
        assert_eq!(end.gripping_diameter.to_mm(), 7.5);
    }
    let bare =
        layout(&EndRequest { stripped_run: Some(Length::of_m(3.0)), ..EndRequest::new(EndKind::BareCoreEye, &core) })
            .unwrap();
    let begins = bare.mark(Part::Cover, "cover begins").unwrap().from_bitter_end.to_length();
    let throat = bare.mark(Part::Core, "throat, standing side").unwrap().from_bitter_end.to_length();
    assert!(
        (begins - throat + bare.eye.as_ref().unwrap().bearing_to_throat - Length::of_m(3.0) - bare.shrinkage)
            .to_mm()
            .abs()
            < 1.01
    );
}

#[test]
fn a_polyester_double_braid_goes_by_fids() {
    let rope = rope("12 mm double braid polyester");
    let end = layout(&EndRequest { on: pin(16.0), ..EndRequest::new(EndKind::CoreAndCoverEye, &rope) }).unwrap();
    sound(&end);
    assert_eq!(end.mark(Part::Cover, "throat, tail side").unwrap().from_bitter_end.count(), 252);
    assert_eq!(end.grip, None);
    assert!(codes(&end).contains(&"no-grip-model"));
}

#[test]
fn laid_rope_is_tucked_by_its_fibre_and_duty() {
    let polyester = rope("12 mm 3-strand polyester");
    let end = layout(&EndRequest { on: pin(20.0), ..EndRequest::new(EndKind::TuckedEye, &polyester) }).unwrap();
    sound(&end);
    // Four full tucks and two thinned ones, three diameters each.
    assert_eq!(end.mark(Part::Rope, "throat, tail side").unwrap().from_bitter_end.count(), 216);
    let sling = EndRequest { duty: Duty::Sling, ..EndRequest::new(EndKind::TuckedEye, &polyester) };
    assert_eq!(layout(&sling).unwrap().mark(Part::Rope, "throat, tail side").unwrap().from_bitter_end.count(), 216);
    let few = EndRequest { rules: LoftRules { tucks: Some(3), ..LoftRules::COMMON }, ..sling };
    assert_eq!(worst(&layout(&few).unwrap().findings), Some(Grade::Stop));
    let polyamide = rope("12 mm 3-strand polyamide");
    let end = layout(&EndRequest::new(EndKind::TuckedEye, &polyamide)).unwrap();
    assert_eq!(end.mark(Part::Rope, "throat, tail side").unwrap().from_bitter_end.count(), 252);
}

#[test]
fn whippings_suit_their_rope_and_aramid_is_not_melted() {
    let laid = rope("12 mm 3-strand polyester");
    let end = layout(&EndRequest::new(EndKind::WhippedEnd, &laid)).unwrap();
    sound(&end);
    assert_eq!(end.stitching[0].name, "sailmaker's whipping");
    assert_eq!(end.rope_used, Length::ZERO);
    let aramid = Rope { fibre: cordage::Fibre::Aramid, ..rope("10 mm 12-strand HMPE") };
    let end = layout(&EndRequest::new(EndKind::SealedEnd, &aramid)).unwrap();
    sound(&end);
    assert!(codes(&end).contains(&"does-not-melt"));
}

/// A request that the kind can be made from.
fn any(kind: EndKind, ropes: &[Rope; 5]) -> EndRequest<'_> {
    let [hmpe, core, double, laid, plait] = ropes;
    let rope = ropes.iter().find(|rope| kind.suits(rope.construction)).unwrap();
    let ring = Some(Bearing { what: Fitting::Ring, diameter: Length::of_mm(14.0) });
    let base = EndRequest::new(kind, rope);
    match kind {
        EndKind::Strop => EndRequest { finished: Some(Length::of_m(3.0)), ..base },
        EndKind::EndlessLoop | EndKind::SoftShackle | EndKind::CoreAndCoverLoop => {
            EndRequest { eye: Some(Length::of_m(1.0)), ..base }
        }
        EndKind::CoreToCoverJoin => EndRequest { stripped_run: Some(Length::of_m(5.0)), ..base },
        EndKind::UnlikeRopes => EndRequest { other: Some(double), rope: hmpe, ..base },
        EndKind::ToChain => EndRequest { on: ring, rope: plait, ..base },
        EndKind::CoveredEye | EndKind::BareCoreEye => EndRequest { rope: core, on: ring, ..base },
        EndKind::TuckedEye => EndRequest { rope: laid, on: ring, ..base },
        _ => base,
    }
}

fn ropes() -> [Rope; 5] {
    [
        rope("10 mm 12-strand HMPE"),
        covered(),
        rope("10 mm double braid polyester"),
        rope("12 mm 3-strand polyester"),
        rope("14 mm 8-plait polyamide"),
    ]
}

#[test]
fn every_kind_has_marks_steps_and_a_consumption() {
    let ropes = ropes();
    for kind in EndKind::ALL {
        let request = any(*kind, &ropes);
        let end = layout(&request).unwrap_or_else(|error| unreachable!("{}: {error}", kind.word()));
        sound(&end);
        assert_eq!(end.kind, *kind);
        assert!(end.rope_used >= Length::ZERO && end.time.get().unwrap().to_minutes() > 0.0);
        if let Some(bury) = end.bury {
            assert!(end.shrinkage >= Length::ZERO && end.shrinkage <= bury * 2.0, "{}", kind.word());
        }
        // A piece just too short for its marks is refused, one as long is not.
        let last = end.marks.iter().map(|mark| mark.from_bitter_end).max().unwrap();
        let needs = if kind.is_whole_piece() { end.rope_used } else { last.to_length() };
        let short = needs - Length::of_mm(1.0);
        assert!(
            matches!(
                layout(&EndRequest { rope_length: Some(short), ..request.clone() }),
                Err(SpliceError::LongerThanRope { .. })
            ),
            "{}",
            kind.word()
        );
        assert_eq!(layout(&EndRequest { rope_length: Some(needs), ..request.clone() }).unwrap(), end);
    }
}

/// Twice as thick, and everything asked for twice as long.
fn doubled<'a>(request: &EndRequest<'a>, rope: &'a Rope, other: Option<&'a Rope>) -> EndRequest<'a> {
    let twice = |length: Option<Length>| length.map(|length| length * 2.0);
    EndRequest {
        rope,
        other,
        eye: twice(request.eye),
        finished: twice(request.finished),
        stripped_run: twice(request.stripped_run),
        on: request.on.map(|on| Bearing { diameter: on.diameter * 2.0, ..on }),
        ..request.clone()
    }
}

#[test]
fn every_kind_scales_with_its_rope() {
    let ropes = ropes();
    for kind in EndKind::ALL {
        let small = any(*kind, &ropes);
        let twice = |rope: &Rope| Rope {
            diameter: rope.diameter * 2.0,
            core_diameter: rope.core_diameter.map(|core| core * 2.0),
            ..rope.clone()
        };
        let (rope, other) = (twice(small.rope), small.other.map(twice));
        let (a, b) = (layout(&small).unwrap(), layout(&doubled(&small, &rope, other.as_ref())).unwrap());
        assert_eq!(a.marks.len(), b.marks.len());
        for mark in &a.marks {
            let far = b.marks.iter().find(|other| (other.part, other.name) == (mark.part, mark.name));
            let same = b.marks.iter().filter(|other| (other.part, other.name) == (mark.part, mark.name)).count();
            // Pairs between the first and the last have one name.
            let far = if same == 1 { far } else { b.marks.get(mark.number as usize - 1) }.unwrap();
            let off = 2 * mark.from_bitter_end.count() - far.from_bitter_end.count();
            assert!(off.abs() <= 2, "{}: {}", kind.word(), mark.name);
        }
        assert!((b.rope_used - a.rope_used * 2.0).to_mm().abs() < 1e-6, "{}", kind.word());
        assert!((b.shrinkage - a.shrinkage * 2.0).to_mm().abs() < 1e-6, "{}", kind.word());
        let margins = |end: &Layout| end.grip.as_ref().map(|grip| grip.margin);
        assert_eq!(margins(&a), margins(&b), "{}", kind.word());
    }
}

#[test]
fn every_taper_is_its_own_mirror_image() {
    let ropes = ropes();
    for kind in EndKind::ALL {
        for taper in [TaperWish::Common, TaperWish::Chosen, TaperWish::HalfAtOnce] {
            let end = layout(&EndRequest { taper, ..any(*kind, &ropes) }).unwrap();
            let of = |hand| end.taper.iter().filter(|step| step.hand == hand).map(|step| step.at).collect::<Vec<_>>();
            assert_eq!(of(Hand::Left), of(Hand::Right), "{}", kind.word());
            // No hand is always first: which goes first takes turns.
            assert!(end.taper.chunks(4).all(|two| two.len() < 4 || two[0].hand != two[2].hand), "{}", kind.word());
        }
    }
}

#[test]
fn a_frictionless_rope_is_said_not_to_hold() {
    let ropes = ropes();
    let friction = Some(Range::new(0.0, 0.0));
    for kind in EndKind::ALL {
        let end = layout(&EndRequest { friction, ..any(*kind, &ropes) }).unwrap();
        let Some(grip) = &end.grip else { continue };
        assert_eq!((grip.margin.high, grip.chance), (0.0, 0.0), "{}", kind.word());
        assert!(grip.tail_creep.is_none() && grip.passing.is_empty(), "{}", kind.word());
        assert_eq!(worst(&end.findings), Some(Grade::Stop), "{}", kind.word());
    }
}

#[test]
fn what_a_piece_uses_is_its_cut_length_to_the_last_bit() {
    let [hmpe, ..] = &ropes();
    let finished = Length::of_m(3.0);
    let strop = layout(&EndRequest { finished: Some(finished), ..EndRequest::new(EndKind::Strop, hmpe) }).unwrap();
    let one = layout(&EndRequest::new(EndKind::LongBuryEye, hmpe)).unwrap();
    assert_eq!(strop.rope_used, finished + one.rope_used * 2.0);
    let eye = one.eye.unwrap();
    let sum = one.bury.unwrap() + eye.rope + one.shrinkage - eye.bearing_to_throat;
    assert_eq!(one.rope_used, sum);
    // Its parts, as the working prints them, come to the same.
    let step = one.working.iter().find(|step| step.what == "rope used").unwrap();
    assert_eq!(step.result, units::Value::from(one.rope_used));
}

#[test]
fn two_ways_that_are_both_common_are_both_offered() {
    for kind in EndKind::ALL {
        for construction in [
            cordage::Construction::TwelveStrand,
            cordage::Construction::ThreeStrand,
            cordage::Construction::EightPlait,
            cordage::Construction::DoubleBraid(cordage::LoadOn::Core),
        ] {
            for other in alternatives(*kind, construction) {
                assert!(other.kind != *kind && other.kind.suits(construction) && other.when.len() > 10);
            }
        }
    }
    let laid = rope("12 mm 3-strand polyester");
    let finish = |finish| {
        let rules = LoftRules { finish, ..LoftRules::COMMON };
        layout(&EndRequest { rules, ..EndRequest::new(EndKind::TuckedEye, &laid) }).unwrap()
    };
    let strands = |end: &Layout| end.mark(Part::Rope, "throat, tail side").unwrap().from_bitter_end.count();
    // Two thinned tucks of three diameters, or a diameter left proud.
    assert_eq!(strands(&finish(TuckFinish::Thinned)) - strands(&finish(TuckFinish::Proud)), 72 - 12);
}

#[test]
fn pieces_too_short_for_their_buries_are_refused() {
    let ropes = ropes();
    for (kind, mm) in [(EndKind::EndlessLoop, 300.0), (EndKind::SoftShackle, 50.0), (EndKind::CoreAndCoverLoop, 50.0)] {
        let short = EndRequest { eye: Some(Length::of_mm(mm)), ..any(kind, &ropes) };
        let Err(SpliceError::TooShort { least, .. }) = layout(&short) else { unreachable!("{}", kind.word()) };
        assert!(layout(&EndRequest { eye: Some(least), ..short }).is_ok(), "{}", kind.word());
    }
    let strop = EndRequest { finished: Some(Length::of_m(1.0)), ..any(EndKind::Strop, &ropes) };
    let Err(SpliceError::TooShort { least, .. }) = layout(&strop) else { unreachable!() };
    assert!(layout(&EndRequest { finished: Some(least), ..strop.clone() }).is_ok());
    assert!(matches!(layout(&EndRequest { finished: None, ..strop }), Err(SpliceError::Missing { .. })));
}

#[test]
fn unlike_ropes_hold_both_ways_or_say_stop() {
    let [hmpe, _, _, _, _] = ropes();
    let join = |mm: f64, bury: f64| {
        let other = Rope { diameter: Length::of_mm(mm), ..rope("10 mm double braid polyester") };
        layout(&EndRequest {
            other: Some(&other),
            bury: Some(BuryWish::Diameters(bury)),
            ..EndRequest::new(EndKind::UnlikeRopes, &hmpe)
        })
    };
    let like = join(10.0, 72.0).unwrap();
    let alone = layout(&EndRequest::new(EndKind::LongBuryEye, &hmpe)).unwrap();
    // Of one thickness it is a join by the slippery fibre, both ways.
    assert_eq!(like.grip.as_ref().unwrap().margin, alone.grip.as_ref().unwrap().margin);
    let thick = join(12.0, 72.0).unwrap();
    assert!(thick.grip.unwrap().margin.low < like.grip.unwrap().margin.low);
    assert_eq!(worst(&join(12.0, 50.0).unwrap().findings), Some(Grade::Stop));
    assert!(matches!(join(20.0, 72.0), Err(SpliceError::OutOfRange { .. })));
}

#[test]
fn words_and_kinds_go_both_ways() {
    for kind in EndKind::ALL {
        assert_eq!(EndKind::from_word(kind.word()), Some(*kind));
        assert_eq!(kind.word(), kind.word().to_lowercase());
    }
}

proptest! {
    // A layout weighs thousands of draws: fewer cases keep the run short.
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn layouts_scale_with_the_rope(mm in 4.0..40.0f64) {
        let small = Rope { diameter: Length::of_mm(mm), ..rope("10 mm 12-strand HMPE") };
        let large = Rope { diameter: Length::of_mm(2.0 * mm), ..small.clone() };
        let (a, b) = (layout(&EndRequest::new(EndKind::LongBuryEye, &small)).unwrap(), layout(&EndRequest::new(EndKind::LongBuryEye, &large)).unwrap());
        for (near, far) in a.marks.iter().zip(&b.marks) {
            prop_assert!((2 * near.from_bitter_end.count() - far.from_bitter_end.count()).abs() <= 2);
        }
        prop_assert!((b.rope_used / a.rope_used - 2.0).abs() < 1e-9);
        prop_assert!((b.shrinkage / a.shrinkage - 2.0).abs() < 1e-9);
        prop_assert_eq!(a.grip.unwrap().margin, b.grip.unwrap().margin);
    }

    #[test]
    fn hands_are_mirror_images(pairs in 1u32..=5) {
        let rope = rope("10 mm 12-strand HMPE");
        let taper = TaperWish::Even { pairs, share: 1.0 / 3.0 };
        let end = layout(&EndRequest { taper, ..EndRequest::new(EndKind::LongBuryEye, &rope) }).unwrap();
        let left = end.taper.iter().filter(|step| step.hand == Hand::Left).map(|step| step.at).collect::<Vec<_>>();
        let right = end.taper.iter().filter(|step| step.hand == Hand::Right).map(|step| step.at).collect::<Vec<_>>();
        prop_assert_eq!(left, right);
        prop_assert_eq!(end.taper.len() as u32, 2 * pairs);
    }
}
