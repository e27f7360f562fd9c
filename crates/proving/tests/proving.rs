//! Grades of proof loads; sampling and acceptance at their edges.

use proving::*;
use sources::{Grade, worst};
use units::Force;

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
