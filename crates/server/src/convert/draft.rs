//! Items as drafts, and drafts as items.

use desk::DeskError;
use geometry::Point;
use plan::{
    AsBuilt, Body, Bridge, Camera, ColourId, Crop, Delay, Dimension, Feed, FeedWay, Field, FieldFrame, Fill,
    Filling, GroupId, Hand, Item, ItemId, KindId, LaneCourse, Leg, Line, Link, Need, Note, Pattern,
    PictureFit, PictureId, PictureUse, Placeholder, Placing, Plan, Port, PortFlow, SafetyGap, SectionId,
    Spacing, Start, Stopper, Stretch, SurfaceId,
};
use sayings::{gate, say};
use units::{Angle, Duration, Length};

use super::change::{known, known_field};
use super::wish;
use crate::wire::{self, BodyDraft, ItemDraft};

/// An item as a draft; `None` for a sort of item that the wire has not learned.
pub(crate) fn to_wire(item: &Item) -> Option<ItemDraft> {
    Some(ItemDraft {
        id: Some(item.id.0),
        name: item.name.clone(),
        section: item.section.map(|s| s.0),
        surface: item.surface.0,
        x: item.at.x,
        y: item.at.y,
        heading: item.heading.to_deg(),
        built: item.built.map(|b| wire::BuiltDraft {
            east: b.east.to_mm(),
            north: b.north.to_mm(),
            turn: b.turn.to_deg(),
        }),
        gaps: item.gaps.iter().map(gap_to_wire).collect(),
        locked: item.locked,
        group: item.group.map(|g| g.0),
        body: body_to_wire(&item.body)?,
        cells_from: None,
    })
}

/// The items that some drafts stand for; new ones take the next ids of the plan, in order. The gate judges their values.
///
/// # Errors
/// Says which item or field that is named is not in the plan or was not sent, and when the fields are larger than can be
/// held at once.
pub(crate) fn items(plan: &Plan, mut drafts: Vec<ItemDraft>) -> Result<Vec<Item>, DeskError> {
    let cells = |draft: &ItemDraft| match &draft.body {
        BodyDraft::Field(f) => u64::from(f.lanes) * u64::from(f.ranks),
        _ => 0,
    };
    let all = drafts.iter().map(cells).fold(0, u64::saturating_add);
    if all > plan::MAX_CELLS as u64 {
        // The gate would say so of one field, but the cells must not be made first.
        return Err(DeskError::Refused(plan::Refusal::new(
            say!(gate::AT_FIELDS),
            say!(gate::N_CELLS, n = all),
            say!(gate::FIELDS_FULL, most = plan::MAX_CELLS),
            say!(gate::FIELDS_FULL_NEXT),
        )));
    }
    let mut fresh = plan.fresh_id();
    links_among(&mut drafts, fresh)?;
    let item = |draft: ItemDraft| {
        let old = match draft.id {
            Some(id) => Some(known(plan, ItemId(id))?),
            None => None,
        };
        let id = old.map_or(ItemId(fresh), |old| old.id);
        fresh += u32::from(old.is_none());
        from_wire(plan, old, id, draft)
    };
    drafts.into_iter().map(item).collect()
}

/// Gives links to items that are sent together the ids that those will have; new ones take them from `fresh` on.
fn links_among(drafts: &mut [ItemDraft], mut fresh: u32) -> Result<(), DeskError> {
    let mut next = || {
        fresh += 1;
        fresh - 1
    };
    let ids: Vec<u32> = drafts.iter().map(|d| d.id.unwrap_or_else(&mut next)).collect();
    for draft in drafts {
        let BodyDraft::Line(line) = &mut draft.body else { continue };
        for link in [&mut line.from, &mut line.to].into_iter().flatten().filter(|l| l.sent) {
            let Some(&id) = ids.get(link.item as usize) else {
                return Err(DeskError::Refused(plan::Refusal::new(
                    say!(gate::AT_ITEM_OF, name = &draft.name),
                    say!(gate::ID, id = link.item),
                    say!(gate::NOT_SENT),
                    say!(gate::NOT_SENT_NEXT),
                )));
            };
            (link.item, link.sent) = (id, false);
        }
    }
    Ok(())
}

