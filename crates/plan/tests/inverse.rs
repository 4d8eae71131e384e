//! Every command has an inverse that restores the same bytes, and a refused one changes nothing.

#![allow(clippy::unwrap_used, reason = "helpers of tests may panic")]

use std::collections::BTreeMap;

use geometry::{FallInPicture, Point};
use plan::*;
use proptest::prelude::*;
use units::{Angle, Duration, Length};

/// Content as bytes: everything but the counter of ids, which never goes back.
fn bytes(plan: &Plan) -> String {
    let mut value = serde_json::to_value(plan).unwrap();
    value.as_object_mut().unwrap().remove("last_id");
    value.to_string()
}

fn kind(id: u16) -> Kind {
    Kind { name: format!("kind {id}"), ..Kind::usual(KindId(id)) }
}

fn colour(id: u16, shade: u8) -> Colour {
    let c = Rgb { r: shade, g: shade, b: 9 };
    let code = format!("{}{}", char::from(b'A' + (id % 7) as u8), 3 + id % 6);
    Colour::plain(ColourId(id), format!("colour {id}"), code, c)
}

fn field(lanes: u32, ranks: u32) -> Field {
    let frame = FieldFrame {
        fall: FallInPicture::Up,
        ..FieldFrame::new(lanes, ranks, Length::mm(15.0), Length::mm(25.0))
    };
    Field::empty(KindId(1), frame)
}

fn item(id: u32, body: Body) -> Item {
    Item {
        heading: Angle::deg(90.0),
        ..Item::new(ItemId(id), format!("item {id}"), Point::new(1.0, 2.0), body)
    }
}

fn placeholder(n: u32) -> Placeholder {
    Placeholder {
        length: Length::m(1.0),
        width: Length::m(2.0),
        height: Length::ZERO,
        needs: vec![Need { kind: KindId(1), colour: ColourId(2), count: n }],
        hours: Duration::h(3.0),
        who: "Omar".into(),
        ports: Vec::new(),
        delay: None,
    }
}

fn picture(id: u32) -> Picture {
    Picture { id: PictureId(id), name: format!("{id}.png"), sha256: "0".repeat(64), width: 9, height: 9 }
}

/// A line that often leads to another item, so that removing that one is refused.
fn line(small: u32, b: u16, c: u8) -> Line {
    let link = |n: u32, on: bool| on.then(|| Link { item: ItemId(n % 12), port: "end".into() });
    Line {
        lanes: small,
        spacing: Spacing::Pitch { pitch: Length::mm(f64::from(c % 32)) },
        placed: Placing::Hand,
        from: link(b.into(), c & 1 == 0),
        to: link((b / 12).into(), c & 2 == 0),
        colours: Pattern::Blend { colours: vec![ColourId(2), ColourId(b % 4)] },
        ..Line::plain(
            KindId(1),
            ColourId(1),
            vec![Leg::Arc { radius: Length::mm(300.0), turn: Angle::deg(f64::from(c)) }],
        )
    }
}

/// A fill, feed, start, stopper, note, dimension or camera, with gaps, an offset, a group and sometimes locked.
fn later(id: u32, small: u32, b: u16, c: u8) -> Item {
    let (spacing, colour) = (Spacing::Gap { gap: Length::mm(7.5) }, ColourId(b % 9));
    let body = match c % 7 {
        0 => Body::Fill(Fill {
            kind: KindId(1),
            outline: vec![Point::new(0.0, 0.0); small as usize],
            with: Filling::Spiral,
            ring: Length::mm(60.0),
            spacing,
            placed: Placing::Comb,
            colours: Pattern::Plain { colour },
        }),
        1 => Body::Feed(Feed {
            of: ItemId(u32::from(b) % 12),
            way: FeedWay::HalfShift { side: Hand::Left },
            kind: KindId(1),
            colour: ColourId(2),
            pitch: Length::mm(15.0),
        }),
        3 => Body::Note(Note { text: "x".repeat(small as usize) }),
        4 => Body::Dimension(Dimension { to: Point::new(f64::from(small), 0.0) }),
        5 => Body::Camera(Camera {
            height: Length::mm(f64::from(b)),
            look: Point::new(f64::from(small), 1.0),
            look_height: Length::ZERO,
            field_of_view: Angle::deg(f64::from(c)),
        }),
        2 => Body::Start(Start { width: Length::mm(f64::from(small)), after: Duration::ZERO }),
        _ => {
            let size = Length::mm(20.0);
            Body::Stopper(Stopper { thickness: size, width: size, height: size, fixed: true })
        }
    };
    let gap = |i: u32| SafetyGap { first: i * 4, count: u32::from(c) % 6, stopper: false };
    let built = Some(AsBuilt { east: Length::mm(1.0), north: Length::ZERO, turn: Angle::ZERO });
    let (locked, group) = (b.is_multiple_of(3), b.is_multiple_of(4).then_some(GroupId(1 + small)));
    Item { built, gaps: (0..small).map(gap).collect(), locked, group, ..item(id, body) }
}

