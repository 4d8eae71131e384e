//! Copies of several items, with the links among them.

use sayings::found;

use super::*;

/// The most copies at once.
const MOST_COPIES: u32 = 1_000;

/// A row of copies, each displaced and turned against the one before.
pub(super) fn row(
    plan: &Plan,
    items: &[&Item],
    (by, times, turn): (Vector, u32, Angle),
) -> Result<Arranged, DeskError> {
    within(gate::AT_TIMES, times)?;
    let step = |n: u32| (by.times(f64::from(n)), turn * f64::from(n));
    copies((plan, plan), items, &(1..=times).map(step).collect::<Vec<_>>())
}

/// Columns and rows of copies, row by row.
pub(super) fn grid(
    plan: &Plan,
    items: &[&Item],
    (columns, rows): (u32, u32),
    (column, row): (Vector, Vector),
) -> Result<Arranged, DeskError> {
    within(gate::AT_COLUMNS, columns)?;
    within(gate::AT_ROWS, rows)?;
    // Two numbers of up to a thousand each cannot overflow.
    within(gate::AT_GRID, columns * rows - 1)?;
    let far = |r: u32, c: u32| {
        let (by, up) = (column.times(f64::from(c)), row.times(f64::from(r)));
        Vector { x: by.x + up.x, y: by.y + up.y }
    };
    let places = (0..rows).flat_map(|r| (0..columns).map(move |c| (r, c))).skip(1);
    copies((plan, plan), items, &places.map(|(r, c)| (far(r, c), Angle::ZERO)).collect::<Vec<_>>())
}

fn within(what: Saying<0>, number: u32) -> Result<(), DeskError> {
    if (1..=MOST_COPIES).contains(&number) {
        return Ok(());
    }
    let place = Arg::List(vec![say!(gate::AT_COPY).into(), what.with([]).into()]);
    let problem = say!(gate::RANGE, least = 1_u32, most = MOST_COPIES);
    Err(refused(place, number, problem, say!(gate::RANGE_NUMBER)))
}

/// A copy of items of an earlier plan, displaced by so much.
pub(super) fn once(now: &Plan, then: &Plan, items: &[&Item], by: Vector) -> Result<Arranged, DeskError> {
    copies((now, then), items, &[(by, Angle::ZERO)])
}

/// A copy for each step: how far it is displaced and turned against the originals. The items are those of the second plan,
/// which may be an earlier one; the copies are for the first.
fn copies(
    (plan, then): (&Plan, &Plan),
    items: &[&Item],
    steps: &[(Vector, Angle)],
) -> Result<Arranged, DeskError> {
    let times = steps.len();
    bounded(plan, items, times)?;
    let set: BTreeSet<ItemId> = items.iter().map(|i| i.id).collect();
    if let Some(feed) = items.iter().find(|i| matches!(&i.body, Body::Feed(f) if !set.contains(&f.of))) {
        return Err(refused(
            say!(found::AT_FEED, name = names(&[feed])),
            say!(gate::FEED_ALONE),
            say!(gate::FEED_ALONE_PROBLEM),
            say!(gate::FEED_ALONE_NEXT),
        ));
    }
    let boxes = Boxes::of(then);
    let all = items.iter().map(|i| boxes.around(i)).reduce(both).unwrap_or_default();
    let middle = Point::new((all[0] + all[2]) / 2.0, (all[1] + all[3]) / 2.0);
    let mut notes = Vec::new();
    let free: Vec<Item> = items.iter().map(|i| let_go(&boxes, &set, i, &mut notes)).collect();
    let mut ids = plan.fresh_id();
    let mut fresh = || {
        ids += 1;
        ids - 1
    };
    let mut names_taken = Names::of(plan);
    let (mut added, mut first, mut later) = (Vec::new(), Vec::new(), Vec::new());
    for &(far, round) in steps {
        let new_ids: BTreeMap<ItemId, ItemId> = items.iter().map(|i| (i.id, ItemId(fresh()))).collect();
        let groups: BTreeMap<GroupId, GroupId> =
            shared_groups(items).map(|g| (g, GroupId(fresh()))).collect();
        for item in &free {
            let turned = if round == Angle::ZERO { item.clone() } else { item.turned(middle, round) };
            let mut new = turned.moved(far);
            new.id = new_ids[&item.id];
            new.name = names_taken.next(&item.name);
            new.locked = false;
            at_home(&mut new, plan);
            new.group = item.group.and_then(|g| groups.get(&g).copied());
            follow(&mut new, &new_ids);
            added.push(new.id);
            match new.unlinked() {
                Some(bare) => {
                    first.push(put(bare));
                    later.push(put(new));
                }
                None => first.push(put(new)),
            }
        }
    }
    first.extend(later);
    let label = match times {
        1 => say!(doing::COPY, names = names(items)),
        _ => say!(doing::COPY_TIMES, names = names(items), times = times),
    };
    Ok(Arranged { label: label.into(), command: Command::Together { steps: first }, added, notes })
}

