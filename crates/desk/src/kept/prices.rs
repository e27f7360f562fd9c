//! The price list of a store, for quotes.

use super::tests::measures_of;
use crate::learned::Measure;
use crate::problem::Problem;
use crate::quote::{Listed, RefusedAnswer};
use crate::records::Records;
use crate::records::rows::{Price, PriceKind};
use pricing::Money;

/// Prices and measured minutes out of a store.
#[derive(Debug, Clone)]
pub struct KeptPrices {
    rows: Vec<Price>,
    measures: Vec<Measure>,
}

impl KeptPrices {
    /// Those of a store.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn of(records: &Records) -> Result<KeptPrices, Problem> {
        Ok(KeptPrices { rows: records.store().prices().await?, measures: measures_of(records).await? })
    }

    pub(crate) fn measures(&self) -> &[Measure] {
        &self.measures
    }

    /// The list as a quote takes it; a row that is no price is told by its
    /// name, and the rest is used.
    pub(crate) fn listed(&self, refused: &mut Vec<RefusedAnswer>) -> Listed {
        let mut listed = Listed::default();
        for row in &self.rows {
            let metre = matches!(row.per.trim(), "m" | "metre" | "1 m");
            let hour = matches!(row.per.trim(), "h" | "hour" | "1 h");
            let price = match Money::read(&format!("{} {}", row.amount, row.currency)) {
                Ok(price) => price,
                Err(why) => {
                    refused.push(no_price(row, why.to_string(), "set it anew"));
                    continue;
                }
            };
            match row.kind {
                PriceKind::Rope if metre => {
                    listed.ropes.insert(crate::job::same(&row.name), price);
                }
                PriceKind::Twine if metre => listed.twine = Some(price),
                PriceKind::Labour if hour => listed.labour = Some(price),
                // Priced by the items of a quote, which say how many.
                PriceKind::Hardware | PriceKind::Other => {}
                PriceKind::Rope | PriceKind::Twine | PriceKind::Labour => {
                    let message = format!("{}: a price per {:?} is not used", row.name, row.per);
                    refused.push(no_price(row, message, "give rope and twine per metre, labour per hour"));
                }
            }
        }
        listed
    }
}

fn no_price(row: &Price, message: String, hint: &str) -> RefusedAnswer {
    RefusedAnswer {
        item: format!("price list, {}", row.name),
        field: "price".to_owned(),
        message,
        hint: hint.to_owned(),
    }
}
