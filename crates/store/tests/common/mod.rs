//! A small plan and a course of changes that the tests of the project file share.
#![allow(dead_code, reason = "each test file uses its own part")]
#![allow(clippy::unwrap_used, reason = "a test that cannot set up its file fails")]

use std::path::{Path, PathBuf};

use geometry::Point;
use plan::{Body, Colour, ColourId, Command, Item, ItemId, Kind, KindId, Placeholder, Plan, Rgb};
use store::{Act, NewEntry, Options, Receipt, Store};
use units::{Angle, Duration, Length};

pub(crate) const NOW: &str = "2026-05-02T14:03:22Z";

pub(crate) fn plan() -> Plan {
    let mut plan = Plan::new("From Spring to Sea");
    plan.apply(&Command::PutKind { kind: Kind::usual(KindId(1)) }).unwrap();
    for (id, name, code) in [(2, "River blue", "R"), (3, "Mill white", "W")] {
        let rgb = Rgb { r: 10 * id as u8, g: 20, b: 200 };
        let colour = Colour {
            id: ColourId(id),
            name: name.into(),
            code: code.into(),
            front: rgb,
            back: rgb,
            edge: rgb,
            finish: Default::default(),
        };
        plan.apply(&Command::PutColour { colour }).unwrap();
    }
    plan
}

/// A placeholder whose place follows from its number.
pub(crate) fn item(id: u32) -> Item {
    Item {
        heading: Angle::deg(90.0),
        ..Item::new(
            ItemId(id),
            format!("Part {id}"),
            Point::new(f64::from(id) * 0.1, 1.0 / f64::from(id + 1)),
            Body::Placeholder(Placeholder {
                length: Length::mm(500.0),
                width: Length::mm(300.0),
                height: Length::mm(48.0),
                needs: Vec::new(),
                hours: Duration::h(2.5),
                who: "Ines".into(),
                ports: Vec::new(),
                delay: None,
            }),
        )
    }
}

pub(crate) fn entry(label: &str, act: Act) -> NewEntry {
    NewEntry { at: NOW.into(), who: "Omar".into(), label: label.into(), act, once: None }
}

pub(crate) fn put(id: u32) -> NewEntry {
    entry(&format!("put part {id}"), Act::Do(Command::PutItem { item: Box::new(item(id)) }))
}

pub(crate) fn rename(n: usize) -> NewEntry {
    entry(&format!("rename {n}"), Act::Do(Command::Rename { name: format!("Name {n}") }))
}

pub(crate) fn take(store: &mut Store, act: Act) -> Receipt {
    let receipt = store.commit(&[entry("", act)]).unwrap();
    assert!(receipt.outcomes.iter().all(Result::is_ok), "{receipt:?}");
    receipt
}

pub(crate) fn project(folder: &Path) -> PathBuf {
    folder.join("river.standfast")
}

pub(crate) fn make(folder: &Path) -> Store {
    Store::create(&project(folder), &plan(), NOW, &Options::default()).unwrap()
}

/// Opens without any remark, or panics with it.
pub(crate) fn reopen(path: &Path) -> Store {
    let opened = Store::open(path, &Options::default()).unwrap();
    assert!(opened.notes.is_empty(), "{:?}", opened.notes);
    opened.store
}
