//! Several items put elsewhere at once: mirror images, copies with their links, edges on one line, and all of it undone.

#![allow(clippy::unwrap_used, reason = "helpers of tests may panic")]

use desk::{Arrange, Arranged, Author, Axis, Desk, Edge, Request, arrange, take};
use geometry::{Point, Vector};
use placement::Placement;
use plan::*;
use units::{Angle, Duration, Length};

const MILL: ItemId = ItemId(10);
const FEED: ItemId = ItemId(11);
const BROOK: ItemId = ItemId(12);
const RIVER: ItemId = ItemId(13);
const POND: ItemId = ItemId(14);
const WHEEL: ItemId = ItemId(15);
const BLOCK: ItemId = ItemId(16);
const HINT: ItemId = ItemId(17);
const WAY: ItemId = ItemId(18);
const STAND: ItemId = ItemId(19);
const PUSH: ItemId = ItemId(20);
const ALL: [ItemId; 11] = [MILL, FEED, BROOK, RIVER, POND, WHEEL, BLOCK, HINT, WAY, STAND, PUSH];

fn mm(value: f64) -> Length {
    Length::mm(value)
}

fn line(path: Vec<Leg>, from: Option<Link>, to: Option<Link>) -> Line {
    Line {
        kind: KindId(1),
        lanes: 2,
        pitch_across: mm(26.0),
        spacing: Spacing::Pitch { pitch: mm(15.0) },
        placed: Placing::Comb,
        path,
        from,
        to,
        colours: Pattern::Repeat {
            stretches: vec![
                Stretch { colour: ColourId(2), count: 3 },
                Stretch { colour: ColourId(3), count: 1 },
            ],
        },
        bridges: vec![Bridge {
            from: mm(150.0),
            deck: mm(120.0),
            height: mm(30.0),
            thickness: mm(5.0),
            step: mm(7.5),
            per_step: 1,
        }],
    }
}

fn link(item: ItemId, port: &str) -> Option<Link> {
    Some(Link { item, port: port.into() })
}

/// One item of every sort. `lanes` of the field, which has a picture in its cells that is nowhere symmetric.
fn plan(lanes: u32) -> Plan {
    let mut plan = Plan::new("From Spring to Sea");
    let colour = |id: u16, code: &str| {
        let shade = Rgb { r: id as u8, g: 9, b: 9 };
        Colour::plain(ColourId(id), format!("colour {id}"), code, shade)
    };
    let frame =
        FieldFrame { fall: geometry::FallInPicture::Right, ..FieldFrame::new(lanes, 7, mm(15.0), mm(26.0)) };
    let mut field = Field::empty(KindId(1), frame);
    let len = frame.len();
    field.cells = (0..len).map(|i| [2, 0, 3, 2, 3][i * i % 5]).collect::<Vec<u16>>().into();
    field.by_hand = (0..len).map(|i| i % 7 == 3).collect::<Vec<bool>>().into();
    let item = |id: ItemId, name: &str, x: f64, y: f64, heading: f64, body: Body| {
        let item = Item::new(id, name, Point::new(x, y), body);
        Command::PutItem { item: Box::new(Item { heading: Angle::deg(heading), ..item }) }
    };
    let legs = vec![
        Leg::Straight { length: mm(600.0) },
        Leg::Arc { radius: mm(300.0), turn: Angle::deg(70.0) },
        Leg::Spiral { radius: mm(400.0), ring: mm(-45.0), turns: 1.5, hand: Hand::Right },
        Leg::Through { points: vec![Point::new(1_500.0, 400.0), Point::new(2_000.0, -700.0)] },
    ];
    let river = line(
        vec![Leg::Arc { radius: mm(500.0), turn: Angle::deg(-40.0) }],
        link(BROOK, "end left"),
        link(FEED, "entry"),
    );
    let port = |name: &str, flow, x, y| Port {
        name: name.into(),
        flow,
        at: Point::new(x, y),
        direction: Angle::deg(30.0),
        height: mm(0.0),
        width: mm(25.0),
    };
    let wheel = Placeholder {
        length: mm(900.0),
        width: mm(600.0),
        height: mm(300.0),
        needs: vec![Need { kind: KindId(1), colour: ColourId(2), count: 40 }],
        hours: Duration::h(2.0),
        who: "Omar".into(),
        ports: vec![port("in", PortFlow::In, 0.0, 200.0), port("out", PortFlow::Out, 900.0, 500.0)],
        delay: None,
    };
    let pond = Fill {
        kind: KindId(1),
        outline: [(0.0, 0.0), (1_500.0, 100.0), (1_400.0, 1_200.0), (0.0, 900.0)]
            .map(|(x, y)| Point::new(x, y))
            .to_vec(),
        with: Filling::Waves { course: Angle::deg(20.0) },
        ring: mm(80.0),
        spacing: Spacing::Gap { gap: mm(8.0) },
        placed: Placing::Hand,
        colours: Pattern::Plain { colour: ColourId(3) },
    };
    let feed = Feed {
        of: MILL,
        way: FeedWay::Echelon { side: Hand::Left, turn: Angle::deg(50.0) },
        kind: KindId(1),
        colour: ColourId(2),
        pitch: mm(15.0),
    };
    let camera = Camera {
        height: mm(1_600.0),
        look: Point::new(4_000.0, 900.0),
        look_height: mm(48.0),
        field_of_view: Angle::deg(60.0),
    };
    let steps = vec![
        Command::PutKind { kind: Kind::usual(KindId(1)) },
        Command::PutColour { colour: colour(2, "S") },
        Command::PutColour { colour: colour(3, "W") },
        Command::PutSection { section: Section { id: SectionId(5), name: "A".into(), lead: String::new() } },
        item(MILL, "Mill", 9_000.0, 1_000.0, 90.0, Body::Field(field)),
        item(FEED, "Mill feed", 0.0, 0.0, 0.0, Body::Feed(feed)),
        item(BROOK, "Brook", 500.0, 3_000.0, 37.0, Body::Line(line(legs, None, None))),
        item(RIVER, "River", 100.0, 200.0, 10.0, Body::Line(river)),
        item(POND, "Pond", -4_000.0, -2_500.0, 15.0, Body::Fill(pond)),
        item(WHEEL, "Wheel", -1_000.0, 7_000.0, 200.0, Body::Placeholder(wheel)),
        item(
            BLOCK,
            "Block 7",
            3_000.0,
            -900.0,
            45.0,
            Body::Stopper(Stopper { thickness: mm(20.0), width: mm(60.0), height: mm(60.0), fixed: true }),
        ),
        item(HINT, "Hint", 0.0, -3_000.0, 0.0, Body::Note(Note { text: "Build this first.".into() })),
        item(WAY, "Way", 50.0, -3_500.0, 12.0, Body::Dimension(Dimension { to: Point::new(700.0, 300.0) })),
        item(STAND, "From the stand", 0.0, -9_000.0, 80.0, Body::Camera(camera)),
        item(
            PUSH,
            "First push",
            490.0,
            2_990.0,
            37.0,
            Body::Start(Start { width: mm(20.0), after: Duration::ZERO }),
        ),
    ];
    plan.apply(&Command::Together { steps }).unwrap();
    plan
}