/// How many there would be, before any is made.
fn bounded(plan: &Plan, items: &[&Item], times: usize) -> Result<(), DeskError> {
    let count = plan.items.len() + items.len() * times;
    if count > MAX_ITEMS {
        let (value, problem) = (say!(gate::N_ITEMS, n = count), say!(gate::PLAN_FULL, most = MAX_ITEMS));
        return Err(refused(say!(gate::AT_COPY), value, problem, say!(gate::COPIES_ITEMS)));
    }
    let cells = items.iter().filter_map(|i| i.field()).map(|f| f.cells.len()).sum::<usize>();
    let cells = cells.saturating_mul(times);
    if cells > MAX_CELLS {
        let (value, problem) = (say!(gate::N_CELLS, n = cells), say!(gate::COPIES_CELLS, most = MAX_CELLS));
        return Err(refused(say!(gate::AT_COPY), value, problem, say!(gate::COPIES_CELLS_NEXT)));
    }
    Ok(())
}

/// Groups of which two items or more are among these.
fn shared_groups(items: &[&Item]) -> impl Iterator<Item = GroupId> {
    let mut counts = BTreeMap::<GroupId, u32>::new();
    items.iter().filter_map(|i| i.group).for_each(|g| *counts.entry(g).or_default() += 1);
    counts.into_iter().filter(|(_, n)| *n > 1).map(|(g, _)| g)
}

/// The item as drawn, not as built, and free of links to items outside the set: a line that carried on from one begins where
/// it began.
fn let_go(boxes: &Boxes<'_>, set: &BTreeSet<ItemId>, item: &Item, notes: &mut Vec<String>) -> Item {
    let mut new = item.clone();
    let Body::Line(line) = &mut new.body else {
        new.built = None;
        return new;
    };
    let mut told = |does: &str, link: &Link| {
        let other = boxes.plan.item(link.item).map_or_else(String::new, |o| names(&[o]).to_string());
        notes.push(format!("The copy of {} no longer {does} {other}, which was not copied.", names(&[item])));
    };
    if let Some(link) = line.to.take_if(|l| !set.contains(&l.item)) {
        told("leads to", &link);
    }
    if let Some(link) = line.from.take_if(|l| !set.contains(&l.item)) {
        told("carries on from", &link);
        if let Some(port) = boxes.port(&link).filter(|p| p.flow == plan::PortFlow::Out) {
            begin_at(&mut new, port.at, port.heading);
        }
    }
    new.built = None;
    new
}

/// Lets go of what a plan does not have any more: a copy of what was in a section, on a surface or showed a picture that went.
fn at_home(item: &mut Item, plan: &Plan) {
    item.section = item.section.filter(|id| plan.sections.iter().any(|s| s.id == *id));
    if plan.surface(item.surface).is_none() {
        item.surface = plan::SurfaceId(0);
    }
    if let Body::Field(field) = &mut item.body {
        field.picture = field.picture.take().filter(|shown| plan.picture(shown.picture).is_some());
    }
}

/// Begins a line elsewhere without moving the points that it runs through.
fn begin_at(item: &mut Item, at: Point, heading: Angle) {
    let (old, new) = (item.stands(), geometry::Frame::new(at, heading));
    let again = |p: &mut Point| {
        let v = old.at(p.x, p.y).minus(at);
        *p = Point::new(v.dot(new.along), v.dot(new.left));
    };
    if let Body::Line(line) = &mut item.body {
        for leg in &mut line.path {
            if let plan::Leg::Through { points } = leg {
                points.iter_mut().for_each(again);
            }
        }
    }
    (item.at, item.heading) = (at, heading);
}

/// Leads the links of a copy to the copies.
fn follow(item: &mut Item, ids: &BTreeMap<ItemId, ItemId>) {
    let lead = |id: &mut ItemId| {
        if let Some(new) = ids.get(id) {
            *id = *new;
        }
    };
    match &mut item.body {
        Body::Line(line) => line.from.iter_mut().chain(&mut line.to).for_each(|l| lead(&mut l.item)),
        Body::Feed(feed) => lead(&mut feed.of),
        _ => {}
    }
}

/// Names for copies: that of the original and the next free number.
struct Names {
    taken: BTreeSet<String>,
    /// The number that was given last, by name without number.
    last: BTreeMap<String, u32>,
}

impl Names {
    fn of(plan: &Plan) -> Self {
        Self { taken: plan.items.iter().map(|i| i.name.clone()).collect(), last: BTreeMap::new() }
    }

    fn next(&mut self, name: &str) -> String {
        let base = match name.rsplit_once(' ') {
            Some((base, number)) if !base.is_empty() && number.parse::<u32>().is_ok() => base,
            _ => name,
        };
        // A name that has no room for a number stays as it is.
        if base.chars().count() + 12 > plan::MAX_NAME {
            return name.to_owned();
        }
        let last = self.last.entry(base.to_owned()).or_insert(1);
        loop {
            *last = last.saturating_add(1);
            let next = format!("{base} {last}");
            if *last == u32::MAX || self.taken.insert(next.clone()) {
                return next;
            }
        }
    }
}
