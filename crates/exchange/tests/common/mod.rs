//! Random plans that the gate takes, and facts about pictures that do not exist.
#![allow(dead_code, unreachable_pub, reason = "each test file uses a part of this")]

use exchange::PictureFacts;
use geometry::{FallInPicture, Point};
use plan::*;
use proptest::prelude::*;
use units::{Angle, Duration, Length, Mass};

/// Facts about a picture of 40 x 30 pixels.
pub fn facts() -> PictureFacts {
    PictureFacts { sha256: "5a".repeat(32), width: 40, height: 30 }
}

fn name() -> impl Strategy<Value = String> {
    // Names with everything that quoting could stumble over, and repeated ones.
    prop_oneof!["[AB]", "[a-zA-Z0-9äß \"'\\\\#=,;:@+.-]{0,6}x"]
}

fn mm(least: f64, most: f64) -> impl Strategy<Value = Length> {
    prop_oneof![(least..most).prop_map(Length::mm), (least..most).prop_map(|v| Length::mm(v.round()))]
}

fn point() -> impl Strategy<Value = Point> {
    (mm(-1e6, 1e6), mm(-1e6, 1e6)).prop_map(|(x, y)| Point::new(x.to_mm(), y.to_mm()))
}

/// How a surface rises: not at all, or within what the gate takes.
fn slope() -> impl Strategy<Value = plan::Slope> {
    let rise = prop_oneof![Just(0.0), 0.0..45.0f64];
    (rise, angle()).prop_map(|(rise, uphill)| plan::Slope { rise: Angle::deg(rise), uphill })
}

fn angle() -> impl Strategy<Value = Angle> {
    prop_oneof![
        (-720.0..720.0f64).prop_map(Angle::deg),
        (-4..8i32).prop_map(|q| Angle::deg(f64::from(q) * 90.0))
    ]
}

fn rgb() -> impl Strategy<Value = Rgb> {
    any::<[u8; 3]>().prop_map(|[r, g, b]| Rgb { r, g, b })
}

/// Codes that do not look alike, some with figures at the end or alone.
const CODES: [&str; 8] = ["S", "W", "B2", "7", "Ä", "K4", "GR", "X9Y"];

fn stock() -> impl Strategy<Value = Stock> {
    let kind = (name(), mm(5.0, 8.0), mm(20.0, 25.0));
    let colour = (rgb(), rgb(), rgb(), 0..5u8);
    let lot = (
        0..8usize,
        0..3usize,
        any::<u16>(),
        prop::option::of(mm(1.0, 9.0)),
        prop::option::of(1..2000u32),
        name(),
    );
    let gear = (0..4u8, name(), mm(2.0, 900.0), 2..40u32);
    (
        prop::collection::vec(kind, 1..3),
        prop::collection::vec(colour, 1..8),
        prop::collection::vec(lot, 0..9),
        prop::collection::vec(gear, 0..4),
        1..4u16,
    )
        .prop_map(|(kinds, colours, lots, gear, step)| {
            let mut s = Stock::default();
            for (i, (name, thickness, width)) in kinds.into_iter().enumerate() {
                let id = KindId(i as u16 * step + 1);
                s.kinds.push(Kind { name, thickness, width, ..Kind::usual(id) });
            }
            for (i, (front, back, edge, finish)) in colours.into_iter().enumerate() {
                let finish = [Finish::Matt, Finish::Gloss, Finish::Metallic, Finish::Clear, Finish::Painted]
                    [finish as usize];
                let (id, code) = (ColourId((i as u16 + 1) * step), CODES[i].to_owned());
                s.colours.push(Colour {
                    id,
                    name: format!("={code}, \"{i}\""),
                    code,
                    front,
                    back,
                    edge,
                    finish,
                });
            }
            for (i, (colour, kind, count, thickness, crate_size, owner)) in lots.into_iter().enumerate() {
                s.lots.push(Lot {
                    id: LotId((i as u32 + 1) * u32::from(step)),
                    kind: s.kinds[kind % s.kinds.len()].id,
                    colour: s.colours[colour % s.colours.len()].id,
                    batch: if count % 3 == 0 { "=b".into() } else { String::new() },
                    owner,
                    count: count.into(),
                    offered: u32::from(count % 5),
                    spare: f64::from(count % 7) / 19.0,
                    crate_size,
                    thickness,
                    mass: thickness.map(|t| Mass::g(t.to_mm() * 1.1)),
                });
            }
            for (i, (what, name, l, n)) in gear.into_iter().enumerate() {
                let what = match what {
                    0 => GearKind::Comb { pitch: l, teeth: n },
                    1 => GearKind::Plank { length: l, width: l, thickness: l },
                    2 => GearKind::Support { height: l },
                    _ => GearKind::Cord { length: l },
                };
                s.gear.push(Gear { id: GearId(50 + i as u32), name, what, count: n, owner: String::new() });
            }
            s
        })
}

