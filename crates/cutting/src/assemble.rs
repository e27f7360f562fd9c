//! From numbers back to rope: named pieces on named reels, with marks.
//!
//! Urgent pieces go to the reels cut first. Marks run from the free end along
//! the whole reel; a flaw is stepped over.

use std::collections::{BTreeMap, HashMap};

use units::Millimetres;

use crate::answer::{Becomes, Cut, CutReel, Leftover, Totals, Uncut, Why};
use crate::case::{Bundle, Case, Ledger, Packing, Place};
use crate::model::{Job, Origin};
use crate::stretches::sound_stretches;

/// One rope's reels, uncut pieces and sums.
pub(crate) struct Assembled {
    pub reels: Vec<CutReel>,
    pub uncut: Vec<Uncut>,
    pub totals: Totals,
    /// Price of the rope taken, of reels of known price. Thousandths of a minor unit.
    pub price: i64,
}

/// A touched reel: index and copy.
type Touched = (usize, u32);

/// Names and marks for a packing.
pub(crate) fn assemble(job: &Job, rope: &str, case: &Case, ledger: &Ledger, packing: &Packing) -> Assembled {
    let mut taken = vec![0_usize; case.kinds.len()];
    let mut filled: BTreeMap<Touched, Vec<(Place, Vec<&Bundle>)>> = BTreeMap::new();
    let mut order: Vec<(u32, usize, Touched)> = Vec::new();
    for (place, pieces) in places_for(job, case, ledger, packing) {
        let mut bundles = Vec::new();
        for &(kind, count) in pieces {
            bundles.extend(&ledger.bundles[kind][taken[kind]..taken[kind] + count]);
            taken[kind] += count;
        }
        bundles.sort_by_key(|bundle| (bundle.rank, std::cmp::Reverse(length_of(job, bundle)), bundle.pieces[0]));
        let rank = bundles.first().map_or(u32::MAX, |bundle| bundle.rank);
        let touched = (place.reel, place.copy);
        match order.iter_mut().find(|(_, _, other)| *other == touched) {
            Some((so_far, _, _)) => *so_far = rank.min(*so_far),
            None => order.push((rank, order.len(), touched)),
        }
        filled.entry(touched).or_default().push((place, bundles));
    }
    order.sort_unstable();
    let mut totals = Totals { remnants: shelf_remnants(job, rope), ..Totals::NONE };
    let mut reels = Vec::new();
    let mut price = 0;
    for (_, _, touched) in order {
        let Some(mut stretches) = filled.remove(&touched) else { continue };
        stretches.sort_by_key(|(place, _)| place.from);
        let before = totals;
        reels.push(cut_reel(job, touched, &stretches, &mut totals));
        let taken = |totals: &Totals| (totals.cut + totals.cut_loss + totals.trim + totals.scrap).count();
        price += job.reels[touched.0].price_per_metre.unwrap_or(0) * (taken(&totals) - taken(&before));
    }
    totals.waste = totals.cut_loss + totals.trim + totals.scrap;
    let why = if case.bins.is_empty() { Why::NoReel } else { Why::NotEnough };
    let left = ledger.bundles.iter().zip(&taken).flat_map(|(bundles, &taken)| &bundles[taken..]);
    let mut uncut: Vec<usize> = left.flat_map(|bundle| bundle.pieces.iter().copied()).collect();
    uncut.sort_unstable();
    let uncut = uncut.into_iter().map(|piece| Uncut { piece: job.pieces[piece].id.clone(), why }).collect();
    Assembled { reels, uncut, totals, price }
}

