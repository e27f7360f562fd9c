//! Lines made up: ropes judged, ends summed to the millimetre, ends on leads.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on fails")]

use cordage::{Rope, Use, generic};
use makeup::*;
use proptest::prelude::*;
use rig::{Bearing, Lead, LineKind, Point, TurnAt, tackle::SheaveBearing};
use sources::Grade;
use splice::EndKind;
use units::{Force, Length};

fn request(kind: LineKind, steady_kn: f64) -> LineRequest<'static> {
    LineRequest {
        kind,
        duty: Duty::Running,
        used_for: Use::ClubRacing,
        design_factor: None,
        steady: Force::of_kn(steady_kn),
        peak: Force::of_kn(steady_kn * 1.3),
        finished: Length::of_m(30.0),
        lead: None,
        travel: None,
        fits: Vec::new(),
        working: EndWish::default(),
        bitter: EndWish::default(),
        cover: CoverWish::Keep,
        more: Vec::new(),
        standing: StandingWish::default(),
        stretch_budget: None,
        bury_diameters: None,
        own: None,
    }
}

fn hmpe(mm: f64) -> Rope {
    generic(&format!("{mm} mm 12-strand HMPE")).unwrap()
}

#[test]
fn a_cut_length_is_the_sum_of_its_parts_rounded_up_once() {
    let made = make_up(&request(LineKind::MainHalyard, 4.0), &[hmpe(10.0)]).unwrap();
    let parts = made.finished
        + made.working.rope_used
        + made.bitter.as_ref().unwrap().rope_used
        + Length::of_mm(10.0 * 2.0 * 2.0);
    assert_eq!(made.cut, parts.up_to_mm());
    assert!(made.cut.to_length() - made.finished > Length::of_mm(720.0), "the bury is in it");
    assert_eq!(made.working.kind, EndKind::LongBuryEye);
}

#[test]
fn the_lightest_rope_that_stands_is_taken() {
    let ropes = [hmpe(16.0), hmpe(4.0), hmpe(10.0), hmpe(12.0)];
    let made = make_up(&request(LineKind::JibSheet, 5.0), &ropes).unwrap();
    assert_eq!(made.rope.name, "10 mm 12-strand HMPE");
    assert_eq!(made.verdicts.len(), 4);
    let thin = made.verdicts.iter().find(|verdict| verdict.rope.starts_with("4 mm")).unwrap();
    assert_eq!(thin.grade(), Some(Grade::Stop), "ratio {}", thin.strength_ratio);
}

#[test]
fn a_single_rope_is_taken_with_what_is_said_of_it() {
    let made = make_up(&request(LineKind::JibSheet, 40.0), &[hmpe(6.0)]).unwrap();
    assert_eq!(made.grade(), Some(Grade::Stop));
    assert!(made.findings.iter().any(|finding| finding.code == "too-weak" && finding.remedy.is_some()));
}

#[test]
fn people_and_standing_rigging_are_never_passed() {
    for duty in [Duty::HoldsPerson, Duty::StandingRigging] {
        let made = make_up(&LineRequest { duty, ..request(LineKind::MainHalyard, 0.1) }, &[hmpe(12.0)]).unwrap();
        assert_eq!(made.grade(), Some(Grade::Stop));
    }
}

#[test]
fn a_spliced_strength_has_its_splice_already() {
    let rope = generic("14 mm 3-strand polyester").unwrap();
    let made = make_up(&request(LineKind::DockLine, 2.0), std::slice::from_ref(&rope)).unwrap();
    let lowest = made.weak_points.first().unwrap();
    assert_eq!(lowest.strength, Some(rope.strength.force));
}

#[test]
fn wet_polyamide_weakens_the_whole_rope() {
    let rope = generic("14 mm 3-strand polyamide").unwrap();
    let made = make_up(&request(LineKind::DockLine, 2.0), std::slice::from_ref(&rope)).unwrap();
    let lowest = made.weak_points.first().unwrap().strength.unwrap();
    assert!((lowest / rope.strength.force - 0.85).abs() < 1e-9);
}