#[derive(Debug, Clone)]
struct Raw {
    name: String,
    at: Point,
    heading: Angle,
    place: (u8, u8),
    size: (u32, u32),
    pitch: (Length, Length, f64),
    picks: Vec<u16>,
    marks: Vec<bool>,
    wish: (u8, f64, u32, Length),
    fall: usize,
    sort: u8,
    points: Vec<Point>,
}

fn raw() -> impl Strategy<Value = Raw> {
    let basics = (name(), point(), angle(), (0..3u8, 0..3u8), (1..7u32, 1..9u32));
    let frame = ((mm(8.0, 30.0), mm(25.0, 40.0), 0.0..1.0f64), 0..4usize, 0..13u8);
    let cells = (prop::collection::vec(0..4u16, 54), prop::collection::vec(any::<bool>(), 54));
    let wish = (any::<u8>(), 0.0..5.0f64, 1..100u32, mm(200.0, 50_000.0));
    let points = prop::collection::vec(point(), 3..6);
    (basics, frame, cells, wish, points).prop_map(
        |((name, at, heading, place, size), (pitch, fall, sort), (picks, marks), wish, points)| Raw {
            name,
            at,
            heading,
            place,
            size,
            pitch,
            picks,
            marks,
            wish,
            fall,
            sort,
            points,
        },
    )
}

fn body(raw: &Raw, plan: &Plan) -> Body {
    let colour = |i: u16| match i {
        0 => 0,
        i => plan.stock.colours[usize::from(i) % plan.stock.colours.len()].id.0,
    };
    let kind = plan.stock.kinds[usize::from(raw.wish.0) % plan.stock.kinds.len()].id;
    let fields: Vec<ItemId> = plan.items.iter().filter(|i| i.field().is_some()).map(|i| i.id).collect();
    match raw.sort {
        0..3 => Body::Field(field(raw, plan, kind, colour)),
        3 => Body::Placeholder(placeholder(raw, kind, colour)),
        4 | 5 => Body::Line(line(raw, plan, kind)),
        6 => Body::Fill(fill(raw, plan, kind)),
        7 if !fields.is_empty() => Body::Feed(feed(raw, plan, kind, fields[raw.fall % fields.len()])),
        10 => Body::Note(Note { text: format!("{}\n\t<b>\u{1F30A} {}", raw.name, raw.name) }),
        11 => Body::Dimension(Dimension { to: raw.points[0] }),
        12 => Body::Camera(Camera {
            height: raw.wish.3,
            look: raw.points[1],
            look_height: if raw.marks[0] { Length::ZERO } else { raw.pitch.0 },
            field_of_view: Angle::deg(1.0 + raw.pitch.2 * 100.0),
        }),
        8 => Body::Stopper(Stopper {
            thickness: raw.pitch.0,
            width: raw.pitch.1,
            height: raw.wish.3,
            fixed: raw.marks[0],
        }),
        _ => Body::Start(Start {
            width: raw.pitch.1,
            after: Duration::s(if raw.marks[0] { 0.0 } else { raw.wish.1 }),
        }),
    }
}

fn hand(right: bool) -> Hand {
    if right { Hand::Right } else { Hand::Left }
}

fn pattern(raw: &Raw, plan: &Plan) -> Pattern {
    let of = |i: usize| plan.stock.colours[usize::from(raw.picks[i]) % plan.stock.colours.len()].id;
    let run = |i: usize| Stretch { colour: of(i), count: 1 + u32::from(raw.picks[i + 5]) * raw.wish.2 };
    match raw.size.1 % 4 {
        0 => Pattern::Plain { colour: of(0) },
        1 => Pattern::Repeat { stretches: (0..3).map(run).collect() },
        2 => Pattern::Blend { colours: (0..3).map(of).collect() },
        _ => Pattern::Spread { stretches: (0..2).map(run).collect() },
    }
}

