//! Which way of feeding suits a field: how sure, how slow, how many pieces, and why not.

use plan::{Body, ColourId, Enter, Feed, FeedWay, Field, Hand, Item, ItemId, LaneCourse, Plan};
use sayings::{Said, feeding, say};
use units::{Angle, Length, maths};

use crate::feed::{Ground, ground};
use crate::feed_measured::{ANGLED, CASES, Case, Family, RUN};
use crate::feed_ways::{deg, lay, mm};

/// How surely a way feeds every lane, on the floors that the hall may have.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Works {
    /// The fall reaches every lane surely.
    Sure,
    /// Some lanes hang on hits that may fail.
    Unsure,
    /// It cannot be laid at this lane pitch, or the fall leaves lanes standing.
    No,
}

/// What the fall of a field says: how surely it reaches every lane, and a sentence about that. The feed is absent where the
/// lanes need none. It is asked only for what can be laid; this crate knows places and no fall.
pub type Judge<'a> = dyn Fn(&Field, Option<&Feed>) -> (Works, Said) + 'a;

/// What one can do to feed a field.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Means {
    /// A feed item with this way.
    Feed(FeedWay),
    /// Another course of the field's lanes.
    Course(LaneCourse),
}

/// What is known of one way of feeding a field.
#[derive(Debug, Clone, PartialEq)]
pub struct Advice {
    /// The way, with the parameters that suit best.
    pub means: Means,
    /// The way of the feed that it takes, at each edge where lanes begin; none for lanes that fall in turn.
    pub feed: Option<FeedWay>,
    /// How surely it works on the floors that the hall may have.
    pub works: Works,
    /// Lanes that fell and lanes run in the nearest measured cases, at friction 0.15; absent where none was run.
    pub at_slick: Option<(u32, u32)>,
    /// The same at friction 0.3.
    pub at_normal: Option<(u32, u32)>,
    /// Time along the edge over that of a straight line of the same length, least and most.
    pub slow: Option<(f64, f64)>,
    /// Pieces that the feed takes at this edge.
    pub pieces: u32,
    /// Whole sentences for the crew, one after another.
    pub why: Vec<Said>,
}

/// The ways to feed a field, for a line that comes from this side, seen along the fall; best first. Empty when the item is no
/// field.
pub fn feed_ways(plan: &Plan, item: &Item, side: Hand, judge: &Judge<'_>) -> Vec<Advice> {
    let Body::Field(field) = &item.body else { return Vec::new() };
    let mut ways = candidates((plan, judge), field, item.id, side);
    ways.push(opposed((plan, judge), field, item.id, side));
    ways.push(in_turn((plan, judge), field));
    let share = |a: &Advice| {
        let of = |f: Option<(u32, u32)>| f.map_or(0, |(fell, run)| 1000 * fell / run.max(1));
        of(a.at_slick).min(of(a.at_normal))
    };
    // What leaves the picture's lanes as they are comes first.
    let changes = |a: &Advice| matches!(a.means, Means::Course(_));
    ways.sort_by(|a, b| {
        (a.works, changes(a), share(b), a.pieces).cmp(&(b.works, changes(b), share(a), b.pieces))
    });
    ways
}

/// The pitch at which a feed of a field is laid: that of the field, kept within what was measured for its kind.
pub fn feed_pitch(plan: &Plan, field: &Field) -> Length {
    let thickness = plan.stock.kind(field.kind).map_or(0.0, |k| k.thickness.to_mm());
    Length::mm(field.frame.pitch_along.to_mm().clamp(thickness + 5.0, thickness + 20.0))
}

/// A feed of a field as it is laid: of the field's own kind, at the pitch of a feed.
pub fn feed_of(plan: &Plan, field: &Field, of: ItemId, way: FeedWay, colour: ColourId) -> Feed {
    Feed { of, way, kind: field.kind, colour, pitch: feed_pitch(plan, field) }
}

/// The same to be looked at: its colour is of no importance.
fn feed(plan: &Plan, field: &Field, of: ItemId, way: FeedWay) -> Feed {
    feed_of(plan, field, of, way, ColourId(1))
}

