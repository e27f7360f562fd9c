//! `becket price`: a quote for an order.

use crate::paper::PaperAsk;
use crate::tables::{fit, rows, wrapped};
use clap::Args;
use desk::{Problem, QuoteAnswer, QuoteRequest, System};
use std::fmt::Write;
use std::path::PathBuf;

/// A quote for an order.
#[derive(Debug, Args)]
pub struct PriceAsk {
    /// The order file (TOML).
    order: PathBuf,
    /// The loft's rope list (CSV) with prices; ropes.csv beside the order if there is one.
    #[arg(long)]
    ropes: Option<PathBuf>,
    /// Hardware and other items (CSV: kind,item,quantity,price).
    #[arg(long)]
    items: Option<PathBuf>,
    /// Measured figures (CSV), for the minutes.
    #[arg(long)]
    measures: Option<PathBuf>,
    /// The store instead, for its price list and the minutes entered there: a
    /// file, or a postgres:// address. A price given otherwise outranks it.
    #[cfg(feature = "pages")]
    #[arg(long, conflicts_with = "measures")]
    store: Option<String>,
    /// Price of an hour: "48 EUR".
    #[arg(long)]
    labour: Option<String>,
    /// Price of a metre of twine: "0.40 EUR".
    #[arg(long)]
    twine: Option<String>,
    /// Rope spoiled, as a share of the rope: "4 %".
    #[arg(long)]
    waste: Option<String>,
    /// Margin: "20 % on cost", or "20 % of price".
    #[arg(long)]
    margin: Option<String>,
    /// Tax: "19 %".
    #[arg(long)]
    tax: Option<String>,
    /// half-up or half-even.
    #[arg(long)]
    rounding: Option<String>,
    #[command(flatten)]
    paper: PaperAsk,
}

impl PriceAsk {
    fn request(self, units: Option<System>) -> Result<QuoteRequest, Problem> {
        #[cfg(feature = "pages")]
        let kept = self.store.as_deref().map(kept_prices).transpose()?;
        Ok(QuoteRequest {
            order: self.order.into(),
            ropes: self.ropes.map(Into::into),
            items: self.items.map(Into::into),
            measures: self.measures.map(Into::into),
            labour: self.labour,
            twine: self.twine,
            waste: self.waste,
            margin: self.margin,
            tax: self.tax,
            rounding: self.rounding,
            units,
            #[cfg(feature = "pages")]
            kept,
        })
    }
}

#[cfg(feature = "pages")]
fn kept_prices(store: &str) -> Result<desk::KeptPrices, Problem> {
    desk::records::wait(async {
        let records = desk::records::Records::open_existing(store).await?;
        let kept = desk::KeptPrices::of(&records).await;
        records.close().await;
        kept
    })?
}

/// Does it; gives whether something was refused, so that there is no total.
pub fn run(ask: PriceAsk, json: bool, units: Option<System>) -> Result<bool, Problem> {
    let paper = ask.paper.clone();
    let answer = desk::quote(&ask.request(units)?)?;
    paper.write(&answer.date, |to| desk::quote_paper(&answer, to))?;
    crate::write(json, &answer, || text(&answer))?;
    Ok(answer.total.is_none())
}

fn text(answer: &QuoteAnswer) -> String {
    let mut text = format!("quote for {}, order {}, {}\n\n", answer.boat, answer.order, answer.date);
    let mut table: Vec<Vec<String>> = answer
        .lines
        .iter()
        .map(|line| {
            vec![
                fit(&line.name, 30),
                format!("{} {}", line.quantity, line.unit).trim().to_owned(),
                format!("{} / {}", line.price, line.per),
                line.amount.clone(),
            ]
        })
        .collect();
    let mut sum = |name: String, amount: &str| table.push(vec![name, String::new(), String::new(), amount.to_owned()]);
    sum("rope spoiled".to_owned(), &answer.waste);
    sum("cost".to_owned(), &answer.cost);
    sum(format!("margin, {}", answer.margin_rule), &answer.margin);
    sum("net".to_owned(), &answer.net);
    sum("tax".to_owned(), &answer.tax);
    sum("to pay".to_owned(), answer.total.as_deref().unwrap_or("not given"));
    text.push_str(&rows(&["what", ">how much", ">price", ">amount"], table));
    let _ = write!(
        text,
        "\n{}",
        wrapped(&format!("rounding: {}; a sum is the sum of what is printed", answer.rounding), "  ")
    );
    if !answer.minutes.is_empty() {
        text.push_str("\nminutes\n");
        answer.minutes.iter().for_each(|line| text.push_str(&wrapped(line, "  ")));
    }
    if !answer.refused.is_empty() {
        text.push_str("\nrefused, so that there is no total\n");
        for refused in &answer.refused {
            let hint = if refused.hint.is_empty() { String::new() } else { format!("; {}", refused.hint) };
            text.push_str(&wrapped(
                &format!("{}{}: {}{hint}", placed(&refused.item), refused.field, refused.message),
                "  ",
            ));
        }
    }
    text
}

/// The place of a row, where the item is one.
fn placed(item: &str) -> String {
    if item.rsplit_once(':').is_some_and(|(_, line)| line.parse::<u32>().is_ok()) {
        format!("{item}: ")
    } else {
        String::new()
    }
}
