//! Published strength tables, one data file for each, read between their
//! rows and never beyond them.
//!
//! Strength does not go exactly with the square of the diameter in any table,
//! so rows are joined by straight lines between logarithms. The standards
//! pair inch sizes with millimetres as the trade does (3/4 in with 18 mm,
//! really 19.05): a size given in inches is read by its inch row; a size in
//! millimetres is read both ways and the lower strength is taken.

use crate::Fibre;
use sources::{CI_1301, CI_1302, CI_1303, CI_1304, CI_1308, Citation, Source, UFC_4_159_03};
use std::sync::OnceLock;
use thiserror::Error;
use units::{Force, Length, LinearDensity};

/// How the size of a rope was written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Written {
    /// In millimetres: nominal, by the trade's pairing.
    Metric,
    /// In inches: the table's own size.
    Inches,
}

/// One table of breaking strengths.
#[derive(Debug)]
pub struct Table {
    /// Whose it is.
    pub source: &'static Source,
    rows: Vec<Row>,
}

/// One row of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Place in the publication.
    pub locator: String,
    /// The inch size, converted exactly.
    pub exact: Length,
    /// The trade's millimetre size; equal to the exact one where none is printed.
    pub nominal: Length,
    /// The printed strength.
    pub strength: Force,
    /// Mass per length; `None` where the table has another column there.
    pub linear_density: Option<LinearDensity>,
    /// Stiffness (force at a strain of one), where printed.
    pub stiffness: Option<Force>,
}

/// A size that a table does not reach.
#[derive(Debug, Clone, PartialEq, Error)]
#[error("{given} is outside {smallest} to {largest}, the sizes of {table}")]
pub struct OutsideTable {
    /// The size asked for.
    pub given: Length,
    /// The smallest size in the table.
    pub smallest: Length,
    /// The largest size in the table.
    pub largest: Length,
    /// The table.
    pub table: &'static str,
}

/// The table for laid and plaited rope of a fibre; `None` where none was read.
#[must_use]
pub fn laid_or_plaited(fibre: Fibre) -> Option<&'static Table> {
    static TABLES: OnceLock<[(Fibre, Table); 5]> = OnceLock::new();
    let tables = TABLES.get_or_init(|| {
        [
            (Fibre::Polypropylene, read(&CI_1301, include_str!("../tables/ci-1301.csv"))),
            (Fibre::PolyesterPolyolefin, read(&CI_1302, include_str!("../tables/ci-1302.csv"))),
            (Fibre::Polyamide, read(&CI_1303, include_str!("../tables/ci-1303.csv"))),
            (Fibre::Polyester, read(&CI_1304, include_str!("../tables/ci-1304.csv"))),
            (Fibre::Manila, read(&CI_1308, include_str!("../tables/ci-1308-96.csv"))),
        ]
    });
    tables.iter().find(|(of, _)| *of == fibre).map(|(_, table)| table)
}

/// Double-braid polyamide of 1 in and above: average strengths and stiffness.
#[must_use]
pub fn polyamide_double_braid() -> &'static Table {
    static TABLE: OnceLock<Table> = OnceLock::new();
    TABLE.get_or_init(|| {
        let rows = data_lines(include_str!("../tables/ufc-4-159-03.csv"))
            .filter_map(|cells| {
                let exact = inches(cells.get(1)?)?;
                Some(Row {
                    locator: (*cells.first()?).to_owned(),
                    exact,
                    nominal: exact,
                    strength: Force::of_kip(cells.get(2)?.parse().ok()?),
                    linear_density: None,
                    stiffness: Some(Force::of_kip(cells.get(3)?.parse().ok()?)),
                })
            })
            .collect();
        Table { source: &UFC_4_159_03, rows }
    })
}

fn read(source: &'static Source, text: &'static str) -> Table {
    let rows = data_lines(text)
        .filter_map(|cells| {
            Some(Row {
                locator: (*cells.first()?).to_owned(),
                exact: inches(cells.get(1)?)?,
                nominal: Length::of_mm(cells.get(2)?.parse().ok()?),
                strength: Force::of_lbf(cells.get(3)?.parse().ok()?),
                linear_density: Some(LinearDensity::of_kg_per_m(cells.get(4)?.parse().ok()?)),
                stiffness: None,
            })
        })
        .collect();
    Table { source, rows }
}

