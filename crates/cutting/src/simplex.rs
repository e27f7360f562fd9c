//! A small linear programme that grows by columns: revised primal simplex.
//!
//! Minimise cost under rows `sum >= demand` (pieces) and `sum <= supply`
//! (reels), all variables at least 0. The inverse of the basis is dense, which
//! suits a few hundred rows; the right-hand side is moved a hair while
//! pivoting so that ties do not cycle. Floating point throughout: what it says
//! guides the search and is never a proof. The bounds are re-priced exactly in
//! [`crate::pricing`]. A copy shares its columns, so that branches are cheap.

use std::rc::Rc;

/// Smaller than this is no reduced cost. In units of cost.
const NO_GAIN: f64 = 1e-7;
/// Smaller pivots are refused.
const NO_PIVOT: f64 = 1e-9;
/// Pivots between fresh inversions.
const FRESH_AFTER: usize = 120;

/// One variable.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Column {
    /// Cost of one.
    pub cost: f64,
    /// Row and coefficient.
    pub rows: Vec<(usize, f64)>,
}

/// Columns end to end.
#[derive(Debug, Clone, Default)]
struct Table {
    costs: Vec<f64>,
    starts: Vec<usize>,
    entries: Vec<(usize, f64)>,
}

/// A row added later; its two own columns come after all others.
#[derive(Debug, Clone)]
struct Added {
    /// Columns with coefficient 1, ascending.
    members: Rc<Vec<usize>>,
    /// Coefficient of the slack; the stand-in has the opposite.
    sign: f64,
    /// Cost of the stand-in.
    dear: f64,
}

/// Sense of a row added later.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sense {
    AtLeast,
    AtMost,
}

/// The programme with its current basis.
#[derive(Debug, Clone)]
pub(crate) struct Simplex {
    size: usize,
    wanted: Vec<f64>,
    shaken: Vec<f64>,
    /// Columns: first one unit per row (stand-in or slack), then surplus, then the caller's.
    columns: Rc<Table>,
    banned: Vec<bool>,
    /// What a banned column costs on top.
    dear: f64,
    /// Rows added later: the columns in each, and its slack and stand-in.
    added: Vec<Added>,
    own: usize,
    basis: Vec<usize>,
    basic: Vec<bool>,
    inverse: Vec<f64>,
    values: Vec<f64>,
    prices: Vec<f64>,
    since_fresh: usize,
    stale: bool,
}

impl Simplex {
    /// Rows of demand (`>=`) with the cost of a stand-in, then rows of supply (`<=`).
    pub fn new(demand: &[f64], stand_in: &[f64], supply: &[f64]) -> Self {
        let size = demand.len() + supply.len();
        let mut columns = Table { starts: vec![0], ..Table::default() };
        for row in 0..size {
            columns.push(stand_in.get(row).copied().unwrap_or(0.0), &[(row, 1.0)]);
        }
        for row in 0..demand.len() {
            columns.push(0.0, &[(row, -1.0)]);
        }
        let wanted: Vec<f64> = demand.iter().chain(supply).copied().collect();
        let shaken = wanted.iter().enumerate().map(|(row, want)| want + 1e-6 * shake(row)).collect();
        let own = columns.costs.len();
        let mut simplex = Simplex {
            size,
            wanted,
            shaken,
            basic: (0..own).map(|at| at < size).collect(),
            banned: vec![false; own],
            columns: Rc::new(columns),
            dear: 0.0,
            added: Vec::new(),
            own,
            basis: (0..size).collect(),
            inverse: Vec::new(),
            values: Vec::new(),
            prices: Vec::new(),
            since_fresh: 0,
            stale: false,
        };
        simplex.invert();
        simplex
    }

    /// Adds a variable, before any row is added later.
    pub fn add(&mut self, column: &Column) {
        Rc::make_mut(&mut self.columns).push(column.cost, &column.rows);
        self.basic.push(false);
        self.banned.push(false);
    }

    /// Makes a variable too dear to use.
    pub fn ban(&mut self, index: usize, dear: f64) {
        self.dear = dear;
        self.banned[self.own + index] = true;
        self.stale |= self.basic[self.own + index];
    }