fn bytes(plan: &Plan) -> String {
    exchange::write_text_plan(plan).plan_toml
}

/// Arranges, checks that undo and redo give the same bytes, and hands the new plan back.
fn done(plan: &Plan, items: &[ItemId], how: &Arrange) -> (Plan, Arranged) {
    let made = arrange(plan, items, how).unwrap();
    let (before, mut after) = (bytes(plan), plan.clone());
    let applied = after.apply(&made.command).unwrap();
    let there = bytes(&after);
    assert_ne!(before, there, "{how:?}");
    let mut back = after.clone();
    let again = back.apply(&applied.inverse).unwrap();
    assert_eq!(bytes(&back), before, "{how:?}");
    back.apply(&again.inverse).unwrap();
    assert_eq!(bytes(&back), there, "{how:?}");
    (after, made)
}

fn refused(plan: &Plan, items: &[ItemId], how: &Arrange) -> String {
    match arrange(plan, items, how) {
        Err(e) => e.to_string(),
        Ok(made) => plan.clone().apply(&made.command).expect_err("it is refused").to_string(),
    }
}

fn mirror(x: f64, y: f64, along: f64) -> Arrange {
    Arrange::Mirror { through: Point::new(x, y), along: Angle::deg(along) }
}

/// The same plan but for the last digits of places and directions.
fn same(a: &Plan, b: &Plan) {
    assert_eq!(a.items.len(), b.items.len());
    for (x, y) in a.items.iter().zip(&b.items) {
        assert!(x.at.minus(y.at).length() < 1e-6, "{}: {:?} {:?}", x.name, x.at, y.at);
        let turned = (x.heading.to_deg() - y.heading.to_deg()).rem_euclid(360.0);
        assert!(turned.min(360.0 - turned) < 1e-9, "{}: {turned}", x.name);
        let built =
            |i: &Item| i.built.map_or([0.0; 3], |b| [b.east.to_mm(), b.north.to_mm(), b.turn.to_deg()]);
        assert!(built(x).iter().zip(built(y)).all(|(a, b)| (a - b).abs() < 1e-6), "{}", x.name);
        // All else to the last bit.
        let bare = |i: &Item| Item { at: Point::default(), heading: Angle::ZERO, built: None, ..i.clone() };
        assert_eq!(bare(x), bare(y));
    }
}

#[test]
fn a_mirror_image_of_the_mirror_image_is_the_plan() {
    for lanes in [4, 5] {
        let start = plan(lanes);
        for how in [mirror(3_000.0, 0.0, 90.0), mirror(17.3, -4.1, 33.3), mirror(0.0, 0.0, -720.5)] {
            let (there, _) = done(&start, &ALL, &how);
            let (back, _) = done(&there, &ALL, &how);
            same(&start, &back);
        }
    }
}