fn tries(side: Hand) -> Vec<Vec<FeedWay>> {
    let (deg, mm) = (Angle::deg, Length::mm);
    let beside = |turn, gap| FeedWay::Beside { side, turn: deg(turn), gap: mm(gap), poke: mm(6.0) };
    let angled = |turn| FeedWay::Angled { side, turn: deg(turn), poke: mm(6.0) };
    let in_line = |turn, clear| FeedWay::InLine { side, turn: deg(turn), clear: mm(clear) };
    let echelon = |turn| FeedWay::Echelon { side, turn: deg(turn) };
    vec![
        vec![FeedWay::Brick { enter: Enter::Middle }],
        vec![beside(45.0, 16.0), beside(30.0, 16.0), beside(45.0, 20.0)],
        vec![angled(45.0), angled(30.0), angled(60.0)],
        vec![in_line(45.0, 3.0), in_line(30.0, 3.0), in_line(45.0, 0.5)],
        vec![echelon(50.0), echelon(45.0), echelon(55.0)],
        vec![FeedWay::HalfShift { side }],
    ]
}

/// The best of each way.
fn candidates(asked: (&Plan, &Judge<'_>), field: &Field, of: ItemId, side: Hand) -> Vec<Advice> {
    let best = |ways: Vec<FeedWay>| {
        let each = ways.into_iter().map(|way| advice(asked, field, &feed(asked.0, field, of, way)));
        each.min_by_key(|a| a.works)
    };
    tries(side).into_iter().filter_map(best).collect()
}

/// How many pieces a feed takes.
///
/// # Errors
/// A sentence that says why it cannot be laid.
pub fn feed_fits(plan: &Plan, field: &Field, feed: &Feed) -> Result<u32, Said> {
    let layout = lay(&ground(plan, field, feed, false)?, &feed.way)?;
    Ok(layout.spots.len() as u32)
}

/// What is known of one way with its parameters as they are.
fn advice((plan, judge): (&Plan, &Judge<'_>), field: &Field, feed: &Feed) -> Advice {
    let mut advice = Advice {
        means: Means::Feed(feed.way),
        feed: Some(feed.way),
        works: Works::No,
        at_slick: None,
        at_normal: None,
        slow: None,
        pieces: 0,
        why: Vec::new(),
    };
    match feed_fits(plan, field, feed) {
        Ok(pieces) => advice.pieces = pieces,
        Err(why) => return Advice { why: vec![why], ..advice },
    }
    if let Ok(ground) = ground(plan, field, feed, false) {
        let known = Known::near(&ground, &feed.way);
        advice.at_slick = known.slick;
        advice.at_normal = known.normal;
        advice.slow = known.slow;
        advice.why = measured(&ground, &known);
    }
    let (works, why) = judge(field, Some(feed));
    advice.works = works;
    advice.why.insert(0, why);
    advice
}

/// What was measured near a case, the worse of its neighbours.
struct Known {
    slick: Option<(u32, u32)>,
    normal: Option<(u32, u32)>,
    slow: Option<(f64, f64)>,
    /// True when this very case was run.
    exact: bool,
    /// True when cases on both sides of it were run.
    within: bool,
    /// True when it was run with exact places only.
    unscattered: bool,
}

impl Known {
    const NOTHING: Self =
        Self { slick: None, normal: None, slow: None, exact: false, within: false, unscattered: false };

    fn near(ground: &Ground, way: &FeedWay) -> Self {
        let cases = |family, turn: f64, local: f64, poke: f64, by_lanes| {
            let same = |c: &&Case| {
                let like = |a: f64, b: f64, slack: f64| (a - b).abs() <= slack;
                c.family == family
                    && like(c.turn, turn, 0.5)
                    && like(c.local, local, 0.3)
                    && like(c.poke, poke, 0.1)
            };
            Self::of(ground, CASES.iter().filter(same).collect(), by_lanes)
        };
        match *way {
            FeedWay::Brick { .. } => {
                let known = cases(Family::Brick, 0.0, 0.0, 0.0, true);
                // Source of the slowness: hops within the brick ranks against a straight lane, single exact runs.
                Self { slow: Some((1.5, 1.7)), ..known }
            }
            FeedWay::Beside { turn, gap, poke, .. } => {
                cases(Family::Beside, turn.to_deg(), gap.to_mm(), poke.to_mm(), false)
            }
            FeedWay::InLine { turn, clear, .. } => {
                cases(Family::InLine, turn.to_deg(), clear.to_mm(), 0.0, true)
            }
            FeedWay::Echelon { turn, .. } => cases(Family::Echelon, turn.to_deg(), 3.0, 0.0, true),
            FeedWay::HalfShift { .. } => cases(Family::HalfShift, 0.0, 0.0, 0.0, true),
            FeedWay::Angled { turn, poke, .. } => Self::angled(turn, poke),
        }
    }

    fn of(ground: &Ground, cases: Vec<&Case>, by_lanes: bool) -> Self {
        let gap = ground.pitch - ground.thickness;
        let (gaps, gap_exact, gap_within) = beside_of(&cases, gap, |c| c.gap);
        let cases: Vec<&Case> =
            cases.into_iter().filter(|c| gaps.iter().any(|g| (c.gap - g).abs() < 0.1)).collect();
        let (lanes, lanes_exact, lanes_within) =
            if by_lanes { beside_of(&cases, ground.step, |c| c.lanes) } else { (Vec::new(), true, true) };
        let near = |c: &&&Case| !by_lanes || lanes.iter().any(|l| (c.lanes - l).abs() < 0.1);
        let cases: Vec<&Case> = cases.iter().filter(near).copied().collect();
        let Some(slick) = cases.iter().map(|c| c.fell.0).min() else { return Self::NOTHING };
        let normal = cases.iter().map(|c| c.fell.1).min().unwrap_or(0);
        let slow: Vec<f64> = cases.iter().flat_map(|c| [c.slow.0, c.slow.1]).filter(|s| *s > 0.0).collect();
        let least = slow.iter().copied().fold(f64::INFINITY, f64::min);
        let most = slow.iter().copied().fold(0.0, f64::max);
        Self {
            slick: Some((slick, RUN)),
            normal: Some((normal, RUN)),
            slow: (!slow.is_empty()).then_some((least, most)),
            exact: gap_exact && lanes_exact,
            within: gap_within && lanes_within,
            unscattered: false,
        }
    }

    fn angled(turn: Angle, poke: Length) -> Self {
        let like = |a: f64, b: f64| (a - b).abs() < 0.5;
        let case = ANGLED.iter().find(|c| like(c.turn, turn.to_deg()) && like(c.poke, poke.to_mm()));
        case.map_or(Self::NOTHING, |c| Self {
            slick: Some(c.slick),
            normal: Some(c.normal),
            slow: Some(c.slow),
            exact: false,
            within: true,
            unscattered: true,
        })
    }
}

/// The measured values next to one on either side, whether it is one of them, and whether it lies between two.
fn beside_of(cases: &[&Case], value: f64, of: impl Fn(&Case) -> f64) -> (Vec<f64>, bool, bool) {
    let values = || cases.iter().map(|c| of(c));
    if let Some(exact) = values().find(|v| (v - value).abs() <= 0.3) {
        return (vec![exact], true, true);
    }
    let below =
        values().filter(|v| *v < value).fold(None, |m: Option<f64>, v| Some(m.map_or(v, |m| m.max(v))));
    let above =
        values().filter(|v| *v > value).fold(None, |m: Option<f64>, v| Some(m.map_or(v, |m| m.min(v))));
    let within = below.is_some() && above.is_some();
    (below.into_iter().chain(above).collect(), false, within)
}

/// What was run near it, in sentences.
fn measured(ground: &Ground, known: &Known) -> Vec<Said> {
    let (Some(slick), Some(normal)) = (known.slick, known.normal) else {
        return vec![say!(feeding::NOTHING)];
    };
    let mut why = vec![say!(
        feeding::FELL,
        slick = slick.0,
        slick_run = slick.1,
        normal = normal.0,
        normal_run = normal.1
    )];
    if !known.exact {
        why.push(if known.within { say!(feeding::WITHIN) } else { say!(feeding::BEYOND) });
    }
    let usual = (ground.width - 24.0).abs() < 0.6 && (ground.thickness - 7.5).abs() < 0.6;
    if !usual {
        why.push(say!(feeding::USUAL, high = mm(48.0), wide = mm(24.0), thick = mm(7.5)));
    }
    if known.unscattered {
        why.push(say!(feeding::SCATTER));
    }
    why
}

/// Every second lane the other way: each edge then feeds lanes that lie twice as far apart.
fn opposed(asked: (&Plan, &Judge<'_>), field: &Field, of: ItemId, side: Hand) -> Advice {
    let mut other = field.clone();
    other.frame.course = LaneCourse::Opposed;
    let best = candidates(asked, &other, of, side).into_iter().min_by_key(|a| (a.works, a.pieces));
    let means = Means::Course(LaneCourse::Opposed);
    let best = best.filter(|best| best.works != Works::No).and_then(|best| match best.means {
        Means::Feed(way) => Some((way, best)),
        Means::Course(_) => None,
    });
    match best {
        Some((way, mut best)) => {
            let lanes = mm(2.0 * field.frame.pitch_across.to_mm());
            best.why.insert(0, say!(feeding::OPPOSED, lanes = lanes, way = said_name(&way)));
            Advice { means, ..best }
        }
        None => Advice {
            means,
            feed: None,
            works: Works::No,
            at_slick: None,
            at_normal: None,
            slow: None,
            pieces: 0,
            why: vec![say!(feeding::OPPOSED_NONE)],
        },
    }
}

/// Steps of a half circle up to this angle always passed, degrees (own runs of a rigid-body model, 2026).
const ALWAYS: f64 = 30.0;
/// Up to this one they mostly did, and larger ones failed, degrees (same runs).
const MOSTLY: f64 = 45.0;

/// One lane after another through round turns, whose radius is half the lane pitch.
fn in_turn((plan, judge): (&Plan, &Judge<'_>), field: &Field) -> Advice {
    let across = field.frame.pitch_across.to_mm();
    let pitch = feed_pitch(plan, field).to_mm();
    let step = Angle::rad(2.0 * maths::asin((pitch / across).min(1.0))).to_deg();
    let mut other = field.clone();
    other.frame.course = LaneCourse::InTurn;
    let (works, fall) = judge(&other, None);
    let turn = std::f64::consts::PI * across / 2.0 / pitch.max(1e-9);
    let pieces = (turn.ceil().clamp(0.0, 1e6) * f64::from(field.frame.lanes.saturating_sub(1))).min(1e9);
    Advice {
        means: Means::Course(LaneCourse::InTurn),
        feed: None,
        works,
        at_slick: None,
        at_normal: None,
        slow: Some((f64::from(field.frame.lanes), f64::from(field.frame.lanes))),
        pieces: pieces as u32,
        why: vec![
            fall,
            say!(
                feeding::TURNS,
                lanes = mm(across),
                step = deg(step),
                always = deg(ALWAYS),
                mostly = deg(MOSTLY)
            ),
        ],
    }
}

/// The name of a way in a sentence.
fn said_name(way: &FeedWay) -> Said {
    match way {
        FeedWay::Brick { .. } => say!(feeding::WAY_BRICK),
        FeedWay::Beside { .. } => say!(feeding::WAY_BESIDE),
        FeedWay::Angled { .. } => say!(feeding::WAY_ANGLED),
        FeedWay::InLine { .. } => say!(feeding::WAY_IN_LINE),
        FeedWay::Echelon { .. } => say!(feeding::WAY_ECHELON),
        FeedWay::HalfShift { .. } => say!(feeding::WAY_HALF_SHIFT),
    }
}

/// The name of a way, as it is written.
pub fn way_name(way: &FeedWay) -> &'static str {
    match way {
        FeedWay::Brick { .. } => "brick",
        FeedWay::Beside { .. } => "beside",
        FeedWay::Angled { .. } => "angled",
        FeedWay::InLine { .. } => "in-line",
        FeedWay::Echelon { .. } => "echelon",
        FeedWay::HalfShift { .. } => "half-shift",
    }
}
