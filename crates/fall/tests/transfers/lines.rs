//! Joins, backward touches, crossings, steps, drops and neighbouring lanes, as they were set up in the measured runs.

use crate::scene::{Answer, D, Row, Scene, Tally, W, num, rows};

/// All files that are not about the edge of a field.
pub(crate) fn tallies() -> Vec<Tally> {
    let [crossing, first] = crossing();
    vec![
        join(),
        backward_touch(),
        backward_line(),
        mujoco_touch(),
        crossing,
        first,
        steps(),
        drop_off(),
        side(),
        openings(),
        slide(),
        level_ramp(),
    ]
}

/// Two branches of `branch` pieces into a trunk, or for a split the other way round; the joint lies at x = 0.
struct Fork {
    scene: Scene,
    trunk: Vec<usize>,
    a: Vec<usize>,
    b: Vec<usize>,
}

fn fork(gap: f64, sep: f64, (trunk, branch): (usize, usize), split: bool) -> Fork {
    let p = gap + D;
    let mut scene = Scene::default();
    let (t, ab) = if split { (-(trunk as f64) * p, 0.0) } else { (0.0, -(branch as f64) * p) };
    let trunk = scene.run(t, 0.0, 0.0, p, trunk);
    let a = scene.run(ab, sep / 2.0, 0.0, p, branch);
    let b = scene.run(ab, -sep / 2.0, 0.0, p, branch);
    Fork { scene, trunk, a, b }
}

fn join() -> Tally {
    let mut t = Tally::new("join");
    for r in rows("join") {
        let (mu, gap, sep) = (num(&r, "mu"), num(&r, "gap_mm"), num(&r, "sep_mm"));
        let f = fork(gap, sep, (20, 18), false);
        let only = r["arrival"] == "only_a";
        let pushed = if only { vec![(f.a[0], false)] } else { vec![(f.a[0], false), (f.b[0], false)] };
        let answer = Answer::of(&f.scene, mu, &pushed);
        let text = format!("mu {mu} s {gap} sep {sep} {}", r["arrival"]);
        t.row(&text, answer.count(&f.trunk[19..]), 1, num(&r, "trunk_fell_to_end") / num(&r, "runs"));
        if only {
            let lost = num(&r, "runs_idle_branch_lost_any") / num(&r, "runs");
            let any = |v: &[bool]| usize::from(f.b.iter().any(|i| v[*i]));
            t.row(&format!("{text} idle branch"), (any(&answer.surely), any(&answer.at_most)), 1, lost);
        }
    }
    t
}

/// Which piece of a trunk and of a branch is knocked, counted from 0.
const KNOCKED: (usize, usize) = (8, 7);

fn backward_touch() -> Tally {
    let mut t = Tally::new("backward_touch");
    for r in rows("backward_touch") {
        let (mu, gap, sep, runs) = (num(&r, "mu"), num(&r, "gap_mm"), num(&r, "sep_mm"), num(&r, "runs"));
        let (trunk, branch) = (num(&r, "trunk_len") as usize, num(&r, "branch_len") as usize);
        let f = fork(gap, sep, (trunk, branch), r["kind"] == "split");
        let on_a = r["knocked"].starts_with('A');
        let piece = if on_a { f.a[KNOCKED.1] } else { f.trunk[KNOCKED.0] };
        let back = r["knocked"].ends_with("back");
        let speed = num(&r, "push_rad_s");
        let answer = Answer::knocked(&f.scene, mu, (piece, back), speed);
        let text = format!("mu {mu} s {gap} {} sep {sep} {} at {speed}", r["kind"], r["knocked"]);
        // What lies before and behind the knocked piece, which itself counts with what it falls on.
        let parts = |pieces: &[usize], at: Option<usize>| match at {
            None => [pieces.to_vec(), Vec::new()],
            Some(at) => {
                [pieces[..at + usize::from(back)].to_vec(), pieces[at + usize::from(back)..].to_vec()]
            }
        };
        let lines = [
            ("trunk", parts(&f.trunk, (!on_a).then_some(KNOCKED.0)), ["trunk_back_total", "trunk_fwd_total"]),
            ("A", parts(&f.a, on_a.then_some(KNOCKED.1)), ["A_back_total", "A_fwd_total"]),
            ("B", parts(&f.b, None), ["B_back_or_side_total", "B_fwd_total"]),
        ];
        for (name, [behind, before], keys) in lines {
            let [fell_back, fell_on] = keys.map(|k| num(&r, k) / runs);
            if before.is_empty() {
                let share = (fell_back + fell_on) / behind.len() as f64;
                t.row(&format!("{text} {name}"), answer.count(&behind), behind.len(), share);
                continue;
            }
            let share = |fell: f64, of: &[usize]| fell / of.len() as f64;
            t.row(
                &format!("{text} {name} behind"),
                answer.count(&behind),
                behind.len(),
                share(fell_back, &behind),
            );
            t.row(
                &format!("{text} {name} before"),
                answer.count(&before),
                before.len(),
                share(fell_on, &before),
            );
        }
    }
    t
}