#[test]
fn pieces_of_a_mirror_image_stand_where_a_mirror_shows_them() {
    // The image of (x, y) in the line through p along the unit vector u is 2 (p + ((x, y) - p) . u u) - (x, y); cosine and
    // sine of 33.3 degrees from Python's math module.
    let (p, u) = ((17.3, -4.1), (0.8358073613682703, 0.5490228179981317));
    let image = |x: f64, y: f64| {
        let t = (x - p.0) * u.0 + (y - p.1) * u.1;
        (2.0 * (p.0 + t * u.0) - x, 2.0 * (p.1 + t * u.1) - y)
    };
    for lanes in [4, 5] {
        let mut start = plan(lanes);
        // Measured askew: what stands is mirrored, and not only what is drawn.
        for id in [MILL, WHEEL, BROOK] {
            let built = Some(AsBuilt { east: mm(8.0), north: mm(-3.0), turn: Angle::deg(1.5) });
            let item = Item { built, ..start.item(id).unwrap().clone() };
            start.apply(&Command::PutItem { item: Box::new(item) }).unwrap();
        }
        let (there, _) = done(&start, &ALL, &mirror(p.0, p.1, 33.3));
        let (a, b) = (Placement::of(&start), Placement::of(&there));
        for id in [MILL, FEED, BROOK, RIVER] {
            let (a, b) = (&a.item(id).unwrap().pieces, &b.item(id).unwrap().pieces);
            assert!(a.len() >= 5 && a.len() == b.len(), "{id}: {} {}", a.len(), b.len());
            let mut left: Vec<(f64, f64, u16)> =
                (0..b.len()).map(|i| (b.x[i], b.y[i], b.colour[i])).collect();
            for i in 0..a.len() {
                let (x, y) = image(a.x[i], a.y[i]);
                let near = |q: &(f64, f64, u16)| (q.0 - x).abs() < 1e-3 && (q.1 - y).abs() < 1e-3;
                let at =
                    left.iter().position(near).unwrap_or_else(|| panic!("item {id}, piece {i}: {x} {y}"));
                let found = left.swap_remove(at);
                assert_eq!(found.2, a.colour[i], "item {id}, piece {i}");
            }
        }
        // Ports of placeholders, and what dimensions and cameras point at.
        for (port, other) in a
            .ports(&start, start.item(WHEEL).unwrap())
            .iter()
            .zip(b.ports(&there, there.item(WHEEL).unwrap()))
        {
            let (x, y) = image(port.at.x, port.at.y);
            assert!((other.at.x - x).abs() < 1e-6 && (other.at.y - y).abs() < 1e-6, "{}", port.name);
        }
        let end = |plan: &Plan, id: ItemId| {
            let item = plan.item(id).unwrap();
            let to = match &item.body {
                Body::Dimension(d) => d.to,
                Body::Camera(c) => c.look,
                _ => panic!("{id}"),
            };
            item.frame().at(to.x, to.y)
        };
        for id in [WAY, STAND] {
            let (old, new) = (end(&start, id), end(&there, id));
            let (x, y) = image(old.x, old.y);
            assert!((new.x - x).abs() < 1e-6 && (new.y - y).abs() < 1e-6, "{id}");
        }
    }
}

#[test]
fn feeds_of_every_way_are_mirrored_with_their_field() {
    let (side, turn) = (Hand::Left, Angle::deg(45.0));
    let ways = [
        FeedWay::Brick { enter: Enter::Right },
        FeedWay::Beside { side, turn, gap: mm(16.0), poke: mm(6.0) },
        FeedWay::Angled { side, turn: Angle::deg(35.0), poke: mm(6.0) },
        FeedWay::InLine { side, turn, clear: mm(3.0) },
        FeedWay::Echelon { side, turn },
        FeedWay::HalfShift { side },
    ];
    let mut laid = 0;
    for way in ways {
        let mut start = plan(6);
        let mut item = start.item(FEED).unwrap().clone();
        if let Body::Feed(feed) = &mut item.body {
            feed.way = way;
        }
        start.apply(&Command::PutItem { item: Box::new(item) }).unwrap();
        // In the line x = 0: the image of (x, y) is (-x, y).
        let (there, _) = done(&start, &[MILL, FEED], &mirror(0.0, 0.0, 90.0));
        let spots = |plan: &Plan, sign: f64| {
            let placement = Placement::of(plan);
            let p = &placement.item(FEED).unwrap().pieces;
            let key = |v: f64| (v * 1e3).round() as i64;
            let mut all: Vec<_> = (0..p.len()).map(|i| (key(sign * p.x[i]), key(p.y[i]))).collect();
            all.sort_unstable();
            all
        };
        let (was, is) = (spots(&start, -1.0), spots(&there, 1.0));
        laid += usize::from(!was.is_empty());
        assert_eq!(was.len(), is.len(), "{way:?}");
        let near = |(a, b): (&(i64, i64), &(i64, i64))| (a.0 - b.0).abs() <= 1 && (a.1 - b.1).abs() <= 1;
        assert!(was.iter().zip(&is).all(near), "{way:?}: {was:?} {is:?}");
    }
    // Not each way is possible at this pitch of the lanes.
    assert!(laid >= 4, "{laid}");
}

#[test]
fn a_mirrored_field_keeps_its_cells_by_lane_and_shows_its_picture_left_for_right() {
    let start = plan(4);
    let (there, _) = done(&start, &[MILL], &mirror(0.0, 0.0, 90.0));
    let picture = |plan: &Plan| {
        let f = plan.item(MILL).unwrap().field().unwrap();
        let map = f.frame.map();
        (
            map.to_picture(f.cells.as_slice()),
            map.to_picture(f.by_hand.as_slice()),
            map.picture_size().0 as usize,
        )
    };
    let ((cells, marks, columns), (new_cells, new_marks, _)) = (picture(&start), picture(&there));
    let left_for_right = |row: &[u16]| row.iter().rev().copied().collect::<Vec<_>>();
    assert_eq!(new_cells, cells.chunks(columns).flat_map(left_for_right).collect::<Vec<_>>());
    assert_eq!(
        new_marks,
        marks.chunks(columns).flat_map(|r| r.iter().rev().copied().collect::<Vec<_>>()).collect::<Vec<_>>()
    );
}

