//! A placement that is kept up to date equals one made from scratch, whatever the commands were.

use geometry::Point;
use placement::{Placed, Placement};
use plan::*;
use proptest::prelude::*;
use units::{Angle, Length};

fn frame(lanes: u32, ranks: u32, stagger: f64) -> FieldFrame {
    FieldFrame {
        lanes,
        ranks,
        pitch_along: Length::mm(15.0),
        pitch_across: Length::mm(25.0),
        stagger: Length::mm(stagger),
        fall: Default::default(),
        course: Default::default(),
    }
}

fn item(id: u32, lanes: u32, ranks: u32, surface: u32) -> Item {
    let mut field = Field::empty(KindId(1), frame(lanes, ranks, 0.0));
    field.cells = (0..lanes * ranks).map(|i| (i % 3) as u16).collect::<Vec<_>>().into();
    let (at, heading) = (Point::new(f64::from(id), 7.0), Angle::deg(f64::from(id) * 11.0));
    let body = Body::Field(field);
    Item {
        id: ItemId(id),
        name: format!("F{id}"),
        at,
        heading,
        surface: SurfaceId(surface),
        section: None,
        body,
        built: None,
        gaps: Vec::new(),
    }
}

fn surface(id: u32, height: f64) -> Command {
    let outline = vec![Point::new(0.0, 0.0), Point::new(1.0, 0.0), Point::new(1.0, 1.0)];
    let (id, height) = (SurfaceId(id), Length::mm(height));
    Command::PutSurface { surface: Surface { id, name: "T".into(), is: SurfaceKind::Table, height, outline } }
}

fn start() -> Plan {
    let mut plan = Plan::new("x");
    let colour = |id: u16, code: &str| {
        let c = Rgb { r: 1, g: 2, b: 3 };
        let (id, name, code) = (ColourId(id), format!("colour {code}"), code.to_owned());
        Command::PutColour {
            colour: Colour { id, name, code, front: c, back: c, edge: c, finish: Finish::Matt },
        }
    };
    let mut steps = vec![Command::PutKind { kind: Kind::usual(KindId(1)) }, colour(1, "S"), colour(2, "W")];
    steps.extend([surface(1, 700.0), surface(2, 50.0)]);
    steps.extend((10..14).map(|id| Command::PutItem { item: Box::new(item(id, 3, 4, id % 3)) }));
    plan.apply(&Command::Together { steps }).expect("the start is a valid plan");
    plan
}

fn command() -> impl Strategy<Value = Command> {
    let id = || (9..16u32).prop_map(ItemId);
    prop_oneof![
        (id(), -500.0..500.0f64, 0..720i32).prop_map(|(id, x, deg)| Command::MoveItem {
            id,
            at: Point::new(x, -x),
            heading: Angle::deg(f64::from(deg)),
        }),
        (id(), 1..5u32, 1..6u32, 0.0..15.0f64).prop_map(|(id, lanes, ranks, stagger)| Command::SetFrame {
            id,
            frame: frame(lanes, ranks, stagger)
        }),
        (id(), 0..14u32, 0..3u16).prop_map(|(id, index, colour)| Command::Paint {
            id,
            cells: vec![CellChange { index, colour, by_hand: true }],
        }),
        (9..16u32, 1..4u32, 1..5u32, 0..3u32)
            .prop_map(|(id, l, r, s)| Command::PutItem { item: Box::new(item(id, l, r, s)) }),
        id().prop_map(|id| Command::RemoveItem { id }),
        (1..3u32, 0.0..900.0f64).prop_map(|(id, height)| surface(id, height)),
        (20.0..60.0f64).prop_map(|h| Command::PutKind {
            kind: Kind { height: Length::mm(h), ..Kind::usual(KindId(1)) }
        }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn incremental_equals_from_scratch(commands in prop::collection::vec((command(), any::<bool>()), 1..25)) {
        let mut plan = start();
        let mut kept = Placement::of(&plan);
        for (command, undo) in commands {
            let Ok(done) = plan.apply(&command) else { continue };
            kept.update(&plan, &done.touched);
            if undo {
                let back = plan.apply(&done.inverse).expect("an inverse is always taken");
                kept.update(&plan, &back.touched);
            }
            let fresh = Placement::of(&plan);
            let pieces = |p: &Placement| p.items().iter().map(|i| i.pieces.clone()).collect::<Vec<_>>();
            prop_assert_eq!(pieces(&kept), pieces(&fresh));
        }
    }
}

#[test]
fn only_touched_items_are_placed_again() {
    let mut plan = start();
    let mut kept = Placement::of(&plan);
    let revisions =
        |p: &Placement| p.items().iter().map(|i: &Placed| (i.item.0, i.revision)).collect::<Vec<_>>();
    let before = revisions(&kept);
    let (at, heading) = (Point::new(5.0, 5.0), Angle::deg(45.0));
    let done = plan.apply(&Command::MoveItem { id: ItemId(11), at, heading }).unwrap();
    kept.update(&plan, &done.touched);
    let changed = |a: &[(u32, u64)], b: &[(u32, u64)]| {
        a.iter().zip(b).filter(|(a, b)| a != b).map(|(a, _)| a.0).collect::<Vec<_>>()
    };
    assert_eq!(changed(&before, &revisions(&kept)), [11]);
    let before = revisions(&kept);
    let done = plan.apply(&surface(1, 800.0)).unwrap();
    kept.update(&plan, &done.touched);
    assert_eq!(changed(&before, &revisions(&kept)), [10, 13], "items 10 and 13 stand on surface 1");
    let done = plan.apply(&Command::Rename { name: "y".into() }).unwrap();
    let before = revisions(&kept);
    kept.update(&plan, &done.touched);
    assert_eq!(revisions(&kept), before);
}

#[test]
fn pieces_on_a_table_stand_above_it() {
    let kept = Placement::of(&start());
    let z = |id: u32| kept.item(ItemId(id)).map(|p| p.pieces.z[0]);
    assert_eq!((z(12), z(10), z(11)), (Some(24.0), Some(724.0), Some(74.0)));
}

#[test]
fn threads_do_not_change_a_bit() {
    let plan = start();
    let bytes = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        let placement = pool.install(|| Placement::of(&plan));
        placement.items().iter().flat_map(|i| i.pieces.to_bytes()).collect::<Vec<u8>>()
    };
    assert_eq!(bytes(1), bytes(2));
    assert_eq!(bytes(1), bytes(8));
}
