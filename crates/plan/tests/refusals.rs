//! What the gate refuses: one sentence each, with the place, the value and what to do next.

#![allow(clippy::unwrap_used, reason = "helpers of tests may panic")]

use geometry::{FallInPicture, Point};
use plan::*;
use units::{Angle, Duration, Length};

const MILL: ItemId = ItemId(5);
const BROOK: ItemId = ItemId(6);
const LATCH: ItemId = ItemId(7);

fn mm(value: f64) -> Length {
    Length::mm(value)
}

fn corners() -> Vec<Point> {
    vec![Point::new(0.0, 0.0), Point::new(900.0, 0.0), Point::new(0.0, 900.0)]
}

fn item(id: ItemId, name: &str, body: Body) -> Item {
    Item::new(id, name, Point::new(0.0, 0.0), body)
}

fn line() -> Line {
    Line::plain(KindId(1), ColourId(2), vec![Leg::Straight { length: mm(900.0) }])
}

fn fill() -> Fill {
    Fill {
        kind: KindId(1),
        outline: corners(),
        with: Filling::Spiral,
        ring: mm(60.0),
        spacing: Spacing::Gap { gap: mm(7.5) },
        placed: Placing::Comb,
        colours: Pattern::Plain { colour: ColourId(2) },
    }
}

fn feed() -> Feed {
    let way = FeedWay::Echelon { side: Hand::Left, turn: Angle::deg(50.0) };
    Feed { of: MILL, way, kind: KindId(1), colour: ColourId(2), pitch: mm(15.0) }
}

fn bridge() -> Bridge {
    let (from, deck, height) = (mm(200.0), mm(600.0), mm(75.0));
    Bridge { from, deck, height, thickness: mm(12.0), step: mm(7.5), per_step: 2 }
}

fn field() -> Body {
    let frame = FieldFrame {
        fall: FallInPicture::Up,
        course: LaneCourse::Opposed,
        ..FieldFrame::new(2, 3, mm(15.0), mm(25.0))
    };
    Body::Field(Field::empty(KindId(1), frame))
}

fn put(item: Item) -> Command {
    Command::PutItem { item: Box::new(item) }
}

/// A field, a line and a line from it.
fn start() -> Plan {
    let mut plan = Plan::new("start");
    let face = Rgb { r: 1, g: 2, b: 3 };
    let colour = |id, name: &str, code: &str| Colour::plain(ColourId(id), name, code, face);
    let latch = Line { from: Some(Link { item: BROOK, port: "end".into() }), ..line() };
    let steps = vec![
        Command::PutKind { kind: Kind::usual(KindId(1)) },
        Command::PutColour { colour: colour(2, "Sky", "S") },
        Command::PutColour { colour: colour(3, "Wheat", "W") },
        put(item(MILL, "Mill", field())),
        put(item(BROOK, "Brook", Body::Line(line()))),
        put(item(LATCH, "Latch", Body::Line(latch))),
    ];
    plan.apply(&Command::Together { steps }).unwrap();
    plan
}

/// What the gate says; the plan must be as before.
fn refused(plan: &mut Plan, command: &Command) -> String {
    let before = plan.clone();
    let refusal = plan.apply(command).expect_err("this must be refused");
    assert_eq!(*plan, before);
    let (next, text) = (refusal.next().to_string(), refusal.to_string());
    let [place, value] = [refusal.place(), refusal.value()].map(ToString::to_string);
    assert!(!place.is_empty() && !value.is_empty() && next.ends_with('.'), "{text}");
    // All four parts are said, and nothing is left open in them.
    assert_eq!(text, format!("{place}: {value} {}. {next}", refusal.problem()));
    assert!(!text.contains(['{', '}']), "{text}");
    // Counts are told with their thousands apart; the cases below write them plainly.
    text.replace('\u{a0}', "")
}

fn expect(command: &Command, words: &str) {
    let text = refused(&mut start(), command);
    assert!(text.contains(words), "wanted \"{words}\", got \"{text}\"");
}

fn expect_line(edit: impl FnOnce(&mut Line), words: &str) {
    let mut line = line();
    edit(&mut line);
    expect(&put(item(BROOK, "Brook", Body::Line(line))), words);
}

fn leg(leg: Leg) -> impl FnOnce(&mut Line) {
    |l| l.path.push(leg)
}

