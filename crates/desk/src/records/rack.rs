//! The rack between its file and the store. A row of several reels alike
//! becomes as many reels, each with a label of its own; the store's rack,
//! written as a file again, is what a cut plan is made from.

use super::Records;
use crate::input::open;
use crate::problem::Problem;
use crate::text::Text;
use store::{Reel, ReelFacts, ReelKind, ReelState, Stamp};

impl Records {
    /// Puts the reels of a rack file on the rack, all or none. Several alike
    /// get a number behind their label: `B-4/1`, `B-4/2`.
    ///
    /// # Errors
    /// Every mistake of the file; a label that is taken.
    pub async fn add_rack(&self, rack: &Text, stamp: &Stamp) -> Result<Vec<Reel>, Problem> {
        let input = open(rack, files::LARGEST_TABLE)?;
        let records = input.complete(files::read_rack(&input.bytes))?;
        let facts: Vec<ReelFacts> = records.iter().flat_map(|record| facts(&record.value)).collect();
        Ok(self.store().add_reels(&facts, stamp).await?)
    }

    /// The free reels as a rack file, every length exact.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn rack_file(&self) -> Result<String, Problem> {
        let rack = self.store().rack().await?;
        let free = rack.iter().filter(|reel| reel.state == ReelState::Free);
        let mut rows = vec!["reel,rope,colour,batch,length,price_per_metre,count,remnant,flaws".to_owned()];
        rows.extend(free.map(row));
        Ok(rows.join("\n") + "\n")
    }
}

fn facts(record: &files::ReelRecord) -> Vec<ReelFacts> {
    let text =
        |value: &Option<files::Placed<String>>| value.as_ref().map(|text| text.value.clone()).unwrap_or_default();
    let flaws: Vec<(i64, i64)> = record
        .flaws
        .iter()
        .map(|flaw| (flaw.value.from.down_to_mm().count(), flaw.value.to.up_to_mm().count()))
        .collect();
    let one = |id: String| ReelFacts {
        id,
        rope: record.rope.value.clone(),
        colour: text(&record.colour),
        batch: text(&record.batch),
        length_mm: record.length.value.down_to_mm().count(),
        flaws: flaws_text(&flaws),
        price: record.price_per_metre.as_ref().map(|price| format!("{} {}", price.value.amount, price.value.currency)),
        place: String::new(),
        note: String::new(),
        kind: if record.remnant.value { ReelKind::Remnant } else { ReelKind::Whole },
    };
    let label = &record.reel.value;
    match record.count.value {
        1 => vec![one(label.clone())],
        count => (1..=count).map(|number| one(format!("{label}/{number}"))).collect(),
    }
}

fn row(reel: &Reel) -> String {
    let flaws: Vec<String> = flaws_of(&reel.flaws).iter().map(|(from, to)| format!("{from} mm..{to} mm")).collect();
    let cells = [
        reel.id.clone(),
        reel.rope.clone(),
        reel.colour.clone(),
        reel.batch.clone(),
        format!("{} mm", reel.length_mm),
        reel.price.clone().unwrap_or_default(),
        "1".to_owned(),
        (reel.kind == ReelKind::Remnant).to_string(),
        flaws.join("; "),
    ];
    cells.iter().map(|cell| quoted(cell)).collect::<Vec<String>>().join(",")
}

fn quoted(cell: &str) -> String {
    if cell.contains([',', '"', '\n', '\r']) { format!("\"{}\"", cell.replace('"', "\"\"")) } else { cell.to_owned() }
}

/// Flaws as the store keeps them: `[[from,to],…]`, whole millimetres.
pub(crate) fn flaws_text(flaws: &[(i64, i64)]) -> String {
    let parts: Vec<String> = flaws.iter().map(|(from, to)| format!("[{from},{to}]")).collect();
    format!("[{}]", parts.join(","))
}

/// Flaws from the store; a text that is none has none.
pub(crate) fn flaws_of(text: &str) -> Vec<(i64, i64)> {
    serde_json::from_str(text).unwrap_or_default()
}
