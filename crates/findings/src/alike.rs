//! Colours that get confused and touch each other in a field.

use plan::{ColourId, Field, Plan};

use crate::finding::{Finding, Place, Severity, so_many};

/// One finding for each field and pair of `alike` colours that stand side by side in it, along or across the fall.
pub(crate) fn check(plan: &Plan, alike: &[(ColourId, ColourId, String)], found: &mut Vec<Finding>) {
    if alike.is_empty() {
        return;
    }
    let table = PairTable::new(alike);
    for item in &plan.items {
        let Some(field) = item.field() else { continue };
        for (pair, touches) in
            table.touches(field, alike.len()).into_iter().enumerate().filter(|(_, n)| *n > 0)
        {
            let (a, b, why) = &alike[pair];
            let name = |c: ColourId| {
                plan.colour(c).map_or_else(|| format!("Colour {c}"), |c| format!("{} ({})", c.name, c.code))
            };
            found.push(Finding {
                code: "colours-alike",
                severity: Severity::Should,
                place: Place::item(item),
                message: format!(
                    "{} and {} get confused {why}. In {} they touch in {}.",
                    name(*a),
                    name(*b),
                    item.name,
                    so_many(touches, "place", "places"),
                ),
                hint: "Leave one of them out of this field, or mark both crates by code and check the lanes twice.".into(),
                mend: None,
            });
        }
    }
}

/// Which pair two colours are, looked up in constant time: fields have millions of neighbours.
struct PairTable {
    /// By colour id: 1 and up for the colours of the pairs, 0 for all others.
    place: Vec<u16>,
    /// By two such places: the index of the pair plus one, or 0.
    pairs: Vec<u32>,
    side: usize,
}

impl PairTable {
    fn new(alike: &[(ColourId, ColourId, String)]) -> Self {
        let mut place = vec![0u16; usize::from(u16::MAX) + 1];
        let mut last = 0;
        for id in alike.iter().flat_map(|(a, b, _)| [a, b]) {
            let slot = &mut place[usize::from(id.0)];
            if *slot == 0 {
                last += 1;
                *slot = last;
            }
        }
        let side = usize::from(last) + 1;
        let mut pairs = vec![0; side * side];
        for (i, (a, b, _)) in alike.iter().enumerate() {
            let (a, b) = (usize::from(place[usize::from(a.0)]), usize::from(place[usize::from(b.0)]));
            (pairs[a * side + b], pairs[b * side + a]) = (i as u32 + 1, i as u32 + 1);
        }
        Self { place, pairs, side }
    }

    fn touches(&self, field: &Field, count: usize) -> Vec<u64> {
        let (cells, ranks) = (field.cells.as_slice(), field.frame.ranks.max(1) as usize);
        let mut touches = vec![0; count];
        let mut touch = |a: u16, b: u16| {
            let (a, b) = (self.place[usize::from(a)], self.place[usize::from(b)]);
            let pair = self.pairs[usize::from(a) * self.side + usize::from(b)];
            if pair > 0 && a != b {
                touches[pair as usize - 1] += 1;
            }
        };
        for lane in cells.chunks(ranks) {
            lane.windows(2).for_each(|w| touch(w[0], w[1]));
        }
        cells.iter().zip(cells.iter().skip(ranks)).for_each(|(a, b)| touch(*a, *b));
        touches
    }
}
