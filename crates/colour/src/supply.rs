//! Whether the stock can fill the cells at all, and if not, which fields and colours stand in the way.

use std::collections::VecDeque;

use crate::problem::{CellRule, MatchError, Problem};

/// What is left of the stock once the cells set by hand have taken theirs; and proof that it fills the rest.
///
/// # Errors
/// [`MatchError::FixedShort`], [`MatchError::StockTooSmall`] or [`MatchError::FieldsShort`].
pub(crate) fn stock_for_free_cells(problem: &Problem) -> Result<Vec<u64>, MatchError> {
    let left = after_fixed(problem)?;
    let groups = group_fields(problem);
    let Some(tight) = unfillable(&groups, &left) else { return Ok(left) };
    let fields: Vec<usize> = {
        let mut all: Vec<usize> = tight.iter().flat_map(|&g| groups[g].fields.clone()).collect();
        all.sort_unstable();
        all
    };
    let colours: Vec<usize> =
        (0..left.len()).filter(|&k| tight.iter().any(|&g| groups[g].allowed[k])).collect();
    let cells: u64 = tight.iter().map(|&g| groups[g].cells).sum();
    let pieces: u64 = colours.iter().map(|&k| left[k]).fold(0, u64::saturating_add);
    let short = cells - pieces;
    if tight.len() == groups.len() {
        return Err(MatchError::StockTooSmall { cells, pieces, short });
    }
    Err(MatchError::FieldsShort { fields, colours, cells, pieces, short })
}

fn after_fixed(problem: &Problem) -> Result<Vec<u64>, MatchError> {
    let mut fixed = vec![0u64; problem.colours()];
    for rule in problem.fields.iter().flat_map(|f| &f.cells) {
        if let CellRule::Fixed(colour) = *rule {
            fixed[usize::from(colour)] += 1;
        }
    }
    for (colour, (&cells, &pieces)) in fixed.iter().zip(&problem.stock).enumerate() {
        if cells > pieces {
            return Err(MatchError::FixedShort { colour, cells, pieces, short: cells - pieces });
        }
    }
    Ok(problem.stock.iter().zip(&fixed).map(|(s, f)| s - f).collect())
}

/// Fields with the same allowed colours.
struct Group {
    allowed: Vec<bool>,
    fields: Vec<usize>,
    cells: u64,
}

fn group_fields(problem: &Problem) -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    for (number, field) in problem.fields.iter().enumerate() {
        let cells = field.cells.iter().filter(|&&c| c == CellRule::Free).count() as u64;
        if cells == 0 {
            continue;
        }
        match groups.iter_mut().find(|g| g.allowed == field.allowed) {
            Some(group) => {
                group.fields.push(number);
                group.cells += cells;
            }
            None => groups.push(Group { allowed: field.allowed.clone(), fields: vec![number], cells }),
        }
    }
    groups
}

/// A set of groups whose cells outnumber all pieces of the colours they allow (a violation of Hall's condition),
/// found as the side of the source in a minimum cut; nothing if the stock suffices.
fn unfillable(groups: &[Group], stock: &[u64]) -> Option<Vec<usize>> {
    let k = stock.len();
    let mut flow = vec![0u64; groups.len() * k];
    let mut need: Vec<u64> = groups.iter().map(|g| g.cells).collect();
    let mut room = stock.to_vec();
    // Filling greedily first leaves little to the search for paths.
    for (g, group) in groups.iter().enumerate() {
        for c in (0..k).filter(|&c| group.allowed[c]) {
            let take = need[g].min(room[c]);
            flow[g * k + c] += take;
            need[g] -= take;
            room[c] -= take;
        }
    }
    while need.iter().any(|&n| n > 0) {
        let (from_group, from_colour, end) = search(groups, &flow, &need, &room);
        let Some(end) = end else {
            return Some((0..groups.len()).filter(|&g| from_group[g].is_some()).collect());
        };
        augment(&mut flow, &mut need, &mut room, (&from_group, &from_colour, end));
    }
    None
}

/// How a group was reached: from the source, or from a colour whose pieces it holds.
type FromGroup = Vec<Option<usize>>;

const SOURCE: usize = usize::MAX;

/// Breadth-first search from groups in need to a colour with room.
fn search(
    groups: &[Group],
    flow: &[u64],
    need: &[u64],
    room: &[u64],
) -> (FromGroup, Vec<Option<usize>>, Option<usize>) {
    let k = room.len();
    let mut from_group: FromGroup = need.iter().map(|&n| (n > 0).then_some(SOURCE)).collect();
    let mut from_colour = vec![None; k];
    let mut queue: VecDeque<usize> = (0..groups.len()).filter(|&g| need[g] > 0).collect();
    while let Some(g) = queue.pop_front() {
        for c in 0..k {
            if !groups[g].allowed[c] || from_colour[c].is_some() {
                continue;
            }
            from_colour[c] = Some(g);
            if room[c] > 0 {
                return (from_group, from_colour, Some(c));
            }
            for other in 0..groups.len() {
                if from_group[other].is_none() && flow[other * k + c] > 0 {
                    from_group[other] = Some(c);
                    queue.push_back(other);
                }
            }
        }
    }
    (from_group, from_colour, None)
}

fn augment(
    flow: &mut [u64],
    need: &mut [u64],
    room: &mut [u64],
    path: (&[Option<usize>], &[Option<usize>], usize),
) {
    let k = room.len();
    let (from_group, from_colour, end) = path;
    // The path from its end: (group, colour it gives to, colour it gives up or SOURCE).
    let mut steps = Vec::new();
    let mut colour = end;
    while let Some(g) = from_colour[colour] {
        let given_up = from_group[g].unwrap_or(SOURCE);
        steps.push((g, colour, given_up));
        if given_up == SOURCE {
            break;
        }
        colour = given_up;
    }
    let mut amount = room[end];
    for &(g, _, given_up) in &steps {
        amount = amount.min(if given_up == SOURCE { need[g] } else { flow[g * k + given_up] });
    }
    room[end] -= amount;
    for &(g, to, given_up) in &steps {
        flow[g * k + to] += amount;
        if given_up == SOURCE {
            need[g] -= amount;
        } else {
            flow[g * k + given_up] -= amount;
        }
    }
}
