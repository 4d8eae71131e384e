//! The model beside the store: it only applies commands, and a course of changes that follows from a seed.

use geometry::{FallInPicture, Point};
use plan::{
    Body, CellChange, Colour, ColourId, Command, Field, FieldFrame, Item, ItemId, Kind, KindId, Leg, Line,
    Link, Placeholder, Placing, Plan, Rgb, Spacing,
};
use store::{Act, NewEntry, OnceKey, Verb};
use units::{Angle, Duration, Length};

use crate::rng::Rng;

/// The time that all trials give.
pub const NOW: &str = "2026-05-02T14:03:22Z";
const FIELD: ItemId = ItemId(5);
const CELLS: u32 = 20 * 30;

/// The plan with which every trial begins: one kind, two colours and a field of 20 x 30.
pub fn start() -> Plan {
    let mut plan = Plan::new("From Spring to Sea");
    let frame = FieldFrame {
        fall: FallInPicture::Right,
        ..FieldFrame::new(20, 30, Length::mm(15.0), Length::mm(26.0))
    };
    let mut commands = vec![Command::PutKind { kind: Kind::usual(KindId(1)) }];
    for (id, name, code) in [(2, "River blue", "R"), (3, "Mill white", "W")] {
        let face = Rgb { r: 60 * id as u8, g: 90, b: 200 };
        let colour = Colour::plain(ColourId(id), name, code, face);
        commands.push(Command::PutColour { colour });
    }
    commands.push(put(FIELD, "Mill", Point::new(0.0, 0.0), Body::Field(Field::empty(KindId(1), frame))));
    for command in &commands {
        plan.apply(command).expect("the gate takes the plan of the trials");
    }
    plan
}

fn put(id: ItemId, name: &str, at: Point, body: Body) -> Command {
    let heading = Angle::deg(90.0);
    let item = Item { heading, ..Item::new(id, name, at, body) };
    Command::PutItem { item: Box::new(item) }
}

/// A plan and its history as they must be.
#[derive(Debug, Clone)]
pub struct Model {
    /// The plan after each change; the first is the plan to begin with.
    pub states: Vec<Plan>,
    /// The words and the sort of each change.
    pub entries: Vec<(String, Verb)>,
    /// The key of each change, where it has one.
    pub keys: Vec<Option<OnceKey>>,
    undo: Vec<(String, Command)>,
    redo: Vec<(String, Command)>,
}

impl Model {
    /// A model without changes.
    pub fn new(plan: Plan) -> Self {
        Self { states: vec![plan], entries: Vec::new(), keys: Vec::new(), undo: Vec::new(), redo: Vec::new() }
    }

    /// How many changes there are.
    pub fn last(&self) -> u64 {
        self.entries.len() as u64
    }

    /// The plan as it is.
    pub fn plan(&self) -> &Plan {
        self.states.last().expect("the plan to begin with is always there")
    }

    /// How many changes can be taken back and made again.
    pub fn depth(&self) -> (usize, usize) {
        (self.undo.len(), self.redo.len())
    }

    /// Follows an entry; false when the gate refuses it.
    pub fn follow(&mut self, entry: &NewEntry) -> bool {
        let (verb, label, command) = match &entry.act {
            Act::Do(command) => (Verb::Do, entry.label.clone(), command.clone()),
            Act::Undo => match self.undo.last() {
                Some((label, command)) => (Verb::Undo, label.clone(), command.clone()),
                None => return false,
            },
            Act::Redo => match self.redo.last() {
                Some((label, command)) => (Verb::Redo, label.clone(), command.clone()),
                None => return false,
            },
        };
        let mut plan = self.plan().clone();
        let Ok(applied) = plan.apply(&command) else { return false };
        let back = (label.clone(), applied.inverse);
        match verb {
            Verb::Do => {
                self.redo.clear();
                self.undo.push(back);
            }
            Verb::Undo => {
                self.undo.pop();
                self.redo.push(back);
            }
            Verb::Redo => {
                self.redo.pop();
                self.undo.push(back);
            }
        }
        self.states.push(plan);
        self.entries.push((label, verb));
        self.keys.push(entry.once.clone());
        true
    }
}