fn spacing(raw: &Raw) -> (Spacing, Placing) {
    let gap = Spacing::Gap { gap: raw.pitch.0 };
    let spacing = if raw.marks[1] { gap } else { Spacing::Pitch { pitch: raw.pitch.0 } };
    (spacing, if raw.marks[2] { Placing::Hand } else { Placing::Comb })
}

/// A line that may lead to and from any item that is already there.
fn line(raw: &Raw, plan: &Plan, kind: KindId) -> Line {
    let leg = |i: usize| match raw.picks[10 + i] {
        0 => Leg::Straight { length: raw.pitch.1 },
        1 => Leg::Arc { radius: raw.pitch.0, turn: raw.heading },
        2 => Leg::Spiral {
            radius: raw.pitch.1,
            ring: raw.pitch.0,
            turns: raw.wish.1,
            hand: hand(raw.marks[3 + i]),
        },
        _ => Leg::Through { points: raw.points.clone() },
    };
    let link = |n: usize| {
        let item = plan.items.get(usize::from(raw.picks[n]))?.id;
        Some(Link { item, port: if raw.marks[n] { "end".into() } else { raw.name.clone() } })
    };
    let bridge = Bridge {
        from: raw.wish.3,
        deck: raw.wish.3,
        height: raw.pitch.1,
        thickness: raw.pitch.0,
        step: Length::mm(7.5),
        per_step: raw.wish.2,
    };
    let (spacing, placed) = spacing(raw);
    Line {
        kind,
        lanes: raw.size.0,
        pitch_across: if raw.marks[4] { Length::mm(26.0) } else { raw.pitch.1 },
        spacing,
        placed,
        path: (0..raw.size.1 as usize % 4).map(leg).collect(),
        from: link(20),
        to: link(21),
        colours: pattern(raw, plan),
        bridges: vec![bridge; raw.size.0 as usize % 3],
    }
}

fn fill(raw: &Raw, plan: &Plan, kind: KindId) -> Fill {
    let (spacing, placed) = spacing(raw);
    let course = if raw.marks[5] { Angle::ZERO } else { raw.heading };
    let ways = [Filling::Waves { course }, Filling::Spiral, Filling::Curls { course, swing: raw.pitch.0 }];
    let (outline, colours) = (raw.points.clone(), pattern(raw, plan));
    Fill { kind, outline, with: ways[raw.fall % 3], ring: raw.pitch.1, spacing, placed, colours }
}

fn feed(raw: &Raw, plan: &Plan, kind: KindId, of: ItemId) -> Feed {
    let (side, usual) = (hand(raw.marks[6]), raw.marks[7]);
    let turn = Angle::deg(if usual { 45.0 } else { 1.0 + raw.pitch.2 * 80.0 });
    let poke = Length::mm(if usual { 6.0 } else { raw.pitch.2 });
    let way = match raw.size.1 % 6 {
        0 => FeedWay::Brick { enter: [Enter::Middle, Enter::Right, Enter::Left][raw.fall % 3] },
        1 => FeedWay::Beside { side, turn, gap: raw.pitch.0, poke },
        2 => FeedWay::Angled { side, turn, poke },
        3 => FeedWay::InLine { side, turn, clear: poke },
        4 => FeedWay::Echelon { side, turn },
        _ => FeedWay::HalfShift { side },
    };
    let pitch = if usual { Length::mm(15.0) } else { raw.pitch.0 };
    Feed { of, way, kind, colour: plan.stock.colours[raw.fall % plan.stock.colours.len()].id, pitch }
}

fn built(raw: &Raw) -> Option<AsBuilt> {
    let turn = if raw.marks[8] { Angle::ZERO } else { raw.heading };
    raw.marks[9].then_some(AsBuilt { east: raw.pitch.0, north: raw.pitch.1 * -1.0, turn })
}

fn gaps(raw: &Raw) -> Vec<SafetyGap> {
    let mut first = 0;
    let gap = |i: usize| {
        first += u32::from(raw.picks[30 + i]);
        let count = 1 + u32::from(raw.picks[35 + i]);
        let gap = SafetyGap { first, count, stopper: raw.marks[10 + i] };
        first += count;
        gap
    };
    (0..usize::from(raw.place.1)).map(gap).collect()
}