#[test]
fn what_has_no_mirror_image_is_said_or_refused() {
    let edit = |lanes: u32, edit: &dyn Fn(&mut FieldFrame)| {
        let mut plan = plan(lanes);
        let mut frame = plan.item(MILL).unwrap().field().unwrap().frame;
        edit(&mut frame);
        plan.apply(&Command::SetFrame { id: MILL, frame }).unwrap();
        plan
    };
    let to_and_fro = edit(4, &|f| f.course = LaneCourse::Opposed);
    let said = refused(&to_and_fro, &[MILL], &mirror(0.0, 0.0, 90.0));
    assert!(said.contains("field Mill") && said.contains("odd number of lanes"), "{said}");
    done(&edit(5, &|f| f.course = LaneCourse::Opposed), &[MILL], &mirror(0.0, 0.0, 90.0));
    let shifted = edit(4, &|f| f.stagger = mm(7.5));
    let (_, made) = done(&shifted, &[MILL, POND], &mirror(0.0, 0.0, 90.0));
    assert!(made.notes[0].contains("7.5 mm beside"), "{:?}", made.notes);
    assert!(made.notes[1].starts_with("Pond fills"), "{:?}", made.notes);
    let (_, made) = done(&edit(5, &|f| f.stagger = mm(7.5)), &[MILL], &mirror(0.0, 0.0, 90.0));
    assert_eq!(made.notes, Vec::<String>::new());
    // A feed without its field stays where it is.
    let said = refused(&plan(4), &[FEED], &mirror(0.0, 0.0, 90.0));
    assert!(said.contains("would stay as they are"), "{said}");
}

#[test]
fn links_within_a_mirrored_set_go_to_the_port_on_the_other_side_and_those_to_others_stay() {
    let (there, _) = done(&plan(4), &ALL, &mirror(0.0, 0.0, 90.0));
    let from = |plan: &Plan| match &plan.item(RIVER).unwrap().body {
        Body::Line(l) => l.from.clone().unwrap().port,
        _ => panic!("a line"),
    };
    assert_eq!(from(&there), "end right");
    let (there, _) = done(&plan(4), &[RIVER], &mirror(0.0, 0.0, 90.0));
    assert_eq!(from(&there), "end left");
    let mill = plan(4).item(MILL).unwrap().clone();
    assert_eq!(mill.mirrored_port("lane 1"), "lane 4");
    assert_eq!(mill.mirrored_port("lane 3 end"), "lane 2 end");
    assert_eq!(mill.mirrored_port("lane 9"), "lane 9");
    assert_eq!(mill.mirrored_port("entry"), "entry");
}

#[test]
fn what_is_moved_and_turned_stands_as_if_the_hall_were() {
    let start = plan(4);
    let (about, by) = (Point::new(300.0, -200.0), Angle::deg(121.0));
    let (there, made) = done(&start, &ALL, &Arrange::Turn { about, by });
    assert_eq!(made.label, "Turn Mill, Mill feed, Brook and 8 more");
    let (a, b) = (Placement::of(&start), Placement::of(&there));
    let frame = geometry::Frame::new(about, by);
    for (a, b) in a.items().iter().zip(b.items()) {
        assert_eq!(a.pieces.len(), b.pieces.len());
        for i in 0..a.pieces.len() {
            let p = frame.at(a.pieces.x[i] - about.x, a.pieces.y[i] - about.y);
            assert!((p.x - b.pieces.x[i]).abs() < 1e-3 && (p.y - b.pieces.y[i]).abs() < 1e-3, "{}", a.item);
        }
    }
    let by = Vector { x: 1_000.0, y: -250.0 };
    let (there, _) = done(&start, &[MILL, BROOK], &Arrange::Move { by });
    assert_eq!(there.item(MILL).unwrap().at, Point::new(10_000.0, 750.0));
    assert_eq!(there.item(WHEEL), start.item(WHEEL));
}

