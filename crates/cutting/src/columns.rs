//! The pattern bound: a linear programme over cutting patterns, found as needed.
//!
//! Rows are pieces and reels in short supply; a column is one way to cut one
//! reel (Gilmore and Gomory 1961, 1963). New patterns come from [`Pricer`] at
//! prices drawn back towards the best so far (Wentges smoothing), and each
//! round gives an exact whole-number bound, whatever the floats did.

use std::collections::HashMap;

use crate::case::{Case, Load};
use crate::chance::Chance;
use crate::pricing::{Ask, Priced, Pricer, Scaled, scaled};
use crate::simplex::{Column, Simplex};

/// Patterns known so far.
#[derive(Debug, Clone, Default)]
pub(crate) struct Pool {
    /// The patterns.
    pub loads: Vec<Load>,
    known: HashMap<Load, usize>,
}

/// What is left to cut and to cut it from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Rest {
    /// Pieces, by kind.
    pub demand: Vec<usize>,
    /// Stretches, by bin.
    pub supply: Vec<usize>,
}

/// The proof of a bound: prices of pieces and rents of reels.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Proof {
    /// Scaled worth of each kind.
    pub worth: Scaled,
    /// Scaled rent of each bin.
    pub rents: Vec<i64>,
}

/// The linear programme solved, or given up.
#[derive(Debug, Clone)]
pub(crate) struct Relaxed {
    /// No plan for the rest costs less (true cost, not shifted).
    pub bound: i64,
    /// What proves it.
    pub proof: Option<Proof>,
    /// Patterns of the pool with their share.
    pub shares: Vec<(usize, f64)>,
}

/// A call for the pattern bound.
#[derive(Clone, Copy)]
pub(crate) struct Call<'a> {
    pub case: &'a Case,
    pub rest: &'a Rest,
    /// A bound of this much ends the search: no better plan is left.
    pub target: i64,
    pub rounds: usize,
    /// How far the demand is moved, in thousandths, to see other prices of the
    /// same worth; 0 for the true demand.
    pub tilt: usize,
    pub seed: u64,
    pub stop: &'a dyn Fn() -> bool,
}

impl Pool {
    /// Adds a pattern once; returns its place and whether it is new.
    pub fn add(&mut self, load: Load) -> (usize, bool) {
        if let Some(&at) = self.known.get(&load) {
            return (at, false);
        }
        let at = self.loads.len();
        self.known.insert(load.clone(), at);
        self.loads.push(load);
        (at, true)
    }
}

impl Rest {
    /// Everything of a case.
    pub fn of(case: &Case) -> Self {
        Rest {
            demand: case.kinds.iter().map(|kind| kind.demand).collect(),
            supply: case.bins.iter().map(|bin| bin.supply).collect(),
        }
    }

    /// Whether a pattern can still be cut.
    pub fn takes(&self, load: &Load) -> bool {
        self.supply[load.bin] > 0 && load.pieces.iter().all(|&(kind, count)| self.demand[kind] >= count)
    }

    /// Takes a pattern out so many times.
    pub fn take(&mut self, load: &Load, times: usize) {
        self.supply[load.bin] -= times;
        for &(kind, count) in &load.pieces {
            self.demand[kind] -= count * times;
        }
    }

    /// How often a pattern can still be cut.
    pub fn times(&self, load: &Load) -> usize {
        let pieces = load.pieces.iter().map(|&(kind, count)| self.demand[kind] / count).min().unwrap_or(0);
        pieces.min(self.supply[load.bin])
    }

    /// Pieces left.
    pub fn count(&self) -> usize {
        self.demand.iter().sum()
    }

    /// Rope wanted by the pieces left.
    pub fn wanted(&self, case: &Case) -> i64 {
        self.demand.iter().zip(&case.kinds).map(|(&count, kind)| count as i64 * kind.width).sum()
    }
}

/// The rows of a rest: kinds still wanted, bins in short supply.
pub(crate) struct Rows {
    kind_row: Vec<Option<usize>>,
    bin_row: Vec<Option<usize>>,
    kinds: Vec<usize>,
    bins: Vec<usize>,
}

impl Rows {
    pub fn of(rest: &Rest) -> Self {
        let count = rest.count();
        let kinds: Vec<usize> = (0..rest.demand.len()).filter(|&kind| rest.demand[kind] > 0).collect();
        let bins: Vec<usize> =
            (0..rest.supply.len()).filter(|&bin| rest.supply[bin] > 0 && rest.supply[bin] < count).collect();
        let place = |list: &[usize], from: usize, size: usize| {
            let mut rows = vec![None; size];
            list.iter().enumerate().for_each(|(at, &of)| rows[of] = Some(from + at));
            rows
        };
        Rows {
            kind_row: place(&kinds, 0, rest.demand.len()),
            bin_row: place(&bins, kinds.len(), rest.supply.len()),
            kinds,
            bins,
        }
    }