fn data_lines(text: &'static str) -> impl Iterator<Item = Vec<&'static str>> {
    text.lines().filter(|line| !line.starts_with('#')).skip(1).map(|line| line.split(',').collect())
}

/// `1-1/8` and `5/8` and `1.4`, inches.
fn inches(text: &str) -> Option<Length> {
    format!("{} in", text.replace('-', " ")).parse().ok()
}

impl Table {
    /// The rows, smallest first.
    #[must_use]
    pub fn rows(&self) -> &[Row] {
        &self.rows
    }

    /// The whole table as an origin.
    #[must_use]
    pub const fn citation(&self) -> Citation {
        self.source.at("read between rows")
    }

    /// Breaking strength at a size.
    ///
    /// # Errors
    /// When the size is outside the table.
    ///
    /// # Example
    /// ```
    /// use cordage::{Fibre, tables::{Written, laid_or_plaited}};
    /// use units::Length;
    /// let nylon = laid_or_plaited(Fibre::Polyamide).unwrap();
    /// let half_inch = nylon.strength(Length::of_inches(0.5), Written::Inches)?;
    /// assert_eq!(half_inch.to_lbf().round(), 5670.0);
    /// # Ok::<(), cordage::tables::OutsideTable>(())
    /// ```
    pub fn strength(&self, size: Length, written: Written) -> Result<Force, OutsideTable> {
        let read = |key: fn(&Row) -> Length| {
            self.between(size, key, |row| Some(row.strength.si())).map(|value| value.map(Force::of_si))
        };
        let exact = read(|row| row.exact);
        let reading = match written {
            Written::Inches => exact,
            // Lower of the two, where both reach: the trade's pairing may flatter.
            Written::Metric => match (read(|row| row.nominal), exact) {
                (Ok(Some(nominal)), Ok(Some(exact))) => Ok(Some(nominal.min(exact))),
                (Ok(nominal), _) => Ok(nominal),
                (Err(_), exact) => exact,
            },
        };
        reading?.ok_or_else(|| self.outside(size))
    }

    /// Mass per length at a size, read like the strength; `None` where the
    /// table has no masses.
    ///
    /// # Errors
    /// When the size is outside the table.
    pub fn linear_density(&self, size: Length, written: Written) -> Result<Option<LinearDensity>, OutsideTable> {
        let key: fn(&Row) -> Length = match written {
            Written::Inches => |row| row.exact,
            Written::Metric => |row| row.nominal,
        };
        let read = self.between(size, key, |row| row.linear_density.map(LinearDensity::si))?;
        Ok(read.map(LinearDensity::of_si))
    }

    /// Stiffness at a size; `None` where the table has none.
    ///
    /// # Errors
    /// When the size is outside the table.
    pub fn stiffness(&self, size: Length) -> Result<Option<Force>, OutsideTable> {
        Ok(self.between(size, |row| row.exact, |row| row.stiffness.map(Force::si))?.map(Force::of_si))
    }

    fn outside(&self, given: Length) -> OutsideTable {
        let smallest = self.rows.first().map_or(Length::ZERO, |row| row.exact.min(row.nominal));
        let largest = self.rows.last().map_or(Length::ZERO, |row| row.exact.max(row.nominal));
        OutsideTable { given, smallest, largest, table: self.source.title }
    }

    /// Straight line between the logarithms of neighbouring rows.
    fn between(
        &self,
        size: Length,
        key: fn(&Row) -> Length,
        value: impl Fn(&Row) -> Option<f64>,
    ) -> Result<Option<f64>, OutsideTable> {
        const SAME: f64 = 1e-9;
        if let Some(row) = self.rows.iter().find(|row| (key(row).si() - size.si()).abs() < SAME) {
            return Ok(value(row));
        }
        let pair = self.rows.windows(2).find_map(|pair| match pair {
            [below, above] if key(below) < size && size < key(above) => Some((below, above)),
            _ => None,
        });
        let (below, above) = pair.ok_or_else(|| self.outside(size))?;
        let share = (size / key(below)).ln() / (key(above) / key(below)).ln();
        Ok(match (value(below), value(above)) {
            (Some(low), Some(high)) => Some(low * (high / low).powf(share)),
            _ => None,
        })
    }
}
