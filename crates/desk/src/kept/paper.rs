//! The due list on paper.

use super::due::DueAnswer;
use crate::paper_to::PaperTo;
use crate::problem::Problem;
use sheets::{Block, Column, Headline, Table};

/// Writes the due list, with a box to tick for each piece.
///
/// # Errors
/// When the page cannot be set or the file cannot be written.
pub fn due_paper(answer: &DueAnswer, to: &PaperTo) -> Result<(), Problem> {
    let mut document = to.document("due list", &format!("to be looked at by {}", answer.by))?;
    let overdue = answer.pieces.iter().filter(|piece| piece.days < 0).count();
    let headline = |name: &str, count: usize| Headline { name: name.to_owned(), value: count.to_string() };
    document.headlines = vec![headline("pieces", answer.pieces.len()), headline("overdue", overdue)];
    if answer.pieces.is_empty() {
        document.blocks.push(Block::Text(format!("Nothing must be looked at by {}.", answer.by)));
        return to.write(&document);
    }
    document.blocks.push(Block::Table(Table {
        columns: vec![
            Column::words("due", 2),
            Column::numbers("days"),
            Column::words("piece", 3),
            Column::words("boat", 4),
            Column::words("line", 5),
            Column::words("rope", 5),
            Column::words("seen", 2),
        ],
        rows: answer
            .pieces
            .iter()
            .map(|piece| {
                vec![
                    piece.due.clone(),
                    piece.days.to_string(),
                    piece.code.clone(),
                    piece.boat.clone(),
                    piece.line.clone(),
                    piece.rope.clone(),
                    String::new(),
                ]
            })
            .collect(),
    }));
    if answer.more {
        document.blocks.push(Block::Text("There are more pieces than this list was asked for.".to_owned()));
    }
    to.write(&document)
}
