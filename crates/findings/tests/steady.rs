//! What is kept between two checks never shows: the list is the same as from scratch. And bad input ends, in words.

#![allow(clippy::unwrap_used, reason = "helpers of tests may panic")]

use fall::Network;
use findings::{CheckInput, Checker, Finding, Severity, check};
use geometry::Point;
use placement::Placement;
use plan::*;
use proptest::prelude::*;
use units::{Angle, Duration, Length};

fn base() -> Plan {
    let mut plan = Plan::new("Test");
    let grey = Rgb { r: 9, g: 9, b: 9 };
    let colour = Colour::plain(ColourId(2), "Sky", "S", grey);
    apply(&mut plan, Command::PutKind { kind: Kind::usual(KindId(1)) });
    apply(&mut plan, Command::PutColour { colour });
    plan
}

fn apply(plan: &mut Plan, command: Command) -> Touched {
    plan.apply(&command).unwrap_or_else(|e| panic!("{e}")).touched
}

/// A change that the gate may refuse, such as a link to what is not there; then the plan stays as it was.
fn attempt(plan: &mut Plan, command: Command) -> Touched {
    plan.apply(&command).map(|done| done.touched).unwrap_or_default()
}

fn put(plan: &mut Plan, id: u32, at: (f64, f64), body: Body) -> Touched {
    let item = Item::new(ItemId(id), format!("Item {id}"), Point::new(at.0, at.1), body);
    apply(plan, Command::PutItem { item: Box::new(item) })
}

fn field(lanes: u32, ranks: u32) -> Body {
    let frame = FieldFrame::new(lanes, ranks, Length::mm(15.0), Length::mm(26.0));
    let mut field = Field::empty(KindId(1), frame);
    field.cells = vec![2; frame.len()].into();
    Body::Field(field)
}

fn line(spacing: Spacing, path: Vec<Leg>) -> Line {
    Line { spacing, ..Line::plain(KindId(1), ColourId(2), path) }
}

fn straight(mm: f64) -> Body {
    let path = vec![Leg::Straight { length: Length::mm(mm) }];
    Body::Line(line(Spacing::Pitch { pitch: Length::mm(15.0) }, path))
}

fn start() -> Body {
    Body::Start(Start { width: Length::mm(24.0), after: Duration::ZERO })
}

fn block() -> Body {
    Body::Placeholder(Placeholder {
        length: Length::mm(100.0),
        width: Length::mm(100.0),
        height: Length::mm(100.0),
        needs: vec![],
        hours: Duration::ZERO,
        who: String::new(),
        ports: vec![],
        delay: None,
    })
}

fn all(plan: &Plan) -> Vec<Finding> {
    let placement = Placement::of(plan);
    let network = Network::of(plan, &placement);
    check(plan, &placement, &network, &CheckInput::default())
}

fn codes(found: &[Finding]) -> Vec<&'static str> {
    let mut codes: Vec<_> = found.iter().map(|f| f.code).collect();
    codes.sort_unstable();
    codes.dedup();
    codes
}

/// The start that pushes is one more than a number of 16 bits can name.
#[test]
fn more_starts_than_anybody_can_name_are_told_and_not_mixed_up() {
    let mut plan = base();
    put(&mut plan, 1, (0.0, 0.0), field(3, 40));
    for i in 0..65_535 {
        put(&mut plan, 10 + i, (-1000.0 - f64::from(i), -5000.0), start());
    }
    put(&mut plan, 80_000, (-15.0, 0.0), start());
    let found = all(&plan);
    assert!(found.iter().any(|f| f.code == "start-idle"), "{:?}", codes(&found));
    assert!(!found.iter().any(|f| f.code == "starts-meet"), "{:?}", codes(&found));
}

