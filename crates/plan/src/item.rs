//! Items: anything placed. Each has a place, ports and a body; a placeholder is a body that is not drawn yet.

use geometry::{Frame, Point};
use sayings::{Said, found, say};
use serde::{Deserialize, Serialize};
use units::{Angle, Duration, Length};

use crate::feed::Feed;
use crate::field::Field;
use crate::fill::Fill;
use crate::ids::{ColourId, GroupId, ItemId, KindId, SectionId, SurfaceId};
use crate::line::Line;
use crate::place::short;
use crate::sign::{Camera, Dimension, Note};
use crate::trigger::{SafetyGap, Start, Stopper};

/// Anything placed in the hall.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Item {
    /// Its id.
    pub id: ItemId,
    /// What the crew calls it.
    pub name: String,
    /// Where its local origin lies, in millimetres on the floor plan.
    pub at: Point,
    /// The direction of its local `along` axis; for a field, the direction of the fall.
    pub heading: Angle,
    /// What it stands on; 0 is the floor.
    #[serde(default = "floor")]
    pub surface: SurfaceId,
    /// Who builds it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub section: Option<SectionId>,
    /// Where it really stands, once that was measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub built: Option<AsBuilt>,
    /// Pieces that are left out while building.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub gaps: Vec<SafetyGap>,
    /// A locked item takes no change but to be unlocked. A line that carries on from another item follows that one all
    /// the same, and so does a feed its field.
    #[serde(default, skip_serializing_if = "is_not")]
    pub locked: bool,
    /// The items that it is chosen and moved with.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub group: Option<GroupId>,
    /// What it is.
    pub body: Body,
}

/// How far an item stands from where it was drawn.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct AsBuilt {
    /// Too far to the east.
    pub east: Length,
    /// Too far to the north.
    pub north: Length,
    /// Turned about its origin, to the left.
    #[serde(default)]
    pub turn: Angle,
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde asks for a reference")]
fn is_not(flag: &bool) -> bool {
    !flag
}

fn floor() -> SurfaceId {
    SurfaceId(0)
}

/// What an item is. New sorts of items are added here; what asks an item for its ports, its pieces or its
/// extent goes through [`Item`] or the placement and need not know them.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", tag = "is")]
#[non_exhaustive]
pub enum Body {
    /// A picture in lanes and ranks.
    Field(Field),
    /// Something known only by its size, pieces, hours and ports.
    Placeholder(Placeholder),
    /// Pieces one after another along a path.
    Line(Line),
    /// An area filled with a line.
    Fill(Fill),
    /// The pieces that bring the fall to every lane of a field.
    Feed(Feed),
    /// Where the first piece is pushed.
    Start(Start),
    /// A block that a fallen lane runs against.
    Stopper(Stopper),
    /// Words at a place.
    Note(Note),
    /// A distance that is shown.
    Dimension(Dimension),
    /// A place from which the fall is filmed.
    Camera(Camera),
}

/// Whether the fall enters or leaves at a port.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum PortFlow {
    /// The fall comes in.
    In,
    /// The fall goes out.
    Out,
}

/// Where, in which direction and at what height the fall enters or leaves an item.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Port {
    /// What the crew calls it.
    pub name: String,
    /// In or out.
    pub flow: PortFlow,
    /// Where, in the item's own frame: x along its heading, y to the left of it, in millimetres.
    pub at: Point,
    /// In which direction the fall runs there, against the item's heading.
    pub direction: Angle,
    /// Height above the item's surface.
    pub height: Length,
    /// How wide the port is across the fall; a single lane is as wide as a piece.
    pub width: Length,
}

/// How long the fall takes from the way in to the way out.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Delay {
    /// At the least.
    pub least: Duration,
    /// At the most.
    pub most: Duration,
}

/// So many pieces of a kind and colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Need {
    /// Of which kind.
    pub kind: KindId,
    /// Of which colour.
    pub colour: ColourId,
    /// How many.
    pub count: u32,
}

/// An item that is known only from outside, to be replaced by the drawn one later.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Placeholder {
    /// Extent along the heading, from the origin.
    pub length: Length,
    /// Extent to the left of the heading, from the origin.
    pub width: Length,
    /// Height above its surface.
    pub height: Length,
    /// Pieces that it takes from the stock.
    #[serde(default)]
    pub needs: Vec<Need>,
    /// Person-hours to build it.
    #[serde(default)]
    pub hours: Duration,
    /// Who designs or builds it, may be empty.
    #[serde(default)]
    pub who: String,
    /// Where the fall enters and leaves.
    #[serde(default)]
    pub ports: Vec<Port>,
    /// How long the fall takes through it, if it passes through.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub delay: Option<Delay>,
}

impl Item {
    /// An item on the floor that faces east, in no section and no group, as drawn, without gaps and not locked.
    pub fn new(id: ItemId, name: impl Into<String>, at: Point, body: Body) -> Self {
        Self {
            id,
            name: name.into(),
            at,
            heading: Angle::ZERO,
            surface: floor(),
            section: None,
            built: None,
            gaps: Vec::new(),
            locked: false,
            group: None,
            body,
        }
    }