fn masthead(eye_below_sheave_m: f64) -> Lead {
    let turn = |name: &str, at, bearing, mm| TurnAt { name: name.to_owned(), at, diameter: Length::of_mm(mm), bearing };
    let ball = Bearing::Sheave(SheaveBearing::Ball);
    Lead {
        hauled: Point::of_m(0.0, 0.0, 13.0 - eye_below_sheave_m),
        eased: Point::of_m(0.0, 0.0, 1.3),
        parts: 1,
        turns: vec![
            turn("masthead sheave", Point::of_m(-0.04, 0.0, 13.0), ball, 80.0),
            turn("mast foot", Point::of_m(-0.08, 0.0, 0.1), ball, 60.0),
            turn("halyard clutch", Point::of_m(3.0, 0.4, 0.3), Bearing::Clutch, 0.0),
        ],
    }
}

#[test]
fn a_bury_that_reaches_the_masthead_at_full_hoist_is_told() {
    let told = |below: f64| {
        let lead = masthead(below);
        let travel = rig::travel(&lead).unwrap();
        let request = LineRequest { lead: Some(&lead), travel: Some(&travel), ..request(LineKind::MainHalyard, 4.0) };
        let made = make_up(&request, &[hmpe(10.0)]).unwrap();
        made.findings.iter().any(|finding| finding.code == "bury-on-sheave")
    };
    assert!(told(0.3), "720 mm of bury and 300 mm to the sheave");
    assert!(!told(1.5), "720 mm of bury and 1.5 m to the sheave");
}

#[test]
fn a_bury_that_passes_the_sheave_only_in_mid_travel_is_told_with_the_place() {
    // The clew swings past its block: far at both ends of travel, 0.4 m in the middle.
    let turn = |at, bearing, mm| TurnAt { name: "block".to_owned(), at, diameter: Length::of_mm(mm), bearing };
    let lead = Lead {
        hauled: Point::of_m(0.4, -4.0, 0.0),
        eased: Point::of_m(0.4, 4.0, 0.0),
        parts: 1,
        turns: vec![
            turn(Point::of_m(0.0, 0.0, 0.0), Bearing::Sheave(SheaveBearing::Ball), 60.0),
            turn(Point::of_m(-3.0, 0.0, 2.0), Bearing::Fast, 0.0),
        ],
    };
    let travel = rig::travel(&lead).unwrap();
    let told = |kind| {
        let request = LineRequest { lead: Some(&lead), travel: Some(&travel), ..request(kind, 1.0) };
        let made = make_up(&request, &[hmpe(10.0)]).unwrap();
        made.findings.into_iter().find(|finding| finding.code == "bury-on-sheave")
    };
    let finding = told(LineKind::JibSheet).unwrap();
    let text = finding.show(units::System::Metric);
    assert!(text.contains("short of hauled in"), "{text}");
    // The bury ends 0.86 m from where it bears: on the sheave within some 0.7 m of the middle.
    assert_eq!(finding.grade, Grade::Caution);
    // A halyard on its way up carries its own weight.
    assert_eq!(told(LineKind::MainHalyard).unwrap().grade, Grade::Note);
    // At both ends alone nothing would be seen.
    let ends = rig::Travel {
        passing: vec![travel.passing[0].clone(), travel.passing.last().unwrap().clone()],
        ..travel.clone()
    };
    let zone = [Zone { name: "the bury", from: Length::of_mm(100.0), to: Length::of_mm(860.0), bare: false }];
    assert!(zones_on_lead(&zone, LineKind::JibSheet, &ends).is_empty());
    assert_eq!(zones_on_lead(&zone, LineKind::JibSheet, &travel).len(), 1);
}

#[test]
fn a_bury_longer_than_a_part_of_its_purchase_lies_on_its_block() {
    let turn = |name: &str, at, bearing| TurnAt { name: name.to_owned(), at, diameter: Length::of_mm(40.0), bearing };
    let lead = |hauled: f64| Lead {
        hauled: Point::of_m(0.0, 0.0, hauled),
        eased: Point::of_m(0.0, 0.0, 3.0),
        parts: 4,
        turns: vec![
            turn("lower block", Point::of_m(0.0, 0.0, 0.0), Bearing::Sheave(SheaveBearing::Ball)),
            turn("hand", Point::of_m(0.5, 0.0, 1.0), Bearing::Fast),
        ],
    };
    let told = |hauled| {
        let lead = lead(hauled);
        let travel = rig::travel(&lead).unwrap();
        let zone = [Zone { name: "the bury", from: Length::of_mm(40.0), to: Length::of_mm(700.0), bare: false }];
        zones_on_lead(&zone, LineKind::Vang, &travel).len()
    };
    assert_eq!(told(1.0), 0, "a metre between the blocks");
    assert_eq!(told(0.5), 1, "half a metre between the blocks");
}

