//! Proof tests and break tests, their load curves, and what was struck out.
//!
//! A test is entered once under the loft's own number and never changed. One
//! that was entered wrongly is struck out, with the reason, and stays in its
//! place; statistics leave it out.

use crate::Store;
use crate::bench::check_piece;
use crate::cell::Cell;
use crate::checksum;
use crate::error::Error;
use crate::pieces::{Move, Piece, PieceState, move_on};
use crate::record::{record, words};
use crate::stamp::{Stamp, check_day};
use crate::work::Work;

/// The longest text of a load curve that is kept, bytes.
pub const LARGEST_CURVE: usize = 4 * 1024 * 1024;

words! {
    /// What kind of test.
    TestKind {
        /// To a load that it should hold.
        "proof" => Proof,
        /// Until it breaks.
        "break" => Break,
    }
}

words! {
    /// How a test ended.
    TestResult {
        /// It held.
        "held" => Held,
        /// It broke.
        "broke" => Broke,
        /// The test was stopped before either.
        "stopped" => Stopped,
    }
}

words! {
    /// Where it broke.
    BrokeAt {
        /// In the splice: along the bury or among the tucks.
        "splice" => Splice,
        /// At the throat of the eye.
        "throat" => Throat,
        /// In the eye, at its bearing.
        "eye" => Eye,
        /// In the standing part, clear of every end.
        "clear" => Clear,
        /// In or at the machine's grip.
        "grip" => Grip,
        /// Somewhere else: the note says where.
        "elsewhere" => Elsewhere,
    }
}

words! {
    /// Whether what was tested had been used.
    Worn {
        /// Never in service.
        "new" => New,
        /// It came out of service.
        "used" => Used,
    }
}

record! {
    /// One test.
    Test "test" in "tests" by [number] {
        /// The loft's number of it.
        number: String,
        /// Proof or break.
        kind: TestKind,
        /// The piece, where it has a record.
        piece: Option<String>,
        /// What was tested, where it is no piece: a sample's name.
        sample: String,
        /// The rope, a name in the rope list.
        rope: String,
        /// The kind of end, as the order file writes it.
        end_kind: String,
        /// Who spliced it.
        splicer: String,
        /// New or used.
        worn: Worn,
        /// The day.
        day: String,
        /// The load that was wanted, millinewtons.
        wanted_mn: Option<i64>,
        /// The highest load, millinewtons.
        load_mn: i64,
        /// The strength that was estimated beforehand, millinewtons.
        estimate_mn: Option<i64>,
        /// How long it was held, milliseconds.
        hold_ms: Option<i64>,
        /// How often it was loaded before.
        cycles: Option<i64>,
        /// Its extension at the highest load, micrometres.
        extension_um: Option<i64>,
        /// How fast it was loaded, as it was written down.
        rate: String,
        /// How it ended.
        result: TestResult,
        /// Where it broke.
        broke_at: Option<BrokeAt>,
        /// Which machine and load cell, and when they were calibrated.
        machine: String,
        /// Anything that a program wrote with it, JSON.
        detail: String,
        /// Anything that a person wrote with it.
        note: String,
        /// When it was entered.
        at: String,
        /// Who entered it.
        who: String,
    }
}

record! {
    /// A test's load curve, as its file was.
    LoadCurve "load curve" in "load_curves" by [test] {
        /// The test's number.
        test: String,
        /// How many points it has.
        points: i64,
        /// The file, CSV.
        text: String,
        /// Checksum of the text.
        sha256: String,
        /// When it was entered.
        at: String,
        /// Who entered it.
        who: String,
    }
}

record! {
    /// Something struck out: it stays, and does not count.
    Struck "striking out" in "struck" by [what, id] {
        /// What kind of thing: test, inspection, measurement, minutes, reading,
        /// text laid aside.
        what: String,
        /// Which one.
        id: String,
        /// Why.
        reason: String,
        /// When.
        at: String,
        /// Who.
        who: String,
    }
}

/// Which tests.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct TestsWanted<'a> {
    /// Of this rope only.
    pub rope: Option<&'a str>,
    /// Of this kind of end only.
    pub end_kind: Option<&'a str>,
    /// Of this piece only.
    pub piece: Option<&'a str>,
}

