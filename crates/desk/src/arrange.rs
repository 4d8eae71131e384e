//! Several items of a plan put elsewhere at once: one command, one step of undo.
//!
//! Links within the set follow a copy; links to others stay where items are moved and are dropped where they are copied.

use std::collections::{BTreeMap, BTreeSet};

use geometry::{Point, Vector};
use placement::Placement;
use plan::{
    Body, Command, GroupId, Item, ItemId, Link, MAX_CELLS, MAX_ITEMS, Mirror, Plan, Refusal, SectionId,
};
use sayings::{Arg, Given, Said, Saying, Unit, doing, gate, refusing, say};
use units::Angle;

use crate::error::DeskError;
use crate::label::Label;

mod copy;
mod line_up;

/// An edge or a middle on which items are aligned: that of the box around all of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Edge {
    /// The western edge.
    West,
    /// The eastern edge.
    East,
    /// The southern edge.
    South,
    /// The northern edge.
    North,
    /// Half way between west and east.
    MiddleX,
    /// Half way between south and north.
    MiddleY,
}

/// A direction of the hall.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Axis {
    /// From west to east.
    X,
    /// From south to north.
    Y,
}

/// What is done with several items.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Arrange {
    /// Displaces them.
    Move {
        /// By so much.
        by: Vector,
    },
    /// Turns all of them about one place.
    Turn {
        /// The place.
        about: Point,
        /// How far, to the left when positive.
        by: Angle,
    },
    /// Puts their mirror images in their place.
    Mirror {
        /// A point of the line in which they are mirrored.
        through: Point,
        /// The direction of that line.
        along: Angle,
    },
    /// Adds copies: each one is the copy before it, displaced and then turned about its own middle.
    Copy {
        /// From one copy to the next.
        by: Vector,
        /// How many copies.
        times: u32,
        /// How far each copy is turned against the one before.
        turn: Angle,
    },
    /// Adds copies so that there are columns and rows of them, the originals in the first column of the first row.
    Grid {
        /// Columns, from 1.
        columns: u32,
        /// Rows, from 1.
        rows: u32,
        /// From one column to the next.
        column: Vector,
        /// From one row to the next.
        row: Vector,
    },
    /// Moves them so that their edges lie on one line.
    Align {
        /// Which edge.
        edge: Edge,
    },
    /// Moves all but the outermost ones so that they lie equally far apart.
    Distribute {
        /// In which direction.
        along: Axis,
    },
    /// Makes them one group.
    Group,
    /// Takes them out of their groups.
    Ungroup,
    /// Locks them.
    Lock,
    /// Unlocks them.
    Unlock,
    /// Puts them into a section, or into none.
    Section {
        /// Which.
        section: Option<SectionId>,
    },
}

/// A change of several items, worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct Arranged {
    /// What is done.
    pub label: Label,
    /// The command.
    pub command: Command,
    /// The new items: copy by copy, each in the order of the items' ids.
    pub added: Vec<ItemId>,
    /// What whoever asked should know: whole sentences.
    pub notes: Vec<String>,
}

/// So far anything may be turned at once, degrees.
const MOST_DEGREES: f64 = 3_600.0;