fn spiral(radius: f64, ring: f64, turns: f64) -> impl FnOnce(&mut Line) {
    leg(Leg::Spiral { radius: mm(radius), ring: mm(ring), turns, hand: Hand::Left })
}

#[test]
fn lines_are_refused_with_the_lane_leg_or_distance_that_is_no_design() {
    expect_line(|l| l.kind = KindId(9), "line Brook: kind 9 is not in this plan");
    expect_line(|l| l.lanes = 0, "line Brook, lanes: 0 lanes is not from 1 to 10000 lanes");
    expect_line(|l| l.lanes = 10_001, "10001 lanes is not from 1");
    expect_line(|l| (l.lanes, l.pitch_across) = (2, mm(20.0)), "pitch between lanes: 20 mm has no room");
    expect_line(|l| l.spacing = Spacing::Pitch { pitch: mm(7.0) }, "pitch: 7 mm has no room for a piece");
    expect_line(|l| l.spacing = Spacing::Pitch { pitch: mm(f64::NAN) }, "pitch: NaN mm is not from 0.5");
    expect_line(|l| l.spacing = Spacing::Gap { gap: mm(-0.1) }, "clear gap: -0.1 mm is not from 0");
    expect_line(leg(Leg::Straight { length: mm(-1.0) }), "line Brook, leg 2, length: -1 mm");
    expect_line(
        leg(Leg::Straight { length: mm(1.1e7) }),
        "leg 2, length: 11000000 mm is not from 0 to 10000000",
    );
    expect_line(leg(Leg::Arc { radius: mm(0.0), turn: Angle::deg(9.0) }), "leg 2, radius: 0 mm");
    expect_line(leg(Leg::Arc { radius: mm(9.0), turn: Angle::deg(f64::INFINITY) }), "leg 2, turn: inf°");
    expect_line(spiral(500.0, -45.0, 65.0), "65 turns lead from a radius of 500 mm to one of -2425 mm");
    expect_line(spiral(500.0, 45.0, 10_001.0), "leg 2, turns: 10001 turns is not from 0 to 10000");
    expect_line(spiral(500.0, f64::NAN, 2.0), "leg 2, ring: NaN mm");
    expect_line(leg(Leg::Through { points: vec![] }), "a curve through no point leads nowhere");
    let far = vec![Point::new(0.0, 0.0), Point::new(0.0, 1e9)];
    expect_line(leg(Leg::Through { points: far }), "leg 2, point 2, north: 1000000000 mm");
    let points = vec![Point::new(0.0, 0.0); 20_001];
    expect_line(leg(Leg::Through { points }), "20001 points are more than the 20000");
    expect_line(
        |l| l.path = vec![Leg::Straight { length: mm(1.0) }; 1_001],
        "1001 legs are more than the 1000",
    );
    expect_line(|l| l.bridges.push(Bridge { step: mm(0.0), ..bridge() }), "bridge 1, step: 0 mm");
    expect_line(
        |l| l.bridges.push(Bridge { per_step: 0, ..bridge() }),
        "bridge 1, pieces on a step: 0 pieces",
    );
    expect_line(|l| l.bridges.push(Bridge { deck: mm(-1.0), ..bridge() }), "bridge 1, deck: -1 mm");
    expect_line(|l| l.bridges = vec![bridge(); 1_001], "1001 bridges are more than the 1000");
}

#[test]
fn patterns_that_colour_nothing_are_refused() {
    let run = |colour, count| Stretch { colour: ColourId(colour), count };
    let is = |colours: Pattern| move |l: &mut Line| l.colours = colours;
    expect_line(
        is(Pattern::Plain { colour: ColourId(9) }),
        "line Brook, colours: colour 9 is not in this plan",
    );
    expect_line(is(Pattern::Repeat { stretches: vec![] }), "an empty pattern colours no piece");
    expect_line(
        is(Pattern::Spread { stretches: vec![run(2, 0), run(3, 0)] }),
        "counts of 0 colours no piece",
    );
    expect_line(
        is(Pattern::Spread { stretches: vec![run(2, 1); 101] }),
        "101 stretches are more than the 100",
    );
    expect_line(
        is(Pattern::Repeat { stretches: vec![run(2, 1), run(0, 1)] }),
        "colour 0 is not in this plan",
    );
    expect_line(
        is(Pattern::Blend { colours: vec![ColourId(2)] }),
        "a blend of 1 colours has nothing to lead",
    );
}