    /// Adds a row over variables, each with coefficient 1, kept feasible by a
    /// stand-in of cost `dear`.
    pub fn add_row(&mut self, over: &[usize], sense: Sense, rhs: f64, dear: f64) {
        let (old, size) = (self.size, self.size + 1);
        let sign = if sense == Sense::AtLeast { -1.0 } else { 1.0 };
        let mut members: Vec<usize> = over.iter().map(|index| self.own + index).collect();
        members.sort_unstable();
        let member: Vec<f64> =
            self.basis.iter().map(|column| f64::from(u8::from(members.binary_search(column).is_ok()))).collect();
        self.added.push(Added { members: Rc::new(members), sign, dear });
        self.basic.extend([false, false]);
        let filled: f64 = member.iter().zip(&self.values).map(|(by, value)| by * value).sum();
        let short = rhs + 1e-6 * shake(old) - filled;
        // The new basic variable takes up what is short, whichever sign that has.
        let unit = if short >= 0.0 { 1.0 } else { -1.0 };
        let basic = self.basic.len() - if unit == sign { 2 } else { 1 };
        let mut inverse = vec![0.0; size * size];
        for (row, &by) in member.iter().enumerate() {
            let from = &self.inverse[row * old..(row + 1) * old];
            inverse[row * size..row * size + old].copy_from_slice(from);
            if by != 0.0 {
                let last = &mut inverse[old * size..old * size + old];
                last.iter_mut().zip(from).for_each(|(weight, part)| *weight -= unit * by * part);
            }
        }
        inverse[size * size - 1] = unit;
        self.inverse = inverse;
        self.size = size;
        self.basis.push(basic);
        self.basic[basic] = true;
        self.values.push(short.abs());
        self.wanted.push(rhs);
        self.shaken.push(rhs + 1e-6 * shake(old));
        self.prices.push(0.0);
        self.stale = true;
    }

    /// Pivots until no known column gains. `false` when `stop` came first or
    /// the numbers failed.
    pub fn optimise(&mut self, stop: &dyn Fn() -> bool) -> bool {
        if self.stale {
            self.reprice();
        }
        let most = 200 * (self.size + 10);
        for round in 0..most {
            if round % 64 == 63 && stop() {
                return false;
            }
            let Some(entering) = self.entering() else {
                if self.since_fresh == 0 {
                    return true;
                }
                self.invert();
                continue;
            };
            if !self.pivot(entering) {
                if self.since_fresh == 0 {
                    return false;
                }
                self.invert();
            }
            if self.since_fresh >= FRESH_AFTER {
                self.invert();
            }
        }
        false
    }

    /// Price of each row. Supply rows have prices at most 0.
    pub fn prices(&self) -> &[f64] {
        &self.prices
    }

    /// The caller's columns above zero: index and value at the true right-hand side.
    pub fn solution(&self) -> Vec<(usize, f64)> {
        let mut found = Vec::new();
        for (row, &column) in self.basis.iter().enumerate() {
            if column >= self.own && column < self.columns.costs.len() {
                let weights = &self.inverse[row * self.size..(row + 1) * self.size];
                let value: f64 = weights.iter().zip(&self.wanted).map(|(weight, want)| weight * want).sum();
                if value > 1e-7 {
                    found.push((column - self.own, value));
                }
            }
        }
        found
    }

    /// Reduced cost of a column at the current prices.
    pub fn gain(&self, column: &Column) -> f64 {
        column.cost - column.rows.iter().map(|&(row, weight)| self.prices[row] * weight).sum::<f64>()
    }

