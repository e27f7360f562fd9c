//! The example files: the good ones without a problem, the broken one with all of its.

use files::{Source, read_order, read_rack, read_ropes, render};
use std::collections::HashSet;

fn example(name: &str) -> Vec<u8> {
    let path = format!("{}/../../examples/{name}", env!("CARGO_MANIFEST_DIR"));
    std::fs::read(path).expect("the example is there")
}

#[test]
fn the_sloop_is_read_whole() {
    let order = read_order(&example("sloop/order.toml")).complete().expect("no problem");
    let kinds: HashSet<_> = order.line.iter().map(|line| line.value.kind.value).collect();
    let pieces: u32 = order.line.iter().map(|line| line.value.count.value).sum();
    assert!(
        order.line.len() >= 26 && kinds.len() >= 12 && pieces >= 40,
        "{} {} {pieces}",
        order.line.len(),
        kinds.len()
    );
    let ropes = read_ropes(&example("sloop/ropes.csv")).complete().expect("no problem");
    let used: HashSet<_> = order.line.iter().filter_map(|line| Some(line.value.rope.as_ref()?.value.clone())).collect();
    let built: HashSet<_> = ropes
        .iter()
        .filter(|rope| used.contains(&rope.value.name.value))
        .map(|rope| rope.value.construction.value)
        .collect();
    assert_eq!(built.len(), 5);
    assert!(used.iter().all(|name| ropes.iter().any(|rope| rope.value.name.value == *name)));
}

#[test]
fn the_racks_hold_ropes_of_their_lists() {
    for boat in ["sloop", "dinghy"] {
        let reels = read_rack(&example(&format!("{boat}/rack.csv"))).complete().expect("no problem");
        let ropes = read_ropes(&example(&format!("{boat}/ropes.csv"))).complete().expect("no problem");
        for reel in &reels {
            assert!(ropes.iter().any(|rope| rope.value.name.value == reel.value.rope.value), "{:?}", reel.value.rope);
        }
        let order = read_order(&example(&format!("{boat}/order.toml"))).complete().expect("no problem");
        for rope in order.line.iter().filter_map(|line| line.value.rope.as_ref()) {
            assert!(reels.iter().any(|reel| reel.value.rope.value == rope.value), "{rope:?}");
        }
    }
}

#[test]
fn the_dinghy_is_in_feet_and_inches() {
    let order = read_order(&example("dinghy/order.toml")).complete().expect("no problem");
    assert_eq!(order.line.len(), 8);
    assert!((order.boat.value.loa.value.to_inches() - 170.0).abs() < 1e-9);
}

#[test]
fn the_broken_order_shows_every_mistake_at_its_place() {
    let bytes = example("broken/order.toml");
    let text = String::from_utf8(bytes.clone()).expect("text");
    let found = super::problems(&text);
    let expected = [
        (6, 8, "not-a-day"),
        (10, 8, "no-quotes"),
        (11, 7, "unknown-word"),
        (12, 7, "no-unit"),
        (13, 7, "no-unit"),
        (14, 8, "comma"),
        (15, 1, "unknown-key"),
        (16, 11, "wrong-unit"),
        (17, 5, "out-of-range"),
        (19, 1, "duplicate-key"),
        (23, 13, "no-unit"),
        (27, 15, "syntax"),
        (31, 8, "unknown-word"),
        (32, 49, "no-size"),
        (37, 15, "missing-key"),
        (40, 8, "duplicate-name"),
        (43, 9, "contradiction"),
        (48, 22, "wrong-count"),
    ];
    assert_eq!(found, expected);
    let problems = read_order(&bytes).problems;
    let shown = render(&Source::new("order.toml", &bytes), &problems);
    assert!(shown.ends_with("order.toml: 18 problems\n"), "{shown}");
}