#[test]
fn links_lead_to_another_item_that_stays() {
    let link = |id: u32, port: &str| Some(Link { item: ItemId(id), port: port.into() });
    expect_line(|l| l.from = link(99, "end"), "line Brook, beginning: item 99 is not in this plan");
    expect_line(|l| l.to = link(6, "end"), "line Brook, end: port end is one of the item itself");
    expect_line(|l| l.to = link(7, ""), "line Brook, end, port: \"\" is empty");
    // A port that is not there is a finding.
    let mut ring = line();
    ring.from = link(7, "no such port");
    start().apply(&put(item(BROOK, "Brook", Body::Line(ring)))).unwrap();
    expect(&Command::RemoveItem { id: BROOK }, "item: line Brook is used by line Latch");
    let mut plan = start();
    plan.apply(&put(item(ItemId(8), "Sluice", Body::Feed(feed())))).unwrap();
    assert!(refused(&mut plan, &Command::RemoveItem { id: MILL }).contains("is used by feed Sluice"));
    let other = put(item(MILL, "Mill", Body::Line(line())));
    assert!(refused(&mut plan, &other).contains("the field that is fed by feed Sluice"));
    plan.apply(&put(item(MILL, "Mill", field()))).unwrap();
    plan.apply(&Command::RemoveItem { id: ItemId(8) }).unwrap();
    plan.apply(&Command::RemoveItem { id: MILL }).unwrap();
}

#[test]
fn feeds_starts_stoppers_and_fills_are_checked_value_by_value() {
    let case = |body: Body, words: &str| expect(&put(item(ItemId(8), "Sluice", body)), words);
    case(Body::Feed(Feed { of: BROOK, ..feed() }), "line Brook is not a field");
    case(Body::Feed(Feed { of: ItemId(8), ..feed() }), "item 8 is not in this plan");
    case(Body::Feed(Feed { pitch: mm(7.0), ..feed() }), "feed Sluice, pitch: 7 mm has no room");
    case(Body::Feed(Feed { colour: ColourId(9), ..feed() }), "colour 9 is not in this plan");
    let flat = FeedWay::Echelon { side: Hand::Left, turn: Angle::deg(90.0) };
    case(Body::Feed(Feed { way: flat, ..feed() }), "feed Sluice, turn: 90° is not from 1 to 89°");
    let poke = mm(f64::NAN);
    let nan = FeedWay::Angled { side: Hand::Left, turn: Angle::deg(45.0), poke };
    case(Body::Feed(Feed { way: nan, ..feed() }), "feed Sluice, poke: NaN mm");
    let after = Duration::s(-1.0);
    case(Body::Start(Start { width: mm(20.0), after }), "start Sluice, time after the first start: -1 s");
    case(Body::Start(Start { width: mm(0.0), after: Duration::ZERO }), "start Sluice, width: 0 mm");
    let block = Stopper { thickness: mm(9.0), width: mm(9.0), height: mm(0.0), fixed: true };
    case(Body::Stopper(block), "stopper Sluice, height: 0 mm");
    case(
        Body::Fill(Fill { outline: corners()[..2].to_vec(), ..fill() }),
        "fill Sluice: an outline of 2 corners",
    );
    case(Body::Fill(Fill { ring: mm(0.0), ..fill() }), "fill Sluice, ring: 0 mm");
    let with = Filling::Curls { course: Angle::ZERO, swing: mm(-1.0) };
    case(Body::Fill(Fill { with, ..fill() }), "fill Sluice, swing: -1 mm");
}

#[test]
fn a_placeholder_may_not_take_less_at_the_most_than_at_the_least() {
    let with = |least, most| {
        let delay = Some(Delay { least: Duration::s(least), most: Duration::s(most) });
        let (length, width, height) = (mm(900.0), mm(600.0), mm(300.0));
        let placeholder = Placeholder {
            length,
            width,
            height,
            needs: Vec::new(),
            hours: Duration::ZERO,
            who: String::new(),
            ports: Vec::new(),
            delay,
        };
        put(item(ItemId(8), "Wheel", Body::Placeholder(placeholder)))
    };
    expect(&with(2.0, 1.5), "placeholder Wheel, longest delay: 1.5 s is not from 2 to");
    start().apply(&with(2.0, 2.0)).unwrap();
}

