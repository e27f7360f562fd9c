//! Everything a plan is made from: pieces, the rack, offers, the loft's rules.

use crate::cut_ask::{CutRequest, PieceSource};
use crate::cut_pieces::{Wanted, key, of_jobs, of_list};
use crate::cut_rack::RackRow;
use crate::input::open;
use crate::job::{OrderAsked, read, same};
use crate::problem::{Fault, Problem};
use crate::text::Text;
use cutting::{Job, Origin, Piece, Reel, Rules};
use pricing::{Money, Rounding};
use sheets::Day;
use std::collections::{BTreeMap, BTreeSet};
use units::{Length, System};

const USUAL_LOSS: Length = Length::of_mm(10.0);
const USUAL_REMNANT: Length = Length::of_m(2.0);

/// Everything a plan is made from.
pub(crate) struct Table {
    /// Pieces, the rack's reels and the offers.
    pub job: Job,
    pub names: BTreeMap<String, String>,
    /// The rack as it is.
    pub rack: Vec<RackRow>,
    /// What the supplier sells, by the name it has in the job.
    pub offers: BTreeMap<String, Offer>,
    /// Pieces whose first day has not come, each with that day.
    pub later: Vec<(Piece, String)>,
    pub notes: Vec<String>,
    pub title: String,
    pub day: Option<Day>,
    pub system: System,
}

/// A length that a supplier sells.
pub(crate) struct Offer {
    pub row: RackRow,
    pub price: Money,
}

impl Table {
    /// The row of a reel, on the rack or offered.
    pub fn row(&self, reel: &str) -> Option<&RackRow> {
        self.rack.iter().find(|row| row.reel == reel).or_else(|| self.offers.get(reel).map(|offer| &offer.row))
    }

    /// The job with the rack alone.
    pub fn rack_only(&self) -> Job {
        let reels = self.job.reels.iter().filter(|reel| !self.offers.contains_key(&reel.id)).cloned().collect();
        Job { reels, ..self.job.clone() }
    }
}

/// The pieces that are asked for.
pub(crate) fn wanted(request: &CutRequest) -> Result<Wanted, Problem> {
    match &request.source {
        PieceSource::Orders { orders, ropes } => {
            let jobs = orders.iter().map(|order| {
                read(&OrderAsked { order, ropes: ropes.as_ref(), own: &request.own, units: request.units })
            });
            of_jobs(request, &jobs.collect::<Result<Vec<_>, _>>()?)
        }
        PieceSource::List(list) => of_list(request, list),
    }
}

/// The loft's rules: what is asked, or the loft's own, or the usual.
pub(crate) fn rules(request: &CutRequest, loft: Option<&files::LoftRecord>) -> Rules {
    let own = |of: fn(&files::LoftRecord) -> &Option<files::Placed<Length>>| {
        loft.and_then(|loft| of(loft).as_ref()).map(|placed| placed.value)
    };
    let loss = request.loss.or(own(|loft| &loft.loss_per_cut)).unwrap_or(USUAL_LOSS);
    let end = request.loss_per_end.or(own(|loft| &loft.loss_per_end)).unwrap_or(Length::ZERO);
    let remnant = request.smallest_remnant.or(own(|loft| &loft.smallest_remnant)).unwrap_or(USUAL_REMNANT);
    let most = request.most_remnants.or(loft.and_then(|loft| loft.most_remnants.as_ref()).map(|most| most.value));
    Rules {
        loss_per_cut: loss.up_to_mm(),
        trim: end.up_to_mm(),
        remnant_value: request.remnant_value.map(|value| value.nearest_mm()),
        most_remnants: most.map(u64::from),
        ..Rules::keeping(remnant.up_to_mm())
    }
}

/// Pieces, rack and offers put together.
pub(crate) fn table(request: &CutRequest, wanted: Wanted) -> Result<Table, Problem> {
    let input = open(&request.rack, files::LARGEST_TABLE)?;
    let records: Vec<files::ReelRecord> =
        input.complete(files::read_rack(&input.bytes))?.into_iter().map(|reel| reel.value).collect();
    let Wanted { pieces, later, names, rules, title, day, system, mut notes } = wanted;
    let pieces: Vec<Piece> = pieces.into_iter().map(|piece| piece.coloured(&records, &mut notes)).collect();
    let later = later.into_iter().map(|(piece, first)| (piece.coloured(&records, &mut notes), first.to_string()));
    let later: Vec<_> = later.collect();
    notes.dedup();
    let rack: Vec<RackRow> = records.iter().map(RackRow::of).collect();
    let offers = match &request.offers {
        Some(offers) => read_offers(offers, &pieces, &rack)?,
        None => BTreeMap::new(),
    };
    let mut reels: Vec<Reel> = rack.iter().map(|row| row.reel(Origin::Rack)).collect();
    priced(&mut reels, &rack, &mut notes);
    for offer in offers.values() {
        reels.push(offer.row.reel(Origin::Supplier { price: minor_units(offer.price) }));
    }
    Ok(Table { job: Job { pieces, reels, rules }, names, rack, offers, later, notes, title, day, system })
}