    /// The empty programme of a rest.
    pub fn simplex(&self, case: &Case, rest: &Rest) -> Simplex {
        self.tilted(case, rest, &mut |_| 1.0)
    }

    /// The same with each demand times a factor.
    pub fn tilted(&self, case: &Case, rest: &Rest, factor: &mut dyn FnMut(usize) -> f64) -> Simplex {
        let demand: Vec<f64> = self.kinds.iter().map(|&kind| rest.demand[kind] as f64 * factor(kind)).collect();
        let supply: Vec<f64> = self.bins.iter().map(|&bin| rest.supply[bin] as f64).collect();
        let dear = dear(case);
        let stand_in: Vec<f64> =
            self.kinds.iter().map(|&kind| case.shifted_drop(kind).map_or(dear, |drop| drop as f64)).collect();
        Simplex::new(&demand, &stand_in, &supply)
    }

    /// A pattern as a column.
    pub fn column(&self, case: &Case, load: &Load) -> Column {
        let cost = case.shifted_cost(load.bin, case.fill_of(load)) as f64;
        let pieces = load.pieces.iter().filter_map(|&(kind, count)| Some((self.kind_row[kind]?, count as f64)));
        let rows = pieces.chain(self.bin_row[load.bin].map(|row| (row, 1.0))).collect();
        Column { cost, rows }
    }

    /// Prices by kind and rents by bin.
    pub fn prices(&self, simplex: &Simplex) -> (Vec<f64>, Vec<f64>) {
        let read = |rows: &[Option<usize>], sign: f64| {
            rows.iter().map(|row| row.map_or(0.0, |row| (sign * simplex.prices()[row]).max(0.0))).collect()
        };
        (read(&self.kind_row, 1.0), read(&self.bin_row, -1.0))
    }
}

/// A cost that no pattern comes near.
pub(crate) fn dear(case: &Case) -> f64 {
    let most = (0..case.bins.len()).map(|bin| case.shifted_cost(bin, case.capacity(bin)).abs()).max().unwrap_or(0);
    let most = most.max(case.bins.iter().map(|bin| bin.length + bin.open.abs()).max().unwrap_or(0));
    20.0 * (most + case.tail.value) as f64
}

/// The pattern bound of a rest, with the patterns' shares.
pub(crate) fn relax(call: &Call<'_>, pool: &mut Pool, pricer: &mut Pricer) -> Relaxed {
    let (case, rest) = (call.case, call.rest);
    let rows = Rows::of(rest);
    let mut chance = Chance::new(call.seed);
    let mut tilt = |_| 1.0 + chance.below(2 * call.tilt + 1) as f64 / 1000.0 - call.tilt as f64 / 1000.0;
    let mut simplex = rows.tilted(case, rest, &mut tilt);
    let mut of_column = Vec::new();
    for (at, load) in pool.loads.iter().enumerate() {
        if rest.takes(load) {
            simplex.add(&rows.column(case, load));
            of_column.push(at);
        }
    }
    let wanted = rest.wanted(case);
    let mut best = Relaxed { bound: i64::MIN / 4, proof: None, shares: Vec::new() };
    let mut best_worth = f64::NEG_INFINITY;
    let mut centre: Option<Vec<f64>> = None;
    let mut pull: f64 = 0.7;
    for _ in 0..call.rounds {
        if !simplex.optimise(call.stop) || (call.stop)() {
            break;
        }
        let (prices, rents) = rows.prices(&simplex);
        let tried: Vec<f64> = match &centre {
            Some(centre) if pull > 0.01 => {
                centre.iter().zip(&prices).map(|(old, new)| pull * old + (1.0 - pull) * new).collect()
            }
            _ => prices.clone(),
        };
        let Some(exact) = scaled(case, &tried) else { break };
        let paid: Vec<i64> = rents.iter().map(|rent| (rent * exact.scale as f64) as i64).collect();
        let ask = Ask {
            demand: &rest.demand,
            supply: &rest.supply,
            prices: &exact.prices,
            rents: &paid,
            scale: exact.scale,
            patterns: 4,
        };
        let Some(priced) = pricer.price(case, &ask) else { break };
        let (worth, proof) = strongest(call, &exact, &paid, &priced);
        let value = worth as f64 / proof.worth.scale as f64;
        if value > best_worth {
            best_worth = value;
            let bound = ceil_div(worth, proof.worth.scale) - wanted;
            if bound > best.bound || best.proof.is_none() {
                best.bound = bound;
                best.proof = Some(proof);
            }
            centre = Some(tried);
        }
        if best.bound >= call.target {
            break;
        }
        let mut gained = false;
        for (_, load) in priced.patterns {
            let (at, new) = pool.add(load);
            if new {
                let column = rows.column(case, &pool.loads[at]);
                gained |= simplex.gain(&column) < -1e-6;
                simplex.add(&column);
                of_column.push(at);
            }
        }
        if gained {
            pull = 0.7_f64.min(pull + 0.1);
        } else if pull > 0.01 {
            pull = if pull > 0.3 { pull - 0.3 } else { 0.0 };
        } else {
            break;
        }
    }
    best.shares = simplex.solution().into_iter().map(|(column, share)| (of_column[column], share)).collect();
    best
}