#[test]
fn gaps_rise_and_do_not_overlap_and_as_built_is_a_number() {
    let gap = |first, count| SafetyGap { first, count, stopper: false };
    let with = |gaps: Vec<SafetyGap>| put(Item { gaps, ..item(BROOK, "Brook", Body::Line(line())) });
    expect(&with(vec![gap(10, 5), gap(14, 1)]), "safety gap 2: piece 15 lies before piece 16");
    expect(&with(vec![gap(10, 5), gap(1, 1)]), "safety gap 2: piece 2 lies before piece 16");
    expect(&with(vec![gap(10, 0)]), "safety gap 1: a count of 0 leaves no piece out");
    expect(&with(vec![gap(u32::MAX, u32::MAX)]), "is beyond the 20000000 pieces");
    expect(&with((0..10_001).map(|i| gap(i, 1)).collect()), "10001 gaps are more than the 10000");
    start().apply(&with(vec![gap(10, 5), gap(15, 1)])).unwrap();
    let built = Some(AsBuilt { east: mm(f64::NAN), north: mm(0.0), turn: Angle::ZERO });
    let offset = put(Item { built, ..item(BROOK, "Brook", Body::Line(line())) });
    expect(&offset, "line Brook, built too far east: NaN mm");
}

#[test]
fn a_hall_is_checked_corner_by_corner_and_tape_by_tape() {
    let case = |edit: &dyn Fn(&mut Hall), words: &str| {
        let mut hall = Hall::default();
        for name in ["NW", "SE"] {
            hall.marks.push(Mark { name: name.into(), at: Point::new(0.0, 0.0) });
        }
        edit(&mut hall);
        expect(&Command::SetHall { hall }, words);
    };
    let tape = |from: &str, to: &str, length| Tape { from: from.into(), to: to.into(), length: mm(length) };
    let timed = |pieces, took| TimedLine { pieces, gap: mm(7.5), took: Duration::s(took) };
    case(&|h| h.outline = corners()[..2].to_vec(), "hall, outline: an outline of 2 corners");
    case(&|h| h.outline = vec![Point::new(f64::NAN, 0.0); 3], "hall, outline, corner 1, east: NaN mm");
    let part = |outline, height| HallPart { name: "P1".into(), is: HallPartKind::Pillar, outline, height };
    case(&|h| h.parts.push(part(vec![], mm(0.0))), "hall, part P1: an outline of 0 corners");
    case(&|h| h.parts.push(part(corners(), mm(-1.0))), "hall, part P1, height: -1 mm");
    case(&|h| h.grip.floor = (0.3, 0.15), "hall, grip of the floor: 0.3 to 0.15 is not from the least");
    case(&|h| h.grip.piece = (0.01, 0.15), "hall, grip of the pieces: 0.01 is not from 0.02 to 1.5");
    case(&|h| h.grip.piece = (0.1, f64::NAN), "hall, grip of the pieces: NaN");
    case(&|h| h.timed.push(timed(1, 1.0)), "hall, timed line 1, pieces: 1 piece cannot tell a speed");
    case(&|h| h.timed.push(timed(19, 1.0)), "hall, timed line 1, pieces: 19 pieces cannot tell a speed");
    case(&|h| h.timed.push(timed(20, 0.0)), "hall, timed line 1, time: 0 s");
    case(&|h| h.marks[1].name = "NW".into(), "\"NW\" is the name of another mark");
    case(&|h| h.marks[1].name = " ".into(), "hall, mark, name: \"\" is empty");
    case(&|h| h.tapes.push(tape("NW", "SW", 1.0)), "hall, tape 1: \"SW\" is not a mark");
    case(&|h| h.tapes.push(tape("NW", "NW", 1.0)), "\"NW\" is both ends of the tape");
    case(&|h| h.tapes.push(tape("NW", "SE", 0.0)), "hall, tape 1, length: 0 mm");
    case(&|h| h.tapes.push(tape("NW", "SE", -5.0)), "hall, tape 1, length: -5 mm");
}

