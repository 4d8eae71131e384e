//! Lines and fills: counts from closed forms, links, bridges, ports, symmetries.

use std::f64::consts::PI;

use geometry::Point;
use placement::{Pieces, Placement, extent, needs, needs_of_all, port, ports, turn_step};
use plan::*;
use units::{Angle, Length, maths};

fn line(path: Vec<Leg>) -> Line {
    Line::plain(KindId(1), ColourId(1), path)
}

fn straight(length: f64) -> Leg {
    Leg::Straight { length: Length::mm(length) }
}

fn arc(radius: f64, turn: f64) -> Leg {
    Leg::Arc { radius: Length::mm(radius), turn: Angle::deg(turn) }
}

fn link(item: u32, port: &str) -> Option<Link> {
    Some(Link { item: ItemId(item), port: port.into() })
}

fn item(id: u32, at: (f64, f64), heading: f64, body: Body) -> Item {
    Item {
        heading: Angle::deg(heading),
        ..Item::new(ItemId(id), format!("I{id}"), Point::new(at.0, at.1), body)
    }
}

fn field(lanes: u32, ranks: u32, across: f64, course: LaneCourse) -> Field {
    let frame = FieldFrame { course, ..FieldFrame::new(lanes, ranks, Length::mm(15.0), Length::mm(across)) };
    let mut field = Field::empty(KindId(1), frame);
    field.cells = (0..frame.len()).map(|i| 1 + (i as u32 / ranks % 2) as u16).collect::<Vec<_>>().into();
    field
}

fn plan(items: Vec<Item>) -> Plan {
    let mut plan = Plan::new("x");
    plan.stock.kinds = vec![Kind::usual(KindId(1))];
    plan.items = items;
    plan
}

fn pieces(plan: &Plan, id: u32) -> std::sync::Arc<Pieces> {
    Placement::of(plan).item(ItemId(id)).expect("the item is placed").pieces.clone()
}

fn alone(path: Vec<Leg>) -> std::sync::Arc<Pieces> {
    pieces(&plan(vec![item(1, (0.0, 0.0), 0.0, Body::Line(line(path)))]), 1)
}

fn spot(p: &Pieces, i: usize) -> (f64, f64) {
    (p.x[i], p.y[i])
}

fn near(a: (f64, f64), b: (f64, f64)) -> bool {
    maths::hypot(a.0 - b.0, a.1 - b.1) < 1e-6
}

fn apart(a: (f64, f64), b: (f64, f64)) -> f64 {
    maths::hypot(a.0 - b.0, a.1 - b.1)
}

/// 1000 / 15 = 66.7 (reported: 67 a metre).
#[test]
fn a_metre_of_line_takes_67_pieces() {
    assert_eq!(alone(vec![straight(1000.0)]).len(), 67);
}

#[test]
fn a_clear_gap_counts_from_face_to_face() {
    let mut l = line(vec![straight(1000.0)]);
    l.spacing = Spacing::Gap { gap: Length::mm(7.5) };
    let p = pieces(&plan(vec![item(1, (0.0, 0.0), 0.0, Body::Line(l))]), 1);
    assert!(near(spot(&p, 1), (15.0, 0.0)));
}

/// round(2 pi 500 / 15) = 209.
#[test]
fn a_circle_holds_as_many_as_its_length_over_the_pitch() {
    let p = alone(vec![arc(500.0, 360.0)]);
    assert_eq!(p.len(), (2.0 * PI * 500.0 / 15.0_f64).round() as usize);
    for i in 0..p.len() {
        let (x, y) = spot(&p, i);
        assert!((maths::hypot(x, y - 500.0) - 500.0).abs() < 1e-6, "piece {i} is off the circle");
        let fall = (f64::from(p.yaw[i]), maths::atan2(y - 500.0, x) + PI / 2.0);
        assert!(maths::cos(fall.0 - fall.1) > 1.0 - 1e-6, "piece {i} does not look along the circle");
    }
}

