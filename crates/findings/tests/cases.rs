//! Text cases: a small plan in a few words, and the findings that it must give, in order.
//!
//! A case begins with `== name`; names are unique. Lines that begin with `>` are the expected findings. A line
//! `aside CODE …` before the first case names checks that the cases of this file are not about.
//! `colour CODE NAME`, `lot CODE COUNT [batch=…] [spare=…] [offered=…]`, `comb PITCH`, `kind NAME`, `alike CODE CODE in hall light`;
//! `field NAME [at=X,Y] [turn=DEG] [pitch=MM] [on=SURFACE] [hand=LANE,RANK] [covered] : LANE / LANE` with one sign a cell;
//! `wide NAME LANESxRANKS [gap=RANK,COUNT]`, a field of one colour;
//! `placeholder NAME WIDTHxDEPTH [at=X,Y] [turn=DEG] [on=SURFACE] [wants=CODE*COUNT] [ports] [delay]`;
//! `line NAME [at=X,Y] [turn=DEG] [on=SURFACE] [pitch=MM] [gap=MM] [by=hand] [lanes=N] [across=MM] [from=ITEM:PORT] [to=ITEM:PORT]
//! [bridge=FROM,DECK,HEIGHT,STEP,PER_STEP] : LEG / LEG` with legs `straight MM`, `arc RADIUS DEG`, `spiral RADIUS RING TURNS`,
//! `through X,Y X,Y`; `feed NAME FIELD [way=angled] [by=DEG]`, with brick ranks unless it is said; `start NAME [at=X,Y] [turn=DEG]`; `stopper NAME [at=X,Y]`; `hall X,Y X,Y …`;
//! `part KIND NAME [height=MM] : X,Y X,Y …`; `surface NAME HEIGHT [is=plank] [rise=DEG] [uphill=DEG] : X,Y …`; `floor LEAST MOST`; `mark NAME X,Y`;
//! any item may have `leave=FIRST-LAST,…`, its safety gaps with pieces from 1;
//! `fill NAME [at=X,Y] [ring=MM] : X,Y X,Y …` with waves; `tape FROM TO MM`; `timed PIECES GAP SECONDS`; `plank THICKNESS`; `size KIND THICKNESSxWIDTHxHEIGHT`.

#![allow(clippy::unwrap_used, reason = "helpers of tests may panic")]

use std::collections::{BTreeMap, BTreeSet};

use fall::Network;
use findings::{CheckInput, Severity, check};
use geometry::Point;
use placement::Placement;
use plan::*;
use sayings::{Said, found, say};
use units::{Angle, Duration, Length};

#[derive(Default)]
struct Case {
    plan: Plan,
    alike: Vec<(ColourId, ColourId, Said)>,
    covered: Vec<(ItemId, Vec<bool>)>,
    /// Items with links, put again once all that they lead to is there.
    linked: Vec<Item>,
}

impl Case {
    fn apply(&mut self, command: Command) {
        self.plan.apply(&command).unwrap_or_else(|e| panic!("{e}"));
    }

    fn colour(&self, code: &str) -> ColourId {
        self.plan.stock.colour_by_code(code).unwrap_or_else(|| panic!("no colour {code}")).id
    }