#[test]
fn a_kind_may_not_outgrow_the_lines_that_are_laid_from_it() {
    let thick = Kind { thickness: mm(16.0), ..Kind::usual(KindId(1)) };
    expect(&Command::PutKind { kind: thick.clone() }, "15 mm has no room for a piece, which is 16 mm thick");
    let plan = start();
    let stock = Stock { kinds: vec![thick], ..plan.stock.clone() };
    expect(&Command::ReplaceStock { stock }, "15 mm has no room for a piece, which is 16 mm thick");
    let stock = Stock { colours: vec![plan.stock.colours[1].clone()], ..plan.stock };
    expect(&Command::ReplaceStock { stock }, "line Brook: Sky is used here but is not in the new stock");
    expect(&Command::RemoveColour { id: ColourId(2) }, "is used by line Brook");
}

#[test]
fn a_shift_is_a_number_within_reach_of_items_that_are_there() {
    let section = Section { id: SectionId(8), name: "A".into(), lead: String::new() };
    let mut plan = start();
    plan.apply(&Command::PutSection { section }).unwrap();
    let before = plan.clone();
    let usual = || (Which::Items(vec![MILL, BROOK]), [0.0, 0.0, 0.0], Point::new(0.0, 0.0));
    let mut case = |(which, [east, north, turn], about): (Which, [f64; 3], Point), words: &str| {
        let (east, north, turn) = (mm(east), mm(north), Angle::deg(turn));
        let refusal =
            plan.apply(&Command::Shift { which, east, north, turn, about }).unwrap_err().to_string();
        assert!(refusal.contains(words), "\"{words}\" is missing in: {refusal}");
        assert_eq!(plan, before, "{words}");
    };
    let by = |by| (usual().0, by, usual().2);
    case(by([f64::NAN, 0.0, 0.0]), "shift, to the east: NaN mm is not from -10000000 to 10000000 mm");
    case(by([0.0, 1.0e9, 0.0]), "shift, to the north: 1000000000 mm is not from");
    case(by([0.0, f64::INFINITY, 0.0]), "shift, to the north: inf mm");
    case(by([0.0, 0.0, f64::NAN]), "shift, turn: NaN° is not from -360 to 360°");
    case(by([0.0, 0.0, 361.0]), "shift, turn: 361°");
    case((usual().0, [0.0, 0.0, 1.0], Point::new(0.0, f64::NAN)), "shift, about, north: NaN mm");
    case((Which::Section(SectionId(9)), usual().1, usual().2), "shift: section 9 is not in this plan. Add");
    case(
        (Which::Section(SectionId(8)), usual().1, usual().2),
        "shift: no item belongs to this section. Put items",
    );
    case((Which::Items(Vec::new()), usual().1, usual().2), "shift: no item is named. Name one");
    case((Which::Items(vec![MILL, ItemId(99)]), [1.0, 0.0, 0.0], usual().2), "item 99 is not in this plan");
    // What would come to lie out of reach is named, and the others stay where they are.
    let far = Point::new(0.0, 9.9e6);
    case((usual().0, [0.0, 0.0, 180.0], far), "field Mill, north: 19800000 mm is not from");
}

#[test]
fn a_locked_item_takes_no_change_but_to_be_unlocked() {
    let mut plan = start();
    let lock = |plan: &mut Plan, id: ItemId, locked: bool| {
        let item = Item { locked, ..plan.item(id).unwrap().clone() };
        plan.apply(&put(item)).map(drop)
    };
    lock(&mut plan, MILL, true).unwrap();
    lock(&mut plan, BROOK, true).unwrap();
    let (mill, brook) = (plan.item(MILL).unwrap().clone(), plan.item(BROOK).unwrap().clone());
    let frame = mill.field().unwrap().frame;
    let cells = vec![CellChange { index: 0, colour: 2, by_hand: true }];
    let changes = [
        Command::MoveItem { id: MILL, at: Point::new(1.0, 1.0), heading: Angle::ZERO },
        Command::SetFrame { id: MILL, frame: FieldFrame { lanes: 3, ..frame } },
        Command::UsePicture { id: MILL, picture: None },
        Command::SetWish { id: MILL, wish: MatchWish::default() },
        Command::Lay { id: MILL, cells: vec![2; 6].into() },
        Command::Paint { id: MILL, cells },
        Command::Restore { id: MILL, cells: vec![2; 6].into(), by_hand: vec![false; 6].into() },
        Command::RemoveItem { id: LATCH },
        Command::Shift {
            which: Which::Items(vec![MILL]),
            east: mm(1.0),
            north: mm(0.0),
            turn: Angle::ZERO,
            about: Point::new(0.0, 0.0),
        },
        put(Item { name: "Other".into(), locked: false, ..mill.clone() }),
    ];
    lock(&mut plan, LATCH, true).unwrap();
    for change in changes {
        let said = plan.apply(&change).unwrap_err().to_string();
        assert!(said.ends_with("this item is locked. Unlock it first."), "{said}");
    }
    // To say again what is so is no change; to unlock is the one that is taken.
    plan.apply(&put(mill)).unwrap();
    lock(&mut plan, BROOK, false).unwrap();
    plan.apply(&put(Item { name: "Beck".into(), locked: false, ..brook })).unwrap();
}