fn clutched(least_mm: f64) -> (Lead, Vec<Fit>) {
    let mut fit = Fit::up_to("halyard clutch", Length::of_mm(14.0));
    fit.thinnest = Some(Length::of_mm(least_mm));
    (masthead(1.5), vec![fit])
}

#[test]
fn a_line_too_thin_for_its_jaws_slips_unless_its_core_is_filled() {
    let (lead, fits) = clutched(11.0);
    let travel = rig::travel(&lead).unwrap();
    let line = LineRequest { lead: Some(&lead), travel: Some(&travel), fits, ..request(LineKind::MainHalyard, 3.0) };
    let codes = |line: &LineRequest<'_>, rope: &Rope| -> Vec<(&'static str, Grade)> {
        let made = make_up(line, std::slice::from_ref(rope)).unwrap();
        made.findings.iter().map(|finding| (finding.code, finding.grade)).collect()
    };
    assert!(codes(&line, &covered()).contains(&("slips-in-jaws", Grade::Stop)));
    let wish = LineRequest { more: vec![Added::FilledCore, Added::SecondCover], ..line.clone() };
    let told = codes(&wish, &covered());
    assert!(
        told.contains(&("thickened-for-jaws", Grade::Note)) && told.contains(&("more-cover", Grade::Note)),
        "{told:?}"
    );
    let made = make_up(&wish, &[covered()]).unwrap();
    let filled = &made.added[0];
    assert_eq!((filled.added, filled.thickness), (Added::FilledCore, Length::of_mm(11.0)));
    // It lies where the jaws take it over the whole travel, and no further.
    let (least, most) = (travel.hauled.turns[2].begins, travel.eased.turns[2].begins);
    assert!(filled.from < least && filled.from > least - Length::of_m(0.5));
    assert!(filled.to > most && filled.to < most + Length::of_m(0.5));
    // 0.76 (11² - 10²) grams a metre more.
    assert!((filled.mass.to_g() - 0.76 * 21.0 * (filled.to - filled.from).to_m()).abs() < 1e-6);
    assert!((made.mass - make_up(&line, &[covered()]).unwrap().mass - filled.mass).abs().to_g() < 1e-9);
    // More than a quarter is not filled out: a second cover.
    let (_, fits) = clutched(13.0);
    let thick = make_up(&LineRequest { fits, ..wish }, &[covered()]).unwrap();
    assert_eq!((thick.added[0].added, thick.added[0].thickness), (Added::SecondCover, Length::of_mm(13.0)));
}

#[test]
fn a_groove_is_held_against_the_rope() {
    let told = |groove_mm: f64| {
        let fit = Fit { groove: Some(Length::of_mm(groove_mm)), thickest: None, ..Fit::up_to("sheave", Length::ZERO) };
        let made =
            make_up(&LineRequest { fits: vec![fit], ..request(LineKind::JibSheet, 2.0) }, &[hmpe(10.0)]).unwrap();
        made.findings
            .iter()
            .find(|one| one.code == "groove" || one.code == "does-not-fit")
            .map(|one| (one.code, one.grade))
    };
    assert_eq!(told(9.0), Some(("does-not-fit", Grade::Stop)));
    assert_eq!(told(10.5), Some(("groove", Grade::Note)));
    assert_eq!(told(12.0), None);
    assert_eq!(told(25.0), Some(("groove", Grade::Caution)));
}