fn from_wire(plan: &Plan, old: Option<&Item>, id: ItemId, draft: ItemDraft) -> Result<Item, DeskError> {
    let cells = match draft.cells_from {
        None => old.and_then(Item::field),
        Some(other) => Some(known_field(plan, ItemId(other))?.1),
    };
    let body = match draft.body {
        BodyDraft::Field(f) => Body::Field(field(cells, *f)),
        BodyDraft::Line(l) => Body::Line(line(*l)),
        BodyDraft::Fill(f) => Body::Fill(fill(f)),
        BodyDraft::Feed(f) => Body::Feed(Feed {
            of: ItemId(f.of),
            way: way(f.way),
            kind: KindId(f.kind),
            colour: ColourId(f.colour),
            pitch: mm(f.pitch),
        }),
        BodyDraft::Start(s) => Body::Start(Start { width: mm(s.width), after: Duration::s(s.after) }),
        BodyDraft::Stopper(s) => Body::Stopper(Stopper {
            thickness: mm(s.thickness),
            width: mm(s.width),
            height: mm(s.height),
            fixed: s.fixed,
        }),
        BodyDraft::Placeholder(p) => Body::Placeholder(placeholder(old.and_then(Item::placeholder), p)),
        BodyDraft::Note(n) => Body::Note(Note { text: n.text }),
        BodyDraft::Dimension(d) => Body::Dimension(Dimension { to: point(d.to) }),
        BodyDraft::Camera(c) => Body::Camera(Camera {
            height: mm(c.height),
            look: point(c.look),
            look_height: mm(c.look_height),
            field_of_view: Angle::deg(c.field_of_view),
        }),
    };
    Ok(Item {
        id,
        name: draft.name,
        at: Point::new(draft.x, draft.y),
        heading: Angle::deg(draft.heading),
        surface: SurfaceId(draft.surface),
        section: draft.section.map(SectionId),
        built: draft.built.map(|b| AsBuilt {
            east: mm(b.east),
            north: mm(b.north),
            turn: Angle::deg(b.turn),
        }),
        gaps: draft.gaps.into_iter().map(gap).collect(),
        locked: draft.locked,
        group: draft.group.map(GroupId),
        body,
    })
}

fn mm(value: f64) -> Length {
    Length::mm(value)
}

fn point([x, y]: [f64; 2]) -> Point {
    Point::new(x, y)
}

fn points(points: Vec<[f64; 2]>) -> Vec<Point> {
    points.into_iter().map(point).collect()
}

fn pair(p: Point) -> [f64; 2] {
    [p.x, p.y]
}

fn gap(g: wire::GapDraft) -> SafetyGap {
    SafetyGap { first: g.first, count: g.count, stopper: g.stopper }
}

fn gap_to_wire(g: &SafetyGap) -> wire::GapDraft {
    wire::GapDraft { first: g.first, count: g.count, stopper: g.stopper }
}

/// A field with the cells of another one, or none.
fn field(cells: Option<&Field>, f: wire::FieldDraft) -> Field {
    let frame = FieldFrame {
        stagger: mm(f.stagger),
        fall: wish::fall_from_wire(f.fall),
        course: match f.course {
            wire::Course::Together => LaneCourse::Together,
            wire::Course::Opposed => LaneCourse::Opposed,
            wire::Course::InTurn => LaneCourse::InTurn,
        },
        ..FieldFrame::new(f.lanes, f.ranks, mm(f.pitch_along), mm(f.pitch_across))
    };
    let kind = KindId(f.kind);
    let mut field = cells.map_or_else(|| Field::empty(kind, frame), |old| old.resized(frame));
    field.kind = kind;
    field.picture = f.picture.map(|picture| PictureUse {
        picture: PictureId(picture),
        crop: f.crop.map(|[left, top, right, bottom]| Crop { left, top, right, bottom }),
        fit: match f.fit {
            wire::Fit::Fill => PictureFit::Fill,
            wire::Fit::Within => PictureFit::Within,
            wire::Fit::Stretch => PictureFit::Stretch,
        },
        contrast: f.contrast,
    });
    field.wish = wish::from_wire(f.wish);
    field
}