#[test]
fn copies_keep_the_links_among_them_and_let_go_of_others() {
    let start = plan(4);
    let set = [MILL, FEED, RIVER, BLOCK];
    let how = Arrange::Copy { by: Vector { x: 0.0, y: 2_000.0 }, times: 2, turn: Angle::ZERO };
    let (there, made) = done(&start, &set, &how);
    assert_eq!(made.added.len(), 8);
    assert!(made.added.iter().all(|id| start.item(*id).is_none()));
    assert_eq!(made.label, "Copy Mill, Mill feed, River and 1 more 2 times");
    assert_eq!(made.notes, ["The copy of River no longer carries on from Brook, which was not copied."]);
    let names: Vec<&str> = made.added.iter().map(|id| there.item(*id).unwrap().name.as_str()).collect();
    assert_eq!(
        names,
        ["Mill 2", "Mill feed 2", "River 2", "Block 2", "Mill 3", "Mill feed 3", "River 3", "Block 3"]
    );
    for copy in made.added.chunks(4) {
        let feed = there.item(copy[1]).unwrap();
        assert!(matches!(&feed.body, Body::Feed(f) if f.of == copy[0]));
        let Body::Line(river) = &there.item(copy[2]).unwrap().body else { panic!("a line") };
        assert_eq!(river.from, None);
        assert_eq!(river.to.as_ref().unwrap().item, copy[1]);
    }
    // Each copy stands where its original does, only farther north: a line that is let go of too.
    let placed = Placement::of(&there);
    for (n, copy) in made.added.chunks(4).enumerate() {
        for (id, new) in set.iter().zip(copy) {
            let (a, b) = (&placed.item(*id).unwrap().pieces, &placed.item(*new).unwrap().pieces);
            assert_eq!(a.len(), b.len(), "{id}");
            for i in 0..a.len() {
                let north = a.y[i] + 2_000.0 * (n as f64 + 1.0);
                assert!((a.x[i] - b.x[i]).abs() < 1e-6 && (north - b.y[i]).abs() < 1e-6, "{id} {i}");
            }
        }
    }
    // The originals are as they were.
    set.iter().for_each(|id| assert_eq!(there.item(*id), start.item(*id)));
    let said = refused(&start, &[FEED], &how);
    assert!(said.contains("without its field"), "{said}");
}

#[test]
fn an_array_with_a_turn_goes_round_the_middle_of_the_set() {
    let how = Arrange::Copy { by: Vector { x: 0.0, y: 0.0 }, times: 3, turn: Angle::deg(90.0) };
    let (there, made) = done(&plan(4), &[BLOCK], &how);
    let at: Vec<_> =
        made.added.iter().map(|id| there.item(*id).unwrap()).map(|i| (i.at, i.heading.to_deg())).collect();
    for (n, (at, heading)) in at.iter().enumerate() {
        assert!(at.minus(Point::new(3_000.0, -900.0)).length() < 1e-9, "{at:?}");
        assert_eq!(*heading, (45.0 + 90.0 * (n as f64 + 1.0)) % 360.0);
    }
}

#[test]
fn edges_come_to_lie_on_one_line_and_gaps_are_equal() {
    let start = plan(4);
    let around = |plan: &Plan, id: ItemId| {
        let item = plan.item(id).unwrap();
        let corners = placement::extent(plan, item).unwrap();
        let x = corners.map(|p| p.x);
        let y = corners.map(|p| p.y);
        let least = |v: [f64; 4]| v.into_iter().fold(f64::INFINITY, f64::min);
        let most = |v: [f64; 4]| v.into_iter().fold(f64::NEG_INFINITY, f64::max);
        [least(x), least(y), most(x), most(y)]
    };
    let set = [MILL, BROOK, WHEEL, BLOCK];
    let all = set.map(|id| around(&start, id));
    let least = |i: usize| all.iter().map(|a| a[i]).fold(f64::INFINITY, f64::min);
    let most = |i: usize| all.iter().map(|a| a[i]).fold(f64::NEG_INFINITY, f64::max);
    let cases = [
        (Edge::West, least(0)),
        (Edge::South, least(1)),
        (Edge::East, most(2)),
        (Edge::North, most(3)),
        (Edge::MiddleX, (least(0) + most(2)) / 2.0),
        (Edge::MiddleY, (least(1) + most(3)) / 2.0),
    ];
    for (edge, line) in cases {
        let (there, _) = done(&start, &set, &Arrange::Align { edge });
        for id in set {
            let a = around(&there, id);
            let at = match edge {
                Edge::West => a[0],
                Edge::South => a[1],
                Edge::East => a[2],
                Edge::North => a[3],
                Edge::MiddleX => (a[0] + a[2]) / 2.0,
                Edge::MiddleY => (a[1] + a[3]) / 2.0,
            };
            assert!((at - line).abs() < 1e-6, "{edge:?} {id}: {at} {line}");
        }
    }
    for (along, low, high) in [(Axis::X, 0, 2), (Axis::Y, 1, 3)] {
        let (there, _) = done(&start, &set, &Arrange::Distribute { along });
        let mut ends: Vec<_> = set.map(|id| around(&there, id)).map(|a| (a[low], a[high])).to_vec();
        ends.sort_by(|a, b| (a.0 + a.1).total_cmp(&(b.0 + b.1)));
        let gaps: Vec<f64> = ends.windows(2).map(|w| w[1].0 - w[0].1).collect();
        assert!(gaps.windows(2).all(|g| (g[0] - g[1]).abs() < 1e-6), "{gaps:?}");
    }
    let said = refused(&start, &[MILL, WHEEL], &Arrange::Distribute { along: Axis::X });
    assert!(said.contains("too few places"), "{said}");
    // A line that carries on from another one has no place of its own.
    let said = refused(&start, &[MILL, RIVER], &Arrange::Align { edge: Edge::West });
    assert!(said.contains("too few places"), "{said}");
}