/// Length of a spiral r = a + b t over t in 0..=T, exactly: the integral of sqrt(r^2 + b^2) (from memory).
#[test]
fn a_spiral_holds_as_many_as_its_closed_form_length() {
    let (a, ring, turns) = (300.0, 40.0, 5.0);
    let b: f64 = ring / (2.0 * PI);
    let antiderivative = |r: f64| {
        let root = (r * r + b * b).sqrt();
        (r * root + b * b * maths::ln(r + root)) / (2.0 * b)
    };
    let length = antiderivative(a + ring * turns) - antiderivative(a);
    let p =
        alone(vec![Leg::Spiral { radius: Length::mm(a), ring: Length::mm(ring), turns, hand: Hand::Left }]);
    assert_eq!(p.len(), (length / 15.0).round() as usize, "{length} mm");
}

#[test]
fn lanes_lie_to_the_left_and_share_ranks_and_colours() {
    let mut l = line(vec![straight(60.0)]);
    l.lanes = 3;
    l.colours = Pattern::Repeat {
        stretches: [(1, 1), (2, 1)].map(|(c, count)| Stretch { colour: ColourId(c), count }).to_vec(),
    };
    let p = pieces(&plan(vec![item(1, (0.0, 0.0), 90.0, Body::Line(l))]), 1);
    assert_eq!(p.len(), 12);
    assert!(
        near(spot(&p, 0), (26.0, 0.0)) && near(spot(&p, 5), (0.0, 15.0)) && near(spot(&p, 8), (-26.0, 0.0))
    );
    assert_eq!(p.colour, [1, 2, 1, 2].repeat(3));
    assert_eq!((p.lane[5], p.rank[5]), (1, 1));
    assert!(p.yaw.iter().all(|&y| (f64::from(y) - PI / 2.0).abs() < 1e-6));
}

fn winding(mirror: f64) -> Vec<Leg> {
    vec![
        straight(100.0),
        arc(120.0, 70.0 * mirror),
        Leg::Spiral {
            radius: Length::mm(200.0),
            ring: Length::mm(45.0),
            turns: 1.3,
            hand: if mirror > 0.0 { Hand::Left } else { Hand::Right },
        },
        Leg::Through {
            points: [(700.0, 500.0), (900.0, 1400.0)].map(|(x, y)| Point::new(x, y * mirror)).to_vec(),
        },
    ]
}

#[test]
fn a_mirrored_path_gives_mirrored_pieces() {
    let (a, b) = (alone(winding(1.0)), alone(winding(-1.0)));
    assert_eq!(a.len(), b.len());
    for i in 0..a.len() {
        assert!(near((a.x[i], -a.y[i]), spot(&b, i)), "piece {i}");
    }
}

#[test]
fn a_shifted_and_turned_plan_gives_shifted_and_turned_pieces() {
    let there = pieces(&plan(vec![item(1, (3000.0, -700.0), 130.0, Body::Line(line(winding(1.0))))]), 1);
    let here = alone(winding(1.0));
    let (sin, cos) = Angle::deg(130.0).sin_cos();
    assert_eq!(here.len(), there.len());
    for i in 0..here.len() {
        let (x, y) = spot(&here, i);
        assert!(near((3000.0 + x * cos - y * sin, -700.0 + x * sin + y * cos), spot(&there, i)), "piece {i}");
    }
}

#[test]
fn a_line_from_the_end_of_another_carries_on_at_one_pitch() {
    let a = item(1, (100.0, 50.0), 20.0, Body::Line(line(vec![straight(333.0), arc(200.0, 80.0)])));
    let mut l = line(vec![straight(150.0)]);
    l.from = link(1, "end");
    let plan = plan(vec![a, item(2, (9e3, 9e3), 77.0, Body::Line(l))]);
    let (a, b) = (pieces(&plan, 1), pieces(&plan, 2));
    let gap = apart(spot(&a, a.len() - 1), spot(&b, 0));
    // On a circle of 200 mm the chord of 15 mm is 0.004 mm shorter.
    assert!((gap - 15.0).abs() < 0.005, "{gap}");
    assert!((a.yaw[a.len() - 1] - b.yaw[0]).abs() < 0.1);
}

#[test]
fn branches_start_15_mm_to_either_side() {
    let a = item(1, (0.0, 0.0), 0.0, Body::Line(line(vec![straight(150.0)])));
    let branch = |id, port| {
        let mut l = line(vec![straight(30.0)]);
        l.from = link(1, port);
        item(id, (0.0, 0.0), 0.0, Body::Line(l))
    };
    let plan = plan(vec![a, branch(2, "end left"), branch(3, "end right")]);
    assert!(near(spot(&pieces(&plan, 2), 0), (150.0, 15.0)));
    assert!(near(spot(&pieces(&plan, 3), 0), (150.0, -15.0)));
}