#[test]
fn it_is_said_which_end_is_rove_or_spliced_on_board() {
    let lead = masthead(1.5);
    let travel = rig::travel(&lead).unwrap();
    let eye = EndWish { kind: Some(EndKind::LongBuryEye), ..EndWish::default() };
    let by = |bitter: EndWish, room: Option<f64>| {
        let names = ["masthead sheave", "mast foot", "halyard clutch"];
        let fits = names.iter().filter_map(|name| Some(Fit::up_to(name, Length::of_mm(room?)))).collect();
        let line = LineRequest {
            lead: Some(&lead),
            travel: Some(&travel),
            bitter,
            fits,
            ..request(LineKind::MainHalyard, 2.0)
        };
        make_up(&line, &[hmpe(10.0)]).unwrap().reeving.unwrap()
    };
    assert_eq!(by(EndWish::default(), None).by, By::BitterEnd);
    // 10 mm over its own tail is 14.1 mm round.
    assert_eq!(by(eye, Some(14.2)).by, By::BitterEnd);
    assert_eq!(by(eye, Some(14.1)).by, By::SplicedOnBoard);
    assert_eq!(by(eye, None).by, By::NotKnown);
    assert!(by(eye, Some(12.0)).finding.is_some() && by(eye, Some(15.0)).finding.is_none());
}

#[test]
fn a_run_is_bare_from_the_bearing_point_in_the_piece_and_on_its_end() {
    let to = Length::of_m(9.0);
    let line = LineRequest { cover: CoverWish::Strip { from: Length::ZERO, to }, ..request(LineKind::JibSheet, 2.0) };
    let made = make_up(&line, &[covered()]).unwrap();
    assert_eq!(made.working.kind, EndKind::BareCoreEye, "nothing else leaves the eye bare");
    let printed = made.working.working.iter().find(|step| step.what == "stripped run").unwrap();
    assert_eq!(printed.result, units::Value::from(to));
    assert_eq!(made.cover.stripped.as_ref().unwrap().to, to);
    // From the marks: cover begins, less what the tail, eye and shrinkage take.
    let end = &made.working;
    let eye = end.eye.as_ref().unwrap();
    let mark = |name| end.marks.iter().find(|mark| mark.name == name).unwrap().from_bitter_end.to_length();
    let bare = mark("cover begins") - mark("throat, standing side") - end.shrinkage + eye.bearing_to_throat;
    assert!((bare - to).abs().to_mm() < 2.0, "{bare}");
}

#[test]
fn temperature_and_time_of_the_order_move_the_life() {
    let mut rope = hmpe(10.0);
    rope.creep_rate = Some(cordage::CreepRate { per_year: 0.0099, load: Force::of_kn(4.0), celsius: 30.0 });
    let outcome = |celsius, years| {
        let standing = StandingWish { celsius, years, ..StandingWish::default() };
        let line = LineRequest { standing, ..request(LineKind::MainHalyard, 4.0) };
        let choice = choose(&line, &offers(std::slice::from_ref(&rope), &[1.0])).unwrap();
        let made = make_up(&line, std::slice::from_ref(&rope)).unwrap();
        let told = made.findings.iter().any(|finding| finding.code == "creep-life");
        let check = choice.candidates[0].checks.iter().find(|check| check.what == "creep").unwrap().outcome;
        assert_eq!(told, check == Outcome::Caution, "line and rope table agree");
        check
    };
    assert_eq!(outcome(30.0, 3.0), Outcome::Pass);
    assert_eq!(outcome(30.0, 4.0), Outcome::Caution);
    // Ten degrees less is a fifth or less of the rate by the activation energy.
    assert_eq!(outcome(20.0, 15.0), Outcome::Pass);
    assert_eq!(outcome(40.0, 3.0), Outcome::Caution);
}

#[test]
fn a_stripped_run_in_the_jaws_is_a_stop() {
    let lead = masthead(1.5);
    let rope = generic("10 mm double braid HMPE/polyester core 7.5 mm").unwrap();
    let travel = rig::travel(&lead).unwrap();
    let strip = |to| LineRequest {
        lead: Some(&lead),
        travel: Some(&travel),
        cover: CoverWish::Strip { from: Length::of_m(0.8), to: Length::of_m(to) },
        ..request(LineKind::MainHalyard, 2.0)
    };
    let codes = |to| -> Vec<&str> {
        let made = make_up(&strip(to), std::slice::from_ref(&rope)).unwrap();
        made.findings.iter().map(|finding| finding.code).collect()
    };
    assert!(codes(25.0).contains(&"bare-in-jaws"));
    assert!(!codes(10.0).contains(&"bare-in-jaws"));
}

