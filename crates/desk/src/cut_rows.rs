//! The cut plan as a spreadsheet: one row a cut, in the order to cut.

use crate::cut_answer::CutAnswer;

const HEADER: &str = "order,reel,copy,rope,batch,what,piece,for,from,to,length,unit";

impl CutAnswer {
    /// Every cut, leftover and uncut piece as CSV, numbers without their unit,
    /// which has a column of its own.
    #[must_use]
    pub fn csv(&self) -> String {
        let mut text = format!("{HEADER}\n");
        let mut order = 0_usize;
        for reel in &self.cuts {
            let batch = reel.batch.clone().unwrap_or_default();
            let copy = reel.copy.to_string();
            for piece in &reel.pieces {
                order += 1;
                let length = piece.to.value - piece.from.value;
                row(
                    &mut text,
                    &[
                        &order.to_string(),
                        &reel.reel,
                        &copy,
                        &reel.rope,
                        &batch,
                        "piece",
                        &piece.piece,
                        &piece.name,
                        &piece.from.value.to_string(),
                        &piece.to.value.to_string(),
                        &length.to_string(),
                        piece.to.unit,
                    ],
                );
            }
            for left in &reel.leftovers {
                let (from, to) = (left.from.value.to_string(), left.to.value.to_string());
                let length = left.length.value.to_string();
                let what = left.becomes.as_str();
                row(
                    &mut text,
                    &["", &reel.reel, &copy, &reel.rope, &batch, what, "", "", &from, &to, &length, left.to.unit],
                );
            }
        }
        for uncut in &self.uncut {
            let length = uncut.length.value.to_string();
            row(
                &mut text,
                &["", "", "", &uncut.rope, "", "uncut", &uncut.piece, "", "", "", &length, uncut.length.unit],
            );
        }
        text
    }
}

fn row(text: &mut String, cells: &[&str]) {
    for (at, cell) in cells.iter().enumerate() {
        if at > 0 {
            text.push(',');
        }
        // A text that a spreadsheet would take for a formula.
        let formula = cell.starts_with(['=', '+', '-', '@', '\t']) && cell.parse::<f64>().is_err();
        let cell = if formula { format!("'{cell}") } else { (*cell).to_owned() };
        if cell.contains([',', '"', '\n', '\r']) || cell != cell.trim() {
            text.push('"');
            text.push_str(&cell.replace('"', "\"\""));
            text.push('"');
        } else {
            text.push_str(&cell);
        }
    }
    text.push('\n');
}

#[cfg(test)]
mod tests {
    #[test]
    fn no_cell_is_a_formula() {
        let mut text = String::new();
        super::row(&mut text, &["=1+1", "-12.5", "+cmd, \"x\"", "@a", "26-041/01"]);
        assert_eq!(text, "'=1+1,-12.5,\"'+cmd, \"\"x\"\"\",'@a,26-041/01\n");
    }
}
