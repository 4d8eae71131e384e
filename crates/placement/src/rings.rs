//! Rings: which nodes of a graph follow from one another, and an order in which each comes after what it leads to.

/// The part of a node that is not known yet.
const NONE: u32 = u32::MAX;

/// The strongly connected part of each of `nodes` nodes: two are in the same part when each is reached from the other. Parts
/// are numbered so that each leads only to itself and to parts of lower numbers.
///
/// `next` names what a node leads to, and `node_of` the node that such a name stands for. Takes time and memory by nodes and
/// names (Tarjan, "Depth-first search and linear graph algorithms", SIAM J. Comput. 1 (1972) 146-160), with a stack of its
/// own instead of calls, so that the longest plan cannot overflow it. Fewer than 4 294 967 295 nodes.
pub fn strong_parts<'a, T: Copy + 'a>(
    nodes: usize,
    next: impl Fn(usize) -> &'a [T],
    node_of: impl Fn(T) -> usize,
) -> Vec<u32> {
    let mut part = vec![NONE; nodes];
    let mut seen = vec![0_u32; nodes];
    let mut low = vec![0_u32; nodes];
    let (mut open, mut path) = (Vec::new(), Vec::<(u32, u32)>::new());
    let (mut clock, mut count) = (0_u32, 0_u32);
    for root in 0..nodes {
        if seen[root] != 0 {
            continue;
        }
        path.push((root as u32, 0));
        while let Some(&mut (v, ref mut edge)) = path.last_mut() {
            let at = v as usize;
            if *edge == 0 {
                clock += 1;
                (seen[at], low[at]) = (clock, clock);
                open.push(v);
            }
            let names = next(at);
            let mut deeper = None;
            while let Some(&name) = names.get(*edge as usize) {
                let w = node_of(name);
                if seen[w] == 0 {
                    deeper = Some(w);
                    break;
                }
                if part[w] == NONE {
                    low[at] = low[at].min(seen[w]);
                }
                *edge += 1;
            }
            if let Some(w) = deeper {
                *edge += 1;
                path.push((w as u32, 0));
                continue;
            }
            path.pop();
            if low[at] == seen[at] {
                while let Some(w) = open.pop() {
                    part[w as usize] = count;
                    if w as usize == at {
                        break;
                    }
                }
                count += 1;
            }
            if let Some(&(parent, _)) = path.last() {
                low[parent as usize] = low[parent as usize].min(low[at]);
            }
        }
    }
    part
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn parts(follows: &[Vec<usize>]) -> Vec<u32> {
        strong_parts(follows.len(), |v| &follows[v], |w| w)
    }

    /// Which nodes each one reaches, by plain search from each.
    fn reached(follows: &[Vec<usize>]) -> Vec<Vec<bool>> {
        let from = |root: usize| {
            let mut seen = vec![false; follows.len()];
            let mut open = vec![root];
            while let Some(v) = open.pop() {
                if !std::mem::replace(&mut seen[v], true) {
                    open.extend(&follows[v]);
                }
            }
            seen
        };
        (0..follows.len()).map(from).collect()
    }

    proptest! {
        /// By the definition: reached from each other, and lower numbers for what is led to.
        #[test]
        fn parts_are_what_reaches_each_other_and_lead_to_lower_ones(
            follows in prop::collection::vec(prop::collection::vec(0..12usize, 0..4), 12)
        ) {
            let (parts, reached) = (parts(&follows), reached(&follows));
            for v in 0..12 {
                for w in 0..12 {
                    prop_assert_eq!(parts[v] == parts[w], reached[v][w] && reached[w][v]);
                }
                prop_assert!(follows[v].iter().all(|&w| parts[w] <= parts[v]));
            }
        }
    }

    #[test]
    fn a_chain_of_a_million_does_not_overflow_the_stack() {
        let n = 1_000_000;
        let follows: Vec<Vec<usize>> = (0..n).map(|v| vec![(v + 1) % n]).collect();
        assert!(parts(&follows).iter().all(|&p| p == 0));
    }
}