fn hall(b: u16, c: u8) -> Hall {
    let mark = |name: String| Mark { name, at: Point::new(f64::from(b), 0.0) };
    let (first, second) = (format!("M{}", c % 3), format!("M{}", b % 3));
    let length = Length::mm(f64::from(c));
    Hall {
        marks: vec![mark(first.clone()), mark(second.clone())],
        tapes: vec![Tape { from: first, to: second, length }],
        ..Hall::default()
    }
}

/// One command from four small numbers; about half of them make sense for the plan at hand.
fn command(sort: u8, a: u16, b: u16, c: u8) -> Command {
    let (id, small) = (u32::from(a % 12), u32::from(b % 5));
    match sort % 29 {
        0 => Command::Rename { name: format!("event {b}") },
        1 => Command::SetHall { hall: Hall { name: format!("hall {b}"), ..Hall::default() } },
        2 => Command::PutKind { kind: kind(a % 4) },
        3 => Command::RemoveKind { id: KindId(a % 4) },
        4 => Command::PutColour { colour: colour(a % 9, c) },
        5 => Command::RemoveColour { id: ColourId(a % 9) },
        6 => Command::PutLot {
            lot: Lot {
                id: LotId(id),
                kind: KindId(1),
                colour: ColourId(b % 9),
                batch: format!("B{c}"),
                owner: "Ada".into(),
                count: c.into(),
                offered: small,
                spare: 0.03,
                crate_size: None,
                thickness: Some(Length::mm(7.5)),
                mass: None,
            },
        },
        7 => Command::RemoveLot { id: LotId(id) },
        8 => Command::PutGear {
            gear: Gear {
                id: GearId(id),
                name: "comb".into(),
                what: match b % 4 {
                    0 => GearKind::Comb { pitch: Length::mm(f64::from(c)), teeth: 20 },
                    1 => GearKind::Plank {
                        length: Length::mm(f64::from(c)),
                        width: Length::mm(60.0),
                        thickness: Length::mm(12.0),
                    },
                    2 => GearKind::Support { height: Length::mm(f64::from(c)) },
                    _ => GearKind::Cord { length: Length::mm(f64::from(c)) },
                },
                count: small,
                owner: String::new(),
            },
        },
        9 => Command::RemoveGear { id: GearId(id) },
        10 => Command::PutSection {
            section: Section { id: SectionId(id), name: "A".into(), lead: format!("{c}") },
        },
        11 => Command::RemoveSection { id: SectionId(id) },
        12 => Command::PutPicture { picture: picture(id) },
        13 => Command::RemovePicture { id: PictureId(id) },
        14 => {
            Command::PutItem { item: Box::new(item(id, Body::Field(field(1 + small, 1 + u32::from(c % 6))))) }
        }
        15 => {
            let section = c.is_multiple_of(2).then_some(SectionId(small));
            let item = Item { section, ..item(id, Body::Placeholder(placeholder(small))) };
            Command::PutItem { item: Box::new(item) }
        }
        16 => Command::RemoveItem { id: ItemId(id) },
        17 => Command::MoveItem {
            id: ItemId(id),
            at: Point::new(f64::from(b), 0.1),
            heading: Angle::deg(f64::from(c)),
        },
        18 => Command::SetFrame { id: ItemId(id), frame: field(small, u32::from(c % 7)).frame },
        19 => Command::UsePicture {
            id: ItemId(id),
            picture: (c > 60).then_some(PictureUse {
                picture: PictureId(small),
                crop: None,
                fit: PictureFit::Within,
                contrast: 0.2,
            }),
        },
        20 => Command::SetWish {
            id: ItemId(id),
            wish: MatchWish {
                fewer_changes: f64::from(c % 8),
                allowed: Some(vec![ColourId(b % 9)]),
                ..MatchWish::default()
            },
        },
        21 => Command::Lay { id: ItemId(id), cells: vec![b % 9; 1 + usize::from(c % 6)].into() },
        22 => {
            let cell = |i: u32| CellChange {
                index: (i * 3) % 7,
                colour: (b % 9 + i as u16) % 9,
                by_hand: i.is_multiple_of(2),
            };
            Command::Paint { id: ItemId(id), cells: (0..small).map(cell).collect() }
        }
        23 => Command::PutSurface {
            surface: Surface {
                id: SurfaceId(id),
                name: "plank".into(),
                is: SurfaceKind::Plank,
                height: Length::mm(f64::from(c)),
                slope: Slope { rise: Angle::deg(f64::from(c % 9)), uphill: Angle::deg(f64::from(b)) },
                outline: vec![Point::new(0.0, 0.0), Point::new(1.0, 0.0), Point::new(0.0, 1.0)],
            },
        },
        24 => Command::RemoveSurface { id: SurfaceId(id) },
        // Twice alike at times, but for the lock.
        25 => Command::PutItem { item: Box::new(later(id, small, b, c / 8)) },
        26 => Command::PutItem { item: Box::new(item(id, Body::Line(line(small, b, c)))) },
        27 => Command::SetHall { hall: hall(b, c) },
        _ => shift(id, small, b, c),
    }
}

