//! A quote on paper.

use crate::paper_to::PaperTo;
use crate::problem::Problem;
use crate::quote::{QuoteAnswer, QuoteLineAnswer};
use sheets::{Block, Column, Headline, Table};

/// Writes a quote. One that lacks a price has no total, and says which.
///
/// # Errors
/// When the page cannot be set or the file cannot be written.
pub fn quote_paper(answer: &QuoteAnswer, to: &PaperTo) -> Result<(), Problem> {
    let mut document = to.document("quote", &format!("order {}", answer.order))?;
    document.subtitle = format!("{} · {}", answer.boat, answer.date);
    let total = answer.total.clone().unwrap_or_else(|| "not given".to_owned());
    document.headlines = vec![Headline { name: "to pay".to_owned(), value: total.clone() }];
    document.blocks.push(Block::Table(Table {
        columns: vec![
            Column::words("what", 6),
            Column::numbers("how much"),
            Column::numbers("price"),
            Column::result("amount"),
        ],
        rows: answer.lines.iter().map(line).collect(),
    }));
    let sum = |what: String, amount: &str| vec![what, amount.to_owned()];
    document.blocks.push(Block::Table(Table {
        columns: vec![Column::words("sum", 6), Column::result("amount")],
        rows: vec![
            sum("rope spoiled".to_owned(), &answer.waste),
            sum("cost".to_owned(), &answer.cost),
            sum(format!("margin, {}", answer.margin_rule), &answer.margin),
            sum("net".to_owned(), &answer.net),
            sum("tax".to_owned(), &answer.tax),
            sum("to pay".to_owned(), &total),
        ],
    }));
    document.blocks.push(Block::Text(format!("Rounding: {}; a sum is the sum of what is printed.", answer.rounding)));
    if !answer.refused.is_empty() {
        document.blocks.push(Block::Heading("Refused, so that there is no total".to_owned()));
        let told = answer.refused.iter().map(|refused| {
            let hint = if refused.hint.is_empty() { String::new() } else { format!("; {}", refused.hint) };
            Block::Text(format!("{}: {}{hint}", refused.field, refused.message))
        });
        document.blocks.extend(told);
    }
    to.write(&document)
}

fn line(line: &QuoteLineAnswer) -> Vec<String> {
    vec![
        line.name.clone(),
        format!("{} {}", line.quantity, line.unit).trim().to_owned(),
        format!("{} / {}", line.price, line.per),
        line.amount.clone(),
    ]
}