/// A line of 21 whose piece 10 is knocked back.
fn backward_line() -> Tally {
    let mut t = Tally::new("backward_line");
    for r in rows("backward_line") {
        let fell = |key: &str| num(&r, key) / num(&r, "runs");
        let (behind, before) = (fell("line_behind_fell_to_its_start"), fell("line_in_front_fell_to_its_end"));
        knocked_line(&mut t, &r, behind, before);
    }
    t
}

/// The same by another engine.
fn mujoco_touch() -> Tally {
    let mut t = Tally::new("mujoco_touch");
    for r in rows("mujoco_touch") {
        let fell = |key: &str| num(&r, key) / 10.0;
        knocked_line(&mut t, &r, fell("fallen_behind_of_10"), fell("fallen_in_front_of_10"));
    }
    t
}

fn knocked_line(t: &mut Tally, r: &Row, behind: f64, before: f64) {
    let (mu, gap, speed) = (num(r, "mu"), num(r, "gap_mm"), num(r, "knock_rad_s"));
    let mut scene = Scene::default();
    let line = scene.run(0.0, 0.0, 0.0, gap + D, 21);
    let answer = Answer::knocked(&scene, mu, (line[10], true), speed);
    let text = format!("mu {mu} s {gap} {speed} rad/s");
    t.row(&format!("{text} behind"), answer.count(&line[..1]), 1, behind);
    t.row(&format!("{text} before"), answer.count(&line[20..]), 1, before);
}

/// Knocks of the runs at the edge of a field, rad/s: soft ones in a lane, hard ones on its last piece.
pub(crate) const SOFT: f64 = 4.0;
pub(crate) const HARD: f64 = 14.0;
/// Those in the line, whose speed the runs do not state: they went on at 7.5 mm on every floor, and kicked nothing.
pub(crate) const MIDDLE: f64 = 9.0;

/// Seconds between the pushes of two lines that cross.
const LATER: f64 = 1.2;

/// Two lines that cross at a right angle, with openings in the middle: one is pushed alone, or the other one afterwards.
/// What of the other one falls of itself is compared as well. Where both are to fall, the one that does so first is told by
/// itself: it is as unsure as the other, but a run with a seed, which knows the order, rolls for the later one alone.
fn crossing() -> [Tally; 2] {
    let (mut t, mut first_of_two) = (Tally::new("crossing"), Tally::new("crossing, first of two"));
    for r in &rows("crossing") {
        let (mu, gap) = (num(r, "mu"), num(r, "gap_mm"));
        let p = gap + D;
        let mut scene = Scene::default();
        let mut line = |deg: f64, opening: f64| {
            // Without an opening of its own a line goes through with its pitch.
            let half = if opening > 0.0 { opening / 2.0 + D / 2.0 } else { p / 2.0 };
            let (s, c) = units::Angle::deg(deg).sin_cos();
            let at = |d: f64| (d * c, d * s);
            let n = 12;
            let mut ids = Vec::new();
            for i in (0..n).rev() {
                let (x, y) = at(-half - i as f64 * p);
                ids.push(scene.put(x, y, deg));
            }
            for i in 0..n {
                let (x, y) = at(half + i as f64 * p);
                ids.push(scene.put(x, y, deg));
            }
            ids
        };
        let one = line(0.0, num(r, "opening_line1_mm"));
        let two = line(90.0, num(r, "opening_line2_mm"));
        let text = format!(
            "mu {mu} s {gap} openings {} {} pushed {}",
            r["opening_line1_mm"], r["opening_line2_mm"], r["pushed"]
        );
        let fell = |key: &str| num(r, key) / num(r, "runs");
        let (ends, keys) = ([one[23], two[23]], ["line1_end_fell", "line2_end_fell"]);
        let order: Vec<usize> = r["pushed"].split("then").map(|n| usize::from(n == "2")).collect();
        if let [first, then] = order[..] {
            let lines = [&one, &two];
            let answer = Answer::run(&scene, mu, &[(lines[first][0], 0.0), (lines[then][0], LATER)]);
            first_of_two.row(&format!("{text} first"), answer.count(&[ends[first]]), 1, fell(keys[first]));
            t.row(&format!("{text} then"), answer.count(&[ends[then]]), 1, fell(keys[then]));
            continue;
        }
        let (pushed, other) = if order[0] == 0 { (&one, &two) } else { (&two, &one) };
        let answer = Answer::of(&scene, mu, &[(pushed[0], false)]);
        t.row(&text, answer.count(&[ends[order[0]]]), 1, fell(keys[order[0]]));
        let any = |v: &[bool]| usize::from(other.iter().any(|i| v[*i]));
        let started = (any(&answer.surely), any(&answer.at_most));
        t.row(&format!("{text} the other starts"), started, 1, fell("other_line_started"));
    }
    [t, first_of_two]
}