    fn line(&mut self, line: &str) {
        let (head, cells) = line.split_once(" :").unwrap_or((line, ""));
        let mut words = head.split_whitespace();
        let what = words.next().unwrap();
        let (options, plain): (Vec<&str>, Vec<&str>) = words.partition(|w| w.contains('='));
        let options: BTreeMap<&str, &str> = options.iter().filter_map(|o| o.split_once('=')).collect();
        let id = self.plan.fresh_id();
        match what {
            "kind" => self.apply(Command::PutKind {
                kind: Kind { name: plain[0].into(), ..Kind::usual(KindId(id as u16)) },
            }),
            "colour" => {
                let c = Rgb { r: 1, g: 2, b: 3 };
                let [code, name] = [plain[0], plain[1]];
                let colour = Colour::plain(ColourId(id as u16), name, code, c);
                self.apply(Command::PutColour { colour });
            }
            "lot" => {
                let number = |key: &str| options.get(key).map_or(0.0, |v| v.parse::<f64>().unwrap());
                let lot = Lot {
                    id: LotId(id),
                    kind: self.plan.stock.kinds[0].id,
                    colour: self.colour(plain[0]),
                    batch: (*options.get("batch").unwrap_or(&"")).into(),
                    owner: String::new(),
                    count: plain[1].parse().unwrap(),
                    offered: number("offered") as u32,
                    spare: number("spare"),
                    crate_size: None,
                    thickness: None,
                    mass: None,
                };
                self.apply(Command::PutLot { lot });
            }
            "comb" => {
                let what = GearKind::Comb { pitch: Length::mm(plain[0].parse().unwrap()), teeth: 20 };
                let gear = Gear { id: GearId(id), name: "Comb".into(), what, count: 3, owner: String::new() };
                self.apply(Command::PutGear { gear });
            }
            "line" => {
                let body = Body::Line(self.path(&options, cells));
                self.item(id, plain[0], &options, body);
            }
            "fill" => {
                let ring = Length::mm(options.get("ring").map_or(40.0, |v| v.parse().unwrap()));
                let fill = Fill {
                    kind: self.plan.stock.kinds[0].id,
                    outline: cells.split_whitespace().map(spot).collect(),
                    with: Filling::Waves { course: Angle::ZERO },
                    ring,
                    spacing: Spacing::Pitch { pitch: Length::mm(15.0) },
                    placed: Placing::Comb,
                    colours: Pattern::Plain { colour: self.plan.stock.colours[0].id },
                };
                self.item(id, plain[0], &options, Body::Fill(fill));
            }
            "feed" => {
                let of = self.plan.item_by_name(plain[1]).unwrap().id;
                let (kind, colour) = (self.plan.stock.kinds[0].id, self.plan.stock.colours[0].id);
                let way = match options.get("way") {
                    Some(&"angled") => {
                        let turn = Angle::deg(options.get("by").map_or(45.0, |v| v.parse().unwrap()));
                        FeedWay::Angled { side: Hand::Right, turn, poke: Length::mm(6.0) }
                    }
                    _ => FeedWay::Brick { enter: Enter::Middle },
                };
                let feed = Feed { of, way, kind, colour, pitch: Length::mm(15.0) };
                self.item(id, plain[0], &options, Body::Feed(feed));
            }
            "start" => {
                let start = Start { width: Length::mm(24.0), after: Duration::ZERO };
                self.item(id, plain[0], &options, Body::Start(start));
            }
            "stopper" => {
                let (thickness, width, height) = (Length::mm(7.5), Length::mm(40.0), Length::mm(48.0));
                let stopper = Stopper { thickness, width, height, fixed: true };
                self.item(id, plain[0], &options, Body::Stopper(stopper));
            }
            "hall" | "floor" | "mark" | "tape" | "timed" | "part" => {
                let mut hall = self.plan.hall.clone();
                match what {
                    "hall" => hall.outline = plain.iter().map(|p| spot(p)).collect(),
                    "floor" => hall.grip.floor = (plain[0].parse().unwrap(), plain[1].parse().unwrap()),
                    "mark" => hall.marks.push(Mark { name: plain[0].into(), at: spot(plain[1]) }),
                    "timed" => hall.timed.push(TimedLine {
                        pieces: plain[0].parse().unwrap(),
                        gap: Length::mm(plain[1].parse().unwrap()),
                        took: Duration::s(plain[2].parse().unwrap()),
                    }),
                    "tape" => hall.tapes.push(Tape {
                        from: plain[0].into(),
                        to: plain[1].into(),
                        length: Length::mm(plain[2].parse().unwrap()),
                    }),
                    _ => hall.parts.push(HallPart {
                        name: plain[1].into(),
                        is: part_kind(plain[0]),
                        outline: cells.split_whitespace().map(spot).collect(),
                        height: Length::mm(options.get("height").map_or(0.0, |v| v.parse().unwrap())),
                    }),
                }
                self.apply(Command::SetHall { hall });
            }
            "surface" => {
                let surface = Surface {
                    id: SurfaceId(id),
                    name: plain[0].into(),
                    is: if options.contains_key("is") { SurfaceKind::Plank } else { SurfaceKind::Table },
                    height: Length::mm(plain[1].parse().unwrap()),
                    slope: {
                        let angle = |key: &str| options.get(key).map_or(0.0, |v| v.parse().unwrap());
                        Slope { rise: Angle::deg(angle("rise")), uphill: Angle::deg(angle("uphill")) }
                    },
                    outline: cells.split_whitespace().map(spot).collect(),
                };
                self.apply(Command::PutSurface { surface });
            }
            "plank" => {
                let thickness = Length::mm(plain[0].parse().unwrap());
                let what = GearKind::Plank { length: Length::m(2.0), width: Length::mm(300.0), thickness };
                let gear =
                    Gear { id: GearId(id), name: "Plank".into(), what, count: 1, owner: String::new() };
                self.apply(Command::PutGear { gear });
            }
            "size" => {
                let size: Vec<f64> = plain[1].split('x').map(|v| v.parse().unwrap()).collect();
                let mut kind = self.plan.stock.kinds.iter().find(|k| k.name == plain[0]).unwrap().clone();
                kind.thickness = Length::mm(size[0]);
                kind.width = Length::mm(size[1]);
                kind.height = Length::mm(size[2]);
                self.apply(Command::PutKind { kind });
            }
            "alike" => {
                let why = say!(found::ALIKE_BY_LIGHT);
                assert_eq!(plain[2..].join(" "), why.to_string());
                let pair = (self.colour(plain[0]), self.colour(plain[1]), why);
                self.alike.push(pair);
            }
            "field" => {
                let body = Body::Field(self.field(&options, cells));
                if plain.contains(&"covered") {
                    let len = cells.chars().filter(|c| !matches!(c, ' ' | '/')).count();
                    self.covered.push((ItemId(id), vec![true; len]));
                }
                self.item(id, plain[0], &options, body);
            }
            "wide" => {
                let (lanes, ranks) = plain[1].split_once('x').unwrap();
                let full = vec![
                    self.plan.stock.colours[0].code.repeat(ranks.parse().unwrap());
                    lanes.parse().unwrap()
                ];
                let mut field = self.field(&options, &full.join("/"));
                if let Some((from, count)) = options.get("gap").map(|v| v.split_once(',').unwrap()) {
                    let (from, count): (usize, usize) = (from.parse().unwrap(), count.parse().unwrap());
                    let ranks = field.frame.ranks as usize;
                    for lane in field.cells.make_mut().chunks_mut(ranks) {
                        lane[from..from + count].fill(EMPTY);
                    }
                }
                self.item(id, plain[0], &options, Body::Field(field));
            }
            "placeholder" => {
                let (w, d) = plain[1].split_once('x').unwrap();
                let needs = options.get("wants").map(|v| v.split_once('*').unwrap());
                let kind = self.plan.stock.kinds[0].id;
                let needs =
                    needs.map(|(c, n)| Need { kind, colour: self.colour(c), count: n.parse().unwrap() });
                let body = Body::Placeholder(Placeholder {
                    length: Length::mm(w.parse().unwrap()),
                    width: Length::mm(d.parse().unwrap()),
                    height: Length::mm(100.0),
                    needs: needs.into_iter().collect(),
                    hours: Duration::ZERO,
                    who: String::new(),
                    ports: if plain.contains(&"ports") { in_and_out() } else { vec![] },
                    delay: plain
                        .contains(&"delay")
                        .then_some(Delay { least: Duration::s(1.0), most: Duration::s(2.0) }),
                });
                self.item(id, plain[0], &options, body);
            }
            other => panic!("what is {other}?"),
        }
    }

