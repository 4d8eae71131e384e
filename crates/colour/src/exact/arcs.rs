//! The arcs between colours: what it costs at least to turn one piece of colour u into colour v.

use std::{cmp::Reverse, collections::BTreeMap, collections::BinaryHeap};

use super::costs::{Costs, FORBIDDEN};

/// Up to so many classes at a colour are looked through one by one.
const FEW_MEMBERS: usize = 32;

/// The class that stands for unused stock: it costs nothing anywhere.
pub(super) const UNUSED: u32 = u32::MAX;

/// Colours and amounts of the classes that have several colours.
pub(super) type Splits = BTreeMap<u32, Vec<(u16, u32)>>;

/// How many cells of each class have which colour. Nearly every class has one colour.
pub(super) struct Shares {
    main: Vec<u16>,
    main_amount: Vec<u32>,
    /// Further colours of a class.
    extra: BTreeMap<(u32, u16), u32>,
    /// Unused stock per colour.
    unused: Vec<u64>,
}

impl Shares {
    pub(super) fn new(main: Vec<u16>, amounts: Vec<u32>, unused: Vec<u64>) -> Self {
        Self { main, main_amount: amounts, extra: BTreeMap::new(), unused }
    }

    /// Cells of a class that have a colour.
    pub(super) fn amount(&self, class: u32, colour: usize) -> u64 {
        if class == UNUSED {
            return self.unused[colour];
        }
        if usize::from(self.main[class as usize]) == colour {
            return u64::from(self.main_amount[class as usize]);
        }
        if self.extra.is_empty() {
            return 0;
        }
        u64::from(self.extra.get(&(class, colour as u16)).copied().unwrap_or(0))
    }

    fn add(&mut self, class: u32, colour: usize, amount: u64) {
        if class == UNUSED {
            self.unused[colour] += amount;
            return;
        }
        let place = class as usize;
        if usize::from(self.main[place]) == colour {
            self.main_amount[place] += amount as u32;
        } else if self.main_amount[place] == 0
            && self.extra.range((class, 0)..=(class, u16::MAX)).next().is_none()
        {
            self.main[place] = colour as u16;
            self.main_amount[place] = amount as u32;
        } else {
            *self.extra.entry((class, colour as u16)).or_insert(0) += amount as u32;
        }
    }

    fn take(&mut self, class: u32, colour: usize, amount: u64) {
        if class == UNUSED {
            self.unused[colour] -= amount;
        } else if usize::from(self.main[class as usize]) == colour {
            self.main_amount[class as usize] -= amount as u32;
        } else if let Some(rest) = self.extra.get_mut(&(class, colour as u16)) {
            *rest -= amount as u32;
            if *rest == 0 {
                self.extra.remove(&(class, colour as u16));
            }
        }
    }

    /// The main colours, all colours with their amounts of the classes that have several, and the unused stock.
    pub(super) fn into_parts(self) -> (Vec<u16>, Splits, Vec<u64>) {
        let mut splits = Splits::new();
        for (&(class, colour), &amount) in &self.extra {
            splits.entry(class).or_default().push((colour, amount));
        }
        for (&class, split) in &mut splits {
            let amount = self.main_amount[class as usize];
            if amount > 0 {
                split.push((self.main[class as usize], amount));
                split.sort_unstable();
            }
        }
        (self.main, splits, self.unused)
    }
}

/// The classes that may move from u to v, cheapest first; only the cheapest few hundred are held.
#[derive(Default)]
struct Queue {
    /// Extra cost and class, packed so that their order is that of the numbers.
    heap: BinaryHeap<Reverse<u64>>,
    /// Everything below this is held, as far as it is valid; `u64::MAX` when all is held.
    cut: u64,
}

/// All arcs, with the shares that they depend on.
pub(super) struct Arcs<'a> {
    colours: usize,
    costs: &'a Costs,
    pub(super) shares: Shares,
    /// Classes that have or had a colour.
    members: Vec<Vec<u32>>,
    queues: Vec<Queue>,
    /// How many candidates a queue holds after it was filled.
    held: usize,
    scratch: Vec<u64>,
}

fn pack(extra_cost: i32, class: u32) -> u64 {
    u64::from(extra_cost as u32 ^ 0x8000_0000) << 32 | u64::from(class)
}

fn unpack(packed: u64) -> (i64, u32) {
    (i64::from(((packed >> 32) as u32 ^ 0x8000_0000) as i32), packed as u32)
}