/// Stairs of five steps with n pieces on each, risers in the middle of the gaps.
fn steps() -> Tally {
    let mut t = Tally::new("steps");
    for r in rows("steps") {
        let (mu, gap, step, n) =
            (num(&r, "mu"), num(&r, "gap_mm"), num(&r, "step_mm"), num(&r, "pieces_per_step"));
        let up = r["dir"] == "up";
        let (p, n) = (gap + D, n as usize);
        let mut scene = Scene::default();
        let level = |k: usize| if up { k as f64 * step } else { (5 - k) as f64 * step };
        let (lead, tail) = (12, num(&r, "of") as usize);
        let mut last = 0;
        for i in 0..lead + tail {
            let k = if i < lead { 0 } else { ((i - lead) / n + 1).min(5) };
            last = scene.on(i as f64 * p, 0.0, 0.0, level(k));
        }
        let answer = Answer::of(&scene, mu, &[(0, false)]);
        let text = format!("mu {mu} s {gap} step {step} n {n} {}", r["dir"]);
        t.row(&text, answer.count(&[last]), 1, num(&r, "all_fell") / num(&r, "runs"));
    }
    t
}

/// A line that falls off the end of a plank to a line below.
fn drop_off() -> Tally {
    let mut t = Tally::new("drop");
    for r in rows("drop") {
        let (mu, gap, down) = (num(&r, "mu"), num(&r, "gap_mm"), num(&r, "drop_mm"));
        let over = num(&r, "last_face_to_plank_edge_mm") + num(&r, "plank_edge_to_target_rear_face_mm");
        let p = gap + D;
        let mut scene = Scene::default();
        for i in (0..12).rev() {
            scene.on(-(i as f64) * p, 0.0, 0.0, down);
        }
        let below = scene.run(over + D, 0.0, 0.0, p, 10);
        let answer = Answer::of(&scene, mu, &[(0, false)]);
        let text = format!("mu {mu} s {gap} drop {down} edge {} on {over}", r["last_face_to_plank_edge_mm"]);
        t.row(&text, answer.count(&below[9..]), 1, num(&r, "line_below_ran") / num(&r, "runs"));
    }
    t
}

/// A lane that falls beside one that stands.
fn side() -> Tally {
    let mut t = Tally::new("side_clearance");
    for r in rows("side_clearance") {
        let (mu, gap, clear) = (num(&r, "mu"), num(&r, "gap_mm"), num(&r, "side_clear_mm"));
        let mut scene = Scene::default();
        let n = num(&r, "lane_len") as usize;
        let one = scene.run(0.0, 0.0, 0.0, gap + D, n);
        let two = scene.run(0.0, W + clear, 0.0, gap + D, n);
        let answer = Answer::of(&scene, mu, &[(one[0], false)]);
        let any = |v: &[bool]| usize::from(two.iter().any(|i| v[*i]));
        let text = format!("mu {mu} s {gap} clear {clear} sd {}", r["yaw_sd_deg"]);
        t.row(
            &text,
            (any(&answer.surely), any(&answer.at_most)),
            1,
            num(&r, "runs_neighbour_lane_lost_any") / num(&r, "runs"),
        );
    }
    t
}