    fn field(&self, options: &BTreeMap<&str, &str>, cells: &str) -> Field {
        let lanes: Vec<Vec<char>> = cells.split('/').map(|l| l.trim().chars().collect()).collect();
        let frame = FieldFrame {
            stagger: Length::mm(options.get("stagger").map_or(0.0, |v| v.parse().unwrap())),
            ..FieldFrame::new(
                lanes.len() as u32,
                lanes[0].len() as u32,
                Length::mm(options.get("pitch").map_or(15.0, |v| v.parse().unwrap())),
                Length::mm(options.get("across").map_or(26.0, |v| v.parse().unwrap())),
            )
        };
        let mut field = Field::empty(self.plan.stock.kinds[0].id, frame);
        let ids =
            lanes.concat().into_iter().map(|c| if c == '.' { 0 } else { self.colour(&c.to_string()).0 });
        field.cells = ids.collect::<Vec<_>>().into();
        if let Some((lane, rank)) = options.get("hand").map(|v| v.split_once(',').unwrap()) {
            let (lane, rank): (usize, usize) = (lane.parse().unwrap(), rank.parse().unwrap());
            field.by_hand.make_mut()[lane * lanes[0].len() + rank] = true;
        }
        field
    }

    fn path(&self, options: &BTreeMap<&str, &str>, legs: &str) -> Line {
        let number = |key: &str, usual: f64| options.get(key).map_or(usual, |v| v.parse::<f64>().unwrap());
        let link = |key: &str| {
            let (item, port) = options.get(key)?.split_once(':').unwrap();
            let item = self.plan.item_by_name(item).map_or(ItemId(self.plan.fresh_id() + 1), |i| i.id);
            Some(Link { item, port: port.replace('_', " ") })
        };
        let bridge = |text: &&str| {
            let v: Vec<f64> = text.split(',').map(|v| v.parse().unwrap()).collect();
            let (from, deck, height) = (Length::mm(v[0]), Length::mm(v[1]), Length::mm(v[2]));
            let (thickness, step) = (Length::mm(8.0), Length::mm(v[3]));
            Bridge { from, deck, height, thickness, step, per_step: v[4] as u32 }
        };
        let pitch = Length::mm(number("pitch", 15.0));
        let gap = options.get("gap").map(|v| Length::mm(v.parse().unwrap()));
        Line {
            kind: self.plan.stock.kinds[0].id,
            lanes: number("lanes", 1.0) as u32,
            pitch_across: Length::mm(number("across", 26.0)),
            spacing: gap.map_or(Spacing::Pitch { pitch }, |gap| Spacing::Gap { gap }),
            placed: if options.contains_key("by") { Placing::Hand } else { Placing::Comb },
            path: legs.split('/').map(str::trim).filter(|l| !l.is_empty()).map(leg).collect(),
            from: link("from"),
            to: link("to"),
            colours: Pattern::Plain { colour: self.plan.stock.colours[0].id },
            bridges: options.get("bridge").iter().map(|b| bridge(b)).collect(),
        }
    }

