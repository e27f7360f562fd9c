//! The best pattern of every reel length at given prices, and an exact bound.
//!
//! Prices are whole numbers: what a piece is worth, in scaled millimetres. One
//! table over the fill answers for all reels at once: the most worth that
//! fills a stretch exactly so far. The sums stay below 2^53, so the table is
//! exact although it is kept in `f64` (where the machine is fastest). A reel's
//! rent is the most that a pattern's worth exceeds its cost; pieces' worth less
//! rents is then a bound on any plan, whatever the prices (weak duality; see
//! Held, Cook and Sewell 2012 for bounds that survive rounding).

use crate::case::{Case, Load};
use crate::fill::step_of;

/// Most cells of a table.
const MOST_CELLS: i64 = 2_000_000;
/// Most bits of take marks kept for tracing.
const MOST_MARKS: usize = 2_000_000_000;
/// Sums stay below this.
const EXACT: f64 = 4_503_599_627_370_496.0;

/// The tables of one case.
#[derive(Debug, Clone)]
pub(crate) struct Pricer {
    step: i64,
    /// Whether a piece worth nothing can still make a pattern cheaper.
    all_kinds: bool,
    classes: Vec<Class>,
    old: Vec<f64>,
    new: Vec<f64>,
    parts: Vec<Part>,
    marks: Vec<u64>,
    words: usize,
}

/// The bins that take the same kinds.
#[derive(Debug, Clone)]
struct Class {
    batch: Option<usize>,
    bins: Vec<usize>,
    cells: usize,
}

#[derive(Debug, Clone, Copy)]
struct Part {
    kind: usize,
    count: usize,
    cells: usize,
}

/// What a round of pricing says.
#[derive(Debug, Clone)]
pub(crate) struct Priced {
    /// By bin: the scaled rent, 0 or more.
    pub rents: Vec<i64>,
    /// The scaled bound on the shifted cost.
    pub worth: i128,
    /// Patterns whose worth exceeds their cost and the rent asked: scaled
    /// excess and load, best first per bin.
    pub patterns: Vec<(i64, Load)>,
}

/// What is asked of a round.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Ask<'a> {
    /// Pieces left to cut, by kind.
    pub demand: &'a [usize],
    /// Stretches left, by bin.
    pub supply: &'a [usize],
    /// Scaled worth of a piece, by kind.
    pub prices: &'a [i64],
    /// Scaled rent already paid, by bin.
    pub rents: &'a [i64],
    /// What one millimetre of cost is in scaled worth.
    pub scale: i64,
    /// Patterns wanted per bin.
    pub patterns: usize,
}

/// Worth in scaled whole numbers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Scaled {
    /// By kind.
    pub prices: Vec<i64>,
    /// What one millimetre is.
    pub scale: i64,
}

impl Case {
    /// Cost of a fill with the rope it holds: never falls as the fill grows.
    pub(crate) fn shifted_cost(&self, bin: usize, fill: i64) -> i64 {
        self.cost_of_fill(bin, fill) + fill
    }

    /// Cost of leaving a piece uncut, with the rope it would have held.
    pub(crate) fn shifted_drop(&self, kind: usize) -> Option<i64> {
        self.kinds[kind].drop.map(|drop| drop + self.kinds[kind].width)
    }

    /// Whether a leftover kept never costs more than the smallest one kept
    /// would as scrap, so that cutting more than asked never pays.
    pub(crate) fn fuller_costs_more(&self) -> bool {
        self.tail.value <= self.tail.smallest || self.all_scrap()
    }
}

/// Scales prices to whole numbers that stay exact in every sum of the case;
/// `None` where the costs alone are too large for that.
pub(crate) fn scaled(case: &Case, prices: &[f64]) -> Option<Scaled> {
    let total: f64 = case.kinds.iter().zip(prices).map(|(kind, price)| kind.demand as f64 * price.abs()).sum();
    let dearest = (0..case.bins.len()).map(|bin| {
        let longest = case.capacity(bin);
        (case.shifted_cost(bin, longest).abs().max(case.bins[bin].open.abs() + case.tail.value + longest)) as f64
    });
    let most = dearest.fold(total, f64::max).max(1.0);
    if most * 4.0 >= EXACT {
        return None;
    }
    let mut scale: i64 = 1;
    while scale < 1 << 40 && most * (scale as f64) * 4.0 < EXACT {
        scale *= 2;
    }
    let prices = prices.iter().enumerate().map(|(kind, &price)| {
        let whole = (price.max(0.0) * scale as f64).floor() as i64;
        case.shifted_drop(kind).map_or(whole, |drop| whole.min(drop.saturating_mul(scale)))
    });
    Some(Scaled { prices: prices.collect(), scale })
}

impl Pricer {
    /// Tables for a case, or `None` when they would be too large.
    pub fn new(case: &Case) -> Option<Self> {
        let step = step_of(case);
        let restricted = case.kinds.iter().any(|kind| kind.batch.is_some());
        let mut classes: Vec<Class> = Vec::new();
        for bin in 0..case.bins.len() {
            let batch = restricted.then_some(case.bins[bin].batch);
            let cells = case.capacity(bin) / step;
            if cells > MOST_CELLS {
                return None;
            }
            match classes.iter_mut().find(|class| class.batch == batch) {
                Some(class) => {
                    class.bins.push(bin);
                    class.cells = class.cells.max(cells as usize);
                }
                None => classes.push(Class { batch, bins: vec![bin], cells: cells as usize }),
            }
        }
        let pays = (0..case.bins.len()).any(|bin| case.shifted_cost(bin, step) < 0);
        Some(Pricer {
            step,
            all_kinds: pays || !case.fuller_costs_more(),
            classes,
            old: Vec::new(),
            new: Vec::new(),
            parts: Vec::new(),
            marks: Vec::new(),
            words: 0,
        })
    }

