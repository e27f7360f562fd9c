//! Grades of proof loads; sampling and acceptance at their edges.

use proving::*;
use sources::{Grade, worst};
use units::{Duration, Force, Length};

#[test]
fn proof_loads_are_graded_at_half_and_three_quarters() {
    let grade = |kn| worst(&proof_load(Force::of_kn(kn), Force::of_kn(100.0)).findings);
    assert_eq!(grade(50.0), None);
    assert_eq!(grade(50.1), Some(Grade::Caution));
    assert_eq!(grade(75.0), Some(Grade::Caution));
    assert_eq!(grade(75.1), Some(Grade::Stop));
}

#[test]
fn acceptance_turns_at_its_limits() {
    let specified = Force::of_kn(100.0);
    let verdict = |kn, at| accept_unspliced(specified, Force::of_kn(kn), at);
    assert_eq!(verdict(100.0, BreakAt::BetweenMarks), Verdict::Accepted);
    assert_eq!(verdict(99.9, BreakAt::BetweenMarks), Verdict::Refused);
    assert_eq!(verdict(90.0, BreakAt::OutsideMarks), Verdict::Accepted);
    assert_eq!(verdict(89.0, BreakAt::OutsideMarks), Verdict::Refused);
    assert_eq!(sample_size(0), 1);
}

#[test]
fn a_plan_is_a_load_held_so_often() {
    let wish = ProofWish { load: ProofAt::Share(0.4), hold: Duration::of_minutes(2.0), cycles: 3 };
    let plan = proof_plan(wish, Force::of_kn(50.0), Length::of_mm(10.0)).unwrap();
    assert_eq!(
        (plan.proof.load, plan.reference),
        (Force::of_kn(20.0), cordage::reference_tension(Length::of_mm(10.0)))
    );
    assert!(plan.proof.findings.is_empty());
    let over = ProofWish { load: ProofAt::OverWorking { times: 2.0, working: Force::of_kn(19.0) }, ..wish };
    let hard = proof_plan(over, Force::of_kn(50.0), Length::of_mm(10.0)).unwrap();
    assert_eq!(worst(&hard.proof.findings), Some(Grade::Stop));
    let refused = |wish: ProofWish, kn| proof_plan(wish, Force::of_kn(kn), Length::of_mm(10.0)).is_err();
    assert!(refused(wish, 0.0) && refused(ProofWish { cycles: 0, ..wish }, 50.0));
    assert!(refused(ProofWish { load: ProofAt::Load(Force::ZERO), ..wish }, 50.0));
    assert!(refused(ProofWish { hold: Duration::of_hours(25.0), ..wish }, 50.0));
}

#[test]
fn only_running_rigging_gets_a_certificate_and_the_others_are_told_who_gives_one() {
    for purpose in Purpose::ALL {
        match certificate_refused(purpose) {
            None => assert_eq!(purpose, Purpose::Running),
            Some(finding) => {
                let remedy = finding.remedy.unwrap().show(units::System::Metric);
                assert!(finding.grade == Grade::Stop && remedy.starts_with("ask the "), "{remedy}");
            }
        }
        assert_eq!(Purpose::from_word(purpose.word()), Some(purpose));
    }
}