    fn item(&mut self, id: u32, name: &str, options: &BTreeMap<&str, &str>, body: Body) {
        let at = options.get("at").map_or((0.0, 0.0), |v| {
            let (x, y) = v.split_once(',').unwrap();
            (x.parse().unwrap(), y.parse().unwrap())
        });
        let named = |v: &&str| self.plan.surfaces.iter().find(|s| s.name == *v).map(|s| s.id.0);
        let surface = options.get("on").map_or(0, |v| named(v).unwrap_or_else(|| v.parse().unwrap()));
        if surface > 0 && self.plan.surfaces.is_empty() {
            let outline = vec![Point::new(0.0, 0.0), Point::new(9e3, 0.0), Point::new(0.0, 9e3)];
            let (id, height) = (SurfaceId(surface), Length::mm(700.0));
            let surface = Surface {
                id,
                name: "Stage".into(),
                is: SurfaceKind::Table,
                height,
                slope: Slope::default(),
                outline,
            };
            self.apply(Command::PutSurface { surface });
        }
        let heading = Angle::deg(options.get("turn").map_or(0.0, |v| v.parse().unwrap()));
        let (at, surface) = (Point::new(at.0, at.1), SurfaceId(surface));
        let gaps = options.get("leave").map_or_else(Vec::new, |v| v.split(',').map(gap).collect());
        let item = Item { heading, surface, gaps, ..Item::new(ItemId(id), name, at, body) };
        let bare = item.unlinked();
        let first = bare.clone().unwrap_or_else(|| item.clone());
        self.apply(Command::PutItem { item: Box::new(first) });
        self.linked.extend(bare.map(|_| item));
    }

    fn found(&self) -> Vec<findings::Finding> {
        found(self, &self.plan)
    }
}

/// `5-7` or `5`, counted from 1.
fn gap(text: &str) -> SafetyGap {
    let (first, last) = text.split_once('-').unwrap_or((text, text));
    let (first, last): (u32, u32) = (first.parse().unwrap(), last.parse().unwrap());
    SafetyGap { first: first - 1, count: last + 1 - first, stopper: false }
}

fn spot(text: &str) -> Point {
    let (x, y) = text.split_once(',').unwrap();
    Point::new(x.parse().unwrap(), y.parse().unwrap())
}

