//! At the bench: steps ticked off, what was measured, photos.
//!
//! Ticks and measurements are only added. A tick that was wrong is unticked
//! by a later line; a measurement is superseded by a later one of the same
//! name. Order is by number, never by time.

use crate::Store;
use crate::cell::Cell;
use crate::checksum;
use crate::error::Error;
use crate::pieces::Piece;
use crate::record::{record, words};
use crate::stamp::Stamp;
use crate::work::Work;

/// The largest photo that is kept, bytes.
pub const LARGEST_PHOTO: usize = 4 * 1024 * 1024;
/// How many photos one piece may have.
pub const MOST_PHOTOS: i64 = 50;

words! {
    /// What was done to a step's box.
    Mark {
        /// Ticked.
        "ticked" => Ticked,
        /// The tick was taken away.
        "unticked" => Unticked,
    }
}

words! {
    /// What a photo's bytes are.
    PhotoKind {
        /// JPEG.
        "image/jpeg" => Jpeg,
        /// PNG.
        "image/png" => Png,
        /// WebP.
        "image/webp" => Webp,
    }
}

record! {
    /// A step ticked off, or the tick taken away.
    Tick "tick" in "ticks" by [seq] {
        /// Its number.
        seq: i64,
        /// The piece.
        piece: String,
        /// The step: its name on the card.
        step: String,
        /// What was done.
        mark: Mark,
        /// When.
        at: String,
        /// Who.
        who: String,
    }
}

record! {
    /// Something measured on a piece as it was made.
    AsMade "measurement" in "as_made" by [seq] {
        /// Its number.
        seq: i64,
        /// The piece.
        piece: String,
        /// At which step.
        step: String,
        /// What was measured: finished length, bury, diameter over the bury …
        what: String,
        /// As it was typed.
        given: String,
        /// Its value in millionths of `unit`: micrometres, micronewtons.
        millionths: i64,
        /// The unit that the millionths are of: m, N, kg, s, K or 1.
        unit: String,
        /// What was wanted, in the same millionths.
        wanted_millionths: Option<i64>,
        /// What was said of it: within, out, or nothing.
        verdict: String,
        /// Anything else.
        note: String,
        /// When.
        at: String,
        /// Who.
        who: String,
    }
}

record! {
    /// A photo of a piece.
    Photo "photo" in "photos" by [id] {
        /// Its name in links.
        id: String,
        /// The piece.
        piece: String,
        /// At which step.
        step: String,
        /// What the bytes are.
        kind: PhotoKind,
        /// The picture.
        #[serde(skip)]
        bytes: Vec<u8>,
        /// Checksum of the bytes, SHA-256 in hexadecimal.
        sha256: String,
        /// When it was taken in.
        at: String,
        /// Who took it.
        who: String,
    }
}

record! {
    /// A photo without its bytes: for lists.
    PhotoFacts "photo" in "photos" by [id] {
        /// Its name in links.
        id: String,
        /// The piece.
        piece: String,
        /// At which step.
        step: String,
        /// What the bytes are.
        kind: PhotoKind,
        /// Checksum of the bytes.
        sha256: String,
        /// When it was taken in.
        at: String,
        /// Who took it.
        who: String,
    }
}

/// A measurement as it comes from the bench.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Measured {
    /// The piece.
    pub piece: String,
    /// At which step.
    pub step: String,
    /// What was measured.
    pub what: String,
    /// As it was typed.
    pub given: String,
    /// Its value in millionths of `unit`.
    pub millionths: i64,
    /// m, N, kg, s, K or 1.
    pub unit: String,
    /// What was wanted, in the same millionths.
    pub wanted_millionths: Option<i64>,
    /// What was said of it.
    pub verdict: String,
    /// Anything else.
    pub note: String,
}

/// A photo as it comes in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewPhoto {
    /// Its name in links.
    pub id: String,
    /// The piece.
    pub piece: String,
    /// At which step.
    pub step: String,
    /// What the bytes are; they are looked at, and must begin as such a file does.
    pub kind: PhotoKind,
    /// The picture, [`LARGEST_PHOTO`] at most.
    pub bytes: Vec<u8>,
}

impl Store {
    /// Ticks a step off, or takes the tick away.
    ///
    /// # Errors
    /// [`Error::Missing`] when there is no such piece.
    pub async fn tick(&self, piece: &str, step: &str, mark: Mark, stamp: &Stamp) -> Result<Tick, Error> {
        let mut work = self.writing().await?;
        check_piece(&mut work, piece).await?;
        let mut tick = Tick {
            seq: 0,
            piece: piece.to_owned(),
            step: step.to_owned(),
            mark,
            at: stamp.at().to_owned(),
            who: stamp.who().to_owned(),
        };
        tick.seq = work.append(&tick).await?;
        work.commit().await?;
        Ok(tick)
    }

