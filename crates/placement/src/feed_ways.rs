//! The ways of feeding a field, each laid out as it was measured.
//!
//! Sources: the geometries are those of our own rigid-body runs (rapier3d 0.36.1, pieces of 48 x 24 x 7.5 mm, clear gaps
//! of 7.5 to 20 mm, friction 0.15 and 0.3), condensed in `feed_measured`.

use plan::{Enter, FeedWay};
use sayings::{Arg, Said, feeding, say};
use units::{Angle, Length};

use crate::feed::{Ground, MOST_PIECES};

/// Clear distance that a lane keeps from the turned pieces of an echelon, and those from the line before them, mm.
const ECHELON_CLEAR: f64 = 3.0;
/// How far each lane begins beyond its turned piece in an echelon, mm.
const ECHELON_SHIFT: f64 = 4.0;
/// Places that were found by shifting a piece until it was clear were found in steps so long, mm.
const STEP: f64 = 0.25;
/// No step of a lane that turns away from the line is larger, degrees.
const TURN_AT_ONCE: f64 = 30.0;
/// The least clear gap that a comb sets reliably, mm; and the largest that was measured here.
const GAPS: (f64, f64) = (5.0, 20.0);

/// One piece on the ground: x along the line, y along the fall, and its turn from x towards y.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Spot {
    /// 0 for the feeding line; else the lane of the field, counted from 1.
    pub lane: u32,
    /// Along the lane.
    pub rank: u32,
    /// Along the edge, mm.
    pub x: f64,
    /// Along the fall, mm.
    pub y: f64,
    /// In which direction it falls.
    pub turn: Angle,
}

/// All pieces of a feed in order of lane, then rank; the very first one is where the line arrives.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Layout {
    /// The pieces.
    pub spots: Vec<Spot>,
    /// Where the next piece of the feeding line would stand, if that goes on.
    pub end: Option<Spot>,
}

/// The pieces of a feed.
///
/// # Errors
/// A sentence that says why this way is not possible on this ground.
pub(crate) fn lay(ground: &Ground, way: &FeedWay) -> Result<Layout, Said> {
    sound(ground)?;
    let mut layout = match *way {
        FeedWay::Brick { enter } => brick(ground, enter),
        FeedWay::Beside { turn, gap, poke, .. } => beside(ground, turn, gap, poke),
        FeedWay::Angled { turn, poke, .. } => angled(ground, turn, poke),
        FeedWay::InLine { turn, clear, .. } => in_line(ground, turn, clear),
        FeedWay::Echelon { turn, .. } => echelon(ground, turn),
        FeedWay::HalfShift { .. } => half_shift(ground),
    }?;
    layout.spots.sort_by_key(|s| (s.lane, s.rank));
    Ok(layout)
}

fn sound(ground: &Ground) -> Result<(), Said> {
    let gap = ground.pitch - ground.thickness;
    if !(GAPS.0..=GAPS.1 + 0.5).contains(&gap) {
        let (least, most) = (mm(GAPS.0), mm(GAPS.1));
        return Err(say!(
            feeding::PITCH,
            pitch = mm(ground.pitch),
            gap = mm(gap),
            least = least,
            most = most
        ));
    }
    if ground.step < ground.width + 0.5 {
        return Err(say!(feeding::ROOM, lanes = mm(ground.step), wide = mm(ground.width)));
    }
    Ok(())
}

/// Pieces one after another with the rank counted on.
struct Lane {
    number: u32,
    next: u32,
}

impl Lane {
    fn new(number: u32) -> Self {
        Self { number, next: 0 }
    }

    fn spot(&mut self, x: f64, y: f64, turn: Angle) -> Spot {
        let spot = Spot { lane: self.number, rank: self.next, x, y, turn };
        self.next += 1;
        spot
    }
}

const ALONG_LINE: Angle = Angle::ZERO;
const ALONG_FALL: Angle = Angle::deg(90.0);