#[test]
fn groups_are_lined_up_as_one_and_copied_as_groups_of_their_own() {
    let (grouped, _) = done(&plan(4), &[WHEEL, BLOCK], &Arrange::Group);
    let group = grouped.item(WHEEL).unwrap().group;
    assert!(group.is_some() && group == grouped.item(BLOCK).unwrap().group);
    let (there, _) = done(&grouped, &[MILL, WHEEL, BLOCK], &Arrange::Align { edge: Edge::East });
    let apart = |plan: &Plan| plan.item(WHEEL).unwrap().at.minus(plan.item(BLOCK).unwrap().at);
    assert!((apart(&there).x - apart(&grouped).x).abs() < 1e-9);
    let how = Arrange::Copy { by: Vector { x: 9_000.0, y: 0.0 }, times: 2, turn: Angle::ZERO };
    let (there, made) = done(&grouped, &[WHEEL, BLOCK], &how);
    let groups: Vec<_> = made.added.iter().map(|id| there.item(*id).unwrap().group).collect();
    assert!(groups[0].is_some() && groups[0] == groups[1] && groups[2] == groups[3]);
    assert!(groups[0] != groups[2] && groups[0] != group);
    let (there, _) = done(&grouped, &[WHEEL, BLOCK], &Arrange::Ungroup);
    assert_eq!(there.item(WHEEL).unwrap().group, None);
    let said = refused(&grouped, &[MILL], &Arrange::Group);
    assert!(said.contains("two items or more"), "{said}");
}

#[test]
fn locked_items_refuse_everything_but_to_be_unlocked_and_copied() {
    let (locked, _) = done(&plan(4), &[MILL, WHEEL], &Arrange::Lock);
    let by = Vector { x: 1.0, y: 0.0 };
    let hows = [
        Arrange::Move { by },
        Arrange::Turn { about: Point::new(0.0, 0.0), by: Angle::deg(1.0) },
        mirror(0.0, 0.0, 10.0),
        Arrange::Group,
        Arrange::Section { section: Some(SectionId(5)) },
        Arrange::Align { edge: Edge::MiddleX },
    ];
    for how in hows {
        let said = refused(&locked, &[MILL, WHEEL, BLOCK], &how);
        assert!(said.contains("is locked. Unlock it first."), "{how:?}: {said}");
    }
    let said = locked.clone().apply(&take(&locked, &[WHEEL]).unwrap().command).unwrap_err().to_string();
    assert!(said.contains("Wheel: this item is locked. Unlock it first."), "{said}");
    let how = Arrange::Copy { by, times: 1, turn: Angle::ZERO };
    let (there, made) = done(&locked, &[WHEEL], &how);
    assert!(!there.item(made.added[0]).unwrap().locked);
    let (free, _) = done(&locked, &[MILL, WHEEL], &Arrange::Unlock);
    done(&free, &[MILL, WHEEL], &Arrange::Section { section: Some(SectionId(5)) });
}

#[test]
fn several_are_taken_away_with_the_links_between_them() {
    let mut start = plan(4);
    let made = take(&start, &[MILL, FEED, BROOK, RIVER]).unwrap();
    let before = bytes(&start);
    let applied = start.apply(&made.command).unwrap();
    assert_eq!(start.items.len(), 7);
    start.apply(&applied.inverse).unwrap();
    assert_eq!(bytes(&start), before);
    // What others lead to stays, and the sentence names who.
    let made = take(&start, &[BROOK, MILL]).unwrap();
    let said = start.apply(&made.command).unwrap_err().to_string();
    assert!(said.contains("is used by"), "{said}");
    assert_eq!(bytes(&start), before);
}

#[test]
fn wild_figures_and_unknown_items_are_refused_in_a_sentence() {
    let start = plan(4);
    let v = |x, y| Vector { x, y };
    let cases: [(&[ItemId], Arrange, &str); 11] = [
        (&[ItemId(999)], Arrange::Lock, "Item 999 is not in this plan"),
        (&[], Arrange::Lock, "no item is chosen"),
        (&[MILL], Arrange::Move { by: v(1e9, 0.0) }, "move, east: 1000000000 mm is not from"),
        (&[MILL], Arrange::Move { by: v(f64::NAN, 0.0) }, "move, east: NaN mm is not from"),
        (&[MILL], Arrange::Move { by: v(1.5e7, 0.0) }, "field Mill, east: 15009000 mm"),
        (&[MILL], Arrange::Move { by: v(0.0, 0.0) }, "would stay as they are"),
        (
            &[MILL],
            Arrange::Turn { about: Point::new(0.0, -1e300), by: Angle::deg(1.0) },
            "turn, about, north",
        ),
        (
            &[MILL],
            Arrange::Turn { about: Point::new(0.0, 0.0), by: Angle::deg(1e12) },
            "turn: 1000000000000°",
        ),
        (&[MILL], mirror(0.0, 0.0, f64::INFINITY), "mirror, direction: inf°"),
        (
            &[MILL],
            Arrange::Copy { by: v(1.0, 0.0), times: 0, turn: Angle::ZERO },
            "copy, times: 0 is not from",
        ),
        (
            &[MILL],
            Arrange::Copy { by: v(1.0, 0.0), times: u32::MAX, turn: Angle::ZERO },
            "4\u{a0}294\u{a0}967\u{a0}295 is not from",
        ),
    ];
    for (items, how, words) in cases {
        let said = refused(&start, items, &how);
        assert!(said.contains(words) && said.ends_with('.'), "wanted \"{words}\", got \"{said}\"");
    }
}