    /// Every tick and untick of a piece, in the order they were made.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn ticks(&self, piece: &str) -> Result<Vec<Tick>, Error> {
        self.reading().await?.list("WHERE piece = $1 ORDER BY seq", &[Cell::text(piece)]).await
    }

    /// Keeps a measurement.
    ///
    /// # Errors
    /// [`Error::Missing`] when there is no such piece.
    pub async fn measure(&self, measured: &Measured, stamp: &Stamp) -> Result<AsMade, Error> {
        let mut work = self.writing().await?;
        check_piece(&mut work, &measured.piece).await?;
        let mut row = AsMade {
            seq: 0,
            piece: measured.piece.clone(),
            step: measured.step.clone(),
            what: measured.what.clone(),
            given: measured.given.clone(),
            millionths: measured.millionths,
            unit: measured.unit.clone(),
            wanted_millionths: measured.wanted_millionths,
            verdict: measured.verdict.clone(),
            note: measured.note.clone(),
            at: stamp.at().to_owned(),
            who: stamp.who().to_owned(),
        };
        row.seq = work.append(&row).await?;
        work.commit().await?;
        Ok(row)
    }

    /// Everything measured on a piece, in the order it was measured: of two
    /// of one name the later holds.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn as_made(&self, piece: &str) -> Result<Vec<AsMade>, Error> {
        self.reading().await?.list("WHERE piece = $1 ORDER BY seq", &[Cell::text(piece)]).await
    }

    /// Everything measured under this name on any piece, for learning from.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn as_made_of_all(&self, what: &str) -> Result<Vec<AsMade>, Error> {
        self.reading().await?.list("WHERE what = $1 ORDER BY seq", &[Cell::text(what)]).await
    }

    /// Keeps a photo.
    ///
    /// # Errors
    /// [`Error::Value`] when it is too large, is not what it says, or the
    /// piece has [`MOST_PHOTOS`] already; [`Error::Missing`], [`Error::Taken`].
    pub async fn add_photo(&self, new: NewPhoto, stamp: &Stamp) -> Result<PhotoFacts, Error> {
        check_photo(&new)?;
        let mut work = self.writing().await?;
        check_piece(&mut work, &new.piece).await?;
        let kept: Vec<(i64,)> =
            work.all("SELECT COUNT(*) FROM photos WHERE piece = $1", &[Cell::text(&new.piece)]).await?;
        if kept.first().is_some_and(|(count,)| *count >= MOST_PHOTOS) {
            let allowed = format!("{MOST_PHOTOS} photos of one piece");
            return Err(Error::Value { field: "photo", given: "one more".to_owned(), allowed });
        }
        let photo = Photo {
            id: new.id,
            piece: new.piece,
            step: new.step,
            kind: new.kind,
            sha256: checksum::of_bytes(&new.bytes),
            bytes: new.bytes,
            at: stamp.at().to_owned(),
            who: stamp.who().to_owned(),
        };
        work.insert(stamp, &photo).await?;
        work.commit().await?;
        Ok(PhotoFacts {
            id: photo.id,
            piece: photo.piece,
            step: photo.step,
            kind: photo.kind,
            sha256: photo.sha256,
            at: photo.at,
            who: photo.who,
        })
    }

    /// The photos of a piece, without their bytes.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn photos(&self, piece: &str) -> Result<Vec<PhotoFacts>, Error> {
        self.reading().await?.list("WHERE piece = $1 ORDER BY at, id", &[Cell::text(piece)]).await
    }

    /// One photo.
    ///
    /// # Errors
    /// [`Error::Missing`].
    pub async fn photo(&self, id: &str) -> Result<Photo, Error> {
        let found = self.reading().await?.find(&[Cell::text(id)]).await?;
        found.ok_or_else(|| Error::Missing { kind: "photo", id: id.to_owned() })
    }
}

/// Refuses a piece that is not there, in our words instead of the database's.
pub(crate) async fn check_piece(work: &mut Work, code: &str) -> Result<(), Error> {
    let found: Option<Piece> = work.find(&[Cell::text(code)]).await?;
    found.map(|_| ()).ok_or_else(|| Error::Missing { kind: "piece", id: code.to_owned() })
}

fn check_photo(new: &NewPhoto) -> Result<(), Error> {
    if new.bytes.len() > LARGEST_PHOTO {
        let allowed = format!("{LARGEST_PHOTO} bytes");
        return Err(Error::Value { field: "photo", given: format!("{} bytes", new.bytes.len()), allowed });
    }
    let begins = match new.kind {
        PhotoKind::Jpeg => new.bytes.starts_with(&[0xff, 0xd8, 0xff]),
        PhotoKind::Png => new.bytes.starts_with(b"\x89PNG\r\n\x1a\n"),
        PhotoKind::Webp => new.bytes.starts_with(b"RIFF") && new.bytes.get(8..12) == Some(b"WEBP".as_slice()),
    };
    if begins {
        return Ok(());
    }
    let given = "bytes that begin otherwise".to_owned();
    Err(Error::Value { field: "photo", given, allowed: format!("a file of kind {}", new.kind.word()) })
}