    /// Prices every bin.
    pub fn price(&mut self, case: &Case, ask: &Ask<'_>) -> Option<Priced> {
        let mut priced = Priced { rents: vec![0; case.bins.len()], worth: 0, patterns: Vec::new() };
        let worth = ask.demand.iter().zip(ask.prices).map(|(&count, &price)| count as i128 * i128::from(price));
        priced.worth = worth.sum();
        let classes = std::mem::take(&mut self.classes);
        for class in &classes {
            let fits = |kind: usize| {
                let batch = case.kinds[kind].batch;
                batch.is_none() || batch == class.batch
            };
            if !self.fill_table(case, ask, class.cells, &fits) {
                self.classes = classes;
                return None;
            }
            for &bin in class.bins.iter().filter(|&&bin| ask.supply[bin] > 0) {
                self.read_bin(case, ask, bin, &mut priced);
            }
        }
        self.classes = classes;
        Some(priced)
    }

    /// The most worth for every exact fill, over the kinds that fit.
    fn fill_table(&mut self, case: &Case, ask: &Ask<'_>, cells: usize, fits: &dyn Fn(usize) -> bool) -> bool {
        self.parts.clear();
        for kind in (0..case.kinds.len())
            .filter(|&kind| ask.demand[kind] > 0 && (self.all_kinds || ask.prices[kind] > 0) && fits(kind))
        {
            let each = (case.kinds[kind].width / self.step) as usize;
            let mut left = ask.demand[kind].min(cells.checked_div(each).unwrap_or(0));
            let mut take = 1;
            while left > 0 {
                let count = take.min(left);
                self.parts.push(Part { kind, count, cells: each * count });
                left -= count;
                take *= 2;
            }
        }
        self.words = cells / 64 + 1;
        if self.parts.len().saturating_mul(self.words * 64) > MOST_MARKS {
            return false;
        }
        self.marks.clear();
        self.marks.resize(self.parts.len() * self.words, 0);
        for table in [&mut self.old, &mut self.new] {
            table.clear();
            table.resize(self.words * 64, f64::NEG_INFINITY);
            table[0] = 0.0;
        }
        let mut top = 0;
        for at in 0..self.parts.len() {
            let part = self.parts[at];
            top = (top + part.cells).min(cells);
            let worth = (ask.prices[part.kind] * part.count as i64) as f64;
            let marks = &mut self.marks[at * self.words..(at + 1) * self.words];
            add_part(&self.old, &mut self.new, marks, (part.cells, top, worth));
            std::mem::swap(&mut self.old, &mut self.new);
        }
        true
    }

    /// Rent and best patterns of one bin from the table.
    fn read_bin(&mut self, case: &Case, ask: &Ask<'_>, bin: usize, priced: &mut Priced) {
        let cells = (case.capacity(bin) / self.step) as usize;
        let mut best: Vec<(i64, usize)> = Vec::new();
        let mut rent = 0_i64;
        let paid = ask.rents[bin];
        // The excess is needed only where it can exceed the least so far.
        for fill in 1..=cells {
            let worth = self.old[fill];
            if worth == f64::NEG_INFINITY {
                continue;
            }
            let excess = worth as i64 - case.shifted_cost(bin, fill as i64 * self.step) * ask.scale;
            rent = rent.max(excess);
            if excess > paid && ask.patterns > 0 {
                let least = if best.len() < ask.patterns { i64::MIN } else { best[best.len() - 1].0 };
                if excess > least {
                    let at = best.partition_point(|&(other, _)| other >= excess);
                    best.insert(at, (excess, fill));
                    best.truncate(ask.patterns);
                }
            }
        }
        priced.rents[bin] = rent;
        priced.worth -= i128::from(rent) * ask.supply[bin].min(ask.demand.iter().sum()) as i128;
        for (excess, fill) in best {
            priced.patterns.push((excess - paid, Load { bin, pieces: self.trace(fill) }));
        }
    }

    fn trace(&self, mut fill: usize) -> Vec<(usize, usize)> {
        let mut pieces: Vec<(usize, usize)> = Vec::new();
        for (at, part) in self.parts.iter().enumerate().rev() {
            if fill == 0 {
                break;
            }
            if self.marks[at * self.words + fill / 64] >> (fill % 64) & 1 == 1 {
                match pieces.last_mut() {
                    Some((kind, count)) if *kind == part.kind => *count += part.count,
                    _ => pieces.push((part.kind, part.count)),
                }
                fill -= part.cells;
            }
        }
        pieces.reverse();
        pieces
    }
}

/// `new[f] = max(old[f], old[f - cells] + worth)` up to `top`, marking where the second won.
fn add_part(old: &[f64], new: &mut [f64], marks: &mut [u64], part: (usize, usize, f64)) {
    let (cells, top, worth) = part;
    let low = cells.min(top + 1);
    new[..low].copy_from_slice(&old[..low]);
    let mut at = cells;
    while at <= top {
        let end = ((at / 64 + 1) * 64).min(top + 1);
        let mut bits = 0_u64;
        if end - at == 64 {
            let (from, to) = (&old[at - cells..at - cells + 64], &mut new[at..at + 64]);
            let was = &old[at..at + 64];
            for bit in 0..64 {
                let with = from[bit] + worth;
                let better = with > was[bit];
                to[bit] = if better { with } else { was[bit] };
                bits |= u64::from(better) << bit;
            }
        } else {
            for fill in at..end {
                let with = old[fill - cells] + worth;
                let better = with > old[fill];
                new[fill] = if better { with } else { old[fill] };
                bits |= u64::from(better) << (fill % 64);
            }
        }
        marks[at / 64] |= bits;
        at = end;
    }
}