#[test]
fn a_grid_of_copies_is_one_command_and_stands_in_columns_and_rows() {
    let start = plan(4);
    let (column, row) = (Vector { x: 6_000.0, y: 0.0 }, Vector { x: 0.0, y: 3_000.0 });
    let (there, made) = done(&start, &[MILL, FEED], &Arrange::Grid { columns: 3, rows: 2, column, row });
    assert_eq!(made.label, "Copy Mill, Mill feed 5 times");
    assert_eq!(made.added.len(), 10);
    let at = start.item(MILL).unwrap().at;
    let wanted = [(1, 0), (2, 0), (0, 1), (1, 1), (2, 1)];
    for (copy, (c, r)) in made.added.chunks(2).zip(wanted) {
        let mill = there.item(copy[0]).unwrap();
        assert_eq!(mill.at, Point::new(at.x + 6_000.0 * f64::from(c), at.y + 3_000.0 * f64::from(r)));
        assert!(matches!(&there.item(copy[1]).unwrap().body, Body::Feed(f) if f.of == copy[0]));
    }
    for (columns, rows, words) in [
        (0, 2, "copy, columns: 0 is not from"),
        (2, 1_001, "copy, rows: 1\u{a0}001 is not from"),
        (1, 1, "without the first: 0 is not from"),
        (1_000, 1_000, "without the first: 999\u{a0}999 is not from"),
    ] {
        let said = refused(&start, &[MILL], &Arrange::Grid { columns, rows, column, row });
        assert!(said.contains(words) && said.ends_with('.'), "wanted \"{words}\", got \"{said}\"");
    }
}

/// Numbers that look random and are the same on every run (SplitMix64, Steele, Lea and Flood 2014).
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    fn below(&mut self, n: u64) -> u64 {
        self.next() % n
    }

    /// A length, mostly sensible and sometimes far out.
    fn length(&mut self) -> f64 {
        match self.below(50) {
            0 => 1e9,
            1 => -1e7,
            2 => 0.0,
            _ => self.below(20_000) as f64 / 3.0 - 3_000.0,
        }
    }
}

fn random(dice: &mut Dice) -> Arrange {
    let by = Vector { x: dice.length(), y: dice.length() };
    let at = Point::new(dice.length(), dice.length());
    let angle = Angle::deg(dice.below(7_200) as f64 / 7.0 - 360.0);
    let edges = [Edge::West, Edge::East, Edge::South, Edge::North, Edge::MiddleX, Edge::MiddleY];
    match dice.below(12) {
        0 | 1 => Arrange::Move { by },
        2 => Arrange::Turn { about: at, by: angle },
        3 | 4 => Arrange::Mirror { through: at, along: angle },
        5 => Arrange::Copy { by, times: 1 + dice.below(2) as u32, turn: angle },
        6 => Arrange::Align { edge: edges[dice.below(6) as usize] },
        7 => Arrange::Distribute { along: if dice.below(2) == 0 { Axis::X } else { Axis::Y } },
        8 => {
            if dice.below(2) == 0 {
                Arrange::Group
            } else {
                Arrange::Ungroup
            }
        }
        9 => Arrange::Lock,
        10 => Arrange::Unlock,
        _ => Arrange::Section { section: (dice.below(2) == 0).then_some(SectionId(5)) },
    }
}

/// Some items of the plan, and at times one that is not there.
fn some(plan: &Plan, dice: &mut Dice) -> Vec<ItemId> {
    let count = 1 + dice.below(5);
    let pick = |dice: &mut Dice| match dice.below(60) {
        0 => ItemId(9_999),
        _ => plan.items[dice.below(plan.items.len() as u64) as usize].id,
    };
    (0..count).map(|_| pick(dice)).collect()
}

#[test]
fn ten_thousand_random_edits_and_undos_leave_the_same_bytes() {
    let start = plan(5);
    let first = bytes(&start);
    let mut plan = start.clone();
    let mut dice = Dice(4);
    let mut back: Vec<Command> = Vec::new();
    let (mut edits, mut taken) = (0, 0);
    while edits < 10_000 {
        edits += 1;
        let items = some(&plan, &mut dice);
        let made = match dice.below(12) {
            0 => take(&plan, &items),
            _ => arrange(&plan, &items, &random(&mut dice)),
        };
        let Ok(made) = made else { continue };
        if let Ok(applied) = plan.apply(&made.command) {
            back.push(applied.inverse);
            taken += 1;
        }
        // Now and then some of it is taken back, so that the plan neither empties nor grows without end.
        let many = plan.items.len() < 8 || plan.items.len() > 40;
        let steps = if many { 12 } else { dice.below(3) };
        for _ in 0..steps.min(back.len() as u64) {
            plan.apply(&back.pop().unwrap()).unwrap();
        }
    }
    assert!(taken > 4_000, "only {taken} edits were taken");
    while let Some(inverse) = back.pop() {
        plan.apply(&inverse).unwrap();
    }
    assert_eq!(bytes(&plan), first);
    assert_eq!(plan, start);
}