/// Works out what is to be done with some items of a plan. Items named twice count once.
///
/// # Errors
/// Says which item is not there, which value cannot be taken, or that nothing would change.
pub fn arrange(plan: &Plan, items: &[ItemId], how: &Arrange) -> Result<Arranged, DeskError> {
    check(how)?;
    let items = chosen(plan, items)?;
    let done = match how {
        Arrange::Move { by } => changed(plan, doing::MOVE, &items, |i| Ok(i.moved(*by))),
        Arrange::Turn { about, by } => changed(plan, doing::TURN, &items, |i| Ok(i.turned(*about, *by))),
        Arrange::Mirror { through, along } => mirror(plan, &items, &Mirror::new(*through, *along)),
        Arrange::Copy { by, times, turn } => copy::row(plan, &items, (*by, *times, *turn)),
        Arrange::Grid { columns, rows, column, row } => {
            copy::grid(plan, &items, (*columns, *rows), (*column, *row))
        }
        Arrange::Align { edge } => line_up::align(plan, &items, *edge),
        Arrange::Distribute { along } => line_up::distribute(plan, &items, *along),
        Arrange::Group => group(plan, &items),
        Arrange::Ungroup => changed(plan, doing::UNGROUP, &items, |i| Ok(Item { group: None, ..i.clone() })),
        Arrange::Lock => changed(plan, doing::LOCK, &items, |i| Ok(Item { locked: true, ..i.clone() })),
        Arrange::Unlock => changed(plan, doing::UNLOCK, &items, |i| Ok(Item { locked: false, ..i.clone() })),
        Arrange::Section { section } => section_of(plan, &items, *section),
    }?;
    match &done.command {
        Command::Together { steps } if steps.is_empty() => {
            Err(refused(say!(gate::AT_ITEMS), names(&items), say!(gate::STAY), say!(gate::STAY_NEXT)))
        }
        _ => Ok(done),
    }
}

/// Sets down copies of items of an earlier plan, displaced by so much: they need not be in the plan any more.
///
/// # Errors
/// Says which item was not in the earlier plan, or which value cannot be taken.
pub(crate) fn paste(now: &Plan, then: &Plan, items: &[ItemId], by: Vector) -> Result<Arranged, DeskError> {
    check(&Arrange::Copy { by, times: 1, turn: Angle::ZERO })?;
    copy::once(now, then, &chosen(then, items)?, by)
}

/// Takes several items away, and the links between them with them.
///
/// # Errors
/// Says which item is not there. That another item leads to one of them is for the gate to refuse.
pub fn take(plan: &Plan, items: &[ItemId]) -> Result<Arranged, DeskError> {
    let items = chosen(plan, items)?;
    let gone: BTreeSet<ItemId> = items.iter().map(|i| i.id).collect();
    // What leads to another one of them lets go of it first, so that the order does not matter and rings come off too.
    let tied = items.iter().filter(|i| i.leads_to().any(|to| gone.contains(&to)));
    let mut steps: Vec<Command> = tied.filter_map(|i| i.unlinked()).map(put).collect();
    // The gate is to say that an item is locked, and not that it lets go.
    steps.retain(
        |step| !matches!(step, Command::PutItem { item } if plan.item(item.id).is_some_and(|i| i.locked)),
    );
    steps.extend(items.iter().map(|i| Command::RemoveItem { id: i.id }));
    let label = say!(doing::REMOVE, names = names(&items)).into();
    Ok(Arranged { label, command: Command::Together { steps }, added: Vec::new(), notes: Vec::new() })
}

/// The command that brings an item from one state to another: as little as says it.
pub fn step(old: Option<&Item>, new: Item) -> Command {
    match old {
        Some(old) if Item { at: new.at, heading: new.heading, ..old.clone() } == new => {
            Command::MoveItem { id: new.id, at: new.at, heading: new.heading }
        }
        _ => put(new),
    }
}

pub(crate) fn put(item: Item) -> Command {
    Command::PutItem { item: Box::new(item) }
}

fn refused(place: impl Into<Arg>, value: impl Into<Arg>, problem: Said, next: Said) -> DeskError {
    DeskError::Refused(Refusal::new(place, value, problem, next))
}