/// Prices in the middle of several that are worth the same or nearly: fewer
/// patterns break even at them. The proof is priced afresh, so it is exact.
pub(crate) fn middle_proof(call: &Call<'_>, first: &Proof, pool: &mut Pool, pricer: &mut Pricer) -> Option<Proof> {
    const VIEWS: u64 = 12;
    let case = call.case;
    let as_float = |proof: &Proof| -> Vec<f64> {
        proof.worth.prices.iter().map(|&price| price as f64 / proof.worth.scale as f64).collect()
    };
    let mut sum = as_float(first);
    let mut paid: Vec<f64> = first.rents.iter().map(|&rent| rent as f64 / first.worth.scale as f64).collect();
    let mut views = 1.0;
    for view in 0..VIEWS {
        let tilted = Call { tilt: 20, seed: call.seed + view, target: i64::MAX, ..*call };
        if let Some(proof) = relax(&tilted, pool, pricer).proof {
            sum.iter_mut().zip(as_float(&proof)).for_each(|(sum, price)| *sum += price);
            paid.iter_mut().zip(&proof.rents).for_each(|(sum, &rent)| *sum += rent as f64 / proof.worth.scale as f64);
            views += 1.0;
        }
    }
    sum.iter_mut().chain(&mut paid).for_each(|price| *price /= views);
    let exact = scaled(case, &sum)?;
    let paid: Vec<i64> = paid.iter().map(|rent| (rent * exact.scale as f64) as i64).collect();
    let demand = &call.rest.demand;
    let ask =
        Ask { demand, supply: &call.rest.supply, prices: &exact.prices, rents: &paid, scale: exact.scale, patterns: 0 };
    let priced = pricer.price(case, &ask)?;
    Some(strongest(call, &exact, &paid, &priced).1)
}

/// The stronger of two exact bounds from one round of pricing: rents paid for
/// every reel, or (where a reel costs the same however it is cut) the prices
/// lowered in proportion until the best pattern just breaks even (Farley 1990).
fn strongest(call: &Call<'_>, exact: &Scaled, paid: &[i64], priced: &Priced) -> (i128, Proof) {
    let plain = Proof { worth: exact.clone(), rents: priced.rents.clone() };
    let case = call.case;
    if !case.flat() {
        return (priced.worth, plain);
    }
    // Worth of the best pattern against cost and rent paid, the tightest reel deciding.
    let (mut above, mut below) = (1_i128, 1_i128);
    for (bin, of) in case.bins.iter().enumerate().filter(|&(bin, _)| call.rest.supply[bin] > 0) {
        let cost = i128::from(of.length + of.open) * i128::from(exact.scale);
        let owed = cost + i128::from(paid[bin]);
        // A rent of 0 only says that the best pattern is worth its cost at most.
        let worth = cost + i128::from(priced.rents[bin]);
        if owed > 0 && owed * below < above * worth {
            (above, below) = (owed, worth);
        }
        if owed <= 0 {
            return (priced.worth, plain);
        }
    }
    let lower = |price: &i64| (i128::from(*price) * above / below) as i64;
    let prices: Vec<i64> = exact.prices.iter().map(lower).collect();
    // The rents stay: a pattern is worth at most cost and rent at the lowered
    // prices, and with lowered rents it would exceed its cost.
    let rents: Vec<i64> = paid.iter().map(|&rent| rent.max(0)).collect();
    let count = call.rest.count();
    let mut worth: i128 =
        call.rest.demand.iter().zip(&prices).map(|(&demand, &price)| demand as i128 * i128::from(price)).sum();
    for (bin, &rent) in rents.iter().enumerate() {
        worth -= i128::from(rent) * call.rest.supply[bin].min(count) as i128;
    }
    if worth > priced.worth {
        (worth, Proof { worth: Scaled { prices, scale: exact.scale }, rents })
    } else {
        (priced.worth, plain)
    }
}

fn ceil_div(above: i128, below: i64) -> i64 {
    (-((-above).div_euclid(i128::from(below)))) as i64
}
