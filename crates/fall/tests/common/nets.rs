//! Made-up networks of pieces for tests and benches: lines with splits, joins and rings, and fields.
#![allow(dead_code, reason = "each test and bench takes what it needs")]

/// A generator that gives the same numbers everywhere (`splitmix64`, public domain).
pub(crate) struct Numbers(pub(crate) u64);

impl Numbers {
    pub(crate) fn below(&mut self, n: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) % n as u64) as usize
    }
}

/// A network as a list of what each state topples.
#[derive(Default)]
pub(crate) struct Net {
    pub(crate) edges: Vec<(u32, u32)>,
    pub(crate) pieces: u32,
}

impl Net {
    /// Piece `a` falling forward topples `b`, and `b` falling back topples `a`.
    pub(crate) fn both(&mut self, a: u32, b: u32) {
        self.edges.push((2 * a, 2 * b));
        self.edges.push((2 * b + 1, 2 * a + 1));
    }

    /// A line of new pieces, returned as (first, last).
    pub(crate) fn line(&mut self, n: u32) -> (u32, u32) {
        let first = self.pieces;
        self.pieces += n;
        (first..first + n - 1).for_each(|p| self.both(p, p + 1));
        (first, first + n - 1)
    }

    /// A field of lanes that do not touch, each fed by one piece of a line along its edge.
    pub(crate) fn lanes(&mut self, lanes: u32, ranks: u32) -> (u32, u32) {
        let feed = self.line(3 * lanes);
        for lane in 0..lanes {
            let (first, _) = self.line(ranks);
            self.both(feed.0 + 3 * lane, first);
        }
        feed
    }

    /// A field in which each piece hits two of the next rank, as in ranks shifted by half a lane.
    pub(crate) fn brick(&mut self, lanes: u32, ranks: u32) -> (u32, u32) {
        let first = self.pieces;
        self.pieces += lanes * ranks;
        for rank in 0..ranks.saturating_sub(1) {
            for lane in 0..lanes {
                let here = first + rank * lanes + lane;
                self.both(here, here + lanes);
                let side =
                    if rank % 2 == 0 { lane.checked_sub(1) } else { Some(lane + 1).filter(|&l| l < lanes) };
                if let Some(l) = side {
                    self.both(here, first + (rank + 1) * lanes + l);
                }
            }
        }
        (first, first + lanes * ranks - 1)
    }

    /// Compressed rows.
    pub(crate) fn rows(&self) -> (Vec<u32>, Vec<u32>) {
        let n = 2 * self.pieces as usize;
        let mut first = vec![0_u32; n + 1];
        self.edges.iter().for_each(|&(a, _)| first[a as usize + 1] += 1);
        (0..n).for_each(|s| first[s + 1] += first[s]);
        let (mut at, mut to) = (first.clone(), vec![0; self.edges.len()]);
        for &(a, b) in &self.edges {
            to[at[a as usize] as usize] = b;
            at[a as usize] += 1;
        }
        (first, to)
    }
}

/// Lines with splits, joins and rings, one-way joints, and fields of separate lanes, of at least so many pieces.
pub(crate) fn plan_like(pieces: u32, seed: u64) -> Net {
    let (mut net, mut numbers) = (Net::default(), Numbers(seed));
    net.line(100);
    while net.pieces < pieces {
        let from = numbers.below(net.pieces as usize) as u32;
        match numbers.below(10) {
            0 => {
                let (entry, _) = net.lanes(20 + numbers.below(60) as u32, 40 + numbers.below(80) as u32);
                net.both(from, entry);
            }
            1 => {
                let (first, last) = net.line(30 + numbers.below(300) as u32);
                net.both(last, first);
                net.both(from, first);
            }
            2 => {
                let (first, _) = net.line(20 + numbers.below(200) as u32);
                net.edges.push((2 * from, 2 * first));
            }
            kind => {
                let (first, last) = net.line(20 + numbers.below(400) as u32);
                net.both(from, first);
                if kind < 5 {
                    let to = numbers.below(net.pieces as usize) as u32;
                    if to != last {
                        net.both(last, to);
                    }
                }
            }
        }
    }
    net
}

/// Any edges whatever.
pub(crate) fn any(pieces: u32, edges: usize, seed: u64) -> Net {
    let mut numbers = Numbers(seed);
    let n = 2 * pieces as usize;
    let edge = |numbers: &mut Numbers| (numbers.below(n) as u32, numbers.below(n) as u32);
    Net { edges: (0..edges).map(|_| edge(&mut numbers)).collect(), pieces }
}
