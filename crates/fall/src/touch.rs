//! What falls if a piece is touched: for every piece, how many pieces go when it is knocked forward or back.

use rayon::prelude::*;

use crate::touch_count::{self, Groups, Search, both_ways, by_state, search};
use crate::touch_estimate;
use crate::touch_graph::{Graph, Knots};

/// Pieces from which an exact search is made where counts are only estimated.
const SEARCHED: usize = 32;
/// Pieces whose two chains do not match and that are searched one by one for the count of both ways.
const UNEVEN: usize = 64;

/// For every piece how many pieces fall when it is touched. The touched piece counts; a piece that the fall reaches
/// both ways counts once. Pieces that do not stand have 0. Indexed by the global piece number.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct TouchMap {
    /// When the piece is knocked forward.
    pub forward: Vec<u32>,
    /// When the piece is knocked back.
    pub back: Vec<u32>,
    /// At the most: the larger of the two, or where a soft touch can start both ways, all that fall either way.
    pub most: Vec<u32>,
    /// True when all counts are exact. Otherwise they are estimates with a relative error of about 13 % (one standard
    /// deviation), save for those that [`TouchMap::worst`] names.
    pub exact: bool,
    /// Pieces whose counts are exact although the others are estimates, worst first.
    searched: Vec<u32>,
}

impl TouchMap {
    /// The worst pieces to touch with their counts, worst first, lower piece numbers first among equals; their counts
    /// are always exact. At most 32 when the other counts are estimates.
    pub fn worst(&self, n: usize) -> Vec<(u32, u32)> {
        if !self.exact {
            return self.searched.iter().take(n).map(|&p| (p, self.most[p as usize])).collect();
        }
        let mut all: Vec<(u32, u32)> =
            self.most.iter().enumerate().filter(|&(_, &c)| c > 0).map(|(p, &c)| (p as u32, c)).collect();
        let key = |&(p, c): &(u32, u32)| (std::cmp::Reverse(c), p);
        if n < all.len() && n > 0 {
            all.select_nth_unstable_by_key(n - 1, key);
        }
        all.truncate(n);
        all.sort_unstable_by_key(key);
        all
    }

    /// Standing pieces whose touch takes a number of pieces of each class; see [`touch_class`].
    pub fn classes(&self) -> [u32; TOUCH_CLASSES.len()] {
        let mut counts = [0; TOUCH_CLASSES.len()];
        for &c in self.most.iter().filter(|&&c| c > 0) {
            counts[touch_class(c) as usize] += 1;
        }
        counts
    }

    /// Pieces that a touch takes on the average, if every standing piece is as likely to be touched; 0 when none
    /// stands.
    pub fn mean(&self) -> f64 {
        let (mut sum, mut standing) = (0_u64, 0_u64);
        for &c in self.most.iter().filter(|&&c| c > 0) {
            sum += u64::from(c);
            standing += 1;
        }
        if standing == 0 { 0.0 } else { sum as f64 / standing as f64 }
    }
}

/// The least number of pieces of each class by which touches are coloured.
pub const TOUCH_CLASSES: [u32; 5] = [1, 10, 100, 1_000, 10_000];

/// The class of a count, from 0; counts below 10 and pieces that do not stand are of class 0.
pub fn touch_class(count: u32) -> u8 {
    TOUCH_CLASSES.iter().skip(1).filter(|&&least| count >= least).count() as u8
}

