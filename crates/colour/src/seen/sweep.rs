//! One sweep of the search: every free cell in turn takes the best of a recolouring, a swap with a near cell,
//! or a swap with the best offer for its colour from anywhere.
//!
//! Within a sweep the error is a quadratic form: a move of cell p by u (in units of what is seen) changes it by
//! u . (2 C_p + R(0) u), and two moves together by 2 R(p - q) u_p . u_q more. The form is positive semidefinite
//! because the slope sits at the cell, so trials cost a few operations and are exact within the model.

use super::{
    books::Books,
    state::{Domain, State},
};
use crate::problem::EMPTY;

/// A move must gain at least this.
const LEAST_GAIN: f32 = -1e-6;

/// Near cells that are tried as partners.
const NEAR_TRIALS: usize = 12;

/// Near means so many cells along x and y at most.
const NEAR: usize = 6;

/// How often the top of a book is looked at again before the search goes on.
const LOOKS: usize = 3;

/// With more colours than this, a cell offers only its cheapest moves.
const ALL_OFFERS: usize = 64;

/// How many moves a cell offers then.
const FEW_OFFERS: usize = 24;

/// Cells between two questions whether to go on.
const ASK: usize = 2048;

/// What one sweep did.
pub(super) struct Swept {
    /// Accepted moves.
    pub(super) moves: u64,
    /// The caller asked to stop.
    pub(super) stopped: bool,
}

/// A sweep over the cells of all fields.
pub(super) struct Sweep<'a> {
    state: &'a mut State,
    books: &'a mut Books,
    domains: Vec<Domain>,
    /// Change of the error for each colour at the cell in hand.
    values: Vec<f32>,
    /// For picking the cheapest few.
    sorted: Vec<(f32, usize)>,
    random: &'a mut u64,
}

/// A move of the cell in hand.
#[derive(Clone, Copy)]
enum Move {
    Recolour(usize),
    /// Swap colours with a cell.
    Swap(usize),
}

/// The cell in hand.
#[derive(Clone, Copy)]
struct Hand {
    domain: usize,
    cell: usize,
    colour: usize,
}

impl<'a> Sweep<'a> {
    pub(super) fn new(state: &'a mut State, books: &'a mut Books, random: &'a mut u64) -> Self {
        let domains = std::mem::take(&mut state.domains);
        let colours = state.left.len();
        Self { state, books, domains, values: vec![0.0; colours], sorted: Vec::new(), random }
    }