impl<'a> Arcs<'a> {
    pub(super) fn new(costs: &'a Costs, shares: Shares, colours: usize) -> Self {
        let mut members = vec![Vec::new(); colours];
        for (class, (&colour, &amount)) in shares.main.iter().zip(&shares.main_amount).enumerate() {
            if amount > 0 {
                members[usize::from(colour)].push(class as u32);
            }
        }
        let queues = (0..colours * colours).map(|_| Queue::default()).collect();
        let held = ((1 << 22) / (colours * colours)).clamp(16, 512);
        Self { colours, costs, shares, members, queues, held, scratch: Vec::new() }
    }

    /// The least extra cost of moving a piece from u to v, and the class that moves.
    pub(super) fn cheapest(&mut self, u: usize, v: usize) -> Option<(i64, u32)> {
        let held = self.cheapest_class(u, v);
        match held {
            // Unused stock moves for nothing.
            _ if self.shares.unused[u] > 0 && held.is_none_or(|(cost, _)| cost > 0) => Some((0, UNUSED)),
            other => other,
        }
    }

    /// The least extra cost and its class from u to every colour, straight from the rows of the classes at u;
    /// nothing where so many classes are there that the queues are faster.
    pub(super) fn cheapest_to_all(&mut self, u: usize, best: &mut Vec<(i32, u32)>) -> bool {
        if self.members[u].len() > FEW_MEMBERS {
            let shares = &self.shares;
            self.members[u].retain(|&class| shares.amount(class, u) > 0);
        }
        if self.members[u].len() > FEW_MEMBERS {
            return false;
        }
        best.clear();
        let unused = self.shares.unused[u] > 0;
        best.resize(self.colours, (if unused { 0 } else { FORBIDDEN }, UNUSED));
        for &class in self.members[u].iter().filter(|&&class| self.shares.amount(class, u) > 0) {
            let row = self.costs.row(class as usize);
            for (best, &cost) in best.iter_mut().zip(row) {
                // What is forbidden stays above every true cost.
                let extra = if cost == FORBIDDEN { FORBIDDEN } else { cost - row[u] };
                if extra < best.0 {
                    *best = (extra, class);
                }
            }
        }
        true
    }

    fn cheapest_class(&mut self, u: usize, v: usize) -> Option<(i64, u32)> {
        loop {
            let queue = &mut self.queues[u * self.colours + v];
            while let Some(&Reverse(top)) = queue.heap.peek() {
                let (cost, class) = unpack(top);
                if self.shares.amount(class, u) > 0 {
                    return Some((cost, class));
                }
                queue.heap.pop();
            }
            if queue.cut == u64::MAX || !self.fill(u, v) {
                return None;
            }
        }
    }

    /// Fills a queue anew; says whether it holds anything.
    fn fill(&mut self, u: usize, v: usize) -> bool {
        let (shares, costs) = (&self.shares, self.costs);
        self.members[u].retain(|&class| shares.amount(class, u) > 0);
        self.scratch.clear();
        self.scratch.extend(self.members[u].iter().filter_map(|&class| {
            let row = costs.row(class as usize);
            (row[v] != FORBIDDEN).then(|| pack(row[v] - row[u], class))
        }));
        let mut cut = u64::MAX;
        if self.scratch.len() > 2 * self.held {
            let (_, &mut limit, _) = self.scratch.select_nth_unstable(self.held);
            cut = limit;
            self.scratch.truncate(self.held);
        }
        let heap = self.scratch.iter().copied().map(Reverse).collect();
        let queue = &mut self.queues[u * self.colours + v];
        *queue = Queue { heap, cut };
        !queue.heap.is_empty()
    }

    /// Turns some cells of a class from u to v.
    pub(super) fn shift(&mut self, class: u32, (u, v): (usize, usize), amount: u64) {
        let new = self.shares.amount(class, v) == 0;
        self.shares.take(class, u, amount);
        self.shares.add(class, v, amount);
        if !new || class == UNUSED {
            return;
        }
        self.members[v].push(class);
        let row = self.costs.row(class as usize);
        for (to, &cost) in row.iter().enumerate() {
            let queue = &mut self.queues[v * self.colours + to];
            if to != v && cost != FORBIDDEN {
                let packed = pack(cost - row[v], class);
                if packed < queue.cut {
                    queue.heap.push(Reverse(packed));
                }
            }
        }
    }
}