#[test]
fn stripping_saves_what_the_cover_weighs() {
    let rope = generic("10 mm double braid HMPE/polyester core 7.5 mm").unwrap();
    let request = LineRequest {
        cover: CoverWish::Strip { from: Length::of_m(1.0), to: Length::of_m(11.0) },
        ..request(LineKind::JibSheet, 2.0)
    };
    let made = make_up(&request, std::slice::from_ref(&rope)).unwrap();
    let stripped = made.cover.stripped.unwrap();
    let by_hand = (rope.linear_density - rope.core_linear_density.unwrap()) * Length::of_m(10.0);
    assert_eq!(stripped.saved_dry, by_hand);
    let (least, most) = stripped.saved_wet;
    assert!(by_hand < least && least < most);
}

#[test]
fn what_cannot_be_made_says_why() {
    assert_eq!(make_up(&request(LineKind::Mainsheet, 1.0), &[]).unwrap_err(), MakeUpError::NoRope);
    let wish = EndWish { kind: Some(EndKind::TuckedEye), ..EndWish::default() };
    let refused = make_up(&LineRequest { working: wish, ..request(LineKind::Mainsheet, 1.0) }, &[hmpe(10.0)]);
    assert!(refused.unwrap_err().to_string().contains("12-strand"));
    let short = LineRequest { finished: Length::of_mm(20.0), ..request(LineKind::Mainsheet, 1.0) };
    assert!(matches!(make_up(&short, &[hmpe(10.0)]), Err(MakeUpError::Length { .. })));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn longer_lines_are_cut_longer_by_just_that(metres in 5.0f64..60.0, more in 0.0f64..20.0) {
        let cut = |metres: f64| {
            let request = LineRequest { finished: Length::of_m(metres), ..request(LineKind::JibSheet, 2.0) };
            make_up(&request, &[hmpe(8.0)]).unwrap().cut.count()
        };
        let grown = cut(metres + more) - cut(metres);
        prop_assert!((grown as f64 - more * 1000.0).abs() <= 1.0);
    }

    #[test]
    fn a_stronger_load_never_judges_milder(kn in 0.5f64..20.0) {
        let grade = |kn: f64| make_up(&request(LineKind::JibSheet, kn), &[hmpe(8.0)]).unwrap().grade();
        prop_assert!(grade(kn) <= grade(kn * 1.2));
    }
}

fn offers(ropes: &[Rope], prices: &[f64]) -> Vec<Offer> {
    let each = ropes.iter().zip(prices);
    each.map(|(rope, price)| Offer { rope: rope.clone(), price_per_metre: Some(*price) }).collect()
}

fn bench_ropes() -> Vec<Rope> {
    [
        "6 mm 12-strand HMPE",
        "8 mm 12-strand HMPE",
        "8 mm double braid HMPE core 6 mm",
        "10 mm double braid HMPE core 7.5 mm",
        "8 mm double braid polyester",
        "10 mm double braid polyester",
        "12 mm double braid polyester",
    ]
    .map(|text| generic(text).unwrap())
    .to_vec()
}

#[test]
fn a_choice_looks_at_every_rope_and_says_why() {
    let ropes = bench_ropes();
    let choice = choose(&request(LineKind::JibSheet, 2.0), &offers(&ropes, &[3.0; 7])).unwrap();
    assert_eq!(choice.candidates.len() + choice.unmade.len(), 7);
    for candidate in &choice.candidates {
        assert!(candidate.checks.len() >= 10, "{}", candidate.rope.name);
        for check in &candidate.checks {
            let text = check.text.show(units::System::Metric);
            assert!(!text.is_empty() && !text.contains("{}"), "{}: {text:?}", check.what);
        }
        assert_eq!(candidate.outcome, candidate.checks.iter().map(|check| check.outcome).max().unwrap());
    }
    // Bare HMPE in hand and on the drum is warned of, whatever its strength.
    let bare = choice.candidates.iter().find(|one| one.rope.name == "8 mm 12-strand HMPE").unwrap();
    assert_eq!(bare.outcome, Outcome::Caution);
}

