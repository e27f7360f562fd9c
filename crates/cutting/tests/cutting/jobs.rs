//! Jobs for the tests, by hand and by chance.

use cutting::{Job, Piece, Plan, Reel, Rules, Settings, check, plan};
use units::Millimetres;

/// Millimetres.
pub fn mm(count: i64) -> Millimetres {
    Millimetres::new(count)
}

/// A job of one rope: lengths wanted, reels by length, and what is kept.
pub fn job(pieces: &[i64], reels: &[(i64, u32)], smallest: i64) -> Job {
    Job {
        pieces: pieces
            .iter()
            .enumerate()
            .map(|(at, &length)| Piece::new(format!("p{at}"), "rope", mm(length)))
            .collect(),
        reels: reels
            .iter()
            .enumerate()
            .map(|(at, &(length, count))| Reel { count, ..Reel::new(format!("r{at}"), "rope", mm(length)) })
            .collect(),
        rules: Rules::keeping(mm(smallest)),
    }
}

/// The plan of a job, checked.
pub fn checked(job: &Job) -> Plan {
    let plan = plan(job, &Settings::default()).unwrap();
    assert_eq!(check(job, &plan), Ok(()), "{job:#?}\n{plan:#?}");
    plan
}