/// What can be struck out, with the table and column that name it.
const STRIKABLE: &[(&str, &str, &str)] = &[
    ("test", "tests", "number"),
    ("inspection", "inspections", "CAST(seq AS TEXT)"),
    ("measurement", "as_made", "CAST(seq AS TEXT)"),
    ("minutes", "minutes", "CAST(seq AS TEXT)"),
    ("reading", "readings", "CAST(seq AS TEXT)"),
    ("text laid aside", "order_asides", "CAST(seq AS TEXT)"),
];

impl Store {
    /// Enters a test; its `at` and `who` are the stamp's. A piece that broke
    /// is broken from then on.
    ///
    /// # Errors
    /// [`Error::Taken`] when the number is; [`Error::Missing`] for an unknown
    /// piece; [`Error::Value`] for a negative load, a break without its
    /// place, a used sample called new; [`Error::NotFrom`] for a proof test of
    /// a piece that is out of service.
    pub async fn add_test(&self, test: &Test, stamp: &Stamp) -> Result<Test, Error> {
        let test = Test { at: stamp.at().to_owned(), who: stamp.who().to_owned(), ..test.clone() };
        check_test(&test)?;
        let mut work = self.writing().await?;
        if let Some(code) = &test.piece {
            test_piece(&mut work, code, &test, stamp).await?;
        }
        work.put(&test).await?;
        work.commit().await?;
        Ok(test)
    }

    /// One test.
    ///
    /// # Errors
    /// [`Error::Missing`].
    pub async fn test(&self, number: &str) -> Result<Test, Error> {
        let found = self.reading().await?.find(&[Cell::text(number)]).await?;
        found.ok_or_else(|| Error::Missing { kind: "test", id: number.to_owned() })
    }

    /// Tests that were not struck out, by day and number.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn tests(&self, wanted: TestsWanted<'_>) -> Result<Vec<Test>, Error> {
        let mut conditions =
            vec!["NOT EXISTS (SELECT 1 FROM struck WHERE what = 'test' AND id = tests.number)".to_owned()];
        let mut cells = Vec::new();
        for (column, value) in [("rope", wanted.rope), ("end_kind", wanted.end_kind), ("piece", wanted.piece)] {
            if let Some(value) = value {
                cells.push(Cell::text(value));
                conditions.push(format!("{column} = ${}", cells.len()));
            }
        }
        let rest = format!("WHERE {} ORDER BY day, number", conditions.join(" AND "));
        self.reading().await?.list(&rest, &cells).await
    }

    /// Keeps the file of a test's load curve.
    ///
    /// # Errors
    /// [`Error::Taken`] when the test has one; [`Error::Missing`];
    /// [`Error::Value`] over [`LARGEST_CURVE`].
    pub async fn add_load_curve(&self, test: &str, text: &str, points: i64, stamp: &Stamp) -> Result<LoadCurve, Error> {
        if text.len() > LARGEST_CURVE {
            let allowed = format!("{LARGEST_CURVE} bytes");
            return Err(Error::Value { field: "load curve", given: format!("{} bytes", text.len()), allowed });
        }
        let curve = LoadCurve {
            test: test.to_owned(),
            points,
            text: text.to_owned(),
            sha256: checksum::of_bytes(text.as_bytes()),
            at: stamp.at().to_owned(),
            who: stamp.who().to_owned(),
        };
        let mut work = self.writing().await?;
        let found: Option<Test> = work.find(&[Cell::text(test)]).await?;
        found.ok_or_else(|| Error::Missing { kind: "test", id: test.to_owned() })?;
        work.put(&curve).await?;
        work.commit().await?;
        Ok(curve)
    }

    /// A test's load curve; none when it has none.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn load_curve(&self, test: &str) -> Result<Option<LoadCurve>, Error> {
        self.reading().await?.find(&[Cell::text(test)]).await
    }

    /// Strikes a test, inspection, measurement, entry of minutes, reading or
    /// text laid aside out: it stays where it is, with the reason, and does
    /// not count.
    ///
    /// # Errors
    /// [`Error::Value`] without a reason or for another kind of thing;
    /// [`Error::Missing`]; [`Error::Taken`] when it is struck out already.
    pub async fn strike_out(&self, what: &str, id: &str, reason: &str, stamp: &Stamp) -> Result<Struck, Error> {
        let known = STRIKABLE.iter().find(|(name, ..)| *name == what);
        let Some((kind, table, column)) = known else {
            let names: Vec<&str> = STRIKABLE.iter().map(|(name, ..)| *name).collect();
            return Err(Error::Value { field: "what", given: what.to_owned(), allowed: names.join(", ") });
        };
        if reason.trim().is_empty() {
            let allowed = "a reason in words".to_owned();
            return Err(Error::Value { field: "reason", given: reason.to_owned(), allowed });
        }
        let mut work = self.writing().await?;
        let count = format!("SELECT COUNT(*) FROM {table} WHERE {column} = $1");
        let found: Vec<(i64,)> = work.all(&count, &[Cell::text(id)]).await?;
        if found != [(1,)] {
            return Err(Error::Missing { kind, id: id.to_owned() });
        }
        let struck = Struck {
            what: what.to_owned(),
            id: id.to_owned(),
            reason: reason.to_owned(),
            at: stamp.at().to_owned(),
            who: stamp.who().to_owned(),
        };
        work.put(&struck).await?;
        work.commit().await?;
        Ok(struck)
    }

    /// Everything of one kind that was struck out.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn struck(&self, what: &str) -> Result<Vec<Struck>, Error> {
        self.reading().await?.list("WHERE what = $1 ORDER BY at, id", &[Cell::text(what)]).await
    }
}

