//! The seen match: its gain over plain methods, the rules of the stock, and stopping.

#![allow(clippy::unwrap_used, reason = "helpers of tests may fail the test")]

use colour::{
    Axis, CellRule, EMPTY, Flow, MatchError, Problem, Progress, SeenOptions, Stage, match_exact, match_seen,
    mean_difference, mean_difference_seen, runs, support,
};

fn go(_: Progress) -> Flow {
    Flow::Go
}

fn seen(problem: &Problem, options: &SeenOptions) -> colour::SeenMatched {
    match_seen(problem, options, None, &mut go).unwrap()
}

fn within_stock(problem: &Problem, cells: &[Vec<u16>]) -> bool {
    let mut left = problem.stock.clone();
    cells.iter().flatten().filter(|&&c| c != EMPTY).all(|&c| {
        let pieces = &mut left[usize::from(c)];
        *pieces = pieces.wrapping_sub(1);
        *pieces != u64::MAX
    })
}

#[test]
fn it_is_a_quarter_better_from_afar_than_error_diffusion_under_the_same_stock() {
    for picture in [1, 2, 3] {
        let problem = support::short_problem(100, 100, 16, picture);
        let field = &problem.fields[0];
        let ours = seen(&problem, &SeenOptions::default());
        assert!(within_stock(&problem, &ours.cells));
        let diffused = support::diffuse(field, &problem.stock);
        let (ours, theirs) = (
            mean_difference_seen(field, &ours.cells[0], [2.0, 2.0]),
            mean_difference_seen(field, &diffused, [2.0, 2.0]),
        );
        assert!(ours < 0.75 * theirs, "picture {picture}: {ours} and {theirs}");
    }
}

/// What is left of the colour changes at weight 3, and how the picture seen with a blur of 2 cells compares with that
/// at weight 0, as a part of it: drawn photograph `picture`, designed for `sigma`.
fn weight_3(picture: u64, axis: Axis, sigma: f64) -> [f64; 2] {
    let mut problem = support::short_problem(100, 100, 16, picture);
    problem.fields[0].runs_along = axis;
    problem.fields[0].sigma = [sigma, sigma];
    let field = &problem.fields[0];
    let plain = seen(&problem, &SeenOptions::default());
    let calm = seen(&problem, &SeenOptions { fewer_changes: 3.0, ..SeenOptions::default() });
    assert!(within_stock(&problem, &calm.cells));
    let changes = |m: &colour::SeenMatched| runs(field, &m.cells[0]).changes as f64;
    let afar = |m: &colour::SeenMatched| mean_difference_seen(field, &m.cells[0], [2.0, 2.0]);
    [changes(&calm) / changes(&plain), afar(&calm) / afar(&plain)]
}

#[test]
fn weight_3_halves_the_colour_changes_and_loses_nothing_from_afar() {
    for (axis, picture) in [(Axis::Cols, 1), (Axis::Cols, 2), (Axis::Rows, 1), (Axis::Rows, 2)] {
        for sigma in [0.7, 1.0] {
            let [changes, afar] = weight_3(picture, axis, sigma);
            assert!(changes <= 0.5, "picture {picture}, {sigma}: {changes} of the changes");
            assert!(afar <= 1.0, "picture {picture}, {sigma}: {afar} of the difference");
        }
    }
}

#[test]
fn weight_3_loses_nothing_on_the_mean_over_pictures_and_next_to_nothing_where_designed_for_a_wide_blur() {
    for (sigma, most_mean, most) in [(1.0, 1.0, 1.01), (1.5, 1.003, 1.01)] {
        let found: Vec<[f64; 2]> = (1..=6).map(|picture| weight_3(picture, Axis::Cols, sigma)).collect();
        let mean = |i: usize| found.iter().map(|f| f[i]).sum::<f64>() / found.len() as f64;
        assert!(mean(0) <= 0.5 && mean(1) <= most_mean, "{sigma}: {found:?}");
        assert!(found.iter().all(|f| f[1] <= most), "{sigma}: {found:?}");
    }
}

#[test]
fn each_step_of_the_weight_leaves_fewer_changes() {
    for sigma in [0.7, 1.5] {
        let mut problem = support::short_problem(60, 60, 16, 3);
        problem.fields[0].sigma = [sigma, sigma];
        let left: Vec<u64> = [0.0, 0.5, 1.0, 2.0, 3.0, 4.0, 5.0]
            .map(|fewer_changes| {
                let found = seen(&problem, &SeenOptions { fewer_changes, ..SeenOptions::default() });
                runs(&problem.fields[0], &found.cells[0]).changes
            })
            .to_vec();
        assert!(left.is_sorted_by(|a, b| a > b), "{left:?}");
    }
}

#[test]
fn the_error_falls_and_the_best_picture_is_handed_back() {
    let problem = support::short_problem(60, 60, 12, 7);
    let found = seen(&problem, &SeenOptions::default());
    let least = found.errors.iter().copied().fold(f64::INFINITY, f64::min);
    assert!(least < 0.6 * found.errors[0], "{:?}", found.errors);
    let again = match_seen(
        &problem,
        &SeenOptions { sweeps: 1, ..SeenOptions::default() },
        Some(&found.cells),
        &mut go,
    );
    assert_eq!(again.unwrap().errors[0], least);
}