fn field(raw: &Raw, plan: &Plan, kind: KindId, colour: impl Fn(u16) -> u16) -> Field {
    let (flag, fewer_changes, weight, seen_from) = raw.wish;
    let frame = FieldFrame {
        stagger: if flag & 1 == 0 { Length::ZERO } else { raw.pitch.0 * raw.pitch.2 },
        fall: FallInPicture::ALL[raw.fall],
        course: [LaneCourse::Together, LaneCourse::Opposed, LaneCourse::InTurn][raw.fall % 3],
        ..FieldFrame::new(raw.size.0, raw.size.1, raw.pitch.0, raw.pitch.1)
    };
    let mut field = Field::empty(kind, frame);
    if flag & 2 == 0 {
        field.cells = raw.picks[..frame.len()].iter().map(|&i| colour(i)).collect::<Vec<_>>().into();
    }
    if flag & 4 == 0 {
        field.by_hand = raw.marks[..frame.len()].to_vec().into();
    }
    if let Some(picture) = plan.pictures.get(raw.fall) {
        let crop = Crop { left: 0.1, top: 0.0, right: 0.1 + raw.pitch.2 * 0.9 + 1e-9, bottom: 1.0 };
        let fit = [PictureFit::Fill, PictureFit::Within, PictureFit::Stretch][raw.fall % 3];
        let (crop, contrast) = (Some(crop).filter(|_| flag & 8 == 0), raw.pitch.2 - 0.5);
        field.picture = Some(PictureUse { picture: picture.id, crop, fit, contrast });
    }
    if flag & 16 == 0 {
        let eye = Eye { distance: seen_from, height: Length::mm(1600.0), bearing: raw.heading };
        field.wish = MatchWish {
            goal: if flag & 32 == 0 { MatchGoal::Exact } else { MatchGoal::Seen },
            seen_as: [SeenAs::Laid, SeenAs::Above, SeenAs::Standing { eye }, SeenAs::Fallen][raw.fall],
            seen_from,
            fewer_changes,
            weight,
            allowed: (flag & 64 == 0).then(|| plan.stock.colours.iter().map(|c| c.id).collect()),
        };
    }
    field
}

fn placeholder(raw: &Raw, kind: KindId, colour: impl Fn(u16) -> u16) -> Placeholder {
    let needs = raw.picks.iter().take(3).filter(|&&i| i > 0);
    let port = |i: usize| Port {
        name: format!("p{i}"),
        flow: if i == 0 { PortFlow::In } else { PortFlow::Out },
        at: raw.at,
        direction: raw.heading,
        height: raw.pitch.0,
        width: raw.pitch.1,
    };
    Placeholder {
        length: raw.pitch.0,
        width: raw.pitch.1,
        height: raw.wish.3,
        needs: needs.map(|&i| Need { kind, colour: ColourId(colour(i)), count: raw.wish.2 }).collect(),
        hours: Duration::h(raw.wish.1),
        who: raw.name.clone(),
        ports: (0..usize::from(raw.place.0)).map(port).collect(),
        delay: (raw.fall > 1)
            .then(|| Delay { least: Duration::s(raw.wish.1), most: Duration::s(raw.wish.1 + raw.pitch.2) }),
    }
}

/// Leads some lines to items that come after them, so that there are rings of links too.
fn lead_on(plan: &mut Plan) {
    let last = plan.items.last().map(|i| i.id);
    for mut item in plan.items.clone() {
        let Some(last) = last.filter(|&last| last != item.id) else { continue };
        if let Body::Line(line) = &mut item.body
            && line.lanes % 2 == 0
            && !item.locked
        {
            line.to = Some(Link { item: last, port: "lane 2: end".into() });
            plan.apply(&Command::PutItem { item: Box::new(item) }).expect("the last item is there");
        }
    }
}

