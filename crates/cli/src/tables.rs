//! Columns and lines of text that fit 80 columns.

use comfy_table::{CellAlignment, ContentArrangement, Table, presets};

/// Columns of the terminal that are used.
const WIDTH: u16 = 80;

/// A table without a frame; a heading that begins with `>` is flush right.
/// Empty headings are left out.
pub fn rows(headings: &[&str], rows: Vec<Vec<String>>) -> String {
    let mut table = Table::new();
    table.load_style(presets::NOTHING).set_content_arrangement(ContentArrangement::Dynamic).set_width(WIDTH);
    if headings.iter().any(|heading| !heading.is_empty()) {
        table.set_header(headings.iter().map(|heading| heading.trim_start_matches('>')));
    }
    for row in rows {
        table.add_row(row);
    }
    for (index, heading) in headings.iter().enumerate() {
        if let (Some(column), true) = (table.column_mut(index), heading.starts_with('>')) {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
    table.lines().map(|line| line.trim_end().to_owned() + "\n").collect()
}

/// Text cut to a width, with an ellipsis where something is left out.
pub fn fit(text: &str, width: usize) -> String {
    if text.chars().count() <= width {
        return text.to_owned();
    }
    text.chars().take(width.saturating_sub(1)).collect::<String>() + "…"
}

/// Text broken at spaces to lines of the terminal's width; lines after the
/// first begin with `indent`.
pub fn wrapped(text: &str, indent: &str) -> String {
    let mut out = String::new();
    let mut line = String::new();
    for word in text.split(' ') {
        let taken = line.chars().count();
        if taken > indent.len() && taken + 1 + word.chars().count() > usize::from(WIDTH) {
            out.push_str(line.trim_end());
            out.push('\n');
            line = indent.to_owned();
        }
        let between = !line.is_empty() && !line.ends_with(' ');
        if between || word.is_empty() {
            line.push(' ');
        }
        line.push_str(word);
    }
    out.push_str(line.trim_end());
    out.push('\n');
    out
}