fn leg(text: &str) -> Leg {
    let words: Vec<&str> = text.split_whitespace().collect();
    let number = |i: usize| words[i].parse::<f64>().unwrap();
    match words[0] {
        "straight" => Leg::Straight { length: Length::mm(number(1)) },
        "arc" => Leg::Arc { radius: Length::mm(number(1)), turn: Angle::deg(number(2)) },
        "spiral" => {
            let (radius, ring) = (Length::mm(number(1)), Length::mm(number(2)));
            Leg::Spiral { radius, ring, turns: number(3), hand: Hand::Left }
        }
        "through" => Leg::Through { points: words[1..].iter().map(|w| spot(w)).collect() },
        other => panic!("what is {other}?"),
    }
}

fn part_kind(word: &str) -> HallPartKind {
    match word {
        "pillar" => HallPartKind::Pillar,
        "door" => HallPartKind::Door,
        "exit" => HallPartKind::Exit,
        "aisle" => HallPartKind::Aisle,
        "table" => HallPartKind::Table,
        "overhead" => HallPartKind::Overhead,
        other => panic!("what is {other}?"),
    }
}

fn in_and_out() -> Vec<Port> {
    let port = |name: &str, flow, x| Port {
        name: name.into(),
        flow,
        at: Point::new(x, 50.0),
        direction: Angle::ZERO,
        height: Length::ZERO,
        width: Length::mm(24.0),
    };
    vec![port("in", PortFlow::In, 0.0), port("out", PortFlow::Out, 100.0)]
}

fn found(case: &Case, plan: &Plan) -> Vec<findings::Finding> {
    let placement = Placement::of(plan);
    let network = Network::of(plan, &placement);
    let input = CheckInput { alike: &case.alike, covered: &case.covered, wanted: &[] };
    check(plan, &placement, &network, &input)
}

fn run(lines: &[&str]) -> (Case, Vec<String>) {
    let mut case = Case::default();
    case.apply(Command::PutKind { kind: Kind::usual(KindId(1)) });
    lines.iter().for_each(|l| case.line(l));
    for item in std::mem::take(&mut case.linked) {
        case.apply(Command::PutItem { item: Box::new(item) });
    }
    let say = |f: &findings::Finding| {
        let severity = match f.severity {
            Severity::Must => "must",
            Severity::Should => "should",
            Severity::Note => "note",
        };
        format!("> {severity} {}, {}: {} {}", f.code, f.place.words, f.message, f.hint).replace('\u{a0}', " ")
    };
    let found = case.found().iter().map(say).collect();
    (case, found)
}

fn check_file(text: &str) {
    let mut names = BTreeSet::new();
    let (mut count, mut wrong) = (0, String::new());
    let head = text.split("\n== ").next().unwrap_or_default();
    let aside: Vec<&str> =
        head.lines().filter_map(|l| l.strip_prefix("aside ")).flat_map(str::split_whitespace).collect();
    for block in text.split("\n== ").skip(1) {
        let (name, body) = block.split_once('\n').unwrap();
        assert!(names.insert(name.to_owned()), "\"{name}\" is there twice");
        let lines: Vec<&str> = body.lines().map(str::trim).filter(|l| !l.is_empty()).collect();
        let (expected, plan): (Vec<&str>, Vec<&str>) = lines.iter().partition(|l| l.starts_with('>'));
        let (case, found) = run(&plan);
        let is_aside = |f: &String| aside.iter().any(|code| f.split(' ').nth(2) == Some(&format!("{code},")));
        let found: Vec<&String> = found.iter().filter(|f| !is_aside(f)).collect();
        if found != expected {
            // All that differ at once, in the form of the file.
            let found = found.iter().map(|f| format!("{f}\n")).collect::<String>();
            wrong += &format!("== {name}\n{}\n{found}\n", plan.join("\n"));
        }
        found.iter().for_each(|f| assert!(is_grouped(f), "{name}: figures run together: {f}"));
        mends_mend(&case, name);
        count += 1;
    }
    assert!(count > 0);
    assert!(wrong.is_empty(), "these cases find something else:\n\n{wrong}");
}

/// Whether thousands are set apart everywhere.
fn is_grouped(text: &str) -> bool {
    text.split(|c: char| !c.is_ascii_digit()).all(|figures| figures.len() < 4)
}