/// Counts what falls after each state of a graph.
///
/// `stands` says for each piece whether it stands; `soft` for which pieces a soft touch may start both ways, empty
/// for none. Deterministic for any number of threads.
pub fn touch_graph(graph: Graph<'_>, stands: &[bool], soft: &[bool]) -> TouchMap {
    let any_soft = soft.iter().any(|&s| s);
    let knots = Knots::of(graph, any_soft);
    let groups = Groups::of(&knots, stands);
    let asked: Vec<bool> = if any_soft { soft.to_vec() } else { vec![false; stands.len()] };
    let mut wanted = vec![false; groups.len()];
    for p in (0..stands.len()).filter(|&p| asked[p] && stands[p]) {
        wanted[groups.of[p] as usize] = true;
    }
    match touch_count::beyond(&knots, &groups, &wanted, touch_count::ROWS) {
        Some(beyond) => {
            let states = by_state(&knots, &groups, &beyond);
            let both = if any_soft { both_ways(&knots, &groups, &beyond, &asked) } else { Vec::new() };
            exact_map(graph, &states, stands, (&asked, &both))
        }
        None => estimated_map(graph, &knots, &groups, (stands, &asked)),
    }
}

fn split(states: &[u32], stands: &[bool]) -> (Vec<u32>, Vec<u32>) {
    let of = |way: usize| {
        let count = |p: usize| if stands[p] { states[2 * p + way] } else { 0 };
        (0..stands.len()).map(count).collect()
    };
    (of(0), of(1))
}

fn exact_map(
    graph: Graph<'_>,
    states: &[u32],
    stands: &[bool],
    (asked, both): (&[bool], &[Option<u32>]),
) -> TouchMap {
    let (forward, back) = split(states, stands);
    let mut most: Vec<u32> = forward.iter().zip(&back).map(|(&f, &b)| f.max(b)).collect();
    let (mut room, mut searches, mut exact) = (Search::default(), 0, true);
    for p in (0..stands.len()).filter(|&p| asked[p] && stands[p]) {
        most[p] = match both[p] {
            Some(count) => count,
            None if searches < UNEVEN => {
                searches += 1;
                search(graph, &[2 * p as u32, 2 * p as u32 + 1], &mut room)
            }
            None => {
                // More cannot fall; what both ways share besides the touched piece is counted twice.
                exact = false;
                forward[p] + back[p] - 1
            }
        };
    }
    let mut map = TouchMap { forward, back, most, exact, searched: Vec::new() };
    if !exact {
        search_worst(graph, &mut map, asked);
    }
    map
}

fn estimated_map(
    graph: Graph<'_>,
    knots: &Knots,
    groups: &Groups,
    (stands, asked): (&[bool], &[bool]),
) -> TouchMap {
    let pieces = touch_estimate::beyond(knots, groups, 1);
    let own = vec![(false, false); groups.len()];
    let beyond = touch_count::Beyond { pieces, own, either: Vec::new() };
    let standing = stands.iter().filter(|&&s| s).count() as u32;
    let states: Vec<u32> = by_state(knots, groups, &beyond).into_iter().map(|c| c.min(standing)).collect();
    let (forward, back) = split(&states, stands);
    let of = |p: usize| if asked[p] { (forward[p] + back[p]).min(standing) } else { forward[p].max(back[p]) };
    let most = (0..stands.len()).into_par_iter().map(of).collect();
    let mut map = TouchMap { forward, back, most, exact: false, searched: Vec::new() };
    search_worst(graph, &mut map, asked);
    map
}

/// Searches exactly from the pieces whose counts seem worst.
fn search_worst(graph: Graph<'_>, map: &mut TouchMap, asked: &[bool]) {
    map.exact = true;
    let worst = map.worst(SEARCHED);
    map.exact = false;
    let mut room = Search::default();
    for &(p, _) in &worst {
        let mut falls = |from: &[u32]| search(graph, from, &mut room);
        let (i, forward, back) = (p as usize, 2 * p, 2 * p + 1);
        (map.forward[i], map.back[i]) = (falls(&[forward]), falls(&[back]));
        map.most[i] = if asked[i] { falls(&[forward, back]) } else { map.forward[i].max(map.back[i]) };
    }
    map.searched = worst.into_iter().map(|(p, _)| p).collect();
    map.searched.sort_by_key(|&p| (std::cmp::Reverse(map.most[p as usize]), p));
}