    /// The frame in which its body is described, as drawn.
    pub fn frame(&self) -> Frame {
        Frame::new(self.at, self.heading)
    }

    /// The frame in which it really stands: as drawn, unless it was measured once built.
    pub fn stands(&self) -> Frame {
        match self.built {
            None => self.frame(),
            Some(b) => {
                let at = Point::new(self.at.x + b.east.to_mm(), self.at.y + b.north.to_mm());
                Frame::new(at, self.bearing())
            }
        }
    }

    /// The heading in which it really stands.
    pub fn bearing(&self) -> Angle {
        self.built.map_or(self.heading, |b| self.heading + b.turn)
    }

    /// The sort and the name of the item in words; of a long name the first 60 signs.
    pub fn called(&self) -> Said {
        let name = short(&self.name);
        match self.body {
            Body::Field(_) => say!(found::AT_FIELD, name = name),
            Body::Placeholder(_) => say!(found::AT_PLACEHOLDER, name = name),
            Body::Line(_) => say!(found::AT_LINE, name = name),
            Body::Fill(_) => say!(found::AT_FILL, name = name),
            Body::Feed(_) => say!(found::AT_FEED, name = name),
            Body::Start(_) => say!(found::AT_START, name = name),
            Body::Stopper(_) => say!(found::AT_STOPPER, name = name),
            Body::Note(_) => say!(found::AT_NOTE, name = name),
            Body::Dimension(_) => say!(found::AT_DIMENSION, name = name),
            Body::Camera(_) => say!(found::AT_CAMERA, name = name),
        }
    }

    /// What sort of item it is, in one word.
    pub fn sort(&self) -> &'static str {
        match &self.body {
            Body::Field(_) => "field",
            Body::Placeholder(_) => "placeholder",
            Body::Line(_) => "line",
            Body::Fill(_) => "fill",
            Body::Feed(_) => "feed",
            Body::Start(_) => "start",
            Body::Stopper(_) => "stopper",
            Body::Note(_) => "note",
            Body::Dimension(_) => "dimension",
            Body::Camera(_) => "camera",
        }
    }

    /// The items that it leads to, comes from or feeds.
    pub fn leads_to(&self) -> impl Iterator<Item = ItemId> {
        let both = match &self.body {
            Body::Line(l) => [l.from.as_ref().map(|l| l.item), l.to.as_ref().map(|l| l.item)],
            Body::Feed(f) => [Some(f.of), None],
            _ => [None, None],
        };
        both.into_iter().flatten()
    }

    /// The item without its links and not locked, when it has links. A feed cannot be without its field, so a start
    /// keeps its place.
    ///
    /// The gate asks that what a link leads to is there. Links may go to later items and in rings; so whoever puts
    /// a whole plan puts every item without its links first, and those that have some again as they are.
    #[must_use]
    pub fn unlinked(&self) -> Option<Self> {
        let body = match &self.body {
            Body::Line(line) if line.from.is_some() || line.to.is_some() => {
                Body::Line(Line { from: None, to: None, ..line.clone() })
            }
            Body::Feed(_) => Body::Start(Start { width: Length::mm(1.0), after: Duration::ZERO }),
            _ => return None,
        };
        Some(Self { body, locked: false, name: self.name.clone(), gaps: self.gaps.clone(), ..*self })
    }

    /// The field, if it is one.
    pub fn field(&self) -> Option<&Field> {
        match &self.body {
            Body::Field(f) => Some(f),
            _ => None,
        }
    }

    /// The placeholder, if it is one.
    pub fn placeholder(&self) -> Option<&Placeholder> {
        match &self.body {
            Body::Placeholder(p) => Some(p),
            _ => None,
        }
    }

    /// Pieces that the item itself states, by kind and colour, in that order: those of fields and placeholders. How
    /// many a line takes follows from its path and from what it is linked to; the placement counts those.
    pub fn stated_needs(&self) -> Vec<Need> {
        match &self.body {
            Body::Field(f) => f.needs(),
            Body::Placeholder(p) => p.needs.clone(),
            _ => Vec::new(),
        }
    }

    /// The four corners of its extent on the floor plan, counter-clockwise, for items that have one of their own:
    /// fields, placeholders and stoppers. That of all others follows from where their pieces stand.
    pub fn outline(&self) -> Option<[Point; 4]> {
        let (u0, v0, u1, v1) = match &self.body {
            Body::Field(f) => f.extent(),
            Body::Placeholder(p) => (0.0, 0.0, p.length.to_mm(), p.width.to_mm()),
            Body::Stopper(s) => {
                let (u, v) = (s.thickness.to_mm() / 2.0, s.width.to_mm() / 2.0);
                (-u, -v, u, v)
            }
            _ => return None,
        };
        let frame = self.stands();
        Some([frame.at(u0, v0), frame.at(u1, v0), frame.at(u1, v1), frame.at(u0, v1)])
    }
}
