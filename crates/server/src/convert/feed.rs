//! The ways to feed a field, as they travel.

use placement::{Advice, Means, Works};
use plan::{Field, Hand, Item, Plan};

use super::{draft, said};
use crate::wire;

/// The ways to feed a field for a line from this side, best first.
pub(crate) fn ways(plan: &Plan, item: &Item, field: &Field, side: Hand) -> wire::FeedWays {
    let ways = desk::feed_ways(plan, item, side);
    wire::FeedWays {
        pitch: placement::feed_pitch(plan, field).to_mm(),
        ways: ways.into_iter().map(row).collect(),
    }
}

fn row(advice: Advice) -> wire::FeedWayRow {
    wire::FeedWayRow {
        means: match advice.means {
            Means::Feed(way) => wire::FeedMeans::Feed { way: draft::way_to_wire(&way) },
            Means::Course(course) => wire::FeedMeans::Course { course: draft::course_to_wire(course) },
        },
        works: match advice.works {
            Works::Sure => wire::FeedWorks::Sure,
            Works::Unsure => wire::FeedWorks::Unsure,
            Works::No => wire::FeedWorks::No,
        },
        slick: advice.at_slick.map(|(fell, run)| [fell, run]),
        normal: advice.at_normal.map(|(fell, run)| [fell, run]),
        slow: advice.slow.map(|(least, most)| [least, most]),
        pieces: advice.pieces,
        why: sayings::together(&advice.why),
        said: said::sentences(&advice.why),
    }
}