/// Ranks shifted alternately by half a lane pitch. Only the pieces are laid that the fall reaches: a triangle that
/// begins with two pieces and grows by half a lane pitch on either side with each rank.
fn brick(ground: &Ground, enter: Enter) -> Result<Layout, Said> {
    overlap_half(ground)?;
    let lanes = ground.lanes.len() as i64;
    // All in half lane pitches, so that the counting is exact.
    let last = 2 * (lanes - 1);
    let centre = match enter {
        Enter::Middle => lanes - 1,
        Enter::Right => 0,
        Enter::Left => last,
    };
    let reach = centre.max(last - centre);
    let ranks = reach + 1;
    bounded((ranks * (ranks + 3) / 2) as usize)?;
    let (half, p) = (ground.step / 2.0, ground.pitch);
    let y = |rank: i64| -((ranks - rank) as f64) * p;
    let mut spots = vec![Lane::new(0).spot(centre as f64 * half, y(-1), ALONG_FALL)];
    for rank in 0..ranks {
        let from = (centre - rank - 1).max(-1);
        for at in (from..=(centre + rank + 1).min(last + 1)).filter(|at| (at - centre + rank + 1) % 2 == 0) {
            // A shifted piece belongs to the lane before it; before the very first lane that is the feeding line.
            let lane = if at < 0 { 0 } else { ground.lanes[(at / 2) as usize] + 1 };
            spots.push(Spot {
                lane,
                rank: rank as u32 + 1,
                x: at as f64 * half,
                y: y(rank),
                turn: ALONG_FALL,
            });
        }
    }
    Ok(Layout { spots, end: None })
}

/// All pieces face along the lanes. The diagonal leads from lane to lane: a piece on the lane, one half a lane over, a
/// piece on the next; each lane goes on two ranks after its piece on the diagonal.
fn half_shift(ground: &Ground) -> Result<Layout, Said> {
    overlap_half(ground)?;
    let lanes = ground.lanes.len();
    bounded(lanes.saturating_mul(lanes))?;
    let ranks = 2 * lanes - 1;
    let y = |rank: usize| -((ranks - rank) as f64) * ground.pitch;
    let mut spots = Vec::with_capacity(lanes * lanes);
    for (k, &number) in ground.lanes.iter().enumerate() {
        let x = k as f64 * ground.step;
        let mut push = |rank: usize, x| {
            spots.push(Spot { lane: number + 1, rank: rank as u32, x, y: y(rank), turn: ALONG_FALL });
        };
        push(2 * k, x);
        if k + 1 < lanes {
            push(2 * k + 1, x + ground.step / 2.0);
            (2 * k + 2..ranks).for_each(|rank| push(rank, x));
        }
    }
    Ok(Layout { spots: first_met(spots, ground), end: None })
}

/// The entry is the first piece in order; where the line meets the last lane of the field first, that order is not
/// that of the lanes. The piece that the line meets is then called lane 0, rank 0.
fn first_met(mut spots: Vec<Spot>, ground: &Ground) -> Vec<Spot> {
    let first = ground.lanes.first().map_or(0, |l| l + 1);
    for spot in spots.iter_mut().filter(|s| s.lane == first && s.rank == 0) {
        spot.lane = 0;
    }
    spots
}

/// One turned piece for each lane, side by side along the edge, behind a plain piece of the line.
fn echelon(ground: &Ground, turn: Angle) -> Result<Layout, Said> {
    let (sin, cos) = turned(turn, 20.0, 75.0)?;
    let side = ground.step * sin;
    if side > ground.width - 1.0 + 0.05 {
        return Err(say!(
            feeding::OVERLAP,
            lanes = mm(ground.step),
            turn = deg(turn.to_deg()),
            reach = mm((ground.width - side).max(0.0)),
            least = mm(1.0)
        ));
    }
    let room = ground.step * cos - ground.thickness;
    if room < 4.0 - 0.05 {
        return Err(say!(
            feeding::BETWEEN,
            lanes = mm(ground.step),
            turn = deg(turn.to_deg()),
            left = mm(room.max(0.0)),
            least = mm(4.0)
        ));
    }
    let ahead = ground.width / 2.0 * cos + ground.thickness / 2.0 * sin;
    let y = -up(ahead + ECHELON_CLEAR + ground.thickness / 2.0);
    let beside = ground.width / 2.0 * sin + ground.thickness / 2.0 * cos;
    let next = beside + ECHELON_CLEAR + ground.thickness / 2.0;
    let x = |k: usize| k as f64 * ground.step - ECHELON_SHIFT;
    let mut line = Lane::new(0);
    let mut spots = vec![line.spot(x(0) - next, y, ALONG_LINE)];
    for (k, &number) in ground.lanes.iter().enumerate() {
        spots.push(Lane::new(number + 1).spot(x(k), y, turn));
    }
    // That the line goes on behind the last turned piece was not measured: it is for a line that is linked there.
    let end = line.spot(x(ground.lanes.len().saturating_sub(1)) + next, y, ALONG_LINE);
    Ok(Layout { spots, end: Some(end) })
}