pub(crate) fn course_to_wire(course: LaneCourse) -> wire::Course {
    match course {
        LaneCourse::Together => wire::Course::Together,
        LaneCourse::Opposed => wire::Course::Opposed,
        LaneCourse::InTurn => wire::Course::InTurn,
    }
}

fn field_to_wire(f: &Field) -> wire::FieldDraft {
    let usage = f.picture.as_ref();
    wire::FieldDraft {
        kind: f.kind.0,
        lanes: f.frame.lanes,
        ranks: f.frame.ranks,
        pitch_along: f.frame.pitch_along.to_mm(),
        pitch_across: f.frame.pitch_across.to_mm(),
        stagger: f.frame.stagger.to_mm(),
        course: course_to_wire(f.frame.course),
        fall: wish::fall_to_wire(f.frame.fall),
        picture: usage.map(|u| u.picture.0),
        fit: match usage.map_or(PictureFit::Fill, |u| u.fit) {
            PictureFit::Fill => wire::Fit::Fill,
            PictureFit::Within => wire::Fit::Within,
            PictureFit::Stretch => wire::Fit::Stretch,
        },
        contrast: usage.map_or(0.0, |u| u.contrast),
        crop: usage.and_then(|u| u.crop).map(|c| [c.left, c.top, c.right, c.bottom]),
        wish: wish::to_wire(&f.wish),
    }
}

fn line(l: wire::LineDraft) -> Line {
    let link = |l: wire::LinkDraft| Link { item: ItemId(l.item), port: l.port };
    let bridge = |b: wire::BridgeDraft| Bridge {
        from: mm(b.from),
        deck: mm(b.deck),
        height: mm(b.height),
        thickness: mm(b.thickness),
        step: mm(b.step),
        per_step: b.per_step,
    };
    Line {
        kind: KindId(l.kind),
        lanes: l.lanes,
        pitch_across: mm(l.pitch_across),
        spacing: spacing(l.spacing),
        placed: placed(l.placed),
        path: l.path.into_iter().map(leg).collect(),
        from: l.from.map(link),
        to: l.to.map(link),
        colours: pattern(l.colours),
        bridges: l.bridges.into_iter().map(bridge).collect(),
    }
}

fn line_to_wire(l: &Line) -> wire::LineDraft {
    let link = |l: &Link| wire::LinkDraft { item: l.item.0, port: l.port.clone(), sent: false };
    let bridge = |b: &Bridge| wire::BridgeDraft {
        from: b.from.to_mm(),
        deck: b.deck.to_mm(),
        height: b.height.to_mm(),
        thickness: b.thickness.to_mm(),
        step: b.step.to_mm(),
        per_step: b.per_step,
    };
    wire::LineDraft {
        kind: l.kind.0,
        lanes: l.lanes,
        pitch_across: l.pitch_across.to_mm(),
        spacing: spacing_to_wire(l.spacing),
        placed: placed_to_wire(l.placed),
        path: l.path.iter().map(leg_to_wire).collect(),
        from: l.from.as_ref().map(link),
        to: l.to.as_ref().map(link),
        colours: pattern_to_wire(&l.colours),
        bridges: l.bridges.iter().map(bridge).collect(),
    }
}

fn spacing(s: wire::SpacingDraft) -> Spacing {
    match s.by {
        wire::SpacedBy::Pitch => Spacing::Pitch { pitch: mm(s.mm) },
        wire::SpacedBy::Gap => Spacing::Gap { gap: mm(s.mm) },
    }
}

