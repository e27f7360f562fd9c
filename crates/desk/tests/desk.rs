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