/// A line along the edge in which one piece for each lane is turned; each lane begins beside it, turned half-way.
fn in_line(ground: &Ground, turn: Angle, clear: Length) -> Result<Layout, Said> {
    let (sin, cos) = turned(turn, 20.0, 60.0)?;
    let (w, d) = (ground.width, ground.thickness);
    let next = w / 2.0 * sin + d / 2.0 * cos + clear.to_mm() + d / 2.0;
    let between = even(ground.step - 2.0 * next, ground, 0, 3.0).ok_or_else(|| {
        let (turn, need) = (deg(turn.to_deg()), mm(2.0 * next));
        say!(feeding::IN_LINE, turn = turn, need = need, lanes = mm(ground.step))
    })?;
    let half_way = (turn + ALONG_FALL) * 0.5;
    let off = clear_of(ground, turn, half_way, next);
    let (dx, dy) = step_to(half_way, ALONG_FALL, ground.pitch);
    let y = -(off + dy);
    let mut line = Lane::new(0);
    let mut spots = vec![line.spot(-dx - next, y, ALONG_LINE)];
    let mut x = -dx;
    for &number in &ground.lanes {
        let mut lane = Lane::new(number + 1);
        spots.push(lane.spot(x, y, turn));
        spots.push(lane.spot(x, y + off, half_way));
        let last = x + next;
        spots.extend((0..=between.count).map(|i| line.spot(last + between.at(i), y, ALONG_LINE)));
        x += ground.step;
    }
    // The pieces that would lead to one lane more are left out.
    spots.truncate(spots.len() - between.count as usize);
    line.next -= between.count;
    let last = x - ground.step + next;
    let end = line.spot(last + ground.pitch, y, ALONG_LINE);
    Ok(Layout { spots, end: Some(end) })
}

/// A line along the edge; beside a wider gap, for each lane, a turned piece pokes into its sweep, and the lane turns
/// on from there.
fn beside(ground: &Ground, turn: Angle, gap: Length, poke: Length) -> Result<Layout, Said> {
    turned(turn, 15.0, 60.0)?;
    fits(ground, turn, gap, poke)?;
    let (w, d) = (ground.width, ground.thickness);
    let between = even(ground.step - gap.to_mm() - d, ground, 1, 0.0).ok_or_else(|| {
        let need = mm(gap.to_mm() + 2.0 * d + GAPS.0);
        say!(feeding::BESIDE, gap = mm(gap.to_mm()), need = need, lanes = mm(ground.step))
    })?;
    // From the turned piece, at (0, 0), to the lane's own first piece.
    let turns = ((ALONG_FALL - turn).to_deg() / TURN_AT_ONCE - 1e-9).ceil().max(1.0) as u32;
    let heading = |i: u32| turn + (ALONG_FALL - turn) * (f64::from(i) / f64::from(turns));
    let mut chain = vec![(0.0, 0.0, turn)];
    for i in 1..=turns {
        let (x, y, _) = chain[i as usize - 1];
        let (dx, dy) = step_to(heading(i - 1), heading(i), ground.pitch);
        chain.push((x + dx, y + dy, heading(i)));
    }
    let Some((dx, dy, _)) = chain.pop() else { return Err(say!(feeding::NO_TURN)) };
    let (cx, cy) = inner_corner(turn, w, d);
    let axis = -dy + cy - (w / 2.0 - poke.to_mm());
    let mut line = Lane::new(0);
    let to_face = gap.to_mm() / 2.0 + d / 2.0;
    let mut spots = vec![line.spot(-dx + cx - to_face, axis, ALONG_LINE)];
    for (k, &number) in ground.lanes.iter().enumerate() {
        let mut lane = Lane::new(number + 1);
        let x = k as f64 * ground.step - dx;
        spots.extend(chain.iter().map(|c| lane.spot(x + c.0, c.1 - dy, c.2)));
        let count = if k + 1 < ground.lanes.len() { between.count } else { 0 };
        let after = x + cx + to_face;
        spots.extend((0..=count).map(|i| line.spot(after + between.at(i), axis, ALONG_LINE)));
    }
    let last = (ground.lanes.len().saturating_sub(1)) as f64 * ground.step - dx + cx + to_face;
    let end = line.spot(last + ground.pitch, axis, ALONG_LINE);
    Ok(Layout { spots, end: Some(end) })
}