/// A mend must be taken by the gate and must make its finding go away.
fn mends_mend(case: &Case, name: &str) {
    for finding in case.found() {
        let Some(mend) = &finding.mend else { continue };
        let mut plan = case.plan.clone();
        plan.apply(mend).unwrap_or_else(|e| panic!("{name}: {e}"));
        let left = found(case, &plan);
        assert!(!left.iter().any(|f| f.code == finding.code && f.place == finding.place), "{name}");
    }
}

#[test]
fn short_stock_is_told_by_kind_and_colour() {
    check_file(include_str!("cases/short.txt"));
}

#[test]
fn fields_without_pieces_and_gaps_in_pictures_are_told() {
    check_file(include_str!("cases/unfilled.txt"));
}

/// 62.5 mm from face to face are to become 7.5 mm: from 145 mm the field moves 55 mm towards the line.
#[test]
fn the_mend_of_a_field_out_of_reach_moves_it_up_to_the_end_of_the_line() {
    let lines = ["colour S Sky", "field River : SSSSSS", "field Mill at=145,0 : SSSS", "start Push at=-15,0"];
    let (case, _) = run(&lines);
    let unfed = case.found().into_iter().find(|f| f.code == "unfed").unwrap();
    let Some(Command::MoveItem { at, .. }) = unfed.mend else { panic!("{:?}", unfed.mend) };
    assert!((at.x - 90.0).abs() < 1e-9 && at.y.abs() < 1e-9, "{at:?}");
}

#[test]
fn fills_and_feeds_without_a_piece_are_told_with_the_reason() {
    check_file(include_str!("cases/unlaid.txt"));
}

#[test]
fn safety_gaps_beyond_the_end_of_their_item_are_told() {
    check_file(include_str!("cases/gaps.txt"));
}

#[test]
fn colours_that_get_confused_are_told_where_they_touch() {
    check_file(include_str!("cases/alike.txt"));
}

#[test]
fn pitches_without_a_comb_are_told() {
    check_file(include_str!("cases/comb.txt"));
}

#[test]
fn mixed_batches_are_told() {
    check_file(include_str!("cases/batches.txt"));
}

#[test]
fn overlapping_items_are_told() {
    check_file(include_str!("cases/overlap.txt"));
}

#[test]
fn what_stands_outside_the_hall_or_in_its_parts_is_told() {
    check_file(include_str!("cases/hall.txt"));
}

#[test]
fn starts_that_are_missing_or_inside_a_field_are_told() {
    check_file(include_str!("cases/starts.txt"));
}

#[test]
fn links_that_lead_nowhere_are_told() {
    check_file(include_str!("cases/links.txt"));
}

#[test]
fn placeholders_without_ports_or_delay_are_told() {
    check_file(include_str!("cases/placeholders.txt"));
}

#[test]
fn what_is_left_over_is_told() {
    check_file(include_str!("cases/surplus.txt"));
}

#[test]
fn pieces_with_too_little_room_above_are_told() {
    check_file(include_str!("cases/clearance.txt"));
}

#[test]
fn lanes_that_drag_each_other_are_told() {
    check_file(include_str!("cases/sides.txt"));
}

#[test]
fn timed_lines_that_cannot_be_true_are_told() {
    check_file(include_str!("cases/timed.txt"));
}

#[test]
fn tapes_that_cannot_be_true_are_told() {
    check_file(include_str!("cases/tapes.txt"));
}

#[test]
fn fields_that_nobody_can_reach_into_are_told() {
    check_file(include_str!("cases/repair.txt"));
}

#[test]
fn slopes_on_which_nothing_stands_are_told() {
    check_file(include_str!("cases/slope.txt"));
}

#[test]
fn rings_of_links_are_told_once() {
    check_file(include_str!("cases/rings.txt"));
}

#[test]
fn what_the_wave_does_not_reach_is_told() {
    check_file(include_str!("cases/fed.txt"));
}

#[test]
fn the_worst_comes_first_and_the_order_is_always_the_same() {
    let lines = [
        "colour S Sky",
        "colour W Sand",
        "lot S 2 batch=a",
        "lot S 2 batch=b",
        "field Mill : SSS / W..",
        "field Town at=10,10 : ...",
    ];
    let (case, found) = run(&lines);
    let severities: Vec<Severity> = case.found().iter().map(|f| f.severity).collect();
    assert!(severities.is_sorted() && severities.contains(&Severity::Note), "{found:?}");
    assert_eq!(run(&lines).1, found);
}