#[test]
fn all_parts_of_the_error_are_followed_by_the_search() {
    let mut problem = support::short_problem(40, 40, 8, 3);
    problem.fields[0].sigma = [0.8, 1.3];
    for options in [
        SeenOptions { lambda: 0.1, ..SeenOptions::default() },
        SeenOptions { robust: 1.0, ..SeenOptions::default() },
        SeenOptions { fewer_changes: 2.0, lambda: 0.05, robust: 2.0, ..SeenOptions::default() },
    ] {
        let found = seen(&problem, &options);
        let last = found.errors.last().unwrap();
        assert!(last < &(0.9 * found.errors[0]), "{options:?} {:?}", found.errors);
    }
    let field = &problem.fields[0];
    let near = |lambda| {
        let options = SeenOptions { lambda, ..SeenOptions::default() };
        mean_difference(field, &seen(&problem, &options).cells[0])
    };
    assert!(near(1.0) < near(0.0));
}

#[test]
fn the_blur_of_each_axis_counts() {
    let mut problem = support::short_problem(60, 60, 12, 5);
    let mut designed = |sigma: [f64; 2]| {
        problem.fields[0].sigma = sigma;
        let cells = seen(&problem, &SeenOptions::default()).cells;
        mean_difference_seen(&problem.fields[0], &cells[0], [0.6, 1.5])
    };
    assert!(designed([0.6, 1.5]) < designed([1.5, 0.6]));
}

#[test]
fn fields_share_stock_and_the_heavier_one_is_seen_better() {
    let mut problem = support::short_problem(40, 40, 10, 1);
    let other = support::short_problem(50, 30, 10, 2);
    problem.fields.extend(other.fields);
    problem.stock.iter_mut().zip(&other.stock).for_each(|(a, b)| *a += b);
    let mut second = |weight| {
        problem.fields[1].weight = weight;
        let found = seen(&problem, &SeenOptions::default());
        assert!(within_stock(&problem, &found.cells));
        mean_difference_seen(&problem.fields[1], &found.cells[1], [2.0, 2.0])
    };
    assert!(second(8) < second(1));
}

#[test]
fn empty_cells_and_cells_set_by_hand_stay_and_forbidden_colours_are_not_used() {
    let mut problem = support::short_problem(30, 30, 8, 4);
    let field = &mut problem.fields[0];
    field.cells[..40].fill(CellRule::Empty);
    field.cells[100..110].fill(CellRule::Fixed(3));
    field.allowed[3] = false;
    field.allowed[5] = false;
    problem.stock.iter_mut().for_each(|s| *s += 60);
    let found = seen(&problem, &SeenOptions { fewer_changes: 1.0, lambda: 0.02, ..SeenOptions::default() });
    let cells = &found.cells[0];
    assert!(cells[..40].iter().all(|&c| c == EMPTY) && cells[40..].iter().all(|&c| c != EMPTY));
    assert!(cells[100..110].iter().all(|&c| c == 3));
    assert_eq!((found.used[3], found.used[5]), (10, 0));
    assert_eq!(found.used.iter().sum::<u64>(), 860);
}

#[test]
fn the_number_of_threads_changes_nothing() {
    let problem = support::short_problem(70, 90, 16, 4);
    let with = |threads| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| seen(&problem, &SeenOptions { sweeps: 4, ..SeenOptions::default() }))
    };
    assert!(with(1) == with(2) && with(1) == with(8));
}

#[test]
fn a_stopped_search_hands_back_its_best_picture() {
    let problem = support::short_problem(80, 80, 16, 2);
    let exact = match_exact(&problem, &mut go).unwrap();
    let until = |share: f64| {
        match_seen(&problem, &SeenOptions::default(), None, &mut |p| {
            if p.stage == Stage::Search && p.done >= share { Flow::Stop } else { Flow::Go }
        })
        .unwrap()
    };
    let (at_once, later) = (until(0.0), until(0.35));
    assert!(at_once.stopped && at_once.cells == exact.cells);
    assert!(later.stopped && later.errors.last().unwrap() < &(0.8 * at_once.errors[0]));
    assert!(within_stock(&problem, &later.cells));
    let before = match_seen(&problem, &SeenOptions::default(), None, &mut |_| Flow::Stop);
    assert_eq!(before, Err(MatchError::Stopped));
}

#[test]
fn a_start_that_breaks_the_rules_is_refused() {
    let problem = support::short_problem(10, 10, 4, 2);
    let good = match_exact(&problem, &mut go).unwrap().cells;
    let from = |cells: &[Vec<u16>]| match_seen(&problem, &SeenOptions::default(), Some(cells), &mut go);
    assert!(from(&good).is_ok());
    let all_of_one = [vec![0; 100]];
    let short = [vec![0; 99]];
    let unknown = [vec![4; 100]];
    for bad in [&all_of_one[..], &short, &unknown, &[]] {
        assert_eq!(from(bad), Err(MatchError::Start { field: 0 }));
    }
}

#[test]
fn many_colours_one_cell_and_no_cells_are_matched() {
    let many = support::short_problem(30, 30, 100, 2);
    let found = seen(&many, &SeenOptions::default());
    assert!(within_stock(&many, &found.cells) && found.errors.last().unwrap() < &found.errors[0]);
    assert_eq!(seen(&support::short_problem(1, 1, 3, 2), &SeenOptions::default()).cells[0].len(), 1);
    let nothing =
        Problem { fields: vec![support::field(0, 0, &[], &support::palette(2))], stock: vec![1, 1] };
    assert_eq!(seen(&nothing, &SeenOptions::default()).cells, [Vec::<u16>::new()]);
}