/// Of a section that may be empty or not there, or of items one of which is named twice.
fn shift(id: u32, small: u32, b: u16, c: u8) -> Command {
    let which = if c.is_multiple_of(2) {
        Which::Section(SectionId(small))
    } else {
        Which::Items(vec![ItemId(id), ItemId(5), ItemId(id)])
    };
    let (east, north) = (Length::mm(f64::from(b) / 7.0), Length::mm(f64::from(c) / -3.0));
    Command::Shift { which, east, north, turn: Angle::deg(f64::from(c) / 7.0), about: Point::new(0.1, 1e6) }
}

fn start() -> Plan {
    let mut plan = Plan::new("start");
    let steps = vec![
        Command::PutKind { kind: kind(1) },
        Command::PutColour { colour: colour(2, 80) },
        Command::PutColour { colour: colour(3, 90) },
        Command::PutPicture { picture: picture(4) },
        Command::PutItem { item: Box::new(item(5, Body::Field(field(2, 3)))) },
    ];
    plan.apply(&Command::Together { steps }).unwrap();
    plan
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn any_history_can_be_taken_back_to_its_first_bytes(
        moves in prop::collection::vec((any::<u8>(), any::<u16>(), any::<u16>(), any::<u8>()), 1..60)
    ) {
        let mut plan = start();
        let first = bytes(&plan);
        let mut back = Vec::new();
        for (sort, a, b, c) in moves {
            let before = bytes(&plan);
            match plan.apply(&command(sort, a, b, c)) {
                Ok(applied) => {
                    let after = bytes(&plan);
                    // Back and forth once at every step: undo, redo.
                    let undone = plan.apply(&applied.inverse).unwrap();
                    prop_assert_eq!(&bytes(&plan), &before);
                    let redone = plan.apply(&undone.inverse).unwrap();
                    prop_assert_eq!(&bytes(&plan), &after);
                    back.push(redone.inverse);
                }
                Err(refusal) => {
                    prop_assert_eq!(&bytes(&plan), &before, "{}", refusal);
                    prop_assert!(refusal.next().to_string().ends_with('.'), "{}", refusal);
                }
            }
        }
        for inverse in back.iter().rev() {
            plan.apply(inverse).unwrap();
        }
        prop_assert_eq!(bytes(&plan), first);
    }
}

