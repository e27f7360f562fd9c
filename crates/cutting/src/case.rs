//! One rope's problem in bare numbers, for the solver.
//!
//! A piece of length `l` takes `l + loss`, a stretch of length `L` offers
//! `L + loss` (the last cut may fall on the end), so that a fill `f` leaves
//! `max(0, L - f)`. Pieces alike are a [`Kind`], stretches alike a [`Bin`].
//! Costs are one whole number: money and loss are weighed so that the earlier
//! goal always wins.

use std::collections::HashMap;

use crate::model::{Job, Origin};
use crate::stretches::sound_stretches;

/// Cost of a packing that leaves pieces out: far above every real one, and far
/// enough from the end of the numbers to be added to.
pub(crate) const NOT_WHOLE: i64 = i64::MAX / 4;

/// One rope's problem.
#[derive(Debug, Clone)]
pub(crate) struct Case {
    /// Pieces alike, widest first.
    pub kinds: Vec<Kind>,
    /// Stretches alike.
    pub bins: Vec<Bin>,
    /// Number of batches.
    pub batches: usize,
    /// Number of batch sets that `Kind::set` points to.
    pub sets: usize,
    /// Loss per cut.
    pub loss: i64,
    /// What a leftover costs.
    pub tail: Tail,
}

/// What a leftover costs: itself when scrap, a fixed value when kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Tail {
    /// Shortest leftover kept.
    pub smallest: i64,
    /// Cost of one kept.
    pub value: i64,
}

/// Pieces alike.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Kind {
    /// Rope taken, cut losses included.
    pub width: i64,
    /// How many are wanted.
    pub demand: usize,
    /// The batch they must come from, once chosen.
    pub batch: Option<usize>,
    /// The batch set they belong to.
    pub set: Option<usize>,
    /// Cost of leaving one uncut; `None`: all must be cut.
    pub drop: Option<i64>,
}

/// Stretches alike.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(crate) struct Bin {
    /// Sound length.
    pub length: i64,
    /// How many.
    pub supply: usize,
    /// Their batch.
    pub batch: usize,
    /// Cost of touching one: trim, weighed money, less the value of a remnant used up.
    pub open: i64,
    /// Whether it is a remnant on the rack.
    pub remnant: bool,
    /// What a supplier asks for it.
    pub price: Option<i64>,
}

/// What a bin holds: kinds and how many of each, widest first.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) struct Load {
    /// Index of the bin.
    pub bin: usize,
    /// Kind and count, counts above zero.
    pub pieces: Vec<(usize, usize)>,
}

/// A whole packing of a case.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Packing {
    /// One entry a stretch touched.
    pub loads: Vec<Load>,
    /// Pieces left uncut, by kind.
    pub uncut: Vec<usize>,
    /// Total cost.
    pub cost: i64,
}

/// The pieces and stretches behind a case's numbers.
#[derive(Debug, Clone)]
pub(crate) struct Ledger {
    /// By kind: the bundles of pieces, the most urgent first.
    pub bundles: Vec<Vec<Bundle>>,
    /// By bin: the stretches.
    pub places: Vec<Vec<Place>>,
}

/// Pieces cut next to each other: one, or a set from one reel.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Bundle {
    /// Indexes into the job's pieces.
    pub pieces: Vec<usize>,
    /// The most urgent rank in it.
    pub rank: u32,
}

/// A sound stretch of one reel.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Place {
    /// Index into the job's reels.
    pub reel: usize,
    /// Which of the reels alike, from 1.
    pub copy: u32,
    /// Where the stretch begins on the reel.
    pub from: i64,
    /// Where it ends.
    pub to: i64,
}

impl Packing {
    /// Whether every piece that must be cut is cut.
    pub fn whole(&self) -> bool {
        self.cost < NOT_WHOLE
    }
}

impl Case {
    /// Rope that a bin offers to widths.
    pub fn capacity(&self, bin: usize) -> i64 {
        self.bins[bin].length + self.loss
    }

    /// Cost of a touched bin filled to `fill`.
    pub fn cost_of_fill(&self, bin: usize, fill: i64) -> i64 {
        let bin = &self.bins[bin];
        bin.open + self.tail.cost((bin.length - fill).max(0))
    }