    /// The variable that gains most.
    fn entering(&self) -> Option<usize> {
        let table = &self.columns;
        let mut bonus = vec![0.0; if self.added.is_empty() { 0 } else { table.costs.len() }];
        let first = self.size - self.added.len();
        for (row, added) in self.added.iter().enumerate() {
            added.members.iter().for_each(|&column| bonus[column] += self.prices[first + row]);
        }
        let mut best = None;
        let mut least = -NO_GAIN;
        for at in 0..table.costs.len() {
            if !self.basic[at] && !self.banned[at] {
                let worth: f64 = table.of(at).iter().map(|&(row, weight)| self.prices[row] * weight).sum();
                let gain = table.costs[at] - worth - bonus.get(at).copied().unwrap_or(0.0);
                if gain < least {
                    least = gain;
                    best = Some(at);
                }
            }
        }
        for at in (table.costs.len()..self.basic.len()).filter(|&at| !self.basic[at]) {
            let gain = self.gain_of(at);
            if gain < least {
                least = gain;
                best = Some(at);
            }
        }
        best
    }

    /// Cost of any column, banned ones dear.
    fn cost_of(&self, at: usize) -> f64 {
        match at.checked_sub(self.columns.costs.len()) {
            None => self.columns.costs[at] + if self.banned[at] { self.dear } else { 0.0 },
            Some(own) if own % 2 == 1 => self.added[own / 2].dear,
            Some(_) => 0.0,
        }
    }

    /// Coefficients of any column.
    fn entries(&self, at: usize) -> Vec<(usize, f64)> {
        let first = self.size - self.added.len();
        match at.checked_sub(self.columns.costs.len()) {
            None => {
                let mut entries = self.columns.of(at).to_vec();
                let rows = self.added.iter().enumerate().filter(|(_, added)| added.members.binary_search(&at).is_ok());
                entries.extend(rows.map(|(row, _)| (first + row, 1.0)));
                entries
            }
            Some(own) => {
                let sign = self.added[own / 2].sign;
                vec![(first + own / 2, if own % 2 == 1 { -sign } else { sign })]
            }
        }
    }

    fn gain_of(&self, at: usize) -> f64 {
        self.cost_of(at) - self.entries(at).iter().map(|&(row, weight)| self.prices[row] * weight).sum::<f64>()
    }

    fn pivot(&mut self, entering: usize) -> bool {
        let size = self.size;
        let mut direction = vec![0.0; size];
        for (from, weight) in self.entries(entering) {
            for (row, step) in direction.iter_mut().enumerate() {
                *step += weight * self.inverse[row * size + from];
            }
        }
        let mut leaving: Option<(usize, f64)> = None;
        for (row, &step) in direction.iter().enumerate() {
            if step > NO_PIVOT {
                let ratio = self.values[row].max(0.0) / step;
                let better = leaving.is_none_or(|(best, least)| {
                    ratio < least - 1e-12 || (ratio < least + 1e-12 && step > direction[best])
                });
                if better {
                    leaving = Some((row, ratio));
                }
            }
        }
        let Some((out, ratio)) = leaving else { return false };
        let gain = self.gain_of(entering);
        let pivot = direction[out];
        let (before, rest) = self.inverse.split_at_mut(out * size);
        let (pivot_row, after) = rest.split_at_mut(size);
        pivot_row.iter_mut().for_each(|weight| *weight /= pivot);
        let others = before.chunks_exact_mut(size).chain(after.chunks_exact_mut(size));
        let steps = direction[..out].iter().chain(&direction[out + 1..]);
        for (row, &step) in others.zip(steps) {
            if step != 0.0 {
                row.iter_mut().zip(pivot_row.iter()).for_each(|(weight, by)| *weight -= step * by);
            }
        }
        for (row, value) in self.values.iter_mut().enumerate() {
            *value -= ratio * direction[row];
        }
        self.values[out] = ratio;
        self.prices.iter_mut().zip(pivot_row.iter()).for_each(|(price, weight)| *price += gain * weight);
        self.basic[self.basis[out]] = false;
        self.basic[entering] = true;
        self.basis[out] = entering;
        self.since_fresh += 1;
        true
    }

