//! Words that two rooms share, and files that are saved whole.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on fails")]

#[path = "desk/loads.rs"]
mod loads;

#[test]
fn the_file_and_the_core_have_the_same_words() {
    let ends: Vec<&str> = splice::EndKind::ALL.iter().map(|kind| kind.word()).collect();
    let written: Vec<&str> = files::EndKind::WORDS.to_vec();
    assert!(written.iter().all(|word| ends.contains(word)), "{written:?} {ends:?}");
    assert!(ends.iter().all(|word| written.contains(word)), "{ends:?} {written:?}");
    for word in files::LineKind::WORDS {
        assert!(rig::LineKind::from_word(word).is_some(), "{word}");
    }
    assert_eq!(files::LineKind::WORDS.len(), rig::LineKind::ALL.len());
    for word in files::FibreWord::WORDS {
        assert!(cordage::Fibre::from_word(word).is_some(), "{word}");
    }
    for word in files::ConstructionWord::WORDS {
        assert!(cordage::Construction::from_word(word).is_some(), "{word}");
    }
}

#[test]
fn a_folder_that_cannot_be_written_leaves_the_old_file() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("card.pdf");
    desk::save(&file, b"old").unwrap();
    desk::save(&file, b"new").unwrap();
    assert_eq!(std::fs::read(&file).unwrap(), b"new");
    // A file where a folder should be.
    let below = file.join("card.pdf");
    let refusal = desk::save(&below, b"newer").unwrap_err();
    assert_eq!(refusal.fault, desk::Fault::Disk);
    assert_eq!(std::fs::read(&file).unwrap(), b"new");
}

#[test]
fn a_held_text_answers_as_its_file_does() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/dinghy/");
    let read = |name: &str| std::fs::read(format!("{folder}{name}")).unwrap();
    let file = desk::LinesRequest {
        order: std::path::PathBuf::from(format!("{folder}order.toml")).into(),
        ..desk::LinesRequest::default()
    };
    let held = desk::LinesRequest {
        order: desk::Text::held("the order", read("order.toml")),
        ropes: Some(desk::Text::held("the rope list", read("ropes.csv"))),
        ..desk::LinesRequest::default()
    };
    let (file, held) = (desk::lines(&file).unwrap(), desk::lines(&held).unwrap());
    assert_eq!(format!("{:?}", file.lines), format!("{:?}", held.lines));
    assert_eq!(held.rope_list.as_deref(), Some("the rope list"));
    let broken =
        desk::LinesRequest { order: desk::Text::held("the order", "becket = 1\nodd = 2\n"), ..Default::default() };
    let refusal = desk::lines(&broken).unwrap_err();
    let places: Vec<_> = refusal.mistakes.iter().filter_map(|mistake| mistake.place.as_ref()).collect();
    assert!(places.iter().any(|place| place.file == "the order" && (place.line, place.column) == (2, 1)), "{places:?}");
}

fn swept(table: &str) -> (Vec<Vec<String>>, desk::BoatsCount) {
    let (mut out, mut told) = (Vec::new(), Vec::new());
    let count = desk::boats(&mut table.as_bytes(), &mut out, &mut |count| told.push(count)).unwrap();
    assert_eq!(told.last(), Some(&count));
    let text = String::from_utf8(out).unwrap();
    assert!(text.starts_with(desk::BOATS_HEADER));
    (text.lines().skip(1).map(|line| line.split(',').map(str::to_owned).collect()).collect(), count)
}

#[test]
fn many_boats_are_answered_in_the_order_of_their_rows() {
    let mut table = "name,hull,rig,loa,displacement\n".to_owned();
    for boat in 0..300 {
        let rig = ["gaff", "ketch", "cat"][boat % 3];
        table.push_str(&format!("boat {boat},monohull,{rig},9 m,3500 kg\n"));
    }
    let (rows, count) = swept(&table);
    assert_eq!((count.answered, count.refused), (300, 0));
    let numbers: Vec<usize> = rows.iter().map(|row| row[0].parse().unwrap()).collect();
    assert!(numbers.is_sorted() && numbers.first() == Some(&2) && numbers.last() == Some(&301));
    for row in &rows {
        let (steady, peak): (f64, f64) = (row[4].parse().unwrap(), row[5].parse().unwrap());
        assert!(steady > 0.0 && peak > steady && row[15].is_empty(), "{row:?}");
        assert_eq!(row.len(), desk::BOATS_HEADER.split(',').count());
        // Her righting moment is estimated: its band reaches the lines that the weather loads.
        if !row[8].is_empty() {
            let (low, high): (f64, f64) = (row[8].parse().unwrap(), row[9].parse().unwrap());
            assert!(low <= steady && steady <= high, "{row:?}");
        }
    }
    let kinds =
        |number: &str| rows.iter().filter(|row| row[0] == number).map(|row| row[2].as_str()).collect::<Vec<_>>();
    assert!(kinds("2").contains(&"peak-halyard") && !kinds("2").contains(&"main-halyard"));
    assert_eq!(kinds("3").iter().filter(|kind| **kind == "main-halyard").count(), 2, "a ketch has two");
    assert!(!kinds("4").contains(&"jib-sheet"), "a cat has no headsail");
}

#[test]
fn a_boat_with_a_mistake_is_told_by_her_row_and_the_rest_goes_on() {
    let table = "name,hull,rig,loa,BAS,lwl\n\
        good,monohull,cat,9 m,1 m,8 m\n\
        bad,monohull,cat,9,1 m,8 m\n\
        long,monohull,cat,9 m,1 m,11 m\n\
        short\n\
        last,monohull,cat,9 m,1 m,8 m\n";
    let (rows, count) = swept(table);
    assert_eq!((count.answered, count.refused), (2, 3));
    let said = |number: &str| rows.iter().find(|row| row[0] == number).unwrap()[15..].join(",");
    assert!(said("2").is_empty() && said("6").is_empty());
    assert!(said("3").contains("unit"), "{}", said("3"));
    assert!(said("4").contains("LOA is 9"), "{}", said("4"));
    assert!(said("5").contains("cells"), "{}", said("5"));
}