    /// Rope that a load takes.
    pub fn fill_of(&self, load: &Load) -> i64 {
        load.pieces.iter().map(|&(kind, count)| self.kinds[kind].width * count as i64).sum()
    }

    /// Cost of loads and uncut pieces together.
    pub fn cost_of(&self, loads: &[Load], uncut: &[usize]) -> i64 {
        let filled: i64 = loads.iter().map(|load| self.cost_of_fill(load.bin, self.fill_of(load))).sum();
        let dropped: i64 =
            uncut.iter().zip(&self.kinds).map(|(&count, kind)| count as i64 * kind.drop.unwrap_or(0)).sum();
        filled + dropped
    }

    /// Whether a kind may lie in a bin.
    pub fn fits(&self, kind: usize, bin: usize) -> bool {
        let batch_fits = self.kinds[kind].batch.is_none_or(|batch| batch == self.bins[bin].batch);
        batch_fits && self.kinds[kind].width <= self.capacity(bin)
    }

    /// All widths wanted.
    pub fn wanted(&self) -> i64 {
        self.kinds.iter().map(|kind| kind.width * kind.demand as i64).sum()
    }

    /// Number of pieces wanted.
    pub fn count(&self) -> usize {
        self.kinds.iter().map(|kind| kind.demand).sum()
    }

    /// Whether every leftover is scrap, so that the cost is the rope opened.
    pub fn all_scrap(&self) -> bool {
        self.bins.iter().all(|bin| bin.length < self.tail.smallest)
    }

    /// Whether a touched bin costs the same however it is cut, once the rope in
    /// the pieces is counted in.
    pub fn flat(&self) -> bool {
        self.all_scrap() && self.loss == 0
    }
}

impl Tail {
    /// Cost of a leftover.
    pub fn cost(&self, leftover: i64) -> i64 {
        if leftover < self.smallest || leftover == 0 { leftover } else { self.value }
    }
}

/// Whether pieces of different due ranks are kinds of their own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Ranks {
    /// Alike: all will be cut.
    Together,
    /// Apart: some will stay uncut.
    Apart,
}

/// What makes bundles alike: width, batch set, pieces in it, and their ranks
/// where those are kept apart.
type Likeness = (i64, Option<usize>, usize, Vec<u32>);

/// The case of one rope, with all pieces to be cut, and its ledger.
pub(crate) fn case_of(job: &Job, rope: &str, ranks: Ranks) -> (Case, Ledger) {
    let loss = job.rules.loss_per_cut.count();
    let tail = Tail { smallest: job.rules.smallest_remnant.count(), value: job.rules.value_of_a_remnant().count() };
    let (bundles, sets) = bundles_of(job, rope);
    let mut groups: HashMap<Likeness, Vec<Bundle>> = HashMap::new();
    for (bundle, set) in bundles {
        let width = bundle.pieces.iter().map(|&piece| job.pieces[piece].cut_length().count() + loss).sum();
        let mut of_ranks: Vec<u32> = Vec::new();
        if ranks == Ranks::Apart {
            of_ranks.extend(bundle.pieces.iter().map(|&piece| job.pieces[piece].rank));
            of_ranks.sort_unstable();
        }
        groups.entry((width, set, bundle.pieces.len(), of_ranks)).or_default().push(bundle);
    }
    let mut keyed: Vec<_> = groups.into_iter().collect();
    keyed.sort_by_key(|((width, set, count, ranks), _)| (-width, *set, *count, ranks.clone()));
    let mut kinds = Vec::new();
    let mut ledger = Ledger { bundles: Vec::new(), places: Vec::new() };
    for ((width, set, ..), mut bundles) in keyed {
        bundles.sort_by_key(|bundle| (bundle.rank, bundle.pieces[0]));
        kinds.push(Kind { width, demand: bundles.len(), batch: None, set, drop: None });
        ledger.bundles.push(bundles);
    }
    let (bins, places, batches) = bins_of(job, rope, sets > 0);
    ledger.places = places;
    (Case { kinds, bins, batches, sets, loss, tail }, ledger)
}