    /// Goes through all cells, serpentine in every field; `go_on` is asked with the share done.
    pub(super) fn run(mut self, go_on: &mut dyn FnMut(f64) -> bool) -> Swept {
        let total = self.state.colour.len();
        let mut swept = Swept { moves: 0, stopped: false };
        let mut done = 0;
        'all: for domain in 0..self.domains.len() {
            let (base, cols, rows) = {
                let d = &self.domains[domain];
                (d.base, d.cols, d.rows)
            };
            for row in 0..rows {
                for step in 0..cols {
                    if done % ASK == 0 && !go_on(done as f64 / total as f64) {
                        swept.stopped = true;
                        break 'all;
                    }
                    done += 1;
                    let col = if row % 2 == 0 { step } else { cols - 1 - step };
                    let cell = base + row * cols + col;
                    if self.state.free[cell] {
                        swept.moves += u64::from(self.visit(domain, cell));
                    }
                }
            }
        }
        self.state.domains = self.domains;
        swept
    }

    /// Makes the best move at a cell, or offers its moves; says whether it moved.
    fn visit(&mut self, domain: usize, cell: usize) -> bool {
        let hand = Hand { domain, cell, colour: usize::from(self.state.colour[cell]) };
        self.value_all(hand);
        let mut best = (LEAST_GAIN, None);
        self.try_recolours(&mut best);
        self.try_near(hand, &mut best);
        self.try_far(hand, &mut best);
        match best.1 {
            Some(Move::Recolour(to)) => {
                self.state.left[hand.colour] += 1;
                self.state.left[to] -= 1;
                self.set(domain, cell, to);
                true
            }
            Some(Move::Swap(other)) => {
                let to = usize::from(self.state.colour[other]);
                let other_domain = self.number_of(other);
                self.set(domain, cell, to);
                self.set(other_domain, other, hand.colour);
                true
            }
            None => {
                self.offer(hand);
                false
            }
        }
    }

    /// Fills `values` for the cell in hand.
    fn value_all(&mut self, hand: Hand) {
        let domain = &self.domains[hand.domain];
        let j = &self.state.slope[hand.cell];
        let c = &self.state.pull[hand.cell];
        let (peak, from) = (domain.peak(), domain.light_of(hand.colour));
        let [red, green, blue] = &domain.light;
        let k = self.values.len();
        let (red, green, blue, bar) = (&red[..k], &green[..k], &blue[..k], &domain.bar[..k]);
        for (i, value) in self.values.iter_mut().enumerate() {
            let (r, g, b) = (red[i] - from[0], green[i] - from[1], blue[i] - from[2]);
            let u0 = j[0] * r + j[1] * g + j[2] * b;
            let u1 = j[3] * r + j[4] * g + j[5] * b;
            let u2 = j[6] * r + j[7] * g + j[8] * b;
            *value = u0 * (2.0 * c[0] + peak * u0)
                + u1 * (2.0 * c[1] + peak * u1)
                + u2 * (2.0 * c[2] + peak * u2)
                + bar[i];
        }
        if domain.single > 0.0 {
            let wanted = &self.state.wanted_look[hand.cell];
            let square = |colour: usize| -> f32 {
                let look = domain.look_of(colour);
                (0..3).map(|i| (look[i] - wanted[i]) * (look[i] - wanted[i])).sum()
            };
            let now = square(hand.colour);
            for (colour, value) in self.values.iter_mut().enumerate() {
                *value += domain.single * (square(colour) - now);
            }
        }
        if domain.change > 0.0 {
            for neighbour in domain.lane_neighbours(hand.cell).into_iter().flatten() {
                let beside = self.state.colour[neighbour];
                if beside == EMPTY {
                    continue;
                }
                let beside = usize::from(beside);
                if beside == hand.colour {
                    self.values.iter_mut().for_each(|v| *v += domain.change);
                    self.values[hand.colour] -= domain.change;
                } else {
                    self.values[beside] -= domain.change;
                }
            }
        }
    }

    /// The change of the error if a cell took another colour; infinite where its field does not allow it.
    fn value(&self, domain: &Domain, cell: usize, to: usize) -> f32 {
        let from = usize::from(self.state.colour[cell]);
        let u = self.step(domain, cell, from, to);
        let c = &self.state.pull[cell];
        let peak = domain.peak();
        let mut value: f32 = domain.bar[to];
        for i in 0..3 {
            value += u[i] * (2.0 * c[i] + peak * u[i]);
        }
        if domain.single > 0.0 {
            let (old, new, wanted) =
                (domain.look_of(from), domain.look_of(to), &self.state.wanted_look[cell]);
            for i in 0..3 {
                let (before, after) = (old[i] - wanted[i], new[i] - wanted[i]);
                value += domain.single * (after * after - before * before);
            }
        }
        if domain.change > 0.0 {
            for neighbour in domain.lane_neighbours(cell).into_iter().flatten() {
                let beside = self.state.colour[neighbour];
                if beside != EMPTY {
                    let beside = usize::from(beside);
                    value += domain.change * (f32::from(beside != to) - f32::from(beside != from));
                }
            }
        }
        value
    }

    /// A change of colour in units of what is seen.
    fn step(&self, domain: &Domain, cell: usize, from: usize, to: usize) -> [f32; 3] {
        let (old, new) = (domain.light_of(from), domain.light_of(to));
        let d = [new[0] - old[0], new[1] - old[1], new[2] - old[2]];
        let j = &self.state.slope[cell];
        [
            j[0] * d[0] + j[1] * d[1] + j[2] * d[2],
            j[3] * d[0] + j[4] * d[1] + j[5] * d[2],
            j[6] * d[0] + j[7] * d[1] + j[8] * d[2],
        ]
    }

    fn try_recolours(&self, best: &mut (f32, Option<Move>)) {
        for (to, (&value, &left)) in self.values.iter().zip(&self.state.left).enumerate() {
            if value < best.0 && left > 0 {
                *best = (value, Some(Move::Recolour(to)));
            }
        }
    }

    fn try_near(&mut self, hand: Hand, best: &mut (f32, Option<Move>)) {
        let (cols, rows, base, reach) = {
            let d = &self.domains[hand.domain];
            (d.cols, d.rows, d.base, [NEAR.min(d.reach[0].len() - 1), NEAR.min(d.reach[1].len() - 1)])
        };
        let at = hand.cell - base;
        let (x, y) = (at % cols, at / cols);
        for _ in 0..NEAR_TRIALS {
            let random = self.next_random();
            let dx = (random as u32 as usize) % (2 * reach[0] + 1);
            let dy = ((random >> 32) as usize) % (2 * reach[1] + 1);
            let (Some(nx), Some(ny)) = ((x + dx).checked_sub(reach[0]), (y + dy).checked_sub(reach[1]))
            else {
                continue;
            };
            if nx >= cols || ny >= rows {
                continue;
            }
            let other = base + ny * cols + nx;
            let colour = usize::from(self.state.colour[other]);
            if !self.state.free[other] || colour == hand.colour {
                continue;
            }
            let domain = &self.domains[hand.domain];
            let value = self.values[colour]
                + self.value(domain, other, hand.colour)
                + self.joint(hand, other, colour);
            if value < best.0 {
                *best = (value, Some(Move::Swap(other)));
            }
        }
    }

    /// What two cells' moves cost together beyond what they cost apart.
    fn joint(&self, hand: Hand, other: usize, colour: usize) -> f32 {
        let domain = &self.domains[hand.domain];
        let mut value = 0.0;
        let overlap = domain.overlap(hand.cell, other);
        if overlap > 0.0 {
            let u = self.step(domain, hand.cell, hand.colour, colour);
            let v = self.step(domain, other, colour, hand.colour);
            value += 2.0 * overlap * (u[0] * v[0] + u[1] * v[1] + u[2] * v[2]);
        }
        if domain.change > 0.0 && domain.lane_neighbours(hand.cell).contains(&Some(other)) {
            // Each counted the edge between them as gone, and it stays.
            value += 2.0 * domain.change;
        }
        value
    }

    fn try_far(&mut self, hand: Hand, best: &mut (f32, Option<Move>)) {
        for from in 0..self.values.len() {
            let own = self.values[from];
            if from == hand.colour || own + self.books.tops_into(hand.colour)[from] >= best.0 {
                continue;
            }
            for _ in 0..LOOKS {
                if !self.look_again(hand, from, best) {
                    break;
                }
            }
        }
    }

    /// Takes the top of the book from a colour into the colour in hand, brings it up to date and tries it;
    /// says whether the next one may be better.
    fn look_again(&mut self, hand: Hand, from: usize, best: &mut (f32, Option<Move>)) -> bool {
        let own = self.values[from];
        while own + self.books.tops_into(hand.colour)[from] < best.0 {
            let Some((stale, other)) = self.books.take(from, hand.colour) else { return false };
            let cell = other as usize;
            if usize::from(self.state.colour[cell]) != from || cell == hand.cell {
                continue;
            }
            let number = self.number_of(cell);
            let value = self.value(&self.domains[number], cell, hand.colour);
            let mut together = own + value;
            if number == hand.domain {
                together += self.joint(hand, cell, from);
            }
            self.books.offer((from, hand.colour), value, other);
            if together < best.0 {
                *best = (together, Some(Move::Swap(cell)));
            }
            return value > stale;
        }
        false
    }

    fn offer(&mut self, hand: Hand) {
        let cell = hand.cell as u32;
        if self.values.len() <= ALL_OFFERS {
            for (to, &value) in self.values.iter().enumerate() {
                if to != hand.colour && value < f32::INFINITY {
                    self.books.offer((hand.colour, to), value, cell);
                }
            }
            return;
        }
        self.sorted.clear();
        self.sorted.extend(
            self.values
                .iter()
                .enumerate()
                .filter(|(to, v)| *to != hand.colour && **v < f32::INFINITY)
                .map(|(to, &v)| (v, to)),
        );
        let order = |a: &(f32, usize), b: &(f32, usize)| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1));
        if self.sorted.len() > FEW_OFFERS {
            self.sorted.select_nth_unstable_by(FEW_OFFERS, order);
            self.sorted.truncate(FEW_OFFERS);
        }
        for &(value, to) in &self.sorted {
            self.books.offer((hand.colour, to), value, cell);
        }
    }

    /// Gives a cell a colour and tells its neighbourhood.
    fn set(&mut self, number: usize, cell: usize, to: usize) {
        let from = usize::from(self.state.colour[cell]);
        let domain = &self.domains[number];
        let u = self.step(domain, cell, from, to);
        self.state.colour[cell] = to as u16;
        let at = cell - domain.base;
        let (x, y) = (at % domain.cols, at / domain.cols);
        let [reach_x, reach_y] = &domain.reach;
        let (rx, ry) = (reach_x.len() - 1, reach_y.len() - 1);
        let (left, right) = (x.saturating_sub(rx), (x + rx).min(domain.cols - 1));
        for ny in y.saturating_sub(ry)..=(y + ry).min(domain.rows - 1) {
            let scale = reach_y[ny.abs_diff(y)];
            let v = [u[0] * scale, u[1] * scale, u[2] * scale, 0.0];
            let row = domain.base + ny * domain.cols;
            let pulls = &mut self.state.pull[row + left..=row + right];
            for (nx, pull) in (left..).zip(pulls) {
                let share = reach_x[nx.abs_diff(x)];
                for i in 0..4 {
                    pull[i] += share * v[i];
                }
            }
        }
    }

    fn number_of(&self, cell: usize) -> usize {
        self.domains.partition_point(|d| d.base <= cell).saturating_sub(1)
    }

    /// The next of a fixed sequence (xorshift64, Marsaglia 2003).
    fn next_random(&mut self) -> u64 {
        let mut x = *self.random;
        x ^= x << 13;
        x ^= x >> 7;
        x ^= x << 17;
        *self.random = x;
        x
    }
}
