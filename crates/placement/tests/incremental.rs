//! A placement that is kept up to date equals one made from scratch, whatever the commands were.

use geometry::Point;
use std::sync::Arc;

use placement::{MOST_PIECES, Pieces, Placed, Placement, needs, ports};
use plan::*;
use proptest::prelude::*;
use units::{Angle, Length};

fn frame(lanes: u32, ranks: u32, stagger: f64) -> FieldFrame {
    FieldFrame {
        stagger: Length::mm(stagger),
        ..FieldFrame::new(lanes, ranks, Length::mm(15.0), Length::mm(25.0))
    }
}

fn item(id: u32, lanes: u32, ranks: u32, surface: u32) -> Item {
    let mut field = Field::empty(KindId(1), frame(lanes, ranks, 0.0));
    field.cells = (0..lanes * ranks).map(|i| (i % 3) as u16).collect::<Vec<_>>().into();
    let (at, heading) = (Point::new(f64::from(id), 7.0), Angle::deg(f64::from(id) * 11.0));
    let body = Body::Field(field);
    Item { heading, surface: SurfaceId(surface), ..Item::new(ItemId(id), format!("F{id}"), at, body) }
}

fn with(id: u32, surface: u32, body: Body) -> Item {
    Item { body, ..item(id, 1, 1, surface) }
}

/// A line that may carry on from one item and lead to another.
fn line(id: u32, from: Option<Link>, to: Option<Link>, length: f64) -> Item {
    let path = vec![Leg::Straight { length: Length::mm(length) }];
    let bridge = Bridge {
        from: Length::mm(30.0),
        deck: Length::mm(15.0),
        height: Length::mm(15.0),
        thickness: Length::mm(5.0),
        step: Length::mm(7.5),
        per_step: 1,
    };
    let line = Line {
        kind: KindId(1),
        lanes: 1 + id % 2,
        pitch_across: Length::mm(26.0),
        spacing: Spacing::Gap { gap: Length::mm(7.5) },
        placed: Placing::Comb,
        path,
        from,
        to,
        colours: Pattern::Blend { colours: vec![ColourId(1), ColourId(2)] },
        bridges: vec![bridge],
    };
    with(id, id % 3, Body::Line(line))
}

fn link(item: u32, port: &str) -> Link {
    Link { item: ItemId(item), port: port.into() }
}

fn feed(id: u32, of: u32) -> Item {
    let way = FeedWay::Brick { enter: Enter::Middle };
    let feed = Feed { of: ItemId(of), way, kind: KindId(1), colour: ColourId(1), pitch: Length::mm(15.0) };
    with(id, id % 3, Body::Feed(feed))
}

fn fill(id: u32, ring: f64) -> Item {
    let outline =
        [(0.0, 0.0), (400.0, 0.0), (400.0, 300.0), (0.0, 300.0)].map(|(x, y)| Point::new(x, y)).to_vec();
    let fill = Fill {
        kind: KindId(1),
        outline,
        with: Filling::Waves { course: Angle::ZERO },
        ring: Length::mm(ring),
        spacing: Spacing::Gap { gap: Length::mm(7.5) },
        placed: Placing::Comb,
        colours: Pattern::Plain { colour: ColourId(2) },
    };
    with(id, id % 3, Body::Fill(fill))
}

fn surface(id: u32, height: f64) -> Command {
    let outline = vec![Point::new(0.0, 0.0), Point::new(1.0, 0.0), Point::new(1.0, 1.0)];
    let (id, height) = (SurfaceId(id), Length::mm(height));
    Command::PutSurface {
        surface: Surface {
            id,
            name: "T".into(),
            is: SurfaceKind::Table,
            height,
            slope: plan::Slope::default(),
            outline,
        },
    }
}

fn start() -> Plan {
    let mut plan = Plan::new("x");
    let colour = |id: u16, code: &str| {
        let c = Rgb { r: 1, g: 2, b: 3 };
        let (id, name, code) = (ColourId(id), format!("colour {code}"), code.to_owned());
        Command::PutColour { colour: Colour::plain(id, name, code, c) }
    };
    let mut steps = vec![Command::PutKind { kind: Kind::usual(KindId(1)) }, colour(1, "S"), colour(2, "W")];
    steps.extend([surface(1, 700.0), surface(2, 50.0)]);
    steps.extend((10..14).map(|id| Command::PutItem { item: Box::new(item(id, 3, 4, id % 3)) }));
    let more = [
        fill(24, 50.0),
        feed(20, 11),
        line(21, None, Some(link(20, "entry")), 300.0),
        line(22, Some(link(11, "lane 2 end")), None, 200.0),
        line(23, Some(link(22, "end")), Some(link(24, "start left")), 100.0),
    ];
    steps.extend(more.map(|item| Command::PutItem { item: Box::new(item) }));
    plan.apply(&Command::Together { steps }).expect("the start is a valid plan");
    plan
}