/// A proof test is of a piece that may still serve; a break test ends one.
async fn test_piece(work: &mut Work, code: &str, test: &Test, stamp: &Stamp) -> Result<(), Error> {
    check_piece(work, code).await?;
    let piece: Piece = work.hold(&[Cell::text(code)]).await?;
    let out = matches!(piece.state, PieceState::Retired | PieceState::Broken | PieceState::TakenBack);
    if test.kind == TestKind::Proof && out {
        let state = piece.state.word();
        return Err(Error::NotFrom { kind: "piece", id: code.to_owned(), state, wanted: "proof tested" });
    }
    let served = piece.in_service_on.is_some();
    if served && test.worn == Worn::New {
        let allowed = format!("used: piece {code} has been in service");
        return Err(Error::Value { field: "worn", given: test.worn.word().to_owned(), allowed });
    }
    if test.result == TestResult::Broke {
        let step = Move { to: PieceState::Broken, on: &test.day, next_due: None };
        move_on(work, code, step, stamp).await?;
    }
    Ok(())
}

fn check_test(test: &Test) -> Result<(), Error> {
    check_day("day", &test.day)?;
    let negative = |field, value: Option<i64>, unit: &str| match value {
        Some(value) if value < 0 => {
            Err(Error::Value { field, given: format!("{value} {unit}"), allowed: format!("0 {unit} or more") })
        }
        _ => Ok(()),
    };
    negative("load", Some(test.load_mn), "mN")?;
    negative("wanted load", test.wanted_mn, "mN")?;
    negative("estimate", test.estimate_mn, "mN")?;
    negative("hold", test.hold_ms, "ms")?;
    negative("cycles", test.cycles, "times")?;
    if test.piece.is_none() && test.sample.trim().is_empty() {
        let allowed = "a piece's code, or a name of the sample".to_owned();
        return Err(Error::Value { field: "sample", given: test.sample.clone(), allowed });
    }
    match (test.result, test.broke_at) {
        (TestResult::Broke, None) => {
            let allowed = "where it broke: splice, throat, eye, clear, grip or elsewhere".to_owned();
            Err(Error::Value { field: "broke at", given: String::new(), allowed })
        }
        (TestResult::Held | TestResult::Stopped, Some(place)) => {
            let allowed = "nothing, for it did not break".to_owned();
            Err(Error::Value { field: "broke at", given: place.word().to_owned(), allowed })
        }
        _ => Ok(()),
    }
}