fn check(how: &Arrange) -> Result<(), DeskError> {
    let most = plan::REACH_MM * 2.0;
    let within = |what: &[Saying<0>], value: f64, most: f64, unit: Unit| {
        if value.abs() <= most {
            return Ok(());
        }
        let place = Arg::List(what.iter().map(|words| words.with([]).into()).collect());
        let problem = say!(gate::RANGE, least = Given::bare(-most, unit), most = Given::new(most, unit));
        Err(refused(place, Given::new(value, unit), problem, say!(gate::RANGE_NEXT)))
    };
    let length = |what: &[Saying<0>], x: f64, y: f64| {
        within(&[what, &[gate::AT_EAST]].concat(), x, most, Unit::Mm)?;
        within(&[what, &[gate::AT_NORTH]].concat(), y, most, Unit::Mm)
    };
    let degrees =
        |what: &[Saying<0>], angle: Angle| within(what, angle.to_deg(), MOST_DEGREES, Unit::Degrees);
    match *how {
        Arrange::Move { by } => length(&[gate::AT_MOVE], by.x, by.y),
        Arrange::Turn { about, by } => {
            length(&[gate::AT_TURNING, gate::AT_ABOUT], about.x, about.y)?;
            degrees(&[gate::AT_TURNING], by)
        }
        Arrange::Mirror { through, along } => {
            length(&[gate::AT_MIRROR, gate::AT_THROUGH], through.x, through.y)?;
            degrees(&[gate::AT_MIRROR, gate::AT_DIRECTION], along)
        }
        Arrange::Copy { by, turn, .. } => {
            length(&[gate::AT_COPY], by.x, by.y)?;
            degrees(&[gate::AT_COPY, gate::AT_TURN], turn)
        }
        Arrange::Grid { column, row, .. } => {
            length(&[gate::AT_COPY, gate::AT_COLUMN], column.x, column.y)?;
            length(&[gate::AT_COPY, gate::AT_ROW], row.x, row.y)
        }
        _ => Ok(()),
    }
}

/// The items of these ids, each once, in order of id.
fn chosen<'a>(plan: &'a Plan, ids: &[ItemId]) -> Result<Vec<&'a Item>, DeskError> {
    let ids: BTreeSet<ItemId> = ids.iter().copied().collect();
    if ids.is_empty() {
        let (problem, next) = (say!(gate::NONE_CHOSEN), say!(gate::NONE_CHOSEN_NEXT));
        return Err(refused(say!(gate::AT_ITEMS), say!(gate::NONE), problem, next));
    }
    let find = |id: ItemId| {
        plan.item(id).ok_or_else(|| DeskError::gone(say!(refusing::WHAT_ITEM, id = id.to_string())))
    };
    ids.into_iter().map(find).collect()
}

/// Up to three names, and how many more there are.
fn names(items: &[&Item]) -> Arg {
    let short = |name: &str| {
        let mut signs = name.chars();
        let head: String = signs.by_ref().take(60).collect();
        if signs.next().is_some() { format!("{head}…") } else { head }
    };
    let head = Arg::List(items.iter().take(3).map(|i| short(&i.name).into()).collect());
    match items.len().saturating_sub(3) {
        0 => head,
        more => say!(doing::MORE, names = head, n = more).into(),
    }
}

fn changed(
    plan: &Plan,
    verb: Saying<1>,
    items: &[&Item],
    change: impl Fn(&Item) -> Result<Item, Refusal>,
) -> Result<Arranged, DeskError> {
    let mut steps = Vec::with_capacity(items.len());
    for item in items {
        let new = change(item)?;
        if new != **item {
            steps.push(step(plan.item(item.id), new));
        }
    }
    let label = verb.with([("names", names(items))]).into();
    Ok(Arranged { label, command: Command::Together { steps }, added: Vec::new(), notes: Vec::new() })
}

fn group(plan: &Plan, items: &[&Item]) -> Result<Arranged, DeskError> {
    if items.len() < 2 {
        let (problem, next) = (say!(gate::GROUP_ONE_PROBLEM), say!(gate::GROUP_ONE_NEXT));
        return Err(refused(say!(gate::AT_GROUP), say!(gate::GROUP_ONE), problem, next));
    }
    let group = Some(GroupId(plan.fresh_id()));
    changed(plan, doing::GROUP, items, |i| Ok(Item { group, ..i.clone() }))
}

