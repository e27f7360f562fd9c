//! The loft's records as spreadsheets: tests, what a piece went through, what
//! was measured, and what a quote takes besides the order.

use crate::cells;
use crate::form::Price;
use crate::line::EndKind;
use crate::place::Placed;
use crate::problem::Read;
use crate::record::{record, unique};
use crate::shape::Description;
use crate::value::Date;
use crate::word::words;
use units::{Force, Length};

words! {
    /// Where a test piece broke, or that it held.
    BrokeAt, "end of a test" {
        "splice" => Splice, "it broke at the splice: throat, bury, tail's end or crown";
        "drew-out" => DrewOut, "the tail drew out";
        "rope" => Rope, "the rope broke clear of the splice";
        "fitting" => Fitting, "a fitting, grip or pin gave way first";
        "held" => Held, "the load was held and taken off: a proof test passed";
    }

    /// What is measured of the loft's own work.
    MeasuredWhat, "measured figure" {
        "shrinkage" => Shrinkage, "shrinkage over a bury, made over planned";
        "bedding-in" => BeddingIn, "length gained when the splice is set, as a share";
        "minutes" => Minutes, "minutes that an end took";
        "friction" => Friction, "friction of strand on strand, as found elsewhere";
    }

    /// What a line of a quote is.
    ItemWord, "kind of item" {
        "rope" => Rope, "rope, by the metre";
        "hardware" => Hardware, "thimbles, shackles, blocks, by the piece";
        "twine" => Twine, "twine, by the metre";
        "labour" => Labour, "work, by the minute at a price for an hour";
        "other" => Other, "anything else, by the piece";
    }
}

record! {
    /// A proof test or break test.
    TestRecord {
        /// Its number in the loft's log
        required test: String;
        /// The piece that was tested
        optional piece: String;
        /// The day
        optional date: Date;
        /// The rope: a name in the rope list
        required rope: String;
        /// The kind of end that was tested
        required end: EndKind;
        /// The highest load it saw
        required load: Force where Force::of_n(1.0)..=Force::of_kn(3000.0);
        /// How the test ended
        required broke: BrokeAt;
        /// Listed strength of the rope; left out for a rope of the list
        optional strength: Force where Force::of_n(50.0)..=Force::of_kn(3000.0);
        /// Months in service before the test; left out for a new piece
        optional used_months: f64 where 0.0..=1200.0;
        /// Hours under load before the test
        optional used_hours: f64 where 0.0..=1e6;
        /// Bury of an unstitched pull-out test, along the tail
        optional bury: Length where Length::of_mm(5.0)..=Length::of_m(20.0);
        /// Load on the tail's leg when it let go; left out for half of the load
        optional tail_load: Force where Force::of_n(1.0)..=Force::of_kn(3000.0);
        /// Why it is left out of the statistics
        optional left_out: String;
        /// Anything else
        optional note: String;
    }

    /// A figure measured of the loft's own work.
    MeasureRecord {
        /// What was measured
        required what: MeasuredWhat;
        /// The kind of end it was measured on
        required end: EndKind;
        /// The rope: a name in the rope list
        optional rope: String;
        /// The figure: minutes, or made over planned, or a share
        required value: f64 where 1e-6..=1e6;
        /// The piece it was measured on
        optional piece: String;
        /// The day
        optional date: Date;
        /// Why it is left out
        optional left_out: String;
    }

    /// What a quote takes besides the order's rope, ends and twine.
    ItemRecord {
        /// What kind
        required kind: ItemWord;
        /// What it is
        required item: String;
        /// Metres, pieces or minutes, a plain decimal
        required quantity: f64 where 0.0..=1e7;
        /// Price of a metre, a piece or an hour
        required price: Price;
    }
}

/// Reads a log of tests. Rows with a mistake are told and the others kept.
///
/// ```
/// let read = files::read_tests(b"test,rope,end,load,broke\n1,Grey 10,long-bury-eye,44 kN,splice\n1,Grey 10,long-bury-eye,45,held\n");
/// assert_eq!(read.record.map(|tests| tests.len()), Some(1));
/// assert_eq!(read.problems[0].message, "\"45\" has no unit");
/// ```
#[must_use]
pub fn read_tests(bytes: &[u8]) -> Read<Vec<Placed<TestRecord>>> {
    cells::read(bytes, |tests: &[Placed<TestRecord>], log| {
        unique(tests.iter().map(|test| (test.value.test.value.as_str(), test.value.test.place)), "tests", log);
    })
}

/// Reads a list of measured figures. Rows with a mistake are told and the
/// others kept.
#[must_use]
pub fn read_measures(bytes: &[u8]) -> Read<Vec<Placed<MeasureRecord>>> {
    cells::read(bytes, |_: &[Placed<MeasureRecord>], _| {})
}

/// Reads a list of items for a quote.
#[must_use]
pub fn read_items(bytes: &[u8]) -> Read<Vec<Placed<ItemRecord>>> {
    cells::read(bytes, |_: &[Placed<ItemRecord>], _| {})
}

/// The columns of a log of tests.
#[must_use]
pub fn tests_description() -> Description {
    cells::description::<TestRecord>()
}

/// The columns of a list of measured figures.
#[must_use]
pub fn measures_description() -> Description {
    cells::description::<MeasureRecord>()
}

/// The columns of a list of items.
#[must_use]
pub fn items_description() -> Description {
    cells::description::<ItemRecord>()
}