/// Prices a metre, where all that have one are in one currency. They choose
/// between reels alike, so that half a coin is of no account.
fn priced(reels: &mut [Reel], rack: &[RackRow], notes: &mut Vec<String>) {
    let price = |row: &RackRow| row.price_per_metre.as_deref().and_then(|text| Money::read(text).ok());
    let currencies: BTreeSet<_> = rack.iter().filter_map(price).map(|price| price.currency().to_string()).collect();
    if currencies.len() > 1 {
        notes.push("the rack's prices are in more than one currency: they are left aside".to_owned());
        return;
    }
    for (reel, row) in reels.iter_mut().zip(rack) {
        reel.price_per_metre = price(row).map(minor_units);
    }
}

/// Whole coins.
fn minor_units(price: Money) -> i64 {
    i64::try_from(price.rounded(Rounding::HalfUp).amount().mantissa()).unwrap_or(i64::MAX)
}

/// What a supplier sells, by name: row and length.
fn read_offers(text: &Text, pieces: &[Piece], rack: &[RackRow]) -> Result<BTreeMap<String, Offer>, Problem> {
    let input = open(text, files::LARGEST_TABLE)?;
    let records = input.complete(files::read_offers(&input.bytes))?;
    let mut offers: BTreeMap<String, Offer> = BTreeMap::new();
    let mut currency = None;
    for (index, record) in records.iter().map(|record| &record.value).enumerate() {
        let written = &record.price.value;
        let refused = |why: String| {
            Problem::new(Fault::File, "offer-price", format!("offer {}: {why}", index + 1))
                .hint("one currency in all offers, and no fraction of a coin")
        };
        let price =
            Money::read(&format!("{} {}", written.amount, written.currency)).map_err(|why| refused(why.to_string()))?;
        if price.rounded(Rounding::HalfUp).amount() != price.amount() {
            return Err(refused(format!("{price} is not a whole number of coins")));
        }
        if *currency.get_or_insert(price.currency()) != price.currency() {
            return Err(refused(format!("{price} is in another currency than the offers before it")));
        }
        let colour = match &record.colour {
            Some(colour) => Some(colour.value.clone()),
            None => only_colour(&same(&record.rope.value), pieces, index)?,
        };
        let of_rope = key(&same(&record.rope.value), &colour.as_deref().map_or_else(String::new, same));
        let enough = pieces.iter().filter(|piece| piece.rope == of_rope).count().max(1) as u32;
        let mut name = format!("offer {}", index + 1);
        while rack.iter().any(|row| row.reel == name) {
            name.push('\'');
        }
        let row = RackRow {
            reel: name.clone(),
            rope: record.rope.value.clone(),
            colour,
            batch: record.batch.as_ref().map(|batch| batch.value.clone()),
            length_mm: record.length.value.down_to_mm().count(),
            count: record.count.as_ref().map_or(enough, |count| count.value.min(enough)),
            remnant: false,
            flaws_mm: Vec::new(),
            price_per_metre: None,
        };
        offers.insert(name, Offer { row, price: price.rounded(Rounding::HalfUp) });
    }
    Ok(offers)
}

/// The colour in which a rope is wanted, where there is but one.
fn only_colour(rope: &str, pieces: &[Piece], index: usize) -> Result<Option<String>, Problem> {
    let before = format!("{rope}, ");
    let keys: BTreeSet<&str> = pieces.iter().map(|piece| piece.rope.as_str()).collect();
    let keys: Vec<Option<&str>> = keys
        .into_iter()
        .filter_map(|key| if key == rope { Some(None) } else { key.strip_prefix(&before).map(Some) })
        .collect();
    if keys.len() > 1 {
        let colours: Vec<&str> = keys.iter().map(|colour| colour.unwrap_or("none")).collect();
        let message = format!("offer {}: {rope} is wanted in several colours: {}", index + 1, colours.join(", "));
        return Err(Problem::new(Fault::File, "offer-colour", message).hint("add a column colour, a row for each"));
    }
    Ok(keys.first().copied().flatten().map(str::to_owned))
}