#[test]
fn polyamide_that_is_only_strong_enough_dry_is_a_caution() {
    let rope = generic("25 mm double braid polyamide").or_else(|_| generic("1 in double braid polyamide")).unwrap();
    // Wanted: five times the load; between 85 % and 100 % of the strength.
    let steady = rope.strength.force.to_kn() / 5.0 * 0.86;
    let choice = choose(&request(LineKind::Mainsheet, steady), &offers(&[rope], &[3.0])).unwrap();
    let wet = choice.candidates[0].checks.iter().find(|check| check.what == "wet").unwrap();
    assert_eq!(wet.outcome, Outcome::Caution, "{}", wet.text.show(units::System::Metric));
}

#[test]
fn a_stiff_dock_line_is_a_caution_and_a_slack_halyard_too() {
    let look = |kind, text: &str, steady| {
        let choice = choose(&request(kind, steady), &offers(&[generic(text).unwrap()], &[1.0])).unwrap();
        choice.candidates[0].checks.iter().find(|check| check.what == "stretch").unwrap().outcome
    };
    assert_eq!(look(LineKind::DockLine, "12 mm 12-strand HMPE", 3.0), Outcome::Caution);
    assert_eq!(look(LineKind::DockLine, "14 mm 3-strand polyamide", 3.0), Outcome::Pass);
    assert_eq!(look(LineKind::MainHalyard, "12 mm double braid polyester", 3.0), Outcome::Caution);
    assert_eq!(look(LineKind::MainHalyard, "12 mm 12-strand HMPE", 3.0), Outcome::Pass);
}

#[test]
fn creep_has_a_life_only_by_the_users_own_figure() {
    let mut rope = hmpe(10.0);
    let line = request(LineKind::MainHalyard, 4.0);
    let creep = |rope: &Rope| {
        let choice = choose(&line, &offers(std::slice::from_ref(rope), &[1.0])).unwrap();
        choice.candidates[0].checks.iter().find(|check| check.what == "creep").unwrap().outcome
    };
    assert_eq!(creep(&rope), Outcome::NotAssessed);
    let rate = |per_year| Some(cordage::CreepRate { per_year, load: Force::of_kn(4.0), celsius: 30.0 });
    // A tenth of lasting stretch over a margin of three: a hundredth a year lasts three and a third.
    rope.creep_rate = rate(0.0099);
    assert_eq!(creep(&rope), Outcome::Pass);
    rope.creep_rate = rate(0.0125);
    assert_eq!(creep(&rope), Outcome::Caution);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    /// The choice and the line table agree, and the marked set is what a
    /// comparison of all pairs leaves over.
    #[test]
    fn a_choice_is_that_of_the_line_table(
        steady in 0.3..9.0f64, prices in prop::collection::vec(1.0..9.0f64, 7), kind in 0usize..31,
    ) {
        let ropes = bench_ropes();
        let line = request(LineKind::ALL[kind], steady);
        let choice = choose(&line, &offers(&ropes, &prices)).unwrap();
        let made = make_up(&line, &ropes).unwrap();
        let first = &choice.candidates[0];
        prop_assert_eq!(&first.rope.name, &made.rope.name);
        let standing = |one: &Candidate| one.outcome.max(Outcome::NotAssessed);
        let best = choice.candidates.iter().map(standing).min().unwrap();
        for one in &choice.candidates {
            let beaten = choice.candidates.iter().any(|other| {
                let figures = |c: &Candidate| [-c.strength_ratio, c.mass.si(), c.stretch.unwrap_or(f64::NAN), c.price.unwrap()];
                let (a, b) = (figures(other), figures(one));
                standing(other) == best && a.iter().zip(b).all(|(a, b)| *a <= b) && a.iter().zip(b).any(|(a, b)| *a < b)
            });
            let marked = best != Outcome::Fail && standing(one) == best && !beaten;
            prop_assert_eq!(one.undominated, marked, "{}", one.rope.name);
        }
    }
}

fn covered() -> Rope {
    let mut rope = generic("10 mm double braid HMPE core 7 mm").unwrap();
    rope.linear_density = units::LinearDensity::of_g_per_m(74.0);
    rope.core_linear_density = Some(units::LinearDensity::of_g_per_m(28.4));
    rope
}