fn spacing_to_wire(s: Spacing) -> wire::SpacingDraft {
    match s {
        Spacing::Pitch { pitch } => wire::SpacingDraft { by: wire::SpacedBy::Pitch, mm: pitch.to_mm() },
        Spacing::Gap { gap } => wire::SpacingDraft { by: wire::SpacedBy::Gap, mm: gap.to_mm() },
    }
}

fn placed(p: wire::Placed) -> Placing {
    match p {
        wire::Placed::Comb => Placing::Comb,
        wire::Placed::Hand => Placing::Hand,
    }
}

fn placed_to_wire(p: Placing) -> wire::Placed {
    match p {
        Placing::Comb => wire::Placed::Comb,
        Placing::Hand => wire::Placed::Hand,
    }
}

fn hand(side: wire::Side) -> Hand {
    match side {
        wire::Side::Left => Hand::Left,
        wire::Side::Right => Hand::Right,
    }
}

fn side(hand: Hand) -> wire::Side {
    match hand {
        Hand::Left => wire::Side::Left,
        Hand::Right => wire::Side::Right,
    }
}

fn leg(leg: wire::LegDraft) -> Leg {
    match leg {
        wire::LegDraft::Straight { length } => Leg::Straight { length: mm(length) },
        wire::LegDraft::Arc { radius, turn } => Leg::Arc { radius: mm(radius), turn: Angle::deg(turn) },
        wire::LegDraft::Spiral { radius, ring, turns, hand: side } => {
            Leg::Spiral { radius: mm(radius), ring: mm(ring), turns, hand: hand(side) }
        }
        wire::LegDraft::Through { points: p } => Leg::Through { points: points(p) },
    }
}

fn leg_to_wire(leg: &Leg) -> wire::LegDraft {
    match leg {
        Leg::Straight { length } => wire::LegDraft::Straight { length: length.to_mm() },
        Leg::Arc { radius, turn } => wire::LegDraft::Arc { radius: radius.to_mm(), turn: turn.to_deg() },
        Leg::Spiral { radius, ring, turns, hand } => wire::LegDraft::Spiral {
            radius: radius.to_mm(),
            ring: ring.to_mm(),
            turns: *turns,
            hand: side(*hand),
        },
        Leg::Through { points } => {
            wire::LegDraft::Through { points: points.iter().copied().map(pair).collect() }
        }
    }
}

fn stretches(all: Vec<wire::StretchDraft>) -> Vec<Stretch> {
    all.into_iter().map(|s| Stretch { colour: ColourId(s.colour), count: s.count }).collect()
}

fn pattern(p: wire::PatternDraft) -> Pattern {
    match p {
        wire::PatternDraft::Plain { colour } => Pattern::Plain { colour: ColourId(colour) },
        wire::PatternDraft::Repeat { stretches: s } => Pattern::Repeat { stretches: stretches(s) },
        wire::PatternDraft::Blend { colours } => {
            Pattern::Blend { colours: colours.into_iter().map(ColourId).collect() }
        }
        wire::PatternDraft::Spread { stretches: s } => Pattern::Spread { stretches: stretches(s) },
    }
}

fn pattern_to_wire(p: &Pattern) -> wire::PatternDraft {
    let stretches = |all: &[Stretch]| {
        all.iter().map(|s| wire::StretchDraft { colour: s.colour.0, count: s.count }).collect()
    };
    match p {
        Pattern::Plain { colour } => wire::PatternDraft::Plain { colour: colour.0 },
        Pattern::Repeat { stretches: s } => wire::PatternDraft::Repeat { stretches: stretches(s) },
        Pattern::Blend { colours } => {
            wire::PatternDraft::Blend { colours: colours.iter().map(|c| c.0).collect() }
        }
        Pattern::Spread { stretches: s } => wire::PatternDraft::Spread { stretches: stretches(s) },
    }
}