#[test]
fn a_line_to_a_port_ends_one_pitch_before_it_with_even_gaps() {
    let target = item(1, (1234.0, 321.0), 35.0, Body::Line(line(vec![straight(150.0)])));
    let mut l = line(vec![straight(100.0)]);
    l.to = link(1, "start");
    let plan = plan(vec![target, item(2, (0.0, 0.0), 0.0, Body::Line(l))]);
    let placement = Placement::of(&plan);
    let placed = placement.item(ItemId(2)).unwrap();
    let course = placed.course.as_ref().unwrap();
    let p = &placed.pieces;
    assert!((course.pitch() * p.len() as f64 - course.length()).abs() < 1e-6);
    assert!(course.stretched().abs() < 0.5 * 15.0 / p.len() as f64 + 1e-9 && !course.cut());
    let last = apart(spot(p, p.len() - 1), (1234.0, 321.0));
    assert!((last - course.pitch()).abs() < 0.05, "{last} against {}", course.pitch());
    assert!((f64::from(p.yaw[p.len() - 1]).to_degrees() - 35.0).abs() < 3.0);
    assert_eq!(placement.port(&plan, &link(2, "end").unwrap()), port(&plan, &link(2, "end").unwrap()));
}

#[test]
fn a_closed_loop_of_two_lines_is_laid_round_and_a_ring_of_links_counts_as_none() {
    // B begins where A ends and leads back to where A begins: nothing follows from itself.
    let mut b = line(Vec::new());
    (b.from, b.to) = (link(1, "end"), link(1, "start"));
    let a = item(1, (0.0, 0.0), 0.0, Body::Line(line(vec![straight(600.0), arc(200.0, 180.0)])));
    let loop_plan = plan(vec![a.clone(), item(2, (0.0, 0.0), 0.0, Body::Line(b))]);
    let (first, second) = (pieces(&loop_plan, 1), pieces(&loop_plan, 2));
    let close = apart(spot(&second, second.len() - 1), spot(&first, 0));
    assert!((close - 15.0).abs() < 1.0, "{close}");
    // Each begins where the other ends: both begin at their own places, whoever is asked first.
    let ring = |id: u32, other: u32, at: f64| {
        let mut l = line(vec![straight(150.0)]);
        l.from = link(other, "end");
        item(id, (at, 0.0), 0.0, Body::Line(l))
    };
    let ring_plan = plan(vec![ring(1, 2, 0.0), ring(2, 1, 5000.0)]);
    assert_eq!((pieces(&ring_plan, 1).x[0], pieces(&ring_plan, 2).x[0]), (0.0, 5000.0));
    for item in &ring_plan.items {
        assert!(near((ports(&ring_plan, item)[0].at.x, 0.0), (item.at.x, 0.0)));
    }
    // Not where the fall comes in.
    let mut wrong = line(vec![straight(150.0)]);
    wrong.from = link(1, "start");
    let wrong_plan = plan(vec![a, item(2, (0.0, 77.0), 0.0, Body::Line(wrong))]);
    assert_eq!(pieces(&wrong_plan, 2).y[0], 77.0);
    // A line that begins where it ends.
    let mut own = line(vec![straight(150.0)]);
    own.from = link(1, "end");
    assert_eq!(pieces(&plan(vec![item(1, (7.0, 0.0), 0.0, Body::Line(own))]), 1).x[0], 7.0);
}

#[test]
fn a_chain_of_ten_thousand_lines_is_laid_in_one_go() {
    let chain = (1..=10_000u32).rev().map(|id| {
        let mut l = line(vec![straight(30.0)]);
        l.from = if id < 10_000 { link(id + 1, "end") } else { None };
        item(id, (0.0, 0.0), 0.0, Body::Line(l))
    });
    let mut items: Vec<Item> = chain.collect();
    items.sort_by_key(|i| i.id);
    let plan = plan(items);
    assert!(near(spot(&pieces(&plan, 1), 0), (9_999.0 * 30.0, 0.0)));
    assert_eq!(needs_of_all(&plan)[0].1[0].count, 2);
}