#[test]
fn two_who_draw_at_once_end_in_the_document_of_a_single_replay() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("run.standfast");
    let start = plan(5);
    let desk = Desk::create(&path, &start).unwrap();
    let draw = |name: &'static str, seed: u64| {
        let desk = desk.clone();
        std::thread::spawn(move || {
            let (who, mut dice) = (Author(name.into()), Dice(seed));
            let mut done = 0;
            for _ in 0..500 {
                let request = match dice.below(10) {
                    0 => Request::Undo,
                    1 => Request::Redo,
                    _ => {
                        let (mut inner, gone) = (Dice(dice.next()), dice.below(15) == 0);
                        // Made from the plan as it is when its turn comes.
                        Request::Change(Box::new(move |plan| {
                            let items = some(plan, &mut inner);
                            let made = match gone {
                                true => take(plan, &items)?,
                                false if plan.items.len() > 60 => take(plan, &items)?,
                                false => arrange(plan, &items, &random(&mut inner))?,
                            };
                            Ok((made.label, made.command))
                        }))
                    }
                };
                done += u32::from(desk.submit(&who, request).is_ok());
            }
            done
        })
    };
    let (ines, omar) = (draw("Ines", 1), draw("Omar", 2));
    let done = ines.join().unwrap() + omar.join().unwrap();
    assert!(done > 300, "only {done} were taken");
    let snapshot = desk.snapshot();
    assert_eq!(snapshot.change, u64::from(done));
    desk.close().unwrap();
    // The check replays the journal from its first change on a copy and compares; it shares no state with the desk.
    let options = store::Options::default();
    let report = store::Store::restore_check(&path, &options).unwrap();
    assert!(report.is_whole(), "{:?}", report.problems);
    assert_eq!(report.last, u64::from(done));
    let opened = store::Store::open(&path, &options).unwrap();
    assert_eq!(report.content_hash, opened.store.content_hash());
    assert_eq!(bytes(opened.store.plan()), bytes(&snapshot.plan));
}

#[test]
fn what_was_copied_is_set_down_as_it_was_although_it_is_changed_and_gone() {
    let folder = tempfile::tempdir().unwrap();
    let desk = Desk::create(&folder.path().join("x.standfast"), &plan(5)).unwrap();
    let who = Author("planner".into());
    let snapshot = desk.snapshot();
    let mill = snapshot.plan.item(MILL).unwrap().clone();
    let copied = desk.copy(&[MILL, FEED]).unwrap();
    assert!(desk.copy(&[FEED]).is_err(), "a feed alone has no field to lead into");
    type How = Box<dyn FnOnce(&Plan) -> Result<Arranged, desk::DeskError> + Send>;
    let change = |how: How| {
        let made = |plan: &Plan| how(plan).map(|a| (a.label, a.command));
        desk.submit(&who, Request::Change(Box::new(made)))
    };
    change(Box::new(|plan| arrange(plan, &[MILL], &Arrange::Move { by: Vector { x: 77.0, y: 0.0 } })))
        .unwrap();
    change(Box::new(|plan| take(plan, &ALL))).unwrap();
    assert!(desk.snapshot().plan.items.is_empty());
    let kept = desk.copied(copied).unwrap();
    change(Box::new(move |plan| kept.paste(plan, Vector { x: 100.0, y: 0.0 }))).unwrap();
    let now = desk.snapshot();
    assert_eq!(now.plan.items.len(), 2);
    let field = now.plan.items.iter().find(|i| i.field().is_some()).unwrap();
    // As it was copied, not as it was moved to since; with its cells, under an id of its own.
    assert_eq!(field.at, Point::new(mill.at.x + 100.0, mill.at.y));
    assert_eq!(field.field().unwrap().cells, mill.field().unwrap().cells);
    assert!(field.id > PUSH);
    let feed = now.plan.items.iter().find_map(|i| match &i.body {
        Body::Feed(feed) => Some(feed.of),
        _ => None,
    });
    assert_eq!(feed, Some(field.id));
    assert!(desk.copied(copied + 1).is_err());
    // Seventeen later ones push it out.
    for _ in 0..16 {
        desk.copy(&[field.id]).unwrap();
    }
    let gone = desk.copied(copied).unwrap_err();
    assert_eq!(gone.code(), "missing");
}

#[test]
fn a_copy_lets_go_of_the_section_that_went_meanwhile() {
    let folder = tempfile::tempdir().unwrap();
    let mut plan = plan(2);
    let section = Section { id: SectionId(90), name: "North".into(), lead: String::new() };
    let mill = Item { section: Some(section.id), ..plan.item(MILL).unwrap().clone() };
    for command in [Command::PutSection { section }, Command::PutItem { item: Box::new(mill) }] {
        plan.apply(&command).unwrap();
    }
    let desk = Desk::create(&folder.path().join("x.standfast"), &plan).unwrap();
    let copied = desk.copied(desk.copy(&[MILL]).unwrap()).unwrap();
    let pasted = |plan: &Plan| {
        let made = copied.paste(plan, Vector { x: 9_000.0, y: 0.0 }).unwrap();
        let mut after = plan.clone();
        after.apply(&made.command).unwrap();
        after.item(made.added[0]).unwrap().section
    };
    assert_eq!(pasted(&plan), Some(SectionId(90)));
    let mill = Item { section: None, ..plan.item(MILL).unwrap().clone() };
    let gone = Command::RemoveSection { id: SectionId(90) };
    for command in [Command::PutItem { item: Box::new(mill) }, gone] {
        plan.apply(&command).unwrap();
    }
    assert_eq!(pasted(&plan), None);
}