/// A hall with everything in it.
fn hall() -> impl Strategy<Value = Hall> {
    let outline = || prop::collection::vec(point(), 3..6);
    let part = (name(), 0..6usize, outline(), mm(0.0, 9e3));
    let grip = prop_oneof![Just((0.15, 0.3)), (0.02..0.5f64, 0.5..1.5f64)];
    let measured = prop::collection::vec((20..900u32, mm(5.0, 30.0), 0.5..60.0f64, point()), 0..4);
    let drawn = (prop::option::of(outline()), prop::collection::vec(part, 0..4));
    (name(), rgb(), drawn, grip, measured).prop_map(|(name, floor, (outline, parts), grip, measured)| {
        let kinds = [
            HallPartKind::Pillar,
            HallPartKind::Door,
            HallPartKind::Exit,
            HallPartKind::Aisle,
            HallPartKind::Table,
            HallPartKind::Overhead,
        ];
        let part = |(name, is, outline, height)| HallPart { name, is: kinds[is], outline, height };
        let usual = Grip::default();
        let tape = |i: usize| Tape { from: "M0".into(), to: format!("M{i}"), length: measured[i].1 };
        Hall {
            name,
            floor,
            outline: outline.unwrap_or_default(),
            parts: parts.into_iter().map(part).collect(),
            grip: Grip { floor: grip, piece: if measured.is_empty() { usual.piece } else { grip } },
            timed: measured
                .iter()
                .map(|m| TimedLine { pieces: m.0, gap: m.1, took: Duration::s(m.2) })
                .collect(),
            marks: measured
                .iter()
                .enumerate()
                .map(|(i, m)| Mark { name: format!("M{i}"), at: m.3 })
                .collect(),
            tapes: (1..measured.len()).map(tape).collect(),
        }
    })
}

/// A plan that the gate took command by command.
pub fn any_plan() -> impl Strategy<Value = Plan> {
    let scene = (
        prop::collection::vec((name(), mm(0.0, 900.0), slope(), prop::collection::vec(point(), 3..6)), 0..3),
        prop::collection::vec((name(), name()), 0..3),
        prop::collection::vec((name(), 1..9000u32), 0..4),
    );
    (stock(), name(), hall(), scene, prop::collection::vec(raw(), 0..7)).prop_map(
        |(stock, name, hall, scene, raws)| {
            let mut plan = Plan::new("");
            let mut give = |command: Command| {
                plan.apply(&command).expect("the generator makes valid commands");
                plan.clone()
            };
            give(Command::Rename { name });
            give(Command::SetHall { hall });
            give(Command::ReplaceStock { stock });
            let (surfaces, sections, pictures) = scene;
            for (i, (name, height, slope, outline)) in surfaces.into_iter().enumerate() {
                let is = [SurfaceKind::Plank, SurfaceKind::Table, SurfaceKind::WallTop][i];
                give(Command::PutSurface {
                    surface: Surface { id: SurfaceId(100 + i as u32), name, is, height, slope, outline },
                });
            }
            for (i, (name, lead)) in sections.into_iter().enumerate() {
                give(Command::PutSection { section: Section { id: SectionId(200 + i as u32), name, lead } });
            }
            for (i, (name, width)) in pictures.into_iter().enumerate() {
                // The gate refuses folders in names.
                let name = name.replace('\\', "_");
                let picture = Picture {
                    id: PictureId(300 + i as u32),
                    name,
                    sha256: format!("{i}").repeat(64),
                    width,
                    height: 30,
                };
                give(Command::PutPicture { picture });
            }
            let mut plan = give(Command::Together { steps: vec![] });
            for (i, raw) in raws.iter().enumerate() {
                let pick =
                    |n: u8, ids: Vec<u32>| n.checked_sub(1).and_then(|n| ids.get(usize::from(n)).copied());
                let surface = pick(raw.place.0, plan.surfaces.iter().map(|s| s.id.0).collect());
                let section = pick(raw.place.1, plan.sections.iter().map(|s| s.id.0).collect());
                let item = Item {
                    heading: raw.heading,
                    surface: SurfaceId(surface.unwrap_or(0)),
                    section: section.map(SectionId),
                    built: built(raw),
                    gaps: gaps(raw),
                    locked: raw.marks[20],
                    group: raw.marks[21].then_some(GroupId(u32::from(raw.picks[40]) + 1)),
                    ..Item::new(ItemId(400 + 7 * i as u32), raw.name.clone(), raw.at, body(raw, &plan))
                };
                plan.apply(&Command::PutItem { item: Box::new(item) })
                    .expect("the generator makes valid items");
            }
            lead_on(&mut plan);
            plan
        },
    )
}
