//! Sources, working and findings as they print.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

use sources::*;
use units::{Length, Sentence, System};

#[test]
fn every_source_has_an_id_of_its_own() {
    let mut ids: Vec<_> = registry().iter().map(|source| source.id).collect();
    ids.sort_unstable();
    let all = ids.len();
    ids.dedup();
    assert_eq!(ids.len(), all);
}

#[test]
fn a_number_is_not_given_outside_its_range() {
    let number = Sourced::within(1.5, HAZEN_1980.at("CL of the jib"), 27.0..=180.0);
    assert_eq!(number.get_for(27.0), Ok(1.5));
    assert_eq!(number.get(), None);
    let refusal = number.get_for(20.0).unwrap_err();
    assert!(refusal.to_string().starts_with("20 is outside 27 to 180"));
}

#[test]
fn trust_is_that_of_the_weakest_step() {
    let exact = Step::new("fid", "21 d", Length::of_mm(126.0), EXACT.at(""));
    let practice = Step::new("bury", "72 d", Length::of_mm(432.0), COMMON_PRACTICE.at(""));
    assert_eq!(Step::trust(&[exact.clone(), practice]), Some(Kind::CommonPractice));
    assert_eq!(Step::trust(&[exact]), Some(Kind::Exact));
    assert_eq!(Step::trust(&[]), None);
}

#[test]
fn a_finding_says_what_and_what_to_do() {
    let finding = Finding::new(
        Grade::Stop,
        "short-bury",
        Sentence::new("the bury of {} does not hold").with(Length::of_mm(300.0)),
        OURS.at("grip margin"),
    )
    .remedy(Sentence::new("bury {} or more").with(Length::of_mm(720.0)));
    assert_eq!(finding.show(System::Metric), "stop: the bury of 300 mm does not hold; bury 720 mm or more");
    assert_eq!(worst(&[finding]), Some(Grade::Stop));
}