/// A line, an opening, and the rest of the line, without anything in the opening.
fn opened(t: &mut Tally, text: &str, (mu, gap, opening): (f64, f64, f64), passed: f64) {
    let mut scene = Scene::default();
    let p = gap + D;
    let line = scene.run(0.0, 0.0, 0.0, p, 22);
    let rest = scene.run(21.0 * p + D + opening, 0.0, 0.0, p, 6);
    let answer = Answer::of(&scene, mu, &[(line[0], false)]);
    t.row(&format!("{text} mu {mu} s {gap} opening {opening}"), answer.count(&rest[5..]), 1, passed);
}

/// Openings in a line: whether the rest falls.
fn openings() -> Tally {
    let mut t = Tally::new("safety_*, mujoco opening");
    for file in ["safety_hold", "safety_opening"] {
        for r in rows(file) {
            let at = (num(&r, "mu"), num(&r, "line_gap_mm"), num(&r, "opening_mm"));
            opened(&mut t, file, at, 1.0 - num(&r, "held") / num(&r, "seeds"));
        }
    }
    for r in rows("safety_gap").iter().filter(|r| r["stopper"] == "none") {
        let at = (num(r, "mu"), num(r, "pitch_mm") - D, num(r, "opening_mm"));
        opened(&mut t, "safety_gap", at, 1.0 - num(r, "held") / num(r, "seeds"));
    }
    for r in rows("mujoco_slide_opening").iter().filter(|r| r["test"] == "opening") {
        let at = (num(r, "mu"), num(r, "gap_mm"), num(r, "opening_mm"));
        opened(&mut t, "mujoco", at, num(r, "rest_fell") / 6.0);
    }
    t
}

/// How much farther than the slide another line stands, mm.
const BEYOND: f64 = 3.0;

/// Another line that stands beyond what the pieces of a line slide past its end: it stays up. What they touch nearer than
/// that does not fall for that reason, which the openings tell.
fn slide() -> Tally {
    let mut t = Tally::new("slide, line_end, mujoco slide");
    let mut beyond = |text: &str, (mu, gap, pieces): (f64, f64, usize), reach: f64| {
        let mut scene = Scene::default();
        let p = gap + D;
        let line = scene.run(0.0, 0.0, 0.0, p, pieces);
        let x = (pieces - 1) as f64 * p + D + reach + BEYOND;
        let other = scene.run(x, 0.0, 0.0, p, 6);
        let answer = Answer::of(&scene, mu, &[(line[0], false)]);
        t.row(&format!("{text} mu {mu} s {gap} n {pieces}"), answer.count(&other[..1]), 1, 0.0);
    };
    for r in rows("slide") {
        let at = (num(&r, "mu"), num(&r, "gap_mm"), num(&r, "pieces") as usize);
        beyond("slide", at, num(&r, "reach_past_last_front_face_mm"));
    }
    for r in rows("line_end").iter().filter(|r| r["shape"] == "straight") {
        beyond("line_end", (num(r, "mu"), num(r, "gap_mm"), 30), num(r, "reach_past_front_face_mm"));
    }
    for r in rows("mujoco_slide_opening").iter().filter(|r| r["test"] == "slide") {
        let at = (num(r, "mu"), num(r, "gap_mm"), num(r, "pieces") as usize);
        beyond("mujoco", at, num(r, "reach_past_last_face_mm"));
    }
    t
}

/// The level rows of the runs on planks; `slopes.rs` asks all of them.
fn level_ramp() -> Tally {
    let mut t = Tally::new("ramp, level");
    for r in rows("ramp").iter().filter(|r| num(r, "slope_deg_downhill_positive") == 0.0) {
        let (mu, gap, n) = (num(r, "mu"), num(r, "gap_mm"), num(r, "pieces") as usize);
        let mut scene = Scene::default();
        let line = scene.run(0.0, 0.0, 0.0, gap + D, n);
        let answer = if r["start_push"].starts_with("first piece") {
            Answer::knocked(&scene, mu, (line[0], false), 9.0)
        } else {
            Answer::of(&scene, mu, &[(line[0], false), (line[1], false), (line[2], false)])
        };
        t.row(
            &format!("mu {mu} s {gap} {}", r["start_push"]),
            answer.count(&line[n - 1..]),
            1,
            num(r, "fell") / n as f64,
        );
    }
    t
}