/// Pieces of one reel bundled, each with its batch set; and how many sets.
fn bundles_of(job: &Job, rope: &str) -> (Vec<(Bundle, Option<usize>)>, usize) {
    let mut bundles: Vec<Bundle> = Vec::new();
    let mut of_set: HashMap<&str, usize> = HashMap::new();
    for (index, piece) in job.pieces.iter().enumerate().filter(|(_, piece)| piece.rope == rope) {
        let known = piece.same_reel.as_deref().and_then(|set| of_set.get(set).copied());
        if let Some(at) = known {
            bundles[at].pieces.push(index);
            bundles[at].rank = bundles[at].rank.min(piece.rank);
            continue;
        }
        if let Some(set) = &piece.same_reel {
            of_set.insert(set, bundles.len());
        }
        bundles.push(Bundle { pieces: vec![index], rank: piece.rank });
    }
    // Batch sets joined through a bundle become one: the least name stands for all.
    let mut stands_for: HashMap<&str, &str> = HashMap::new();
    fn root<'a>(stands_for: &HashMap<&'a str, &'a str>, mut name: &'a str) -> &'a str {
        while let Some(&next) = stands_for.get(name) {
            name = next;
        }
        name
    }
    let names_of = |bundle: &Bundle| -> Vec<&str> {
        bundle.pieces.iter().filter_map(|&piece| job.pieces[piece].same_batch.as_deref()).collect()
    };
    for bundle in &bundles {
        for pair in names_of(bundle).windows(2) {
            let (one, other) = (root(&stands_for, pair[0]), root(&stands_for, pair[1]));
            if one != other {
                stands_for.insert(one.max(other), one.min(other));
            }
        }
    }
    let mut roots: Vec<&str> =
        bundles.iter().flat_map(|bundle| names_of(bundle).first().map(|name| root(&stands_for, name))).collect();
    roots.sort_unstable();
    roots.dedup();
    let with_sets = bundles
        .iter()
        .map(|bundle| {
            let name = names_of(bundle).first().map(|name| root(&stands_for, name));
            (bundle.clone(), name.and_then(|name| roots.binary_search(&name).ok()))
        })
        .collect();
    (with_sets, roots.len())
}

/// Bins with their places, and the number of batches.
fn bins_of(job: &Job, rope: &str, batches_matter: bool) -> (Vec<Bin>, Vec<Vec<Place>>, usize) {
    let trim = job.rules.trim;
    let value = job.rules.value_of_a_remnant().count();
    let smallest = job.rules.smallest_remnant.count();
    let mut names: HashMap<&str, usize> = HashMap::new();
    let mut batches = 0;
    let mut found: HashMap<Bin, usize> = HashMap::new();
    let mut bins: Vec<(Bin, Vec<Place>)> = Vec::new();
    for (index, reel) in job.reels.iter().enumerate().filter(|(_, reel)| reel.rope == rope) {
        let stretches = sound_stretches(reel, trim);
        for copy in 1..=reel.count {
            let batch = match &reel.batch {
                _ if !batches_matter => 0,
                Some(name) => *names.entry(name).or_insert_with(|| {
                    batches += 1;
                    batches - 1
                }),
                None => {
                    batches += 1;
                    batches - 1
                }
            };
            for &(from, to) in &stretches {
                let remnant = if reel.flaws.is_empty() {
                    reel.origin == Origin::Remnant
                } else {
                    to - from >= smallest && !matches!(reel.origin, Origin::Supplier { .. })
                };
                let trimmed = if from == trim.count() { trim.count() } else { 0 };
                let open = trimmed - if remnant { value } else { 0 };
                let price = if let Origin::Supplier { price } = reel.origin { Some(price) } else { None };
                let bin = Bin { length: to - from, supply: 0, batch, open, remnant, price };
                let place = Place { reel: index, copy, from, to };
                let at = *found.entry(bin.clone()).or_insert_with(|| {
                    bins.push((bin, Vec::new()));
                    bins.len() - 1
                });
                bins[at].1.push(place);
            }
        }
    }
    bins.sort_by_key(|(bin, _)| (bin.price, !bin.remnant, bin.length, bin.batch));
    for (bin, places) in &mut bins {
        bin.supply = places.len();
    }
    let (bins, places) = bins.into_iter().unzip();
    (bins, places, batches.max(1))
}