#[test]
fn what_is_changed_and_locked_at_once_can_be_taken_back() {
    let before = start();
    let mut plan = start();
    let brook = plan.item(BROOK).unwrap().clone();
    let changed = put(Item { name: "Beck".into(), locked: true, ..brook.clone() });
    let new = put(Item { locked: true, ..item(ItemId(90), "Note", Body::Note(Note { text: "x".into() })) });
    let steps = vec![changed, new];
    let done = plan.apply(&Command::Together { steps }).unwrap();
    let after = plan.clone();
    let undone = plan.apply(&done.inverse).unwrap();
    assert_eq!(plan, before);
    plan.apply(&undone.inverse).unwrap();
    assert_eq!(plan, after);
}

#[test]
fn notes_dimensions_and_cameras_say_what_is_wrong_with_them() {
    let case = |body: Body, words: &str| expect(&put(item(ItemId(8), "Sign", body)), words);
    let note = |text: &str| Body::Note(Note { text: text.into() });
    case(note(" \n"), "note Sign, text: \"\" is empty");
    case(note("a\u{1b}[31m"), "note Sign, text: the sign U+001B cannot be printed");
    case(note(&"n".repeat(MAX_NOTE + 1)), "note Sign, text: a text of 10001 signs is too long for a note");
    let to = |x, y| Body::Dimension(Dimension { to: Point::new(x, y) });
    case(to(0.0, 0.0), "dimension Sign: 0 mm is no distance");
    case(to(f64::NAN, 0.0), "dimension Sign, other end, east: NaN mm");
    case(to(0.0, 1e9), "dimension Sign, other end, north: 1000000000 mm");
    let good = Camera {
        height: mm(1_600.0),
        look: Point::new(3_000.0, 0.0),
        look_height: mm(0.0),
        field_of_view: Angle::deg(60.0),
    };
    let camera = Body::Camera;
    case(camera(Camera { height: mm(-1.0), ..good }), "camera Sign, height: -1 mm");
    case(camera(Camera { look: Point::new(f64::INFINITY, 0.0), ..good }), "looks at, east: inf mm");
    case(camera(Camera { look_height: mm(1e9), ..good }), "height of what it looks at: 1000000000 mm");
    case(camera(Camera { field_of_view: Angle::deg(0.0), ..good }), "field of view: 0° is not from 1 to 170");
    case(
        camera(Camera { look: Point::new(0.0, 0.0), look_height: mm(1_600.0), ..good }),
        "camera Sign: its own place is what it looks at",
    );
    let group = Some(GroupId(0));
    let grouped = put(Item { group, ..item(ItemId(8), "Sign", note("x")) });
    expect(&grouped, "note Sign: group 0 is not from 1 to");
    let mut plan = start();
    for body in
        [note(&"🌊".repeat(MAX_NOTE)), note("a <b>line</b>\n\tand another"), to(0.5, 0.0), camera(good)]
    {
        plan.apply(&put(item(ItemId(8), "<i>Sign</i> \u{1F30A} \u{202E}", body))).unwrap();
    }
}

#[test]
fn an_id_of_a_group_is_never_given_again() {
    let mut plan = start();
    let fresh = plan.fresh_id();
    let brook = plan.item(BROOK).unwrap().clone();
    let done = plan.apply(&put(Item { group: Some(GroupId(fresh)), ..brook })).unwrap();
    plan.apply(&done.inverse).unwrap();
    assert_eq!(plan.fresh_id(), fresh + 1);
}