/// A stretch for each load: stretches of reels already touched first, and of
/// stretches alike the cheaper for the load that takes more.
fn places_for<'a>(
    job: &Job,
    case: &Case,
    ledger: &'a Ledger,
    packing: &'a Packing,
) -> Vec<(Place, &'a [(usize, usize)])> {
    let price = |place: &Place| job.reels[place.reel].price_per_metre.unwrap_or(0);
    let mut loads: Vec<_> = packing.loads.iter().collect();
    loads.sort();
    loads.sort_by_key(|load| {
        let places = &ledger.places[load.bin];
        let choice = places.windows(2).any(|two| price(&two[0]) != price(&two[1]));
        let (length, fill) = (case.bins[load.bin].length, case.fill_of(load));
        let taken = if length - fill >= case.tail.smallest.max(1) { fill } else { length };
        (load.bin, if choice { -taken } else { 0 })
    });
    let mut touched: HashMap<Touched, ()> = HashMap::new();
    let mut free: Vec<Vec<Place>> = ledger.places.clone();
    for places in &mut free {
        places.sort_by_key(|place| price(place));
        places.reverse();
    }
    let mut placed = Vec::new();
    for load in loads {
        let places = &mut free[load.bin];
        let again = if touched.is_empty() || places.len() > 1_000 {
            None
        } else {
            places.iter().rposition(|place| touched.contains_key(&(place.reel, place.copy)))
        };
        let place = match again {
            Some(at) => Some(places.remove(at)),
            None => places.pop(),
        };
        if let Some(place) = place {
            touched.insert((place.reel, place.copy), ());
            placed.push((place, load.pieces.as_slice()));
        }
    }
    placed
}

fn length_of(job: &Job, bundle: &Bundle) -> Millimetres {
    bundle.pieces.iter().map(|&piece| job.pieces[piece].cut_length()).sum()
}

/// Remnants on the rack before anything is cut.
fn shelf_remnants(job: &Job, rope: &str) -> u64 {
    let smallest = job.rules.smallest_remnant.count();
    let of_rope = job.reels.iter().filter(|reel| reel.rope == rope);
    of_rope
        .map(|reel| {
            let stretches = sound_stretches(reel, job.rules.trim);
            let each = match reel.origin {
                Origin::Supplier { .. } => 0,
                _ if !reel.flaws.is_empty() => stretches.iter().filter(|(from, to)| to - from >= smallest).count(),
                Origin::Remnant => usize::from(!stretches.is_empty()),
                Origin::Rack => 0,
            };
            each as u64 * u64::from(reel.count)
        })
        .sum()
}

fn cut_reel(job: &Job, touched: Touched, stretches: &[(Place, Vec<&Bundle>)], totals: &mut Totals) -> CutReel {
    let reel = &job.reels[touched.0];
    let loss = job.rules.loss_per_cut.count();
    let smallest = job.rules.smallest_remnant.count();
    let mut cuts = Vec::new();
    let mut leftovers = Vec::new();
    for (from, to) in sound_stretches(reel, job.rules.trim) {
        let mark = |at: i64| Millimetres::new(at);
        let Some((_, bundles)) = stretches.iter().find(|(place, _)| place.from == from) else {
            leftovers.push(Leftover { from: mark(from), to: mark(to), becomes: Becomes::Untouched });
            continue;
        };
        if from == job.rules.trim.count() {
            totals.trim = totals.trim + job.rules.trim;
        }
        let was_remnant = if reel.flaws.is_empty() {
            reel.origin == Origin::Remnant
        } else {
            to - from >= smallest && !matches!(reel.origin, Origin::Supplier { .. })
        };
        totals.remnants -= u64::from(was_remnant);
        let mut at = from;
        for &piece in bundles.iter().flat_map(|bundle| &bundle.pieces) {
            let end = at + job.pieces[piece].cut_length().count();
            cuts.push(Cut { piece: job.pieces[piece].id.clone(), from: mark(at), to: mark(end) });
            totals.cut = totals.cut + mark(end - at);
            at = (end + loss).min(to);
            totals.cut_loss = totals.cut_loss + mark(at - end);
        }
        let left = to - at;
        if left >= smallest && left > 0 {
            totals.remnants += 1;
            totals.remnant_length = totals.remnant_length + mark(left);
            leftovers.push(Leftover { from: mark(at), to: mark(to), becomes: Becomes::Remnant });
        } else if left > 0 {
            totals.scrap = totals.scrap + mark(left);
            leftovers.push(Leftover { from: mark(at), to: mark(to), becomes: Becomes::Scrap });
        }
    }
    totals.reels += 1;
    if let Origin::Supplier { price } = reel.origin {
        totals.money += price;
    }
    CutReel { reel: reel.id.clone(), copy: touched.1, rope: reel.rope.clone(), cuts, leftovers }
}