#[test]
fn a_line_may_be_bare_until_the_first_jaws_over_the_whole_travel() {
    let lead = masthead(0.4);
    let over = rig::travel(&lead).unwrap();
    let line = LineRequest { lead: Some(&lead), travel: Some(&over), ..request(LineKind::MainHalyard, 4.0) };
    let met = travel(&line);
    let jaws = met.iter().find(|met| met.touch == Touch::Jaws).unwrap();
    // Second road: the path from the hoisted head over masthead and foot to the clutch.
    let hauled = &over.hauled;
    assert!((jaws.from - hauled.length).abs().to_mm() < 1e-6, "{} {}", jaws.from, hauled.length);
    let Strippable::Run { from, to, .. } = strippable(&line, &met, Length::of_m(1.0)) else { panic!("a run is left") };
    assert_eq!(from, Length::ZERO);
    assert!(to < jaws.from && to > jaws.from - Length::of_m(1.0), "{to}");
    // The bare run that is allowed is never complained of; one to the jaws is.
    let zone = |to| [Zone { name: "the stripped run", from, to, bare: true }];
    assert!(zones_on_lead(&zone(to), LineKind::MainHalyard, &over).is_empty());
    assert!(!zones_on_lead(&zone(jaws.from + Length::of_mm(1.0)), LineKind::MainHalyard, &over).is_empty());
    // Without a lead nothing is guessed; with no room nothing is stripped.
    let blind = request(LineKind::MainHalyard, 4.0);
    assert!(matches!(strippable(&blind, &travel(&blind), Length::of_m(1.0)), Strippable::Unknown(_)));
    assert!(matches!(strippable(&line, &met, Length::of_m(500.0)), Strippable::None(_)));
}

#[test]
fn chafe_keeps_its_cover_and_asks_for_a_sleeve() {
    let rope = covered();
    let line = request(LineKind::Guy, 3.0);
    let met = travel(&line);
    assert!(met.iter().any(|met| met.touch == Touch::Chafe && met.touch.keeps_cover()));
    let sleeve = additions(&line, &rope, &met).into_iter().find(|one| one.added == Added::Sleeve).unwrap();
    assert!(sleeve.thickness > rope.diameter && sleeve.mass.to_g() > 0.0);
    // What is thicker than a place on the lead is said.
    let narrow = LineRequest { fits: vec![Fit::up_to("sheave", Length::of_mm(11.0))], ..line };
    let sleeve = additions(&narrow, &rope, &met).into_iter().find(|one| one.added == Added::Sleeve).unwrap();
    assert_eq!(sleeve.findings.len(), 1);
    // A place that the sleeve never reaches is no objection.
    let mut far = met.clone();
    far.push(Met { touch: Touch::Sheave, place: "sheave".to_owned(), from: Length::of_m(6.0), to: Length::of_m(9.0) });
    let sleeve = additions(&narrow, &rope, &far).into_iter().find(|one| one.added == Added::Sleeve).unwrap();
    assert!(sleeve.findings.is_empty());
    let filled =
        filled_core(&narrow, &rope, ("clutch", (Length::of_m(8.0), Length::of_m(12.0))), Length::of_mm(11.0)).unwrap();
    assert!(filled.findings.is_empty() && filled.thickness == Length::of_mm(11.0));
    assert!(
        filled_core(&narrow, &rope, ("clutch", (Length::of_m(8.0), Length::of_m(12.0))), Length::of_mm(9.0)).is_none()
    );
}

#[test]
fn a_weighed_metre_replaces_the_range_of_wet_masses() {
    let mut rope = covered();
    let range = per_metre(&rope).unwrap().covered_wet;
    assert!(range.low < range.high);
    rope.wet_linear_density = Some(units::LinearDensity::of_g_per_m(91.0));
    let weighed = per_metre(&rope).unwrap().covered_wet;
    assert_eq!((weighed.low.to_g_per_m().round(), weighed.high.to_g_per_m().round()), (91.0, 91.0));
    rope.core_linear_density = None;
    assert!(per_metre(&rope).is_none(), "an unweighed core is not guessed");
}