#[test]
fn what_is_refused_half_way_gives_no_ids() {
    let mut plan = start();
    let fresh = plan.fresh_id();
    let brook = plan.item(BROOK).unwrap().clone();
    let copy = Item { id: ItemId(fresh), group: Some(GroupId(fresh + 1)), ..brook };
    let steps = vec![put(copy.clone()), Command::RemoveItem { id: ItemId(999) }];
    plan.apply(&Command::Together { steps }).unwrap_err();
    assert_eq!(plan.fresh_id(), fresh);
    // One that was given stays given, whatever is refused after it.
    let done = plan.apply(&put(copy)).unwrap();
    plan.apply(&done.inverse).unwrap();
    plan.apply(&Command::RemoveItem { id: ItemId(fresh) }).unwrap_err();
    assert_eq!(plan.fresh_id(), fresh + 2);
}

#[test]
fn a_slope_is_refused_beyond_45_degrees_and_where_it_is_no_number() {
    let surface = |rise: f64, uphill: f64| Command::PutSurface {
        surface: Surface {
            id: SurfaceId(9),
            name: "Ramp".into(),
            is: SurfaceKind::Plank,
            height: mm(0.0),
            slope: Slope { rise: Angle::deg(rise), uphill: Angle::deg(uphill) },
            outline: corners(),
        },
    };
    let refused = |rise, uphill| Plan::new("").apply(&surface(rise, uphill)).unwrap_err().to_string();
    assert_eq!(
        refused(46.0, 0.0),
        "surface Ramp, slope: 46° is not from 0 to 45°. Give a value in that range."
    );
    assert!(refused(-1.0, 0.0).contains("-1°"));
    assert!(refused(f64::NAN, 0.0).contains("NaN"));
    assert!(refused(5.0, f64::INFINITY).starts_with("surface Ramp, slope, heading: inf°"));
    assert!(Plan::new("").apply(&surface(45.0, -3600.0)).is_ok());
}

#[test]
fn gear_is_refused_with_the_figure_that_cannot_be() {
    let put = |name: &str, what: GearKind, count: u32| Command::PutGear {
        gear: Gear { id: GearId(3), name: name.into(), what, count, owner: String::new() },
    };
    let comb = |pitch: f64, teeth: u32| GearKind::Comb { pitch: mm(pitch), teeth };
    let plank = |l: f64, w: f64, t: f64| GearKind::Plank { length: mm(l), width: mm(w), thickness: mm(t) };
    let refused = |command: &Command| {
        let mut plan = Plan::new("");
        let said = plan.apply(command).unwrap_err().to_string();
        assert_eq!(plan, Plan::new(""));
        said
    };
    let cases = [
        (put("Comb", comb(0.9, 20), 1), "gear Comb, pitch: 0.9 mm is not from 1 to 1000 mm"),
        (put("Comb", comb(f64::NAN, 20), 1), "gear Comb, pitch: NaN mm"),
        (put("Comb", comb(15.0, 1), 1), "gear Comb, teeth: 1 is not from 2 to 1000"),
        (
            put("Comb", comb(15.0, 20), 1_000_000_001),
            "gear Comb, count: 1000000001 is not from 0 to 1000000000",
        ),
        (put(" ", comb(15.0, 20), 1), "gear, name"),
        (put("Deck", plank(0.0, 60.0, 12.0), 1), "gear Deck, length: 0 mm"),
        (put("Deck", plank(600.0, -60.0, 12.0), 1), "gear Deck, width: -60 mm"),
        (put("Deck", plank(600.0, 60.0, 1_000.5), 1), "gear Deck, thickness: 1000.5 mm"),
        (put("Block", GearKind::Support { height: mm(0.0) }, 1), "gear Block, height: 0 mm"),
        (put("Roll", GearKind::Cord { length: mm(f64::INFINITY) }, 1), "gear Roll, length: inf mm"),
    ];
    for (command, words) in &cases {
        assert!(refused(command).starts_with(words), "wanted \"{words}\", got \"{}\"", refused(command));
    }
    let gone = Plan::new("").apply(&Command::RemoveGear { id: GearId(3) }).unwrap_err().to_string();
    assert_eq!(gone, "gear: gear 3 is not in this plan. Name a gear of the plan.");
    assert!(Plan::new("").apply(&put("Comb", comb(1.0, 1_000), 0)).is_ok());
}
