//! Colours that get confused and touch each other in a field.

use plan::{ColourId, Field, Item, Plan};
use sayings::{Arg, Said, found, say};

use crate::finding::{Finding, Place, Severity};

/// So many fields are named in one finding.
const NAMED: usize = 3;

/// One finding for each pair of `alike` colours that stand side by side in some field, along or across the fall. It
/// hangs on the field where they do so most often.
pub(crate) fn check(plan: &Plan, alike: &[(ColourId, ColourId, Said)], found: &mut Vec<Finding>) {
    if alike.is_empty() {
        return;
    }
    let table = PairTable::new(alike);
    let mut met: Vec<Vec<(u64, &Item)>> = vec![Vec::new(); alike.len()];
    for item in &plan.items {
        let Some(field) = item.field() else { continue };
        for (pair, touches) in
            table.touches(field, alike.len()).into_iter().enumerate().filter(|(_, n)| *n > 0)
        {
            met[pair].push((touches, item));
        }
    }
    for ((a, b, why), mut fields) in alike.iter().zip(met) {
        fields.sort_by_key(|&(touches, item)| (std::cmp::Reverse(touches), item.id));
        let Some(&(_, worst)) = fields.first() else { continue };
        let name = |c: ColourId| match plan.colour(c) {
            Some(c) => Arg::Text(format!("{} ({})", c.name, c.code)),
            None => say!(found::COLOUR, id = u32::from(c.0)).into(),
        };
        found.push(Finding {
            code: "colours-alike",
            severity: Severity::Should,
            place: Place::item(worst),
            message: say!(
                found::ALIKE,
                a = name(*a),
                b = name(*b),
                why = why.clone(),
                where = where_they_touch(&fields)
            ),
            hint: say!(found::ALIKE_HINT),
            mend: None,
        });
    }
}

/// "In Mill they touch in 12 places, in Town in 3, and in 2 more fields".
fn where_they_touch(fields: &[(u64, &Item)]) -> Vec<Arg> {
    let one = |(i, (touches, item)): (usize, &(u64, &Item))| match i {
        0 => say!(found::ALIKE_IN, item = &item.name, n = *touches),
        _ => say!(found::ALIKE_ALSO, item = &item.name, count = *touches),
    };
    let mut said: Vec<Arg> = fields.iter().take(NAMED).enumerate().map(|f| one(f).into()).collect();
    let more = fields.len().saturating_sub(NAMED);
    if more > 0 {
        said.push(say!(found::ALIKE_REST, n = more as u64).into());
    }
    said
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
    fn new(alike: &[(ColourId, ColourId, Said)]) -> Self {
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
