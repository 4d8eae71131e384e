//! Round turns between the lanes of a field that fall one after another.

use std::f64::consts::PI;

use plan::FieldFrame;
use units::{Angle, maths};

/// The most that one piece may be turned against the one before: pieces on a circle were measured to fall on up to 45
/// degrees a step, and 30 degrees is safe on every floor.
const MOST_STEP_RAD: f64 = PI / 4.0;
/// Rounding in a step that is just allowed.
const SLACK_RAD: f64 = 1e-9;

/// The angle from each piece of a turn between neighbouring lanes to the next: pieces one pitch apart on a half circle
/// that leads from lane to lane. `None` when it would be more than 45 degrees, so that the lanes lie too close to be
/// joined: at a pitch of 15 mm they must lie 39.2 mm apart or more, and 58 mm for safe steps of 30 degrees.
pub fn turn_step(frame: &FieldFrame) -> Option<Angle> {
    let step = 2.0 * maths::asin(frame.pitch_along.to_mm() / frame.pitch_across.to_mm());
    // Lanes closer than one pitch give no angle at all.
    (step <= MOST_STEP_RAD + SLACK_RAD && step > 0.0).then(|| Angle::rad(step))
}

/// The pieces between the last one of a lane and the first one of the next: how far along the fall and to the left of it
/// each stands, in mm, and how far its fall is turned against the field's heading.
///
/// Straight on past a staggered end, then a half circle: to the left from lanes along the heading, to the right from those
/// against it. The steps are even, none above 45 degrees, and on the half circle the pieces are no closer than one pitch.
pub(crate) fn turn_after(frame: &FieldFrame, lane: u32) -> Vec<(f64, f64, Angle)> {
    let Some(step) = turn_step(frame) else { return Vec::new() };
    let radius = frame.pitch_across.to_mm() / 2.0;
    let back = lane % 2 == 1;
    let stagger = frame.stagger.to_mm();
    // Lanes against the heading are the shifted ones: the far ends differ by it, and so do the near ends.
    let length = stagger + PI * radius;
    let mut steps = (length / (radius * step.to_rad()) + SLACK_RAD).floor();
    while length / steps / radius > MOST_STEP_RAD + SLACK_RAD {
        steps += 1.0;
    }
    let turned = |i: u32| {
        let s = length * f64::from(i) / steps;
        let angle = ((s - stagger) / radius).max(0.0);
        let (sin, cos) = maths::sin_cos(angle);
        // Ahead of the lane's end, and towards the next lane.
        (s.min(stagger) + radius * sin, radius * (1.0 - cos), Angle::rad(angle))
    };
    let last = f64::from(frame.ranks.saturating_sub(1)) * frame.pitch_along.to_mm();
    let v = f64::from(lane) * frame.pitch_across.to_mm();
    let place = |i: u32| {
        let (ahead, over, angle) = turned(i);
        if back {
            (stagger - ahead, v + over, Angle::deg(180.0) - angle)
        } else {
            (last + ahead, v + over, angle)
        }
    };
    (1..steps as u32).map(place).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use units::Length;

    fn frame(along: f64, across: f64, stagger: f64) -> FieldFrame {
        FieldFrame {
            stagger: Length::mm(stagger),
            course: plan::LaneCourse::InTurn,
            ..FieldFrame::new(4, 10, Length::mm(along), Length::mm(across))
        }
    }

    /// 15 mm / sin(45 degrees / 2) = 39.2 mm (calculated).
    #[test]
    fn lanes_closer_than_39_mm_are_not_joined() {
        assert_eq!(turn_step(&frame(15.0, 26.0, 0.0)), None);
        assert_eq!(turn_step(&frame(15.0, 39.1, 0.0)), None);
        assert!(turn_step(&frame(15.0, 39.2, 0.0)).is_some());
        assert_eq!(turn_step(&frame(15.0, 10.0, 0.0)), None);
        assert!(turn_after(&frame(15.0, 26.0, 0.0), 0).is_empty());
    }

    /// From the last piece of a lane over the turn to the first of the next, every distance is about a pitch and every
    /// piece is turned by at most 45 degrees; a wrong side would end a whole lane pitch away.
    #[test]
    fn turns_lead_evenly_from_lane_to_lane_at_both_ends() {
        for (across, stagger) in [(40.0, 0.0), (58.0, 0.0), (80.0, 0.0), (58.0, 7.5), (45.0, 12.0)] {
            let frame = frame(15.0, across, stagger);
            let last = 9.0 * 15.0;
            let ends = [
                ((last, 0.0, 0.0), (last + stagger, across, 180.0)),
                ((stagger, across, 180.0), (0.0, 2.0 * across, 0.0)),
            ];
            for (lane, (from, to)) in (0u32..).zip(ends) {
                let mut all = vec![(from.0, from.1, Angle::deg(from.2))];
                all.extend(turn_after(&frame, lane));
                all.push((to.0, to.1, Angle::deg(to.2)));
                for pair in all.windows(2) {
                    let ((u, v, a), (x, y, b)) = (pair[0], pair[1]);
                    let apart = maths::hypot(x - u, y - v);
                    let turn = (b - a).to_deg().abs();
                    assert!((11.0..21.0).contains(&apart), "{across} {stagger} lane {lane}: {apart} mm");
                    assert!(turn <= 45.0 + 1e-6, "{across} {stagger} lane {lane}: {turn} degrees");
                }
            }
        }
    }
}
