//! Drafts come back as they went.

#![allow(clippy::unwrap_used, reason = "helpers of tests may panic")]

use super::*;
use geometry::FallInPicture;
use plan::{Command, Enter, Eye, MatchGoal, MatchWish, SeenAs};
use proptest::prelude::*;

/// Numbers that look random and follow from the seed (SplitMix64, Steele, Lea and Flood 2014).
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

    fn flag(&mut self) -> bool {
        self.below(2) == 0
    }

    fn of<T: Copy>(&mut self, all: &[T]) -> T {
        all[self.below(all.len() as u64) as usize]
    }

    /// Any figure with all its digits.
    fn figure(&mut self) -> f64 {
        (self.next() >> 11) as f64 / 1e9 - 4_000_000.0
    }

    fn mm(&mut self) -> Length {
        Length::mm(self.figure())
    }

    fn deg(&mut self) -> Angle {
        Angle::deg(self.figure())
    }

    fn point(&mut self) -> Point {
        Point::new(self.figure(), self.figure())
    }

    fn points(&mut self) -> Vec<Point> {
        (0..self.below(5)).map(|_| self.point()).collect()
    }

    fn number(&mut self) -> u32 {
        self.next() as u32
    }

    fn name(&mut self) -> String {
        self.of(&["Mill", "", "<b>\u{1F30A}</b>", "\u{202E}\"\\\n", "x"]).to_owned()
    }

    fn hand(&mut self) -> Hand {
        self.of(&[Hand::Left, Hand::Right])
    }

    fn maybe<T>(&mut self, make: impl FnOnce(&mut Self) -> T) -> Option<T> {
        if self.flag() { Some(make(self)) } else { None }
    }

    fn some<T>(&mut self, make: impl Fn(&mut Self) -> T) -> Vec<T> {
        (0..self.below(4)).map(|_| make(self)).collect()
    }
}

fn spacing(d: &mut Dice) -> Spacing {
    if d.flag() { Spacing::Pitch { pitch: d.mm() } } else { Spacing::Gap { gap: d.mm() } }
}

fn pattern(d: &mut Dice) -> Pattern {
    let stretch = |d: &mut Dice| Stretch { colour: ColourId(d.number() as u16), count: d.number() };
    match d.below(4) {
        0 => Pattern::Plain { colour: ColourId(d.number() as u16) },
        1 => Pattern::Repeat { stretches: d.some(stretch) },
        2 => Pattern::Blend { colours: d.some(|d| ColourId(d.number() as u16)) },
        _ => Pattern::Spread { stretches: d.some(stretch) },
    }
}

fn leg(d: &mut Dice) -> Leg {
    match d.below(4) {
        0 => Leg::Straight { length: d.mm() },
        1 => Leg::Arc { radius: d.mm(), turn: d.deg() },
        2 => Leg::Spiral { radius: d.mm(), ring: d.mm(), turns: d.figure(), hand: d.hand() },
        _ => Leg::Through { points: d.points() },
    }
}

fn line(d: &mut Dice) -> Line {
    let link = |d: &mut Dice| Link { item: ItemId(d.number()), port: d.name() };
    let bridge = |d: &mut Dice| Bridge {
        from: d.mm(),
        deck: d.mm(),
        height: d.mm(),
        thickness: d.mm(),
        step: d.mm(),
        per_step: d.number(),
    };
    Line {
        kind: KindId(d.number() as u16),
        lanes: d.number(),
        pitch_across: d.mm(),
        spacing: spacing(d),
        placed: d.of(&[Placing::Comb, Placing::Hand]),
        path: d.some(leg),
        from: d.maybe(link),
        to: d.maybe(link),
        colours: pattern(d),
        bridges: d.some(bridge),
    }
}

fn field(d: &mut Dice) -> Field {
    let frame = FieldFrame {
        stagger: d.mm(),
        fall: d.of(&FallInPicture::ALL),
        course: d.of(&[LaneCourse::Together, LaneCourse::Opposed, LaneCourse::InTurn]),
        ..FieldFrame::new(d.below(5) as u32, d.below(6) as u32, d.mm(), d.mm())
    };
    let mut field = Field::empty(KindId(d.number() as u16), frame);
    field.cells = (0..frame.len()).map(|_| d.below(4) as u16).collect::<Vec<_>>().into();
    field.by_hand = (0..frame.len()).map(|_| d.flag()).collect::<Vec<_>>().into();
    field.picture = d.maybe(|d| PictureUse {
        picture: PictureId(d.number()),
        crop: d.maybe(|d| Crop { left: d.figure(), top: d.figure(), right: d.figure(), bottom: d.figure() }),
        fit: d.of(&[PictureFit::Fill, PictureFit::Within, PictureFit::Stretch]),
        contrast: d.figure(),
    });
    let eye = Eye { distance: d.mm(), height: d.mm(), bearing: d.deg() };
    let first = d.number() as u16 / 2;
    field.wish = MatchWish {
        goal: d.of(&[MatchGoal::Exact, MatchGoal::Seen]),
        seen_as: d.of(&[SeenAs::Laid, SeenAs::Above, SeenAs::Standing { eye }, SeenAs::Fallen]),
        seen_from: d.of(&[Length::mm(9_000.0), eye.distance]),
        fewer_changes: d.figure(),
        weight: d.number(),
        // A set: kept in order, none twice.
        allowed: d.maybe(|d| (0..d.below(4) as u16).map(|i| ColourId(first + i)).collect()),
    };
    field
}