/// A line that runs past the lanes at an angle; each lane begins where its corner pokes into the line's sweep.
fn angled(ground: &Ground, turn: Angle, poke: Length) -> Result<Layout, Said> {
    let (sin, cos) = turned(turn, 30.0, 60.0)?;
    let gap = Length::mm(angled_gap(turn));
    fits(ground, turn, gap, poke)?;
    let (w, d) = (ground.width, ground.thickness);
    let along = ground.step / sin;
    let between = even(along - gap.to_mm() - d, ground, 1, 0.0).ok_or_else(|| {
        let (turn, need) = (deg(turn.to_deg()), mm((gap.to_mm() + 2.0 * d + GAPS.0) * sin));
        say!(feeding::ANGLED, turn = turn, need = need, lanes = mm(ground.step))
    })?;
    let lanes = ground.lanes.len();
    let climb = ground.step * cos / sin;
    let most = lanes as f64 * (lanes as f64 * climb / ground.pitch + 3.0 + f64::from(between.count));
    bounded(most as usize)?;
    let first = |k: usize| -ground.pitch - (lanes - 1 - k) as f64 * climb;
    let heading = ALONG_FALL - turn;
    // On the line's axis, beside the corner of lane k's first piece.
    let axis = |k: usize, ahead: f64| {
        let inwards = w / 2.0 - poke.to_mm();
        let (x, y) = (k as f64 * ground.step + w / 2.0, first(k) - d / 2.0);
        (x + inwards * cos + ahead * sin, y - inwards * sin + ahead * cos)
    };
    let mut line = Lane::new(0);
    let mut on_line = |k: usize, ahead: f64| {
        let (x, y) = axis(k, ahead);
        line.spot(x, y, heading)
    };
    let to_face = gap.to_mm() / 2.0 + d / 2.0;
    let mut spots = vec![on_line(0, -to_face)];
    for (k, &number) in ground.lanes.iter().enumerate() {
        let way = -first(k);
        let count = (way / ground.pitch + 0.25).floor().max(1.0) as u32;
        let mut lane = Lane::new(number + 1);
        let each = way / f64::from(count);
        let x = k as f64 * ground.step;
        spots.extend((0..count).map(|i| lane.spot(x, first(k) + f64::from(i) * each, ALONG_FALL)));
        let count = if k + 1 < lanes { between.count } else { 0 };
        spots.extend((0..=count).map(|i| on_line(k, to_face + between.at(i))));
    }
    let end = on_line(lanes.saturating_sub(1), to_face + ground.pitch);
    Ok(Layout { spots, end: Some(end) })
}

/// The gap beside which a piece at this angle to the line fits with a poke of 6 mm, mm.
pub(crate) fn angled_gap(turn: Angle) -> f64 {
    if turn.to_deg() <= 45.0 + 1e-9 { 16.0 } else { 25.0 }
}

/// Steps of one length, none of them away from the measured gaps.
struct Even {
    count: u32,
    each: f64,
}

impl Even {
    fn at(&self, i: u32) -> f64 {
        f64::from(i) * self.each
    }
}

/// A way filled with steps near the pitch, at least so many; none at all may leave up to `slack` mm.
fn even(way: f64, ground: &Ground, least: u32, slack: f64) -> Option<Even> {
    if least == 0 && (-0.06..=slack).contains(&way) {
        return Some(Even { count: 0, each: 0.0 });
    }
    let count = (way / ground.pitch).round().clamp(f64::from(least.max(1)), 1e6) as u32;
    let each = way / f64::from(count);
    let gap = each - ground.thickness;
    (GAPS.0 - 0.05..=GAPS.1 + 0.5).contains(&gap).then_some(Even { count, each })
}

/// Whether a piece turned so far fits beside a gap with such a poke, as the runs were set up (scaled with the piece).
fn fits(ground: &Ground, turn: Angle, gap: Length, poke: Length) -> Result<(), Said> {
    let (a, g, q) = (turn.to_deg(), gap.to_mm(), poke.to_mm());
    let room = [
        (12.0, 32.0, 4.0),
        (16.0, 32.0, 9.0),
        (16.0, 47.0, 6.0),
        (20.0, 47.0, 9.0),
        (20.0, 62.0, 4.0),
        (25.0, 62.0, 6.0),
    ];
    let scale = ground.width / 24.0;
    let fit = room
        .iter()
        .any(|&(gap, turn, poke)| g >= gap * scale - 0.05 && a <= turn && q <= poke * scale + 0.05);
    if fit && q > 0.0 {
        return Ok(());
    }
    Err(say!(feeding::FITS, turn = deg(a), poke = mm(q), gap = mm(g)))
}

