//! What a match aims for, to and from the wire.

use geometry::FallInPicture;
use plan::{ColourId, Eye, MatchGoal, MatchWish, SeenAs};
use units::{Angle, Length};

use crate::wire;

/// Where somebody stands who has not said so: 6 m behind the entry, eyes at 1.6 m (common practice).
const USUAL_EYE: Eye =
    Eye { distance: Length::mm(6_000.0), height: Length::mm(1_600.0), bearing: Angle::deg(180.0) };

/// A wish as it travels. The eye's distance on the wire is that of the look, `seen_from`, unless it is another one.
pub(crate) fn to_wire(wish: &MatchWish) -> wire::Wish {
    let (seen_as, eye) = match &wish.seen_as {
        SeenAs::Laid => (wire::SeenAs::Laid, USUAL_EYE),
        SeenAs::Above => (wire::SeenAs::Above, USUAL_EYE),
        SeenAs::Fallen => (wire::SeenAs::Fallen, USUAL_EYE),
        SeenAs::Standing { eye } => (wire::SeenAs::Standing, *eye),
    };
    wire::Wish {
        goal: goal_to_wire(wish.goal),
        seen_as,
        seen_from: wish.seen_from.to_mm(),
        eye_distance: match &wish.seen_as {
            SeenAs::Standing { eye } if eye.distance != wish.seen_from => Some(eye.distance.to_mm()),
            _ => None,
        },
        eye_height: eye.height.to_mm(),
        eye_bearing: eye.bearing.to_deg(),
        fewer_changes: wish.fewer_changes,
        weight: wish.weight,
        allowed: wish.allowed.as_ref().map(|all| all.iter().map(|c| c.0).collect()),
    }
}

/// A wish from the wire; the gate judges its values.
pub(crate) fn from_wire(wish: wire::Wish) -> MatchWish {
    let seen_as = match wish.seen_as {
        wire::SeenAs::Laid => SeenAs::Laid,
        wire::SeenAs::Above => SeenAs::Above,
        wire::SeenAs::Fallen => SeenAs::Fallen,
        wire::SeenAs::Standing => SeenAs::Standing {
            eye: Eye {
                distance: Length::mm(wish.eye_distance.unwrap_or(wish.seen_from)),
                height: Length::mm(wish.eye_height),
                bearing: Angle::deg(wish.eye_bearing),
            },
        },
    };
    MatchWish {
        goal: goal_from_wire(wish.goal),
        seen_as,
        seen_from: Length::mm(wish.seen_from),
        fewer_changes: wish.fewer_changes,
        weight: wish.weight,
        allowed: wish.allowed.map(|all| {
            let mut ids: Vec<_> = all.into_iter().map(ColourId).collect();
            ids.sort_unstable();
            ids.dedup();
            ids
        }),
    }
}

/// A goal as it travels.
pub(crate) fn goal_to_wire(goal: MatchGoal) -> wire::Goal {
    match goal {
        MatchGoal::Exact => wire::Goal::Exact,
        MatchGoal::Seen => wire::Goal::Seen,
    }
}

/// A goal from the wire.
pub(crate) fn goal_from_wire(goal: wire::Goal) -> MatchGoal {
    match goal {
        wire::Goal::Exact => MatchGoal::Exact,
        wire::Goal::Seen => MatchGoal::Seen,
    }
}

/// The fall across the picture, as it travels.
pub(crate) fn fall_to_wire(fall: FallInPicture) -> wire::Fall {
    match fall {
        FallInPicture::Right => wire::Fall::Right,
        FallInPicture::Up => wire::Fall::Up,
        FallInPicture::Left => wire::Fall::Left,
        FallInPicture::Down => wire::Fall::Down,
    }
}

/// The fall across the picture, from the wire.
pub(crate) fn fall_from_wire(fall: wire::Fall) -> FallInPicture {
    match fall {
        wire::Fall::Right => FallInPicture::Right,
        wire::Fall::Up => FallInPicture::Up,
        wire::Fall::Left => FallInPicture::Left,
        wire::Fall::Down => FallInPicture::Down,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_wish_comes_back_as_it_went() {
        let eye =
            Eye { distance: Length::mm(9_000.0), height: Length::mm(1_700.0), bearing: Angle::deg(90.0) };
        for seen_as in [SeenAs::Laid, SeenAs::Above, SeenAs::Fallen, SeenAs::Standing { eye }] {
            for goal in [MatchGoal::Exact, MatchGoal::Seen] {
                let wish = MatchWish {
                    goal,
                    seen_as,
                    seen_from: Length::mm(9_000.0),
                    fewer_changes: 2.5,
                    weight: 7,
                    allowed: Some(vec![ColourId(2), ColourId(9)]),
                };
                assert_eq!(from_wire(to_wire(&wish)), wish);
            }
        }
        for fall in FallInPicture::ALL {
            assert_eq!(fall_from_wire(fall_to_wire(fall)), fall);
        }
    }
}