/// Links to items that exist and to some that do not, rings among them.
fn any_link() -> impl Strategy<Value = Option<Link>> {
    let port =
        prop::sample::select(vec!["start", "end", "end right", "entry", "lane 1", "lane 2 end", "nowhere"]);
    prop::option::of((prop::sample::select(vec![10, 11, 20, 21, 22, 23, 24, 25, 26]), port))
        .prop_map(|l| l.map(|(item, port)| link(item, port)))
}

fn any_item() -> impl Strategy<Value = Item> {
    prop_oneof![
        5 => (21..27u32, any_link(), any_link(), 0.0..400.0f64).prop_map(|(id, from, to, length)| line(id, from, to, length)),
        1 => (20..27u32, 9..15u32).prop_map(|(id, of)| feed(id, of)),
        1 => (20..27u32, 40.0..120.0f64).prop_map(|(id, ring)| fill(id, ring)),
    ]
}

fn stands(mut item: Item, east: f64, turn: f64) -> Item {
    let zero = Length::ZERO;
    item.built = Some(AsBuilt { east: Length::mm(east), north: zero, turn: Angle::deg(turn) });
    item
}

fn command() -> impl Strategy<Value = Command> {
    let id = || prop_oneof![(9..16u32), (20..27u32)].prop_map(ItemId);
    prop_oneof![
        5 => any_item().prop_map(|item| Command::PutItem { item: Box::new(item) }),
        1 => (any_item(), -9.0..9.0f64, -2.0..2.0f64)
            .prop_map(|(item, east, turn)| Command::PutItem { item: Box::new(stands(item, east, turn)) }),
        1 => (5.0..9.0f64).prop_map(|t| Command::PutKind {
            kind: Kind { thickness: Length::mm(t), ..Kind::usual(KindId(1)) }
        }),
        2 => (id(), -500.0..500.0f64, 0..720i32).prop_map(|(id, x, deg)| Command::MoveItem {
            id,
            at: Point::new(x, -x),
            heading: Angle::deg(f64::from(deg)),
        }),
        1 => (id(), id(), -50.0..50.0f64, -9.0..9.0f64).prop_map(|(a, b, by, turn)| Command::Shift {
            which: Which::Items(vec![a, b]),
            east: Length::mm(by),
            north: Length::mm(-by),
            turn: Angle::deg(turn),
            about: Point::new(100.0, by),
        }),
        1 => (id(), 1..5u32, 1..6u32, 0.0..15.0f64).prop_map(|(id, lanes, ranks, stagger)| Command::SetFrame {
            id,
            frame: frame(lanes, ranks, stagger)
        }),
        1 => (id(), 0..14u32, 0..3u16).prop_map(|(id, index, colour)| Command::Paint {
            id,
            cells: vec![CellChange { index, colour, by_hand: true }],
        }),
        1 => (9..16u32, 1..4u32, 1..5u32, 0..3u32)
            .prop_map(|(id, l, r, s)| Command::PutItem { item: Box::new(item(id, l, r, s)) }),
        1 => id().prop_map(|id| Command::RemoveItem { id }),
        1 => (1..3u32, 0.0..900.0f64).prop_map(|(id, height)| surface(id, height)),
        1 => (20.0..60.0f64).prop_map(|h| Command::PutKind {
            kind: Kind { height: Length::mm(h), ..Kind::usual(KindId(1)) }
        }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn incremental_equals_from_scratch(
        commands in prop::collection::vec((command(), any::<bool>()), 1..25),
        // The start has about 300 pieces: with less room some items are left out, and let in again.
        most in prop_oneof![Just(MOST_PIECES), 0..350u64],
    ) {
        let mut plan = start();
        let mut kept = Placement::at_most(&plan, most);
        for (command, undo) in commands {
            let Ok(done) = plan.apply(&command) else { continue };
            kept.update(&plan, &done.touched);
            if undo {
                let back = plan.apply(&done.inverse).expect("an inverse is always taken");
                kept.update(&plan, &back.touched);
            }
            let fresh = Placement::at_most(&plan, most);
            let of = |i: &Placed| (i.pieces.clone(), i.course.clone(), i.bounds, i.wanted, i.left_out);
            let all = |p: &Placement| p.items().iter().map(of).collect::<Vec<_>>();
            prop_assert_eq!(all(&kept), all(&fresh));
            prop_assert_eq!(kept.index(), fresh.index());
            for item in &plan.items {
                prop_assert_eq!(kept.ports(&plan, item), ports(&plan, item));
                let placed = kept.item(item.id).expect("every item");
                if !placed.left_out {
                    prop_assert!(placed.pieces.len() as u64 <= placed.wanted);
                    prop_assert_eq!(kept.needs(&plan, item.id), needs(&plan, item));
                }
            }
            prop_assert!(kept.len() as u64 <= most);
        }
    }
}

/// Six lines of 20 000 000 pieces each, whatever their path asks for, are 120 000 000; none of them is laid where a million
/// pieces have room, and not one column takes memory. Of lines of 400 000 pieces two fit, and a small one behind them.
#[test]
fn items_beyond_the_room_of_the_plan_take_no_memory() {
    let wide = |id: u32, lanes: u32, length: f64| {
        let mut item = line(id, None, None, length);
        let Body::Line(line) = &mut item.body else { panic!("a line") };
        (line.lanes, line.bridges) = (lanes, Vec::new());
        Command::PutItem { item: Box::new(item) }
    };
    let bytes = |p: &Placement| p.items().iter().map(|i| i.pieces.bytes()).sum::<usize>();
    let laid = |p: &Placement| p.items().iter().filter(|i| !i.left_out).map(|i| i.item.0).collect::<Vec<_>>();
    let mut plan = start();
    let small: Vec<u32> = plan.items.iter().map(|i| i.id.0).collect();
    let few = Placement::of(&plan).len();
    // 10 km at 15 mm are 666 667 ranks; with 10 000 lanes the item's own bound leaves 2 000 of them.
    plan.apply(&Command::Together { steps: (30..36).map(|id| wide(id, 10_000, 1e7)).collect() }).unwrap();
    let placement = Placement::at_most(&plan, 1_000_000);
    assert_eq!(laid(&placement), small);
    assert_eq!(placement.items().iter().map(|i| i.wanted).filter(|&n| n == 20_000_000).count(), 6);
    assert_eq!(placement.len(), few);
    assert!(bytes(&placement) <= few * Pieces::BYTES_EACH * 2, "{} bytes", bytes(&placement));
    let placed = placement.item(ItemId(30)).unwrap();
    assert!(placed.course.as_ref().unwrap().cut(), "where it ends early is known all the same");

    // 6 km at 15 mm are 400 000.
    let more = (30..36).map(|id| wide(id, 1, 6e6)).chain([wide(36, 1, 1_500.0)]);
    plan.apply(&Command::Together { steps: more.collect() }).unwrap();
    let mut placement = Placement::at_most(&plan, 1_000_000);
    assert_eq!(laid(&placement), [&small[..], &[30, 31, 36]].concat());
    assert_eq!(placement.len(), few + 800_000 + 100);
    assert!(bytes(&placement) < 1_000_000 * Pieces::BYTES_EACH * 2);
    // When one is taken away, the next one in order has room.
    let done = plan.apply(&Command::RemoveItem { id: ItemId(30) }).unwrap();
    placement.update(&plan, &done.touched);
    assert_eq!(laid(&placement), [&small[..], &[31, 32, 36]].concat());
}

/// A turn between lanes 20 m apart holds up to 31 416 / 7.5 = 4 188 pieces (half the circumference of a circle of 20 m);
/// 5 000 of them are more than one item may have, and 10 000 more than the plan.
#[test]
fn turns_between_far_lanes_are_counted_before_they_are_laid() {
    for lanes in [5_000, 10_000] {
        let mut plan = start();
        let mut item = item(30, lanes, 1, 0);
        let Body::Field(field) = &mut item.body else { panic!("a field") };
        field.cells = vec![1; lanes as usize].into();
        field.frame.course = LaneCourse::InTurn;
        (field.frame.pitch_along, field.frame.pitch_across) = (Length::mm(7.5), Length::m(20.0));
        plan.apply(&Command::PutItem { item: Box::new(item) }).unwrap();
        let placement = Placement::of(&plan);
        let placed = placement.item(ItemId(30)).unwrap();
        assert!(placed.pieces.is_empty() && placed.pieces.bytes() == 0);
        let each = placed.wanted as f64 / f64::from(lanes);
        assert!((4_180.0..4_190.0).contains(&each), "{each}");
        assert_eq!(placed.left_out, placed.wanted > MOST_PIECES);
        assert!(needs(&plan, plan.item(ItemId(30)).unwrap()).is_empty());
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
    let done = plan.apply(&Command::MoveItem { id: ItemId(12), at, heading }).unwrap();
    kept.update(&plan, &done.touched);
    let changed = |a: &[(u32, u64)], b: &[(u32, u64)]| {
        a.iter().zip(b).filter(|(a, b)| a != b).map(|(a, _)| a.0).collect::<Vec<_>>()
    };
    assert_eq!(changed(&before, &revisions(&kept)), [12]);
    let before = revisions(&kept);
    let done = plan.apply(&surface(1, 800.0)).unwrap();
    kept.update(&plan, &done.touched);
    assert_eq!(changed(&before, &revisions(&kept)), [10, 13, 22], "these stand on surface 1");
    let done = plan.apply(&Command::Rename { name: "y".into() }).unwrap();
    let before = revisions(&kept);
    kept.update(&plan, &done.touched);
    assert_eq!(revisions(&kept), before);
}

/// The ids of items whose pieces are others after a command; all the rest share theirs.
fn placed_again(plan: &mut Plan, kept: &mut Placement, command: &Command) -> Vec<u32> {
    let before = kept.items().to_vec();
    let done = plan.apply(command).expect("a valid command");
    kept.update(plan, &done.touched);
    let same = |a: &Placed, b: &Placed| {
        let shared = Arc::ptr_eq(&a.pieces, &b.pieces);
        assert_eq!(shared, a.revision == b.revision, "item {}", a.item);
        shared
    };
    before.iter().zip(kept.items()).filter(|(a, b)| !same(a, b)).map(|(a, _)| a.item.0).collect()
}

#[test]
fn what_follows_a_moved_field_is_placed_again_and_nothing_else() {
    let mut plan = start();
    let mut kept = Placement::of(&plan);
    let (at, heading) = (Point::new(50.0, -900.0), Angle::deg(30.0));
    let moved = Command::MoveItem { id: ItemId(11), at, heading };
    // Its feed, the line to that, the line from its lane 2 and the one that carries on from there.
    assert_eq!(placed_again(&mut plan, &mut kept, &moved), [11, 20, 21, 22, 23]);
    let paint =
        Command::Paint { id: ItemId(11), cells: vec![CellChange { index: 0, colour: 2, by_hand: true }] };
    assert_eq!(placed_again(&mut plan, &mut kept, &paint), [11], "a colour moves no piece");
    let moved = Command::MoveItem { id: ItemId(24), at, heading };
    assert_eq!(placed_again(&mut plan, &mut kept, &moved), [23, 24]);
}

/// A field, its feed and a line are moved as one: the pieces of all of them, and of what follows them by links, lie as if
/// the sheet on which they are drawn had been moved; a line that leads back to what stays is laid anew.
#[test]
fn what_is_shifted_together_keeps_its_pieces_apart_as_they_were() {
    let mut plan = start();
    let mut kept = Placement::of(&plan);
    let place = |p: &Placement, id: u32| {
        let pieces = &p.item(ItemId(id)).unwrap().pieces;
        pieces.x.iter().copied().zip(pieces.y.iter().copied()).collect::<Vec<_>>()
    };
    let before: Vec<_> = [11, 20, 22].iter().map(|&id| place(&kept, id)).collect();
    let (about, turn) = (Point::new(30.0, -20.0), Angle::deg(20.0));
    let shift = Command::Shift {
        which: Which::Items(vec![ItemId(11), ItemId(20), ItemId(22)]),
        east: Length::mm(12.0),
        north: Length::mm(-4.0),
        turn,
        about,
    };
    let again = placed_again(&mut plan, &mut kept, &shift);
    assert_eq!(again, [11, 20, 21, 22, 23]);
    // The rotation by hand: (x, y) to (x cos - y sin, x sin + y cos).
    let (sin, cos) = turn.sin_cos();
    for (id, old) in [11, 20, 22].into_iter().zip(before) {
        let new = place(&kept, id);
        assert!(!new.is_empty());
        for ((x, y), at) in old.into_iter().zip(new) {
            let (dx, dy) = (x - about.x, y - about.y);
            let to = (about.x + dx * cos - dy * sin + 12.0, about.y + dx * sin + dy * cos - 4.0);
            let off = units::maths::hypot(at.0 - to.0, at.1 - to.1);
            assert!(off < 1e-6, "item {id}: {off} mm");
        }
    }
}

/// Connecting lines are laid again from where things really stand.
#[test]
fn lines_follow_an_item_that_was_built_elsewhere() {
    let mut plan = start();
    let mut kept = Placement::of(&plan);
    let first = |p: &Placement, id: u32| {
        let pieces = &p.item(ItemId(id)).unwrap().pieces;
        (pieces.x[0], pieces.y[0])
    };
    // Item 22 has one lane, so its first piece stands at the port of the field.
    let before = first(&kept, 22);
    let mut item = plan.item(ItemId(11)).unwrap().clone();
    let (east, north) = (Length::mm(40.0), Length::mm(-25.0));
    item.built = Some(AsBuilt { east, north, turn: Angle::ZERO });
    let put = Command::PutItem { item: Box::new(item) };
    assert_eq!(placed_again(&mut plan, &mut kept, &put), [11, 20, 21, 22, 23]);
    let after = first(&kept, 22);
    assert!((after.0 - before.0 - 40.0).abs() < 1e-9 && (after.1 - before.1 + 25.0).abs() < 1e-9);
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