#[test]
fn every_sort_of_command_is_taken_and_most_are_refused_at_some_time() {
    let (mut taken, mut refused) = (BTreeMap::<u8, u32>::new(), BTreeMap::<u8, u32>::new());
    let mut plan = start();
    let mut n = 12_345u32;
    for step in 0..20_000u32 {
        n ^= n << 13;
        n ^= n >> 17;
        n ^= n << 5;
        let sort = (step % 29) as u8;
        // Once a round somebody unlocks all, or in the end nothing could be changed any more.
        let locked = plan.items.iter().filter(|i| sort == 0 && i.locked);
        let free: Vec<_> = locked.map(|i| Item { locked: false, ..i.clone() }).collect();
        free.into_iter().for_each(|i| _ = plan.apply(&Command::PutItem { item: Box::new(i) }).unwrap());
        let done = plan.apply(&command(sort, n as u16, (n >> 8) as u16, (n >> 16) as u8)).is_ok();
        *if done { &mut taken } else { &mut refused }.entry(sort).or_default() += 1;
    }
    assert_eq!(taken.len(), 29, "{taken:?}");
    // The rest of what this test makes, names and the hall among it, is always good.
    assert!(refused.len() >= 21, "{refused:?}");
}

/// Every float of the plan as bits: a turn there and back would miss them by a rounding.
#[test]
fn a_shift_is_taken_back_to_the_same_bits_and_made_again_to_the_same() {
    let mut plan = start();
    let built = Some(AsBuilt { east: Length::mm(3.0), north: Length::mm(-1.0), turn: Angle::deg(0.5) });
    let section = Some(SectionId(8));
    let steps = vec![
        Command::PutSection { section: Section { id: SectionId(8), name: "A".into(), lead: String::new() } },
        Command::PutItem {
            item: Box::new(Item { section, built, ..item(9, Body::Placeholder(placeholder(1))) }),
        },
        Command::PutItem { item: Box::new(Item { section, ..item(10, Body::Placeholder(placeholder(1))) }) },
    ];
    plan.apply(&Command::Together { steps }).unwrap();
    let bits = |plan: &Plan| -> Vec<[u64; 3]> {
        let of = |i: &Item| [i.at.x.to_bits(), i.at.y.to_bits(), i.heading.to_deg().to_bits()];
        plan.items.iter().map(of).collect()
    };
    let before = (bits(&plan), bytes(&plan));
    let shift = Command::Shift {
        which: Which::Section(SectionId(8)),
        east: Length::mm(12.3),
        north: Length::mm(-4.1),
        turn: Angle::deg(0.2),
        about: Point::new(1234.5, -987.6),
    };
    let done = plan.apply(&shift).unwrap();
    assert_eq!(done.touched.items, [ItemId(9), ItemId(10)]);
    assert_eq!(plan.item(ItemId(9)).unwrap().built, built, "what was measured stays");
    assert_eq!(bits(&plan)[0], before.0[0], "an item of no section stays");
    let after = (bits(&plan), bytes(&plan));
    assert!(after.0[1] != before.0[1] && after.0[2] != before.0[2]);
    let undone = plan.apply(&done.inverse).unwrap();
    assert_eq!((bits(&plan), bytes(&plan)), before);
    plan.apply(&undone.inverse).unwrap();
    assert_eq!((bits(&plan), bytes(&plan)), after);
}

#[test]
fn several_steps_are_all_taken_or_none() {
    let mut plan = start();
    let before = bytes(&plan);
    let steps = vec![
        Command::Rename { name: "half".into() },
        Command::RemoveItem { id: ItemId(5) },
        Command::RemoveItem { id: ItemId(5) },
    ];
    assert!(plan.apply(&Command::Together { steps }).is_err());
    assert_eq!(bytes(&plan), before);
}

#[test]
fn a_match_may_not_touch_cells_that_were_set_by_hand() {
    let mut plan = start();
    let id = ItemId(5);
    let cells = vec![CellChange { index: 4, colour: 2, by_hand: true }];
    plan.apply(&Command::Paint { id, cells }).unwrap();
    let refusal = plan.apply(&Command::Lay { id, cells: vec![3; 6].into() }).unwrap_err().to_string();
    assert!(refusal.contains("lane 2, piece 2") && refusal.contains("by hand"), "{refusal}");
    plan.apply(&Command::Lay { id, cells: vec![3, 3, 3, 3, 2, 3].into() }).unwrap();
}