fn section_of(plan: &Plan, items: &[&Item], section: Option<SectionId>) -> Result<Arranged, DeskError> {
    let name = section.and_then(|id| plan.sections.iter().find(|s| s.id == id)).map(|s| s.name.as_str());
    let mut done = changed(plan, doing::PUT, items, |i| Ok(Item { section, ..i.clone() }))?;
    done.label = match name {
        Some(name) => say!(doing::INTO_SECTION, names = names(items), section = name),
        None => say!(doing::OUT_OF_SECTION, names = names(items)),
    }
    .into();
    Ok(done)
}

fn mirror(plan: &Plan, items: &[&Item], mirror: &Mirror) -> Result<Arranged, DeskError> {
    let set: BTreeSet<ItemId> = items.iter().map(|i| i.id).collect();
    let image = |item: &Item| {
        // A feed stands where its field is: without that one it has no other side to come from.
        if matches!(&item.body, Body::Feed(f) if !set.contains(&f.of)) {
            return Ok(item.clone());
        }
        let mut new = item.mirrored(mirror)?;
        if let Body::Line(line) = &mut new.body {
            for link in line.from.iter_mut().chain(&mut line.to).filter(|l| set.contains(&l.item)) {
                if let Some(other) = plan.item(link.item) {
                    link.port = other.mirrored_port(&link.port);
                }
            }
        }
        Ok(new)
    };
    let mut done = changed(plan, doing::MIRROR, items, image)?;
    done.notes = items.iter().filter_map(|i| said_of_mirror(i, &set)).collect();
    Ok(done)
}

/// What the mirror image of an item is not.
fn said_of_mirror(item: &Item, set: &BTreeSet<ItemId>) -> Option<String> {
    let name = names(&[item]);
    match &item.body {
        Body::Field(f) => {
            let shifted = f.frame.stagger.to_mm();
            let mut said = Vec::new();
            if f.frame.lanes.is_multiple_of(2) && shifted != 0.0 {
                said.push(format!(
                    "Its pieces stand {shifted} mm beside their mirror image along the fall, since every second lane \
                     from the right stays the one that is shifted."
                ));
            }
            if f.picture.is_some() {
                said.push(
                    "It shows its picture left for right; a new match lays it the right way round.".into(),
                );
            }
            (!said.is_empty()).then(|| format!("{name} is mirrored. {}", said.join(" ")))
        }
        Body::Fill(_) => Some(format!(
            "{name} fills the mirrored area anew; its line may begin elsewhere and hold a few pieces more or less."
        )),
        Body::Feed(f) if !set.contains(&f.of) => {
            Some(format!("{name} stays: a feed is mirrored together with its field."))
        }
        _ => None,
    }
}

/// The boxes around items on the floor: west, south, east, north.
struct Boxes<'a> {
    plan: &'a Plan,
    placement: Placement,
}

/// West, south, east, north.
type Around = [f64; 4];

impl<'a> Boxes<'a> {
    fn of(plan: &'a Plan) -> Self {
        Self { plan, placement: Placement::of(plan) }
    }

    /// The box around an item; what takes no floor is where it is drawn.
    fn around(&self, item: &Item) -> Around {
        let corners = self.placement.item(item.id).and_then(|p| p.extent(self.plan));
        let drawn = || match &item.body {
            Body::Dimension(d) => vec![item.at, item.frame().at(d.to.x, d.to.y)],
            _ => vec![item.at],
        };
        let points = corners.map_or_else(drawn, |c| c.to_vec());
        points
            .into_iter()
            .map(|p| [p.x, p.y, p.x, p.y])
            .reduce(both)
            .unwrap_or([item.at.x, item.at.y, item.at.x, item.at.y])
    }

    fn port(&self, link: &Link) -> Option<placement::PortPlace> {
        self.placement.port(self.plan, link)
    }
}

/// The box around two boxes.
fn both(a: Around, b: Around) -> Around {
    [a[0].min(b[0]), a[1].min(b[1]), a[2].max(b[2]), a[3].max(b[3])]
}
