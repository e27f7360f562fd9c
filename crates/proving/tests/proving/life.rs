//! Events in any order: what must hold of every life that they make.

use jiff::ToSpan;
use jiff::civil::{Date, date};
use proptest::prelude::*;
use proving::*;

const START: Date = date(2026, 3, 1);

fn reason() -> impl Strategy<Value = Option<String>> {
    prop_oneof![Just(None), Just(Some("  ".to_owned())), Just(Some("seen and sound".to_owned()))]
}

fn day() -> impl Strategy<Value = Date> {
    (0i32..2000).prop_map(|days| START.checked_add(days.days()).unwrap())
}

fn event() -> impl Strategy<Value = Event> {
    prop_oneof![
        Just(Event::PutInService),
        (0.0..500.0).prop_map(|hours| Event::Used { hours }),
        (0usize..4, proptest::option::of(day()), reason()).prop_map(|(condition, next, reason)| Event::Inspected {
            condition: Condition::ALL[condition],
            next,
            reason,
        }),
        (day(), reason()).prop_map(|(next, reason)| Event::Replanned { next, reason }),
        Just(Event::Turned),
        Just(Event::Shortened),
        Just(Event::Respliced),
        Just(Event::Proved),
        Just(Event::Issued),
        reason().prop_map(|reason| Event::Retired { reason: reason.unwrap_or_default() }),
        Just(Event::BrokenForTest),
    ]
}

fn has_reason(event: &Event) -> bool {
    let (Event::Inspected { reason, .. } | Event::Replanned { reason, .. }) = event else { return false };
    reason.as_deref().is_some_and(|reason| !reason.trim().is_empty())
}

proptest! {
    #[test]
    fn no_date_moves_later_without_a_reason(events in prop::collection::vec((0i32..60, event()), 1..40)) {
        let mut life = Life::new(START, Interval { months: 12, hours: Some(200.0) });
        let mut on = START;
        for (days, event) in events {
            on = on.checked_add(days.days()).unwrap();
            let Ok(next) = life.after(on, &event) else { continue };
            if let (Some(from), Some(to)) = (life.due, next.due) {
                prop_assert!(to <= from || has_reason(&event), "{event:?} moved {from} to {to}");
            }
            prop_assert!(next.hours >= life.hours && next.latest >= life.latest);
            life = next;
        }
    }

    #[test]
    fn what_is_retired_stays_out_of_use(events in prop::collection::vec((0i32..60, event()), 1..60)) {
        let mut life = Life::new(START, Interval::SEASON);
        let mut on = START;
        let mut out = false;
        for (days, event) in events {
            on = on.checked_add(days.days()).unwrap();
            let next = life.after(on, &event);
            if out {
                prop_assert!(next.is_err() || event == Event::BrokenForTest, "{event:?} after {:?}", life.state);
            }
            if let Ok(next) = next {
                life = next;
            }
            out = matches!(life.state, State::Retired | State::Broken);
            prop_assert!(!out || due_list([&life], on, date(2100, 1, 1)).is_empty());
        }
    }
}

#[test]
fn a_withdrawn_piece_comes_back_only_mended_and_looked_at() {
    let at = |month| date(2027, month, 1);
    let seen = |condition| Event::Inspected { condition, next: None, reason: Some("yearly look".to_owned()) };
    let life = Life::new(START, Interval::SEASON).after(START, &Event::PutInService).unwrap();
    let off = life.after(at(2), &seen(Condition::Withdraw)).unwrap();
    assert_eq!(off.state, State::Withdrawn);
    assert!(off.after(at(2), &Event::PutInService).is_err(), "nobody has looked again");
    let spliced = off.after(at(3), &Event::Respliced).unwrap();
    assert!(spliced.after(at(3), &Event::PutInService).is_err());
    let back = spliced.after(at(3), &seen(Condition::Good)).unwrap().after(at(3), &Event::PutInService).unwrap();
    assert_eq!((back.state, back.due), (State::InService, Some(date(2028, 3, 1))));
}

#[test]
fn what_is_watched_is_looked_at_in_half_the_time() {
    let interval = Interval { months: 12, hours: Some(300.0) };
    let life = Life::new(START, interval).after(START, &Event::PutInService).unwrap();
    let used = life.after(date(2026, 8, 1), &Event::Used { hours: 120.0 }).unwrap();
    let watch = Event::Inspected { condition: Condition::Watch, next: None, reason: None };
    let watched = used.after(date(2026, 8, 1), &watch).unwrap();
    assert_eq!((watched.due, watched.due_hours), (Some(date(2027, 2, 1)), Some(270.0)));
    let more = watched.after(date(2026, 9, 1), &Event::Used { hours: 150.0 }).unwrap();
    assert_eq!(due_list([&more], date(2026, 9, 2), date(2026, 9, 2))[0].why, Due::Hours);
    let good = Event::Inspected { condition: Condition::Good, next: None, reason: None };
    let late = used.after(date(2026, 8, 1), &good);
    assert!(matches!(late, Err(LifeError::LaterWithoutReason { .. })), "a good look needs its reason too: {late:?}");
}

#[test]
fn the_due_list_is_in_order_of_date_with_withdrawn_ones_first() {
    let made = |day: Date| Life::new(day, Interval::SEASON).after(day, &Event::PutInService).unwrap();
    let withdrawn = Event::Inspected { condition: Condition::Withdraw, next: None, reason: None };
    let lives = [
        made(date(2026, 5, 1)),
        made(date(2025, 5, 1)),
        made(date(2026, 4, 1)),
        made(date(2026, 6, 1)).after(date(2026, 7, 1), &withdrawn).unwrap(),
        Life::new(date(2020, 1, 1), Interval::SEASON),
    ];
    let rows = due_list(&lives, date(2026, 6, 1), date(2027, 4, 30));
    let got: Vec<_> = rows.iter().map(|row| (row.index, row.why)).collect();
    assert_eq!(got, [(3, Due::Withdrawn), (1, Due::Overdue), (2, Due::Coming)]);
}
