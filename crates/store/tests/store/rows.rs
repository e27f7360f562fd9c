//! Pieces and what is noted at the bench.

use crate::both::{on_both, stamp};
use store::{Error, LARGEST_PHOTO, Mark, Measured, Move, NewPhoto, PhotoKind, Piece, PieceState, Store};

pub fn piece(code: &str) -> Piece {
    Piece {
        code: code.to_owned(),
        order_id: None,
        boat: "Sloop".to_owned(),
        line: "main halyard".to_owned(),
        rope: "10 mm braid".to_owned(),
        colour: String::new(),
        batch: String::new(),
        reel: None,
        plan: None,
        cut_mm: 31_400,
        purpose: "running rigging".to_owned(),
        state: PieceState::Made,
        card: "{}".to_owned(),
        made_on: Some("2026-11-20".to_owned()),
        in_service_on: None,
        next_due: None,
        retired_on: None,
        note: String::new(),
        revision: 0,
        at: String::new(),
        who: String::new(),
    }
}

async fn go(store: &Store, code: &str, to: PieceState) -> Result<Piece, Error> {
    store.move_piece(code, Move { to, on: "2026-11-25", next_due: Some("2027-05-01") }, &stamp("Ada", 9)).await
}

#[test]
fn a_piece_goes_forward_only() {
    on_both(async |store| {
        store.add_piece(&piece("H1"), &stamp("Ada", 1)).await.unwrap();
        assert!(matches!(store.add_piece(&piece("H1"), &stamp("Ada", 2)).await.unwrap_err(), Error::Taken { .. }));
        let used = go(&store, "H1", PieceState::InService).await.unwrap();
        assert_eq!((used.revision, used.next_due.as_deref()), (2, Some("2027-05-01")));
        go(&store, "H1", PieceState::Retired).await.unwrap();
        let refused = go(&store, "H1", PieceState::InService).await.unwrap_err();
        assert_eq!(refused.to_string(), "piece \"H1\" is retired, and cannot be in_service");
        let broken = go(&store, "H1", PieceState::Broken).await.unwrap();
        assert_eq!((broken.retired_on.as_deref(), broken.next_due), (Some("2026-11-25"), None));
        for to in PieceState::ALL {
            assert!(go(&store, "H1", *to).await.is_err(), "a broken piece became {to:?}");
        }
    });
}

#[test]
fn the_due_list_begins_with_the_most_overdue() {
    on_both(async |store| {
        for (code, due) in [("A", "2026-12-01"), ("B", "2026-11-01"), ("C", "2027-01-01"), ("D", "2026-11-01")] {
            store.add_piece(&piece(code), &stamp("Ada", 1)).await.unwrap();
            let step = Move { to: PieceState::InService, on: "2026-01-01", next_due: Some(due) };
            store.move_piece(code, step, &stamp("Ada", 2)).await.unwrap();
        }
        go(&store, "D", PieceState::Retired).await.unwrap();
        let codes: Vec<String> =
            store.due("2026-12-31", 10).await.unwrap().into_iter().map(|piece| piece.code).collect();
        assert_eq!(codes, ["B", "A"]);
        assert!(store.due("soon", 10).await.is_err());
    });
}

#[test]
fn ticks_and_measurements_keep_their_order_when_the_clock_goes_back() {
    on_both(async |store| {
        store.add_piece(&piece("H1"), &stamp("Ada", 1)).await.unwrap();
        store.tick("H1", "taper", Mark::Ticked, &stamp("Ada", 500)).await.unwrap();
        store.tick("H1", "taper", Mark::Unticked, &stamp("Ada", 100)).await.unwrap();
        let marks: Vec<Mark> = store.ticks("H1").await.unwrap().into_iter().map(|tick| tick.mark).collect();
        assert_eq!(marks, [Mark::Ticked, Mark::Unticked]);
        assert!(matches!(
            store.tick("H2", "taper", Mark::Ticked, &stamp("Ada", 1)).await.unwrap_err(),
            Error::Missing { kind: "piece", .. }
        ));
        for (given, millionths, second) in [("31 250 mm", 31_250_000, 900), ("31 248 mm", 31_248_000, 200)] {
            let measured = Measured {
                piece: "H1".to_owned(),
                step: "measure".to_owned(),
                what: "finished length".to_owned(),
                given: given.to_owned(),
                millionths,
                unit: "m".to_owned(),
                wanted_millionths: Some(31_250_000),
                verdict: "within".to_owned(),
                note: String::new(),
            };
            store.measure(&measured, &stamp("Ada", second)).await.unwrap();
        }
        let last = store.as_made("H1").await.unwrap().pop().unwrap();
        assert_eq!((last.given.as_str(), last.millionths), ("31 248 mm", 31_248_000));
        assert_eq!(store.as_made_of_all("finished length").await.unwrap().len(), 2);
    });
}

#[test]
fn photos_are_limited_and_looked_at() {
    on_both(async |store| {
        store.add_piece(&piece("H1"), &stamp("Ada", 1)).await.unwrap();
        let photo = |id: &str, kind, bytes: Vec<u8>| NewPhoto {
            id: id.to_owned(),
            piece: "H1".to_owned(),
            step: "taper".to_owned(),
            kind,
            bytes,
        };
        let picture = vec![0xff, 0xd8, 0xff, 0xe0, 0, 1, 2];
        let kept = store.add_photo(photo("f1", PhotoKind::Jpeg, picture.clone()), &stamp("Ada", 2)).await.unwrap();
        assert_eq!(store.photo("f1").await.unwrap().bytes, picture);
        assert_eq!(store.photos("H1").await.unwrap(), [kept]);
        let other = store.add_photo(photo("f2", PhotoKind::Png, picture), &stamp("Ada", 3)).await.unwrap_err();
        assert_eq!(other.to_string(), "photo is \"bytes that begin otherwise\": allowed is a file of kind image/png");
        let mut large = vec![0; LARGEST_PHOTO + 1];
        large[..3].copy_from_slice(&[0xff, 0xd8, 0xff]);
        assert!(store.add_photo(photo("f3", PhotoKind::Jpeg, large), &stamp("Ada", 4)).await.is_err());
        let told = store.history_of("photo", "f1").await.unwrap().pop().unwrap().after.unwrap();
        assert!(told.contains("sha256") && !told.contains("bytes"), "{told}");
    });
}

#[test]
fn text_with_nul_is_refused_and_other_text_comes_back_as_it_was() {
    on_both(async |store| {
        for (number, name) in
            ["O'Hara; DROP TABLE pieces", "ß 漢字 \u{202e} 👩‍🔧", "=cmd|' /C'!A0", " \t\n"].into_iter().enumerate()
        {
            let mut odd = piece(&format!("P{number}"));
            name.clone_into(&mut odd.note);
            store.add_piece(&odd, &stamp("Ada", 1)).await.unwrap();
            assert_eq!(store.piece(&odd.code).await.unwrap().note, name);
        }
        let mut odd = piece("N");
        odd.note = "a\0b".to_owned();
        assert!(matches!(store.add_piece(&odd, &stamp("Ada", 1)).await.unwrap_err(), Error::Value { .. }));
    });
}