fn placeholder(d: &mut Dice) -> Placeholder {
    let need = |d: &mut Dice| Need {
        kind: KindId(d.number() as u16),
        colour: ColourId(d.number() as u16),
        count: d.number(),
    };
    let port = |d: &mut Dice| Port {
        name: d.name(),
        flow: d.of(&[PortFlow::In, PortFlow::Out]),
        at: d.point(),
        direction: d.deg(),
        height: d.mm(),
        width: d.mm(),
    };
    Placeholder {
        length: d.mm(),
        width: d.mm(),
        height: d.mm(),
        needs: d.some(need),
        hours: Duration::s(d.figure()),
        who: d.name(),
        ports: d.some(port),
        delay: d.maybe(|d| Delay { least: Duration::s(d.figure()), most: Duration::s(d.figure()) }),
    }
}

fn way(d: &mut Dice) -> FeedWay {
    let (side, turn) = (d.hand(), d.deg());
    match d.below(6) {
        0 => FeedWay::Brick { enter: d.of(&[Enter::Middle, Enter::Right, Enter::Left]) },
        1 => FeedWay::Beside { side, turn, gap: d.mm(), poke: d.mm() },
        2 => FeedWay::Angled { side, turn, poke: d.mm() },
        3 => FeedWay::InLine { side, turn, clear: d.mm() },
        4 => FeedWay::Echelon { side, turn },
        _ => FeedWay::HalfShift { side },
    }
}

fn body(d: &mut Dice, sort: u64) -> Body {
    match sort {
        0 => Body::Field(field(d)),
        1 => Body::Line(line(d)),
        2 => Body::Fill(Fill {
            kind: KindId(d.number() as u16),
            outline: d.points(),
            with: match d.below(3) {
                0 => Filling::Waves { course: d.deg() },
                1 => Filling::Spiral,
                _ => Filling::Curls { course: d.deg(), swing: d.mm() },
            },
            ring: d.mm(),
            spacing: spacing(d),
            placed: d.of(&[Placing::Comb, Placing::Hand]),
            colours: pattern(d),
        }),
        3 => Body::Feed(Feed {
            of: ItemId(d.number()),
            way: way(d),
            kind: KindId(d.number() as u16),
            colour: ColourId(d.number() as u16),
            pitch: d.mm(),
        }),
        4 => Body::Start(Start { width: d.mm(), after: Duration::s(d.figure()) }),
        5 => Body::Stopper(Stopper { thickness: d.mm(), width: d.mm(), height: d.mm(), fixed: d.flag() }),
        6 => Body::Placeholder(placeholder(d)),
        7 => Body::Note(Note { text: d.name() }),
        8 => Body::Dimension(Dimension { to: d.point() }),
        _ => Body::Camera(Camera {
            height: d.mm(),
            look: d.point(),
            look_height: d.mm(),
            field_of_view: d.deg(),
        }),
    }
}

fn item(d: &mut Dice, sort: u64) -> Item {
    Item {
        id: ItemId(7),
        name: d.name(),
        at: d.point(),
        heading: d.deg(),
        surface: SurfaceId(d.number()),
        section: d.maybe(|d| SectionId(d.number())),
        built: d.maybe(|d| AsBuilt { east: d.mm(), north: d.mm(), turn: d.deg() }),
        gaps: d.some(|d| SafetyGap { first: d.number(), count: d.number(), stopper: d.flag() }),
        locked: d.flag(),
        group: d.maybe(|d| GroupId(d.number())),
        body: body(d, sort),
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(600))]

    /// As JSON too: the browser gets and sends nothing else.
    #[test]
    fn every_item_comes_back_from_its_draft_without_loss(seed in any::<u64>(), sort in 0..10u64) {
        let old = item(&mut Dice(seed), sort);
        let mut plan = Plan::new("x");
        plan.items.push(old.clone());
        let draft = to_wire(&old).unwrap();
        let text = serde_json::to_string(&draft).unwrap();
        let read: ItemDraft = serde_json::from_str(&text).unwrap();
        prop_assert_eq!(&read, &draft);
        let back = items(&plan, vec![read]).unwrap();
        prop_assert_eq!(&back, &[old]);
        prop_assert_eq!(to_wire(&back[0]), Some(draft));
    }
}

