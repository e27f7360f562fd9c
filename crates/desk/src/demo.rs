//! The demo order with its rope list and rack, and a blank order to begin with.

/// The demo: an order, the loft's rope list, and a rack, as their files.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Demo {
    /// The order (TOML).
    pub order: &'static str,
    /// The rope list (CSV).
    pub ropes: &'static str,
    /// The rack (CSV).
    pub rack: &'static str,
}

/// The invented sloop of the examples.
pub const DEMO: Demo = Demo {
    order: include_str!("../../../examples/sloop/order.toml"),
    ropes: include_str!("../../../examples/sloop/ropes.csv"),
    rack: include_str!("../../../examples/sloop/rack.csv"),
};

/// A small order that can be read as it stands, for a day: year-month-day.
#[must_use]
pub fn blank_order(day: &str) -> String {
    format!(
        r#"# Lengths, loads and masses carry their unit: "10.4 m", "34 ft", "450 daN".
becket = 1

[order]
number = "{}-1"
date = {day}

[boat]
name = "her name"
hull = "monohull"
rig = "masthead-sloop"
loa = "10 m"

[use]
kind = "coastal-cruising"

# One block for each line.
[[line]]
name = "bow line"
kind = "dock-line"
rope = "16 mm 3-strand polyamide"
length = "10 m"
ends = {{ working = {{ kind = "tucked-eye", eye = "400 mm" }}, bitter = {{ kind = "whipped-end" }} }}
"#,
        day.get(2..4).unwrap_or("00")
    )
}

#[cfg(test)]
mod tests {
    use super::blank_order;
    use crate::{LinesRequest, Text, lines};

    #[test]
    fn a_blank_order_can_be_read_and_made() {
        let order = Text::held("blank", blank_order("2026-11-25"));
        let answer = lines(&LinesRequest { order, ..LinesRequest::default() }).expect("no mistakes");
        assert_eq!((answer.order.as_str(), answer.lines.len()), ("26-1", 1));
        assert!(!answer.has_stop(), "{:?}", answer.lines[0].findings);
    }
}