#[test]
fn a_bridge_climbs_a_step_every_few_pieces_and_comes_down_again() {
    let mut l = line(vec![straight(1500.0)]);
    let mm = Length::mm;
    l.bridges = vec![Bridge {
        from: mm(150.0),
        deck: mm(75.0),
        height: mm(20.0),
        thickness: mm(5.0),
        step: mm(7.5),
        per_step: 2,
    }];
    let p = pieces(&plan(vec![item(1, (0.0, 0.0), 0.0, Body::Line(l))]), 1);
    let floor: Vec<f32> = p.z[9..28].iter().map(|z| z - 24.0).collect();
    let (up, deck) = ([0.0, 7.5, 7.5, 15.0, 15.0, 20.0, 20.0], [20.0; 5]);
    let down: Vec<f32> = up.iter().rev().copied().collect();
    assert_eq!(floor, [&up[..], &deck[..], &down[..]].concat());
    assert!(p.z[..9].iter().chain(&p.z[28..]).all(|&z| z == 24.0));
}

#[test]
fn opposed_lanes_fall_the_other_way_and_stay_where_they_are() {
    let of = |course| {
        let body = Body::Field(field(3, 4, 26.0, course));
        pieces(&plan(vec![item(1, (0.0, 0.0), 10.0, body)]), 1)
    };
    let (together, opposed) = (of(LaneCourse::Together), of(LaneCourse::Opposed));
    assert_eq!((&together.x, &together.y), (&opposed.x, &opposed.y));
    for i in 0..12 {
        let turned = f64::from(opposed.yaw[i] - together.yaw[i]).to_degrees();
        assert!((turned - if together.lane[i] == 1 { 180.0 } else { 0.0 }).abs() < 1e-3);
    }
}

#[test]
fn lanes_in_turn_are_joined_by_round_turns_when_they_lie_far_enough_apart() {
    let of = |across| {
        let body = Body::Field(field(3, 10, across, LaneCourse::InTurn));
        plan(vec![item(1, (0.0, 0.0), 0.0, body)])
    };
    assert_eq!(pieces(&of(26.0), 1).len(), 30);
    let wide = of(60.0);
    let p = pieces(&wide, 1);
    let Body::Field(f) = &wide.items[0].body else { panic!("a field") };
    let steps = (180.0 / turn_step(&f.frame).unwrap().to_deg()).floor() as usize;
    assert_eq!(p.len(), 30 + 2 * (steps - 1));
    let turn: Vec<usize> = (0..p.len()).filter(|&i| p.rank[i] >= 10).collect();
    assert!(turn.iter().all(|&i| p.colour[i] == 1 + (p.lane[i] % 2) as u16));
    // Bulging ahead behind lane 0 and back behind lane 1.
    assert!(turn.iter().all(|&i| if p.lane[i] == 0 { p.x[i] > 135.0 } else { p.x[i] < 0.0 }));
    for i in 0..p.len() {
        assert_eq!(p.find(p.id(i).unwrap()), Some(i));
    }
    let total: u32 = needs(&wide, &wide.items[0]).iter().map(|n| n.count).sum();
    assert_eq!(total as usize, p.len());
}

#[test]
fn needs_count_the_placed_pieces_of_every_item() {
    let mut l = line(winding(1.0));
    l.lanes = 2;
    l.colours = Pattern::Blend { colours: [1, 2, 3].map(ColourId).to_vec() };
    let mut to = line(vec![straight(99.0)]);
    (to.from, to.to) = (link(1, "end left"), link(3, "lane 2"));
    let corners = [(0.0, 0.0), (800.0, 0.0), (800.0, 600.0), (0.0, 600.0)].map(|(x, y)| Point::new(x, y));
    let fill = Fill {
        kind: KindId(1),
        outline: corners.to_vec(),
        with: Filling::Waves { course: Angle::deg(30.0) },
        ring: Length::mm(40.0),
        spacing: Spacing::Pitch { pitch: Length::mm(15.0) },
        placed: Placing::Comb,
        colours: Pattern::Plain { colour: ColourId(3) },
    };
    let items = vec![
        item(1, (0.0, 0.0), 0.0, Body::Line(l)),
        item(2, (0.0, 0.0), 0.0, Body::Line(to)),
        item(3, (5000.0, 2000.0), 15.0, Body::Field(field(4, 6, 26.0, LaneCourse::Together))),
        item(4, (-3000.0, 0.0), 200.0, Body::Fill(fill)),
    ];
    let plan = plan(items);
    let placement = Placement::of(&plan);
    let all = needs_of_all(&plan);
    for (item, (id, together)) in plan.items.iter().zip(&all) {
        let placed = placement.item(item.id).unwrap();
        let alone = needs(&plan, item);
        assert_eq!((&item.id, &alone), (id, together));
        assert_eq!(alone, placed.needs(&plan), "item {id}");
        let total: u32 = alone.iter().map(|n| n.count).sum();
        assert_eq!(total as usize, placed.pieces.len(), "item {id}");
        assert!(total > 10);
        let corners = extent(&plan, item).unwrap();
        let inside =
            |i: usize| geometry::contains(&corners, Point::new(placed.pieces.x[i], placed.pieces.y[i]));
        assert!((0..placed.pieces.len()).all(inside), "item {id}");
        assert_eq!(placement.ports(&plan, item), ports(&plan, item));
    }
    // 0.48 m2 at 40 mm x 15 mm would be 800; the edge stays free.
    let filled = placement.item(ItemId(4)).unwrap().pieces.len();
    assert!((500..=800).contains(&filled), "{filled}");
}