fn fill(f: wire::FillDraft) -> Fill {
    Fill {
        kind: KindId(f.kind),
        outline: points(f.outline),
        with: match f.with {
            wire::FillingDraft::Waves { course } => Filling::Waves { course: Angle::deg(course) },
            wire::FillingDraft::Spiral {} => Filling::Spiral,
            wire::FillingDraft::Curls { course, swing } => {
                Filling::Curls { course: Angle::deg(course), swing: mm(swing) }
            }
        },
        ring: mm(f.ring),
        spacing: spacing(f.spacing),
        placed: placed(f.placed),
        colours: pattern(f.colours),
    }
}

fn fill_to_wire(f: &Fill) -> wire::FillDraft {
    wire::FillDraft {
        kind: f.kind.0,
        outline: f.outline.iter().copied().map(pair).collect(),
        with: match f.with {
            Filling::Waves { course } => wire::FillingDraft::Waves { course: course.to_deg() },
            Filling::Spiral => wire::FillingDraft::Spiral {},
            Filling::Curls { course, swing } => {
                wire::FillingDraft::Curls { course: course.to_deg(), swing: swing.to_mm() }
            }
        },
        ring: f.ring.to_mm(),
        spacing: spacing_to_wire(f.spacing),
        placed: placed_to_wire(f.placed),
        colours: pattern_to_wire(&f.colours),
    }
}

fn way(way: wire::WayDraft) -> FeedWay {
    use wire::WayDraft as W;
    match way {
        W::Brick { enter } => FeedWay::Brick {
            enter: match enter {
                wire::Enter::Middle => plan::Enter::Middle,
                wire::Enter::Right => plan::Enter::Right,
                wire::Enter::Left => plan::Enter::Left,
            },
        },
        W::Beside { side, turn, gap, poke } => {
            FeedWay::Beside { side: hand(side), turn: Angle::deg(turn), gap: mm(gap), poke: mm(poke) }
        }
        W::Angled { side, turn, poke } => {
            FeedWay::Angled { side: hand(side), turn: Angle::deg(turn), poke: mm(poke) }
        }
        W::InLine { side, turn, clear } => {
            FeedWay::InLine { side: hand(side), turn: Angle::deg(turn), clear: mm(clear) }
        }
        W::Echelon { side, turn } => FeedWay::Echelon { side: hand(side), turn: Angle::deg(turn) },
        W::HalfShift { side } => FeedWay::HalfShift { side: hand(side) },
    }
}

pub(crate) fn way_to_wire(way: &FeedWay) -> wire::WayDraft {
    use wire::WayDraft as W;
    match *way {
        FeedWay::Brick { enter } => W::Brick {
            enter: match enter {
                plan::Enter::Middle => wire::Enter::Middle,
                plan::Enter::Right => wire::Enter::Right,
                plan::Enter::Left => wire::Enter::Left,
            },
        },
        FeedWay::Beside { side: hand, turn, gap, poke } => {
            W::Beside { side: side(hand), turn: turn.to_deg(), gap: gap.to_mm(), poke: poke.to_mm() }
        }
        FeedWay::Angled { side: hand, turn, poke } => {
            W::Angled { side: side(hand), turn: turn.to_deg(), poke: poke.to_mm() }
        }
        FeedWay::InLine { side: hand, turn, clear } => {
            W::InLine { side: side(hand), turn: turn.to_deg(), clear: clear.to_mm() }
        }
        FeedWay::Echelon { side: hand, turn } => W::Echelon { side: side(hand), turn: turn.to_deg() },
        FeedWay::HalfShift { side: hand } => W::HalfShift { side: side(hand) },
    }
}