fn turned(turn: Angle, least: f64, most: f64) -> Result<(f64, f64), Said> {
    let a = turn.to_deg();
    if (least..=most).contains(&a) {
        return Ok(turn.sin_cos());
    }
    Err(say!(feeding::TURNED, turn = deg(a), least = deg(least), most = deg(most)))
}

fn overlap_half(ground: &Ground) -> Result<(), Said> {
    if ground.step / 2.0 <= ground.width - 0.5 {
        return Ok(());
    }
    Err(say!(feeding::WIDE, lanes = mm(ground.step)))
}

fn bounded(pieces: usize) -> Result<(), Said> {
    if pieces <= MOST_PIECES {
        return Ok(());
    }
    Err(say!(feeding::TOO_MANY, pieces = pieces as u64))
}

/// From one piece to the next one: a chord of the pitch, half-way between their headings.
fn step_to(from: Angle, to: Angle, pitch: f64) -> (f64, f64) {
    let (s, c) = ((from + to) * 0.5).sin_cos();
    (pitch * c, pitch * s)
}

/// From the centre of a piece that is turned away from the line to the corner that is nearest to the line.
fn inner_corner(turn: Angle, w: f64, d: f64) -> (f64, f64) {
    let (s, c) = turn.sin_cos();
    (-d / 2.0 * c + w / 2.0 * s, -d / 2.0 * s - w / 2.0 * c)
}

/// How far off the line's axis a lane's first piece stands, so that it is 0.5 mm clear of the turned piece and of the
/// plain ones before and after it.
fn clear_of(ground: &Ground, turn: Angle, first: Angle, next: f64) -> f64 {
    let piece = |x, y, turn| corners(x, y, turn, ground.width, ground.thickness);
    let others = [piece(0.0, 0.0, turn), piece(-next, 0.0, ALONG_LINE), piece(next, 0.0, ALONG_LINE)];
    // Beyond width and thickness together nothing can touch, so the search ends there.
    let most = ((ground.width + ground.thickness) / STEP).ceil().clamp(0.0, 1e4) as u32;
    (0..=most)
        .map(|i| f64::from(i) * STEP)
        .find(|&off| others.iter().all(|o| apart(&piece(0.0, off, first), o) >= 0.5))
        .unwrap_or(ground.width + ground.thickness)
}

fn corners(x: f64, y: f64, turn: Angle, w: f64, d: f64) -> [(f64, f64); 4] {
    let (s, c) = turn.sin_cos();
    let at = |u: f64, v: f64| (x + u * c - v * s, y + u * s + v * c);
    [(1.0, 1.0), (1.0, -1.0), (-1.0, -1.0), (-1.0, 1.0)].map(|(i, j)| at(i * d / 2.0, j * w / 2.0))
}

/// The widest gap between two rectangles along the normals of their sides; negative when they overlap.
fn apart(a: &[(f64, f64); 4], b: &[(f64, f64); 4]) -> f64 {
    let mut widest = f64::NEG_INFINITY;
    for shape in [a, b] {
        for i in 0..2 {
            let (p, q) = (shape[i], shape[i + 1]);
            let (ex, ey) = (q.0 - p.0, q.1 - p.1);
            let length = units::maths::hypot(ex, ey).max(1e-9);
            let on = |c: &(f64, f64)| (c.0 * ey - c.1 * ex) / length;
            let span = |s: &[(f64, f64); 4]| {
                s.iter().map(on).fold((f64::INFINITY, f64::NEG_INFINITY), |m, v| (m.0.min(v), m.1.max(v)))
            };
            let (sa, sb) = (span(a), span(b));
            widest = widest.max(sb.0 - sa.1).max(sa.0 - sb.1);
        }
    }
    widest
}

/// Rounded up to the step in which places were searched.
fn up(value: f64) -> f64 {
    (value / STEP - 1e-9).ceil() * STEP
}

/// A length in mm, told with one decimal place at most.
pub(crate) fn mm(value: f64) -> Arg {
    Arg::Length((value * 10.0).round() / 10.0)
}

/// Degrees, told with one decimal place at most.
pub(crate) fn deg(value: f64) -> Arg {
    Arg::Degrees(value)
}
