//! Jobs that are refused, with what is said.

use cutting::{Flaw, Job, Origin, Piece, Reel, Settings, plan};

use crate::jobs::{job, mm};

fn said(job: &Job) -> String {
    plan(job, &Settings::default()).unwrap_err().to_string()
}

fn changed(change: impl Fn(&mut Job)) -> String {
    let mut job = job(&[1_000, 2_000], &[(5_000, 1)], 500);
    change(&mut job);
    said(&job)
}

#[test]
fn each_mistake_is_named() {
    let cases: Vec<(String, &str)> = vec![
        (
            changed(|job| job.pieces[1].length = mm(9_000)),
            "piece \"p1\" needs 9000 mm, the longest sound stretch of \"rope\" is 5000 mm",
        ),
        (changed(|job| job.pieces[0].length = mm(0)), "piece \"p0\" is 0 mm long, a piece must be longer than 0 mm"),
        (changed(|job| job.pieces[0].length = mm(-5)), "piece \"p0\" is -5 mm long, a piece must be longer than 0 mm"),
        (
            changed(|job| job.pieces[0].allowance = mm(-5)),
            "piece \"p0\" has an end allowance of -5 mm, it may not be negative",
        ),
        (changed(|job| job.reels[0].length = mm(0)), "reel \"r0\" is 0 mm long, a reel must be longer than 0 mm"),
        (changed(|job| job.reels[0].count = 0), "reel \"r0\" has a supply of 0, leave it out or give at least 1"),
        (changed(|job| job.rules.loss_per_cut = mm(-1)), "the loss per cut is -1 mm, it may not be negative"),
        (changed(|job| job.rules.trim = mm(-1)), "the trim of a reel's end is -1 mm, it may not be negative"),
        (
            changed(|job| job.reels[0].length = mm(1 << 31)),
            "reel \"r0\" is 2147483648 mm, at most 100000000 mm allowed",
        ),
        (
            changed(|job| job.pieces[0].allowance = mm(i64::MAX)),
            "piece \"p0\" is 9223372036854775807 mm, at most 100000000 mm allowed",
        ),
        (changed(|job| job.pieces[1].id = "p0".to_owned()), "piece \"p0\" is listed twice"),
        (changed(|job| job.reels.push(Reel::new("r0", "other", mm(1)))), "reel \"r0\" is listed twice"),
        (
            changed(|job| job.reels[0].flaws = vec![Flaw { from: mm(10), to: mm(6_000) }]),
            "reel \"r0\" has a flaw from 10 mm to 6000 mm, it must lie within the reel's 5000 mm and end after it begins",
        ),
        (
            changed(|job| job.reels[0].origin = Origin::Supplier { price: -1 }),
            "reel \"r0\" has a price of -1, it may not be negative nor above 1000000000 minor units",
        ),
        (
            changed(|job| {
                job.pieces[0].length = mm(3_500);
                job.pieces.iter_mut().for_each(|piece| piece.same_reel = Some("pair".to_owned()));
            }),
            "set \"pair\" needs 5500 mm from one reel, the longest sound stretch of \"rope\" is 5000 mm",
        ),
        (
            changed(|job| {
                job.pieces[0].rope = "other".to_owned();
                job.pieces.iter_mut().for_each(|piece| piece.same_batch = Some("B".to_owned()));
            }),
            "set \"B\" names pieces of \"other\" and of \"rope\", a set is of one rope",
        ),
    ];
    for (said, expected) in cases {
        assert_eq!(said, expected);
    }
}

#[test]
fn all_mistakes_are_said_at_once() {
    let said = changed(|job| {
        job.pieces[0].length = mm(0);
        job.reels[0].count = 0;
    });
    assert!(said.contains("p0") && said.contains("r0"), "{said}");
}

#[test]
fn ten_million_pieces_are_refused_by_their_number() {
    let mut job = job(&[1], &[(5, 1)], 1);
    job.pieces = vec![Piece::new("", "", mm(1)); 10_000_000];
    assert_eq!(said(&job), "10000000 pieces in one job, at most 100000 allowed");
}