fn placeholder(old: Option<&Placeholder>, p: wire::PlaceholderDraft) -> Placeholder {
    let need = |n: wire::NeedDraft| Need { kind: KindId(n.kind), colour: ColourId(n.colour), count: n.count };
    let port = |p: wire::PortDraft| Port {
        name: p.name,
        flow: match p.flow {
            wire::Flow::In => PortFlow::In,
            wire::Flow::Out => PortFlow::Out,
        },
        at: Point::new(p.x, p.y),
        direction: Angle::deg(p.direction),
        height: mm(p.height),
        width: mm(p.width),
    };
    // Seconds that came as hours may not be the very same seconds; what was not changed is to stay.
    let same = old.map(|old| old.hours).filter(|hours| hours.to_h() == p.hours);
    Placeholder {
        length: mm(p.length),
        width: mm(p.width),
        height: mm(p.height),
        needs: p.needs.into_iter().map(need).collect(),
        hours: same.unwrap_or(Duration::h(p.hours)),
        who: p.who,
        ports: p.ports.into_iter().map(port).collect(),
        delay: p.delay.map(|[least, most]| Delay { least: Duration::s(least), most: Duration::s(most) }),
    }
}

/// What an item takes from the stock, as it travels.
pub(crate) fn need_to_wire(n: &Need) -> wire::NeedDraft {
    wire::NeedDraft { kind: n.kind.0, colour: n.colour.0, count: n.count }
}

fn placeholder_to_wire(p: &Placeholder) -> wire::PlaceholderDraft {
    let port = |p: &Port| wire::PortDraft {
        name: p.name.clone(),
        flow: match p.flow {
            PortFlow::In => wire::Flow::In,
            PortFlow::Out => wire::Flow::Out,
        },
        x: p.at.x,
        y: p.at.y,
        direction: p.direction.to_deg(),
        height: p.height.to_mm(),
        width: p.width.to_mm(),
    };
    wire::PlaceholderDraft {
        length: p.length.to_mm(),
        width: p.width.to_mm(),
        height: p.height.to_mm(),
        needs: p.needs.iter().map(need_to_wire).collect(),
        hours: p.hours.to_h(),
        who: p.who.clone(),
        ports: p.ports.iter().map(port).collect(),
        delay: p.delay.map(|d| [d.least.to_s(), d.most.to_s()]),
    }
}

fn body_to_wire(body: &Body) -> Option<BodyDraft> {
    Some(match body {
        Body::Field(f) => BodyDraft::Field(Box::new(field_to_wire(f))),
        Body::Line(l) => BodyDraft::Line(Box::new(line_to_wire(l))),
        Body::Fill(f) => BodyDraft::Fill(fill_to_wire(f)),
        Body::Feed(f) => BodyDraft::Feed(wire::FeedDraft {
            of: f.of.0,
            way: way_to_wire(&f.way),
            kind: f.kind.0,
            colour: f.colour.0,
            pitch: f.pitch.to_mm(),
        }),
        Body::Start(s) => {
            BodyDraft::Start(wire::StartDraft { width: s.width.to_mm(), after: s.after.to_s() })
        }
        Body::Stopper(s) => BodyDraft::Stopper(wire::StopperDraft {
            thickness: s.thickness.to_mm(),
            width: s.width.to_mm(),
            height: s.height.to_mm(),
            fixed: s.fixed,
        }),
        Body::Placeholder(p) => BodyDraft::Placeholder(placeholder_to_wire(p)),
        Body::Note(n) => BodyDraft::Note(note_to_wire(n)),
        Body::Dimension(d) => BodyDraft::Dimension(dimension_to_wire(d)),
        Body::Camera(c) => BodyDraft::Camera(camera_to_wire(c)),
        _ => return None,
    })
}

/// A note as it travels.
pub(crate) fn note_to_wire(n: &Note) -> wire::NoteDraft {
    wire::NoteDraft { text: n.text.clone() }
}

/// A dimension as it travels.
pub(crate) fn dimension_to_wire(d: &Dimension) -> wire::DimensionDraft {
    wire::DimensionDraft { to: pair(d.to) }
}

/// A camera as it travels.
pub(crate) fn camera_to_wire(c: &Camera) -> wire::CameraDraft {
    wire::CameraDraft {
        height: c.height.to_mm(),
        look: pair(c.look),
        look_height: c.look_height.to_mm(),
        field_of_view: c.field_of_view.to_deg(),
    }
}

#[cfg(test)]
mod tests;
