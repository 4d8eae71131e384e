//! What a fall can reach at all, whatever the times.

use crate::network::Network;

impl Network {
    /// For each state (two to a piece) 1 when some chain of hits leads there from a start, through placeholders too.
    ///
    /// A piece falls only once, so a fall reaches no more than this. With `unsure_passes`, hits that may fail count.
    pub fn reached(&self, unsure_passes: bool) -> Vec<u8> {
        let mut seen = vec![0u8; 2 * self.pieces() as usize];
        let (mut todo, mut alone) = (Vec::new(), Vec::new());
        for p in self.starts() {
            for &s in &p.states {
                // What is pushed and may die out falls, and fells nothing surely.
                let dies = !unsure_passes && p.dies.binary_search(&s).is_ok();
                if dies { alone.push(s) } else { todo.push(s) }
            }
        }
        todo.iter().for_each(|s| seen[*s as usize] = 1);
        let mut gates: Vec<(u32, usize)> = Vec::new();
        for (i, p) in self.passes().iter().enumerate() {
            gates.extend(p.enter.iter().map(|s| (*s, i)));
        }
        gates.sort_unstable();
        while let Some(state) = todo.pop() {
            for (to, code) in self.codes(state) {
                let passes = || !code.unsure() && self.crossed_by(state, to).is_none();
                if seen[to as usize] == 0 && (unsure_passes || passes()) {
                    seen[to as usize] = 1;
                    todo.push(to);
                }
            }
            let from = gates.partition_point(|g| g.0 < state);
            for g in gates[from..].iter().take_while(|g| g.0 == state) {
                for &to in &self.passes()[g.1].leave {
                    if seen[to as usize] == 0 {
                        seen[to as usize] = 1;
                        todo.push(to);
                    }
                }
            }
        }
        alone.iter().for_each(|s| seen[*s as usize] = 1);
        seen
    }
}