    /// Inverse, values and prices afresh from the basis. A basis that turns out
    /// singular is repaired with the rows' own units.
    fn invert(&mut self) {
        let size = self.size;
        let mut matrix = vec![0.0; size * size];
        for (place, &column) in self.basis.iter().enumerate() {
            for (row, weight) in self.entries(column) {
                matrix[row * size + place] = weight;
            }
        }
        let mut inverse = vec![0.0; size * size];
        for row in 0..size {
            inverse[row * size + row] = 1.0;
        }
        let mut row_of = vec![usize::MAX; size];
        let mut used = vec![false; size];
        for place in 0..size {
            let free = (0..size).filter(|&row| !used[row]);
            let best = free
                .max_by(|&one, &other| matrix[one * size + place].abs().total_cmp(&matrix[other * size + place].abs()));
            let Some(row) = best.filter(|&row| matrix[row * size + place].abs() > NO_PIVOT) else { continue };
            used[row] = true;
            row_of[place] = row;
            eliminate(&mut matrix, &mut inverse, size, (row, place));
        }
        if row_of.contains(&usize::MAX) {
            return self.start_over();
        }
        self.inverse.clear();
        for &row in &row_of {
            self.inverse.extend_from_slice(&inverse[row * size..(row + 1) * size]);
        }
        self.values = self.times(&self.shaken);
        self.reprice();
        self.since_fresh = 0;
    }

    /// Prices of the rows from the costs of the basis.
    fn reprice(&mut self) {
        let size = self.size;
        self.stale = false;
        self.prices = vec![0.0; size];
        for (row, &column) in self.basis.iter().enumerate() {
            let cost = self.cost_of(column);
            if cost != 0.0 {
                let weights = &self.inverse[row * size..(row + 1) * size];
                self.prices.iter_mut().zip(weights).for_each(|(price, weight)| *price += cost * weight);
            }
        }
    }

    /// Back to a basis of one unit a row.
    fn start_over(&mut self) {
        self.basic.iter_mut().for_each(|basic| *basic = false);
        let first = self.size - self.added.len();
        for row in 0..self.size {
            let added = row
                .checked_sub(first)
                .map(|place| self.columns.costs.len() + 2 * place + usize::from(self.added[place].sign < 0.0));
            let at = added.unwrap_or(row);
            self.basis[row] = at;
            self.basic[at] = true;
        }
        self.invert();
    }

    fn times(&self, right: &[f64]) -> Vec<f64> {
        self.inverse
            .chunks_exact(self.size.max(1))
            .map(|row| row.iter().zip(right).map(|(weight, value)| weight * value).sum())
            .collect()
    }
}

impl Table {
    fn push(&mut self, cost: f64, rows: &[(usize, f64)]) {
        self.costs.push(cost);
        self.entries.extend_from_slice(rows);
        self.starts.push(self.entries.len());
    }

    fn of(&self, at: usize) -> &[(usize, f64)] {
        &self.entries[self.starts[at]..self.starts[at + 1]]
    }
}

/// Clears a column of `matrix` with its pivot row, doing the same to `inverse`.
fn eliminate(matrix: &mut [f64], inverse: &mut [f64], size: usize, pivot: (usize, usize)) {
    let (row, place) = pivot;
    for table in [0, 1] {
        let factor = matrix[row * size + place];
        let target = if table == 0 { &mut *inverse } else { &mut *matrix };
        target[row * size..(row + 1) * size].iter_mut().for_each(|weight| *weight /= factor);
    }
    for other in (0..size).filter(|&other| other != row) {
        let factor = matrix[other * size + place];
        if factor == 0.0 {
            continue;
        }
        for table in [&mut *inverse, &mut *matrix] {
            let (low, high) = (row.min(other) * size, row.max(other) * size);
            let (head, tail) = table.split_at_mut(high);
            let (one, two) = (&mut head[low..low + size], &mut tail[..size]);
            let (from, to) = if row < other { (one, two) } else { (two, one) };
            to.iter_mut().zip(from.iter()).for_each(|(weight, by)| *weight -= factor * by);
        }
    }
}

/// A fixed number from 0.5 to 1.5 for each row.
fn shake(row: usize) -> f64 {
    0.5 + ((row as u64 + 1).wrapping_mul(0x9E37_79B9_7F4A_7C15) >> 40) as f64 / f64::from(1 << 24)
}
