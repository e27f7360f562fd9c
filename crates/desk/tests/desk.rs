//! Words that two rooms share, and files that are saved whole.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

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