fn field_plan() -> Plan {
    let mut plan = Plan::new("x");
    let colour = |id: u16, code: &str| {
        let grey = plan::Rgb { r: 9, g: 9, b: id as u8 };
        Command::PutColour {
            colour: plan::Colour {
                id: ColourId(id),
                name: code.into(),
                code: code.into(),
                front: grey,
                back: grey,
                edge: grey,
                finish: plan::Finish::Matt,
            },
        }
    };
    let mut field = Field::empty(KindId(1), FieldFrame::new(2, 3, Length::mm(15.0), Length::mm(26.0)));
    field.cells = vec![2, 2, 3, 3, 0, 2].into();
    let steps = vec![
        Command::PutKind { kind: plan::Kind::usual(KindId(1)) },
        colour(2, "A"),
        colour(3, "B"),
        Command::PutItem {
            item: Box::new(Item::new(ItemId(7), "Mill", Point::default(), Body::Field(field))),
        },
    ];
    plan.apply(&Command::Together { steps }).unwrap();
    plan
}

#[test]
fn cells_stay_or_come_from_another_field_or_are_empty() {
    let plan = field_plan();
    let own = to_wire(plan.item(ItemId(7)).unwrap()).unwrap();
    let cells = |draft: ItemDraft| {
        let made = items(&plan, vec![draft]).unwrap().remove(0);
        made.field().unwrap().cells.as_slice().to_vec()
    };
    assert_eq!(cells(own.clone()), [2, 2, 3, 3, 0, 2]);
    assert_eq!(cells(ItemDraft { id: None, ..own.clone() }), [0; 6]);
    assert_eq!(cells(ItemDraft { id: None, cells_from: Some(7), ..own.clone() }), [2, 2, 3, 3, 0, 2]);
    // Another size: cells keep their lane and rank.
    let mut wider = own.clone();
    if let BodyDraft::Field(f) = &mut wider.body {
        (f.lanes, f.ranks) = (3, 2);
    }
    assert_eq!(cells(wider), [2, 2, 3, 0, 0, 0]);
    let said = items(&plan, vec![ItemDraft { cells_from: Some(8), ..own.clone() }]).unwrap_err().to_string();
    assert_eq!(said, "Item 8 is not in this plan. It may have been removed; load the page again.");
    // A short draft must not claim huge fields.
    let mut huge = own;
    huge.id = None;
    if let BodyDraft::Field(f) = &mut huge.body {
        (f.lanes, f.ranks) = (4_000, 4_000);
    }
    let said = items(&plan, vec![huge; 2]).unwrap_err().to_string();
    assert!(said.contains("32\u{a0}000\u{a0}000 cells are more than"), "{said}");
}

#[test]
fn new_items_take_the_next_ids_in_order() {
    let plan = field_plan();
    let own = to_wire(plan.item(ItemId(7)).unwrap()).unwrap();
    let new = ItemDraft { id: None, ..own.clone() };
    let ids: Vec<u32> = items(&plan, vec![new.clone(), own, new]).unwrap().iter().map(|i| i.id.0).collect();
    assert_eq!(ids, [plan.fresh_id(), 7, plan.fresh_id() + 1]);
}

#[test]
fn links_among_what_is_sent_together_take_the_ids_that_it_gets() {
    let plan = field_plan();
    let straight = Line::plain(KindId(1), ColourId(2), vec![Leg::Straight { length: Length::mm(300.0) }]);
    let draft = |from: Option<(u32, bool)>| {
        let item = Item::new(ItemId(7), "Brook", Point::default(), Body::Line(straight.clone()));
        let mut draft = ItemDraft { id: None, ..to_wire(&item).unwrap() };
        if let BodyDraft::Line(line) = &mut draft.body {
            line.from = from.map(|(item, sent)| wire::LinkDraft { item, port: "end left".into(), sent });
        }
        draft
    };
    let from = |item: &Item| match &item.body {
        Body::Line(line) => line.from.as_ref().map(|l| l.item.0),
        _ => None,
    };
    let fresh = plan.fresh_id();
    let field = to_wire(plan.item(ItemId(7)).unwrap()).unwrap();
    let sent =
        vec![draft(None), field, draft(Some((0, true))), draft(Some((1, true))), draft(Some((7, false)))];
    let links: Vec<Option<u32>> = items(&plan, sent).unwrap().iter().map(from).collect();
    // The first new item has the next id; the field in between keeps its own, and an id of the plan is one.
    assert_eq!(links, [None, None, Some(fresh), Some(7), Some(7)]);
    let said = items(&plan, vec![draft(Some((1, true)))]).unwrap_err().to_string();
    assert!(said.contains("is none of the items that are sent together"), "{said}");
}
