//! Sheets through the public interface: the bytes of the files.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

mod sample;

use sheets::{BenchCard, Day, Paper, SheetError, bench_card, bench_card_set, bench_cards, cut_plan, line_table};

fn position(file: &[u8], word: &[u8]) -> Option<usize> {
    file.windows(word.len()).rposition(|window| window == word)
}

fn check_file(file: &[u8]) {
    assert!(file.starts_with(b"%PDF-1.7"));
    assert!(position(file, b"/PrintScaling/None").is_some(), "printers may scale it");
    assert!(position(file, b"/StructTreeRoot").is_some(), "it is not tagged");
    assert!(position(file, b"<pdfaid:part>2</pdfaid:part>").is_some(), "it is no PDF/A-2");
    assert!(position(file, b"/CreationDate(D:20261125").is_some(), "it is not dated the day it was given");
    let start = position(file, b"startxref\n").unwrap() + 10;
    let digits: String =
        file[start..].iter().take_while(|byte| byte.is_ascii_digit()).map(|byte| *byte as char).collect();
    let table: usize = digits.parse().unwrap();
    assert!(file[table..].starts_with(b"xref"), "the cross-reference table is not where the file says");
    // The catalogue's own entry must still point at it.
    let catalogue = position(&file[..table], b" 0 obj").unwrap();
    let number = file[..catalogue].iter().rposition(|byte| *byte == b'\n').unwrap() + 1;
    let entry = format!("{number:010} 00000 n");
    assert!(position(&file[table..], entry.as_bytes()).is_some(), "no entry for the catalogue at {number}");
}

#[test]
fn files_are_tagged_pdf_a_that_printers_do_not_scale() {
    for paper in [Paper::A4, Paper::Letter] {
        check_file(&bench_card(&sample::long_bury(), paper).unwrap());
        check_file(&bench_card(&sample::stopped(), paper).unwrap());
        check_file(&bench_card(&sample::nasty(), paper).unwrap());
        check_file(&cut_plan(&sample::plan(), paper).unwrap());
        check_file(&line_table(&sample::lines(), paper).unwrap());
    }
}

#[test]
fn the_same_facts_give_the_same_bytes() {
    let cards = [sample::long_bury(), sample::two_ends()];
    assert_eq!(bench_cards(&cards, Paper::A4), bench_cards(&cards, Paper::A4));
    assert_eq!(cut_plan(&sample::plan(), Paper::Letter), cut_plan(&sample::plan(), Paper::Letter));
    assert_ne!(bench_card(&cards[0], Paper::A4), bench_card(&cards[0], Paper::Letter));
}

#[test]
fn a_set_is_all_cards_and_each_card() {
    let cards = [sample::long_bury(), sample::stopped(), sample::two_ends()];
    let set = bench_card_set(&cards, Paper::A4).unwrap();
    assert_eq!(set.all, bench_cards(&cards, Paper::A4).unwrap());
    assert_eq!(set.each.len(), cards.len());
    let count = |file: &[u8]| file.windows(11).filter(|window| window == b"/Type/Page/").count();
    for (file, card) in set.each.iter().zip(&cards) {
        check_file(file);
        assert_eq!(count(file), count(&bench_card(card, Paper::A4).unwrap()));
    }
    assert_eq!(set.each.iter().map(|file| count(file)).sum::<usize>(), count(&set.all));
    assert!(count(&set.each[0]) > 1);
}

#[test]
fn equal_cards_side_by_side_are_tagged_as_fully_as_one() {
    let card = sample::two_ends();
    let one = bench_card(&card, Paper::A4).unwrap();
    let set = bench_card_set(&[card.clone(), card.clone(), card], Paper::A4).unwrap();
    assert!(set.each.iter().all(|file| *file == one), "the place among others changes a card");
    let tags = |file: &[u8]| file.windows(16).filter(|window| window == b"/Type/StructElem").count();
    assert!(tags(&one) > 100, "{} tags", tags(&one));
    // The document itself is one tag whatever is in it.
    assert_eq!(tags(&set.all) - 1, 3 * (tags(&one) - 1));
}

#[test]
fn what_cannot_be_printed_is_refused() {
    let card = sample::long_bury();
    assert_eq!(bench_cards(&[], Paper::A4), Err(SheetError::Empty));
    let long = BenchCard { code: "x".repeat(1001), ..card.clone() };
    assert_eq!(bench_card(&long, Paper::A4), Err(SheetError::CodeTooLong { bytes: 1001 }));
    let never = Day { year: 2026, month: 2, day: 30 };
    let dated = BenchCard { day: never, ..card.clone() };
    assert_eq!(bench_card(&dated, Paper::A4), Err(SheetError::NoSuchDay { year: 2026, month: 2, day: 30 }));
    let mut broken = card;
    broken.ends[0].layout.rope_diameter_mm = 0.0;
    assert!(matches!(bench_card(&broken, Paper::A4), Err(SheetError::Drawing(_))));
}