/// Bad input that the gate would refuse, or that makes no sense, gives few pieces or none, and never a panic.
#[test]
fn nonsense_ends() {
    for pitch in [f64::NAN, 0.0, -3.0, f64::INFINITY, 1e-9] {
        let mut l = line(vec![straight(1e9), arc(f64::NAN, f64::INFINITY)]);
        l.spacing = Spacing::Pitch { pitch: Length::mm(pitch) };
        let plan = plan(vec![item(1, (f64::NAN, 1e9), f64::NAN, Body::Line(l))]);
        assert!(pieces(&plan, 1).len() <= 1, "{pitch}");
        ports(&plan, &plan.items[0]);
        extent(&plan, &plan.items[0]);
    }
    let mut l = line(vec![straight(1e9)]);
    l.lanes = 4_000_000;
    let plan = plan(vec![item(1, (0.0, 0.0), 0.0, Body::Line(l))]);
    let placement = Placement::of(&plan);
    let placed = placement.item(ItemId(1)).unwrap();
    assert!(placed.pieces.len() <= MAX_CELLS && placed.course.as_ref().unwrap().cut());
}

/// Its way out looks 20° to the left of a placeholder that heads east and was built turned by 90°.
#[test]
fn ports_of_a_placeholder_turn_with_it_as_it_was_built() {
    let out = Port {
        name: "out".into(),
        flow: PortFlow::Out,
        at: Point::new(100.0, 0.0),
        direction: Angle::deg(20.0),
        height: Length::mm(0.0),
        width: Length::mm(24.0),
    };
    let body = Body::Placeholder(Placeholder {
        length: Length::mm(100.0),
        width: Length::mm(50.0),
        height: Length::mm(48.0),
        needs: Vec::new(),
        hours: units::Duration::ZERO,
        who: String::new(),
        ports: vec![out],
        delay: None,
    });
    let mut wheel = item(1, (0.0, 0.0), 0.0, body);
    wheel.built = Some(AsBuilt { east: Length::mm(5.0), north: Length::mm(0.0), turn: Angle::deg(90.0) });
    let plan = plan(vec![wheel]);
    let port = &ports(&plan, &plan.items[0])[0];
    assert!((port.heading.to_deg() - 110.0).abs() < 1e-9, "{port:?}");
    assert!((port.at.x - 5.0).abs() < 1e-9 && (port.at.y - 100.0).abs() < 1e-9, "{port:?}");
}

/// A leads to where B begins, and B begins where A ends: neither place follows from anything, so both links are void.
#[test]
fn links_that_close_a_ring_between_an_end_and_a_beginning_count_as_none() {
    let mut a = line(vec![straight(150.0)]);
    a.to = link(2, "start");
    let mut b = line(vec![straight(150.0)]);
    b.from = link(1, "end");
    let ring =
        plan(vec![item(1, (0.0, 0.0), 0.0, Body::Line(a)), item(2, (5_000.0, 0.0), 0.0, Body::Line(b))]);
    let (first, second) = (pieces(&ring, 1), pieces(&ring, 2));
    assert_eq!((first.len(), second.len()), (10, 10));
    assert_eq!((first.x[0], second.x[0]), (0.0, 5_000.0));
}