#[test]
fn rope_inside_the_mast_helps_and_friction_does_not() {
    let lift = Hoist {
        sail: units::Mass::of_kg(21.0),
        height: Length::of_m(12.0),
        to_sheave: Length::of_m(12.5),
        parts: 1,
        friction: 1.0,
        bare: Length::ZERO,
        power_w: 100.0,
    };
    let dense = units::LinearDensity::of_g_per_m(100.0);
    let rope = hoist(&lift, dense, dense);
    let none = hoist(&lift, units::LinearDensity::of_g_per_m(0.0), units::LinearDensity::of_g_per_m(0.0));
    assert!(rope.work_j < none.work_j);
    let rubbing = hoist(&Hoist { friction: 1.2, ..lift }, dense, dense);
    assert!(rubbing.work_j > rope.work_j && rubbing.time > rope.time);
    let purchase = hoist(&Hoist { parts: 2, ..lift }, dense, dense);
    assert!((purchase.largest / rope.largest - 0.5).abs() < 1e-9 && (purchase.work_j / rope.work_j - 1.0).abs() < 1e-9);
}

proptest! {
    /// Stripping never adds mass or clew load, wet is never lighter than dry,
    /// and the clew's load goes with the mass of the sheet.
    #[test]
    fn bare_is_lighter_and_wet_is_heavier(
        bare in 0.1..20.0f64, span in 0.5..9.0f64, height in -1.0..3.0f64, slack in 0.01..0.5f64,
    ) {
        let each = per_metre(&covered()).unwrap();
        let masses = weights(&each, Length::of_m(30.0), Length::of_m(bare));
        prop_assert!(masses.stripped_dry.low < masses.covered_dry.low);
        prop_assert!(masses.stripped_wet.high < masses.covered_wet.high && masses.stripped_wet.low < masses.covered_wet.low);
        prop_assert!(masses.covered_wet.low >= masses.covered_dry.low && masses.covered_wet.high > masses.covered_wet.low);
        let cover = each.covered_dry.low - each.bare_dry.low;
        let saved = masses.covered_dry.low - masses.stripped_dry.low;
        prop_assert!((saved - cover * Length::of_m(bare)).abs().to_g() < 1e-9);
        let sheet = SlackSheet {
            span: Length::of_m(span), clew_height: Length::of_m(height), slack,
            area: units::Area::of_m2(30.0), bare: Length::of_m(bare),
        };
        let load = clew_load(&sheet, &each).unwrap();
        let on = clew_load(&SlackSheet { bare: Length::ZERO, ..sheet }, &each).unwrap();
        prop_assert_eq!(on.covered_dry, on.stripped_dry);
        prop_assert!(load.stripped_dry.abs() <= load.covered_dry.abs());
        let (wet, dry) = (load.covered_wet.high / load.covered_dry, each.covered_wet.high / each.covered_dry.low);
        prop_assert!((wet - dry).abs() < 1e-6);
        if load.covered_dry > Force::ZERO {
            // Wind goes with the root of the load.
            let ratio = load.lift_covered_wet.high / load.lift_covered_dry;
            prop_assert!((ratio * ratio - wet).abs() < 1e-6);
        }
    }

    /// A choice's score is what its rules add up to, whatever their order.
    #[test]
    fn rules_add_up(weights in prop::collection::vec(0.1..5.0f64, 1..8), facts in prop::collection::vec(0.0..2.0f64, 8)) {
        let all = [Fact::Always, Fact::Racing, Fact::Clutch, Fact::Drum, Fact::Hand, Fact::Stands, Fact::Fairleads, Fact::Permanent];
        let own: Facts = all.into_iter().zip(facts).collect();
        let rules: Vec<Rule> = weights.iter().enumerate().map(|(index, weight)| Rule {
            name: format!("rule {index}"), when: all[index], at_least: 1.0,
            speaks_for: vec!["keep".to_owned()], speaks_against: vec!["strip".to_owned()],
            weight: *weight, reason: "tried".to_owned(),
        }).collect();
        let speaking: f64 = rules.iter().filter(|rule| own[&rule.when] >= 1.0).map(|rule| rule.weight).sum();
        let weighed = weigh(&rules, &own, &["strip", "keep"]);
        let score = |choice: &str| weighed.iter().find(|one| one.choice == choice).unwrap().score;
        prop_assert!((score("keep") - speaking).abs() < 1e-9 && (score("strip") + speaking).abs() < 1e-9);
        let backwards: Vec<Rule> = rules.iter().rev().cloned().collect();
        let again = weigh(&backwards, &own, &["strip", "keep"]);
        prop_assert!((again[0].score - weighed[0].score).abs() < 1e-9);
    }
}
