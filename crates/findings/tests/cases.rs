//! Text cases: a small plan in a few words, and the findings that it must give, in order.
//!
//! A case begins with `== name`; names are unique. Lines that begin with `>` are the expected findings.
//! `colour CODE NAME`, `lot CODE COUNT [batch=…] [spare=…] [offered=…]`, `comb PITCH`, `kind NAME`, `alike CODE CODE WHY`;
//! `field NAME [at=X,Y] [turn=DEG] [pitch=MM] [on=SURFACE] [hand=LANE,RANK] [covered] : LANE / LANE` with one sign a cell;
//! `placeholder NAME WIDTHxDEPTH [at=X,Y] [turn=DEG] [on=SURFACE] [wants=CODE*COUNT]`.

#![allow(clippy::unwrap_used, reason = "helpers of tests may panic")]

use std::collections::{BTreeMap, BTreeSet};

use findings::{CheckInput, Severity, check};
use geometry::Point;
use plan::*;
use units::{Angle, Duration, Length};

#[derive(Default)]
struct Case {
    plan: Plan,
    alike: Vec<(ColourId, ColourId, String)>,
    covered: Vec<(ItemId, Vec<bool>)>,
}

impl Case {
    fn apply(&mut self, command: Command) {
        self.plan.apply(&command).unwrap_or_else(|e| panic!("{e}"));
    }

    fn colour(&self, code: &str) -> ColourId {
        self.plan.stock.colour_by_code(code).unwrap_or_else(|| panic!("no colour {code}")).id
    }

    fn line(&mut self, line: &str) {
        let (head, cells) = line.split_once(':').unwrap_or((line, ""));
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
                let (code, name) = (plain[0].into(), plain[1].into());
                let colour = Colour {
                    id: ColourId(id as u16),
                    name,
                    code,
                    front: c,
                    back: c,
                    edge: c,
                    finish: Finish::Matt,
                };
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
            "alike" => {
                let pair = (self.colour(plain[0]), self.colour(plain[1]), plain[2..].join(" "));
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
                    ports: vec![],
                    delay: None,
                });
                self.item(id, plain[0], &options, body);
            }
            other => panic!("what is {other}?"),
        }
    }

    fn field(&self, options: &BTreeMap<&str, &str>, cells: &str) -> Field {
        let lanes: Vec<Vec<char>> = cells.split('/').map(|l| l.trim().chars().collect()).collect();
        let frame = FieldFrame {
            lanes: lanes.len() as u32,
            ranks: lanes[0].len() as u32,
            pitch_along: Length::mm(options.get("pitch").map_or(15.0, |v| v.parse().unwrap())),
            pitch_across: Length::mm(25.0),
            stagger: Length::ZERO,
            fall: Default::default(),
            course: Default::default(),
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

    fn item(&mut self, id: u32, name: &str, options: &BTreeMap<&str, &str>, body: Body) {
        let at = options.get("at").map_or((0.0, 0.0), |v| {
            let (x, y) = v.split_once(',').unwrap();
            (x.parse().unwrap(), y.parse().unwrap())
        });
        let surface = options.get("on").map_or(0, |v| v.parse().unwrap());
        if surface > 0 && self.plan.surfaces.is_empty() {
            let outline = vec![Point::new(0.0, 0.0), Point::new(9e3, 0.0), Point::new(0.0, 9e3)];
            let (id, height) = (SurfaceId(surface), Length::mm(700.0));
            let surface = Surface { id, name: "Stage".into(), is: SurfaceKind::Table, height, outline };
            self.apply(Command::PutSurface { surface });
        }
        let heading = Angle::deg(options.get("turn").map_or(0.0, |v| v.parse().unwrap()));
        let (at, surface) = (Point::new(at.0, at.1), SurfaceId(surface));
        let item = Item {
            id: ItemId(id),
            name: name.into(),
            at,
            heading,
            surface,
            section: None,
            body,
            built: None,
            gaps: Vec::new(),
        };
        self.apply(Command::PutItem { item: Box::new(item) });
    }

    fn found(&self) -> Vec<findings::Finding> {
        check(&self.plan, &CheckInput { alike: &self.alike, covered: &self.covered, wanted: &[] })
    }
}

fn run(lines: &[&str]) -> (Case, Vec<String>) {
    let mut case = Case::default();
    case.apply(Command::PutKind { kind: Kind::usual(KindId(1)) });
    lines.iter().for_each(|l| case.line(l));
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
    let mut count = 0;
    for block in text.split("\n== ").skip(1) {
        let (name, body) = block.split_once('\n').unwrap();
        assert!(names.insert(name.to_owned()), "\"{name}\" is there twice");
        let lines: Vec<&str> = body.lines().map(str::trim).filter(|l| !l.is_empty()).collect();
        let (expected, plan): (Vec<&str>, Vec<&str>) = lines.iter().partition(|l| l.starts_with('>'));
        let (case, found) = run(&plan);
        assert_eq!(found, expected, "{name}");
        mends_mend(&case, name);
        count += 1;
    }
    assert!(count > 0);
}

/// A mend must be taken by the gate and must make its finding go away.
fn mends_mend(case: &Case, name: &str) {
    for finding in case.found() {
        let Some(mend) = &finding.mend else { continue };
        let mut plan = case.plan.clone();
        plan.apply(mend).unwrap_or_else(|e| panic!("{name}: {e}"));
        let left = check(&plan, &CheckInput { alike: &case.alike, covered: &case.covered, wanted: &[] });
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