/// A course of changes. The entry at a number follows from the seed and the number alone.
#[derive(Debug, Clone, Copy)]
pub struct Course(pub u64);

impl Course {
    /// The entry asked for at number `n`. Some are such that the gate refuses them.
    pub fn entry(self, n: u64) -> NewEntry {
        let mut rng = Rng::new(self.0, n.wrapping_add(1));
        let act = match rng.below(100) {
            0..12 => Act::Undo,
            12..20 => Act::Redo,
            20..24 => Act::Do(Command::RemoveItem { id: ItemId(9_999) }),
            _ => Act::Do(command(&mut rng)),
        };
        let label = if matches!(act, Act::Do(_)) { format!("change {n}") } else { String::new() };
        NewEntry { at: NOW.into(), who: "Ines".into(), label, act, once: OnceKey::new(&format!("key-{n}")) }
    }
}

fn command(rng: &mut Rng) -> Command {
    let id = ItemId(100 + rng.below(12) as u32);
    let at = Point::new(rng.below(1_000_000) as f64 / 7.0, rng.below(1_000_000) as f64 / 3.0);
    match rng.below(20) {
        0 => Command::Rename { name: format!("Name {}", rng.next()) },
        1 | 2 => Command::RemoveItem { id },
        3..6 => Command::MoveItem { id, at, heading: Angle::deg(rng.below(3600) as f64 / 10.0) },
        6..9 => {
            let cells: Vec<u16> = (0..CELLS).map(|_| [0, 2, 3][rng.below(3) as usize]).collect();
            Command::Lay { id: FIELD, cells: cells.into() }
        }
        9..12 => {
            let change = |rng: &mut Rng| CellChange {
                index: rng.below(u64::from(CELLS)) as u32,
                colour: [0, 2, 3][rng.below(3) as usize],
                by_hand: rng.percent(5),
            };
            Command::Paint { id: FIELD, cells: (0..rng.below(40)).map(|_| change(rng)).collect() }
        }
        12 => Command::Together { steps: (0..3).map(|_| command(rng)).collect() },
        13 => put(id, "Brook", at, line(rng)),
        14 => Command::Shift {
            which: plan::Which::Items(vec![id, ItemId(100 + rng.below(12) as u32)]),
            east: Length::mm(rng.below(900) as f64 / 7.0),
            north: Length::mm(rng.below(900) as f64 / -3.0),
            turn: Angle::deg(rng.below(100) as f64 / 70.0),
            about: at,
        },
        _ => put(id, &format!("Part {} {}", id, "x".repeat(rng.below(300) as usize)), at, placeholder(rng)),
    }
}

/// A line that may lead on from another item; when that one is not there, or is the line itself, it is refused.
fn line(rng: &mut Rng) -> Body {
    let from = rng.percent(50).then(|| Link { item: ItemId(100 + rng.below(12) as u32), port: "end".into() });
    Body::Line(Line {
        lanes: 1 + rng.below(3) as u32,
        spacing: Spacing::Gap { gap: Length::mm(rng.below(300) as f64 / 7.0) },
        placed: Placing::Hand,
        from,
        ..Line::plain(
            KindId(1),
            ColourId(2),
            vec![Leg::Straight { length: Length::mm(rng.below(9_000) as f64 / 7.0) }],
        )
    })
}

fn placeholder(rng: &mut Rng) -> Body {
    Body::Placeholder(Placeholder {
        length: Length::mm(1.0 + rng.below(900) as f64),
        width: Length::mm(300.0),
        height: Length::mm(48.0),
        needs: Vec::new(),
        hours: Duration::h(rng.below(100) as f64 / 9.0),
        who: "Omar".into(),
        ports: Vec::new(),
        delay: None,
    })
}