/// One change of a small plan, by four figures.
fn change(plan: &mut Plan, (what, id, x, y): (u8, u32, i32, i32)) -> Touched {
    let at = (f64::from(x) * 7.0, f64::from(y) * 7.0);
    let id = 10 + id;
    match what {
        0 if plan.item(ItemId(id)).is_some() => attempt(plan, Command::RemoveItem { id: ItemId(id) }),
        1 => put(plan, id, at, field(3, 6)),
        2 => put(plan, id, at, straight(300.0)),
        3 => put(plan, id, at, start()),
        4 => put(plan, id, at, block()),
        5 => {
            let mut other = line(Spacing::Gap { gap: Length::mm(3.0) }, vec![]);
            other.path = vec![Leg::Arc { radius: Length::mm(40.0), turn: Angle::deg(90.0) }];
            let port = if x % 2 == 0 { "end" } else { "lane 1 end" };
            other.from = Some(Link { item: ItemId(10 + (id - 9) % 8), port: port.into() });
            let target = ItemId(10 + (id - 9) % 8);
            if plan.item(target).is_none() || target == ItemId(id) {
                return Touched::default();
            }
            put(plan, id, at, Body::Line(other))
        }
        6 => {
            let mut hall = plan.hall.clone();
            hall.outline = vec![
                Point::new(-200.0, -200.0),
                Point::new(300.0 + at.0, -200.0),
                Point::new(300.0 + at.0, 300.0),
                Point::new(-200.0, 300.0),
            ];
            apply(plan, Command::SetHall { hall })
        }
        _ if plan.item(ItemId(id)).is_some() => {
            let at = Point::new(at.0, at.1);
            apply(plan, Command::MoveItem { id: ItemId(id), at, heading: Angle::deg(f64::from(x) * 15.0) })
        }
        _ => Touched::default(),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

    /// A wrong key would leave a finding of an item that moved, or miss one of an item that came near.
    #[test]
    fn kept_findings_are_those_from_scratch(
        changes in proptest::collection::vec((0u8..10, 0u32..8, -20i32..20, -20i32..20), 1..24)
    ) {
        let mut plan = base();
        let mut placement = Placement::of(&plan);
        let mut network = Network::of(&plan, &placement);
        let mut checker = Checker::new();
        for c in changes {
            let touched = change(&mut plan, c);
            placement.update(&plan, &touched);
            network.update(&plan, &placement);
            let kept = checker.check(&plan, &placement, &network, &CheckInput::default());
            prop_assert_eq!(kept, all(&plan));
        }
    }
}

/// What is told of an item alone, with another one and in its links; the rest asks the whole plan. That something is
/// within reach hangs on whether the wave goes on, which the findings about a few items tell from links alone.
const ABOUT_ITEMS: [&str; 12] = [
    "bridge-steep",
    "clearance-low",
    "comb-missing",
    "comb-stretched",
    "crosses-itself",
    "items-overlap",
    "lanes-close",
    "link-broken",
    "link-ring",
    "outside-hall",
    "repair-far",
    "turn-tight",
];

fn told(found: &[Finding], of: &[ItemId]) -> Vec<Finding> {
    let of_them = |f: &&Finding| f.place.item.is_some_and(|id| of.contains(&id));
    found.iter().filter(|f| ABOUT_ITEMS.contains(&f.code)).filter(of_them).cloned().collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

    /// With what was kept of an older state of the plan or without, the same is told; and what is told of a few items is
    /// what the check of the whole plan tells of them.
    #[test]
    fn findings_about_a_few_items_are_those_of_the_whole_plan(
        changes in proptest::collection::vec((0u8..10, 0u32..8, -20i32..20, -20i32..20), 2..24),
        asked in proptest::collection::vec(0u32..8, 1..4),
    ) {
        let mut plan = base();
        let mut checker = Checker::new();
        let half = changes.len() / 2;
        for (n, c) in changes.into_iter().enumerate() {
            change(&mut plan, c);
            if n == half {
                let placement = Placement::of(&plan);
                let network = Network::of(&plan, &placement);
                checker.check(&plan, &placement, &network, &CheckInput::default());
            }
        }
        let ids: Vec<ItemId> = asked.into_iter().map(|id| ItemId(10 + id)).collect();
        let placement = Placement::of(&plan);
        let about = checker.about(&plan, &placement, &ids);
        prop_assert_eq!(&about, &Checker::new().about(&plan, &placement, &ids));
        // A pair is told at either of the two: asked for one, it is told all the same.
        let whole = all(&plan);
        for f in told(&whole, &ids) {
            prop_assert!(about.contains(&f), "{:?} is missing in {:?}", f, about);
        }
        for f in about.iter().filter(|f| f.code != "within-reach") {
            prop_assert!(whole.contains(f), "{:?} is not among {:?}", f, whole);
        }
    }
}

/// What stands where one would kneel is farther off than what the pieces reach, and is seen all the same.
#[test]
fn a_field_by_itself_is_told_what_stands_where_one_would_kneel() {
    let mut plan = base();
    put(&mut plan, 10, (0.0, 0.0), field(48, 200));
    let of_it = |plan: &Plan| Checker::new().about(plan, &Placement::of(plan), &[ItemId(10)]);
    assert!(!codes(&of_it(&plan)).contains(&"repair-far"));
    let Body::Placeholder(mut tower) = block() else { panic!("a placeholder") };
    (tower.length, tower.width) = (Length::m(3.2), Length::mm(500.0));
    put(&mut plan, 11, (-100.0, 48.0 * 26.0 + 150.0), Body::Placeholder(tower));
    assert!(codes(&of_it(&plan)).contains(&"repair-far"), "{:?}", of_it(&plan));
    assert_eq!(told(&of_it(&plan), &[ItemId(10)]), told(&all(&plan), &[ItemId(10)]));
}

#[test]
fn a_plan_without_pieces_has_nothing_wrong() {
    assert!(all(&Plan::new("")).is_empty());
}

#[test]
fn two_starts_at_one_place_are_taken_and_a_start_inside_a_field_is_told() {
    let mut plan = base();
    put(&mut plan, 10, (0.0, 0.0), field(3, 6));
    put(&mut plan, 11, (-15.0, 0.0), start());
    put(&mut plan, 12, (-15.0, 0.0), start());
    put(&mut plan, 13, (40.0, 30.0), start());
    assert!(codes(&all(&plan)).contains(&"start-in-field"));
}

/// A field whose pieces stand farther apart than they are high: nothing passes, and it is said.
#[test]
fn a_gap_larger_than_a_piece_cuts_the_rest_off() {
    let mut plan = base();
    let Body::Field(mut f) = field(1, 6) else { panic!("a field") };
    f.frame.pitch_along = Length::mm(70.0);
    put(&mut plan, 10, (0.0, 0.0), Body::Field(f));
    put(&mut plan, 11, (-40.0, 0.0), start());
    let found = all(&plan);
    assert!(found.iter().any(|f| f.code == "run-cut-off" && f.severity == Severity::Must), "{found:?}");
}

#[test]
fn pieces_of_1_mm_and_of_10_m_are_checked_to_the_end() {
    for (thickness, width, height) in [(0.5, 1.0, 1.0), (1_000.0, 5_000.0, 10_000.0)] {
        let mut plan = base();
        let mut kind = plan.stock.kinds[0].clone();
        kind.thickness = Length::mm(thickness);
        kind.width = Length::mm(width);
        kind.height = Length::mm(height);
        apply(&mut plan, Command::PutKind { kind });
        let Body::Field(mut f) = field(4, 10) else { panic!("a field") };
        f.frame.pitch_along = Length::mm((2.0 * thickness).max(0.5));
        f.frame.pitch_across = Length::mm(width * 1.1);
        put(&mut plan, 10, (0.0, 0.0), Body::Field(f.clone()));
        put(&mut plan, 11, (width, width), Body::Field(f));
        put(&mut plan, 12, (-thickness, 0.0), start());
        assert!(codes(&all(&plan)).contains(&"items-overlap"));
    }
}

/// 1 000 items at one place are 499 500 pairs: some are told, the rest is counted or said to be left out.
#[test]
fn a_thousand_items_on_one_another_are_told_in_a_short_list() {
    let mut plan = base();
    let place = |id: u32| {
        let item = Item::new(ItemId(id), format!("Item {id}"), Point::new(0.0, 0.0), field(1, 1));
        Command::PutItem { item: Box::new(item) }
    };
    apply(&mut plan, Command::Together { steps: (10..1_010).map(place).collect() });
    let found = all(&plan);
    let overlaps: Vec<&Finding> = found.iter().filter(|f| f.code == "items-overlap").collect();
    assert_eq!(overlaps.len(), 201);
    // The rest of a check is told after those that it is the rest of, so that no list begins with it.
    assert!(overlaps[200].message.to_string().contains("more findings of this sort"), "{:?}", overlaps[200]);
    assert!(codes(&found).contains(&"too-many-near"));
}

/// With room for 1 000 pieces a line of 667 (10 m at 15 mm) is laid, the next one is not, and a short one behind it is again.
/// The findings that are kept say the same when the first one goes.
#[test]
fn items_beyond_the_room_of_the_plan_are_told_with_their_number_and_what_to_do() {
    let mut plan = base();
    put(&mut plan, 10, (0.0, 0.0), straight(10_000.0));
    put(&mut plan, 11, (0.0, 500.0), straight(10_000.0));
    put(&mut plan, 12, (0.0, 900.0), straight(1_500.0));
    let mut placement = Placement::at_most(&plan, 1_000);
    let mut checker = Checker::new();
    let mut told = |plan: &Plan, placement: &Placement| -> Vec<String> {
        let network = Network::of(plan, placement);
        let found = checker.check(plan, placement, &network, &CheckInput::default());
        let unlaid = found.iter().filter(|f| f.code == "not-laid");
        unlaid
            .map(|f| format!("{}: {} {}", f.place.words, f.message, f.hint).replace('\u{a0}', " "))
            .collect()
    };
    let name = plan.item(ItemId(11)).unwrap().name.clone();
    assert_eq!(
        told(&plan, &placement),
        [format!(
            "line {name}: {name} has no piece. It asks for 667 pieces; with all that is laid before it these are more than the 1 000 of one plan. Make it smaller or its pitch wider, or split the event over several plans."
        )]
    );
    let touched = apply(&mut plan, Command::RemoveItem { id: ItemId(10) });
    placement.update(&plan, &touched);
    assert!(told(&plan, &placement).is_empty());
}

/// Its path is 10 km long and its lanes 10 000: 20 000 000 pieces are 2 000 ranks, 30 m at 15 mm.
#[test]
fn a_line_whose_path_takes_more_pieces_than_one_item_may_have_is_told_with_where_it_ends() {
    let mut plan = base();
    let Body::Line(mut long) = straight(1e7) else { panic!("a line") };
    (long.lanes, long.pitch_across) = (10_000, Length::mm(26.0));
    put(&mut plan, 10, (0.0, 0.0), Body::Line(long));
    let placement = Placement::at_most(&plan, 0);
    let course = placement.item(ItemId(10)).unwrap().course.clone().unwrap();
    let found = findings::cut_short(plan.item(ItemId(10)).unwrap(), &course).expect("told");
    assert_eq!((found.code, found.severity), ("cut-short", Severity::Must));
    let said = found.message.to_string().replace('\u{a0}', " ");
    assert!(said.contains("ends 30 m after its beginning although its path is 10 000 m long"), "{said}");
    assert!(said.contains("more than the 20 000 000 of one item"), "{said}");
    assert_eq!(found.place.at, Some(Point::new(30_000.0, 0.0)));
}
