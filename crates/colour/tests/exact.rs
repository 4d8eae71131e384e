//! The exact match against independent solvers, its own proof, and the rules of the stock.

#![allow(clippy::unwrap_used, reason = "helpers of tests may fail the test")]

use colour::{
    Axis, CellRule, EMPTY, FieldWanted, Flow, MatchError, Problem, Progress, Srgb8, change_flows,
    ciede2000_textbook, class_table, match_exact, match_free, support,
};
use proptest::prelude::*;

fn go(_: Progress) -> Flow {
    Flow::Go
}

fn hex(text: &str) -> Srgb8 {
    Srgb8::from_hex(text).unwrap()
}

fn flat(wanted: &[Srgb8], palette: &[Srgb8], stock: &[u64]) -> Problem {
    Problem { fields: vec![support::field(wanted.len() as u32, 1, wanted, palette)], stock: stock.to_vec() }
}

fn cost(wanted: Srgb8, colour: Srgb8) -> i64 {
    (1000.0 * ciede2000_textbook(wanted.to_lab(), colour.to_lab())).round() as i64
}

/// OR-tools SimpleMinCostFlow and HiGHS agree on these optima; see `tests/make/optima.py`.
#[test]
fn the_optimum_is_that_of_independent_solvers() {
    let mut count = 0;
    for line in include_str!("data/optima.csv").lines().skip(1) {
        let parts: Vec<Vec<&str>> = line.split(',').map(|part| part.split('|').collect()).collect();
        let mut wanted = Vec::new();
        for (colour, cells) in parts[0].iter().zip(&parts[1]) {
            wanted.extend(vec![hex(colour); cells.parse().unwrap()]);
        }
        let palette: Vec<Srgb8> = parts[2].iter().map(|t| hex(t)).collect();
        let stock: Vec<u64> = parts[3].iter().map(|t| t.parse().unwrap()).collect();
        let matched = match_exact(&flat(&wanted, &palette, &stock), &mut go).unwrap();
        assert_eq!(matched.objective, parts[4][0].parse::<i64>().unwrap(), "{line}");
        assert_eq!(matched.bound, matched.objective);
        count += 1;
    }
    assert_eq!(count, 60);
}

/// 600 white and 400 grey cells, 550 white, 400 grey and 50 black pieces: painting 50 white cells black costs more
/// than shifting 50 whites to grey and 50 greys to black.
#[test]
fn a_chain_of_shifts_is_found_where_it_is_cheaper() {
    let (white, grey, black) = (hex("#ffffff"), hex("#777777"), hex("#000000"));
    let wanted = [vec![white; 600], vec![grey; 400]].concat();
    assert!(cost(white, grey) + cost(grey, black) < cost(white, black));
    let problem = flat(&wanted, &[white, grey, black], &[550, 400, 50]);
    let matched = match_exact(&problem, &mut go).unwrap();
    assert_eq!(matched.objective, 50 * (cost(white, grey) + cost(grey, black)));
    assert_eq!(matched.bound, matched.objective);
    let free = match_free(&problem, &mut go).unwrap();
    let flows: Vec<(u16, u16, u64)> =
        change_flows(&free.cells, &matched.cells).iter().map(|f| (f.from, f.to, f.cells)).collect();
    assert_eq!(flows, [(0, 1, 50), (1, 2, 50)]);
    assert_eq!(free.used, [600, 400, 0]);
}

/// The least cost by trying everything.
fn by_force(costs: &[Vec<i64>], stock: &mut [u64]) -> Option<i64> {
    let Some((row, rest)) = costs.split_first() else { return Some(0) };
    let mut best = None;
    for k in 0..stock.len() {
        if stock[k] > 0 && row[k] < i64::MAX {
            stock[k] -= 1;
            if let Some(sum) = by_force(rest, stock) {
                best = Some(best.map_or(sum + row[k], |b: i64| b.min(sum + row[k])));
            }
            stock[k] += 1;
        }
    }
    best
}

fn any_colour() -> impl Strategy<Value = Srgb8> {
    (any::<u8>(), any::<u8>(), any::<u8>()).prop_map(|(r, g, b)| Srgb8::new(r, g, b))
}

/// Up to seven cells in two fields with weights, allowed colours and cells set by hand.
fn small_problem() -> impl Strategy<Value = Problem> {
    let field = |k: usize| {
        let palette = prop::collection::vec(any_colour(), k);
        let cells = prop::collection::vec((any_colour(), 0..8u32), 0..4);
        (cells, palette, prop::collection::vec(0..4u32, k), 1..4u32).prop_map(
            move |(cells, palette, allowed, weight)| {
                let wanted: Vec<Srgb8> = cells.iter().map(|c| c.0).collect();
                let mut field = support::field(wanted.len() as u32, 1, &wanted, &palette);
                field.allowed = allowed.iter().map(|&a| a > 0).collect();
                field.weight = weight;
                for (rule, (_, kind)) in field.cells.iter_mut().zip(&cells) {
                    *rule = match kind {
                        0 => CellRule::Empty,
                        1 => CellRule::Fixed((k - 1) as u16),
                        _ => CellRule::Free,
                    };
                }
                field
            },
        )
    };
    (1..4usize).prop_flat_map(move |k| {
        (prop::collection::vec(field(k), 2), prop::collection::vec(0..6u64, k))
            .prop_map(|(fields, stock)| Problem { fields, stock })
    })
}

/// The costs of the cells that have a piece, and what is left of the stock for the free ones.
fn cell_costs(problem: &Problem) -> (i64, Vec<Vec<i64>>, Option<Vec<u64>>) {
    let mut stock: Vec<i64> = problem.stock.iter().map(|&s| s as i64).collect();
    let (mut fixed, mut free) = (0, Vec::new());
    for field in &problem.fields {
        let weight = i64::from(field.weight);
        for (wanted, rule) in field.wanted.iter().zip(&field.cells) {
            let of = |k: usize| weight * cost(wanted.to_srgb8(), field.palette[k].to_srgb8());
            match *rule {
                CellRule::Empty => {}
                CellRule::Fixed(k) => {
                    fixed += of(k.into());
                    stock[usize::from(k)] -= 1;
                }
                CellRule::Free => {
                    free.push(
                        (0..stock.len()).map(|k| if field.allowed[k] { of(k) } else { i64::MAX }).collect(),
                    );
                }
            }
        }
    }
    let left: Option<Vec<u64>> = stock.iter().map(|&s| u64::try_from(s).ok()).collect();
    (fixed, free, left)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(3_000))]

    #[test]
    fn no_assignment_is_better_and_none_is_found_only_where_there_is_none(problem in small_problem()) {
        let (fixed, costs, left) = cell_costs(&problem);
        let least = left.and_then(|mut stock| by_force(&costs, &mut stock));
        match match_exact(&problem, &mut go) {
            Ok(matched) => {
                prop_assert_eq!(Some(matched.objective - fixed), least);
                prop_assert_eq!(matched.objective, matched.bound);
                prop_assert!(matched.used.iter().zip(&problem.stock).all(|(u, s)| u <= s));
            }
            Err(MatchError::StockTooSmall { cells, pieces, short }) => {
                prop_assert_eq!(cells, pieces + short);
                prop_assert!(least.is_none() && short > 0);
            }
            Err(MatchError::FieldsShort { fields, colours, cells, pieces, short }) => {
                let free = |f: &usize| problem.fields[*f].cells.iter().filter(|c| **c == CellRule::Free).count() as u64;
                prop_assert_eq!(cells, fields.iter().map(free).sum::<u64>());
                for f in &fields {
                    let field = &problem.fields[*f];
                    prop_assert!((0..problem.stock.len()).all(|k| !field.allowed[k] || colours.contains(&k)));
                }
                prop_assert_eq!(cells, pieces + short);
                prop_assert!(least.is_none() && short > 0);
            }
            Err(MatchError::FixedShort { colour, cells, pieces, .. }) => {
                prop_assert!(cells > pieces && pieces == problem.stock[colour]);
            }
            Err(other) => prop_assert!(false, "{other}"),
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn a_price_is_what_one_more_piece_saves(seed in 0..1000u64, share in 1.0..1.2f64, k in 2..7usize) {
        let mut problem = support::short_problem(12, 9, k, seed);
        problem.stock = support::uneven_stock(108, k, share);
        let matched = match_exact(&problem, &mut go).unwrap();
        for colour in 0..k {
            let mut more = problem.clone();
            more.stock[colour] += 1;
            let saved = matched.objective - match_exact(&more, &mut go).unwrap().objective;
            prop_assert_eq!(saved, matched.prices[colour]);
        }
    }
}

#[test]
fn a_large_match_is_proven_and_keeps_the_stock() {
    for (side, colours) in [(100, 16), (300, 40)] {
        let problem = support::short_problem(side, side, colours, 3);
        let matched = match_exact(&problem, &mut go).unwrap();
        assert_eq!(matched.objective, matched.bound);
        assert!(matched.used.iter().zip(&problem.stock).all(|(u, s)| u <= s));
        assert_eq!(matched.used.iter().sum::<u64>(), u64::from(side) * u64::from(side));
        let field = &problem.fields[0];
        let sum: i64 = matched.cells[0]
            .iter()
            .zip(&field.wanted)
            .map(|(&k, wanted)| cost(wanted.to_srgb8(), field.palette[usize::from(k)].to_srgb8()))
            .sum();
        assert_eq!(matched.objective, sum, "the costs are the textbook's");
    }
}

#[test]
fn a_thousand_colours_are_matched_and_proven() {
    let problem = support::short_problem(40, 30, 1000, 5);
    let matched = match_exact(&problem, &mut go).unwrap();
    assert_eq!(matched.objective, matched.bound);
    assert!(matched.used.iter().zip(&problem.stock).all(|(u, s)| u <= s));
}

#[test]
fn the_number_of_threads_changes_nothing() {
    let problem = support::short_problem(150, 120, 16, 4);
    let with = |threads| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| match_exact(&problem, &mut go).unwrap())
    };
    assert!(with(1) == with(2) && with(1) == with(8));
}

#[test]
fn fields_share_the_stock_and_the_more_important_one_gets_the_better_pieces() {
    let (red, pink) = (hex("#c62828"), hex("#f2a7c0"));
    let field = |weight| FieldWanted { weight, ..support::field(2, 2, &[red; 4], &[red, pink]) };
    let problem = Problem { fields: vec![field(1), field(5)], stock: vec![4, 4] };
    let matched = match_exact(&problem, &mut go).unwrap();
    assert_eq!(matched.cells, [vec![1; 4], vec![0; 4]]);
    assert_eq!(matched.objective, 4 * cost(red, pink));
    assert_eq!(matched.prices, [5 * cost(red, pink) - 4 * cost(red, pink), 0]);
}

#[test]
fn cells_set_by_hand_and_empty_cells_stay() {
    let mut problem = support::short_problem(10, 10, 4, 6);
    problem.fields[0].cells[7] = CellRule::Fixed(2);
    problem.fields[0].cells[8] = CellRule::Empty;
    problem.fields[0].allowed[2] = false;
    problem.stock = vec![60, 60, 1, 60];
    let matched = match_exact(&problem, &mut go).unwrap();
    assert_eq!((matched.cells[0][7], matched.cells[0][8]), (2, EMPTY));
    assert_eq!(matched.used[2], 1);
    assert_eq!(matched.used.iter().sum::<u64>(), 99);
    assert_eq!(matched.objective, matched.bound);
}

#[test]
fn what_is_missing_is_said_exactly() {
    let colours = support::palette(3);
    let field = |allowed: [bool; 3], cells: u32| FieldWanted {
        allowed: allowed.to_vec(),
        ..support::field(cells, 1, &vec![colours[0]; cells as usize], &colours)
    };
    let all = Problem { fields: vec![field([true; 3], 10)], stock: vec![2, 3, 1] };
    assert_eq!(match_exact(&all, &mut go), Err(MatchError::StockTooSmall { cells: 10, pieces: 6, short: 4 }));
    let two = Problem {
        fields: vec![field([true; 3], 10), field([true, true, false], 8), field([false, true, false], 1)],
        stock: vec![3, 4, 100],
    };
    let error = match_exact(&two, &mut go).unwrap_err();
    let expected =
        MatchError::FieldsShort { fields: vec![1, 2], colours: vec![0, 1], cells: 9, pieces: 7, short: 2 };
    assert_eq!(error, expected);
    assert!(error.to_string().starts_with("The fields 2, 3 together need"), "{error}");
    let mut by_hand = all.clone();
    by_hand.fields[0].cells[..2].fill(CellRule::Fixed(2));
    assert_eq!(
        match_exact(&by_hand, &mut go),
        Err(MatchError::FixedShort { colour: 2, cells: 2, pieces: 1, short: 1 })
    );
}

#[test]
fn a_problem_that_does_not_hold_together_is_refused() {
    let good = support::short_problem(4, 4, 3, 1);
    let spoil = |change: &dyn Fn(&mut Problem)| {
        let mut bad = good.clone();
        change(&mut bad);
        match_exact(&bad, &mut go).unwrap_err()
    };
    let field = 0;
    assert!(matches!(spoil(&|p| p.stock.clear()), MatchError::Colours { found: 0 }));
    assert!(matches!(spoil(&|p| p.stock = vec![9; 2000]), MatchError::Colours { found: 2000 }));
    assert!(matches!(spoil(&|p| p.fields[0].cols = 5), MatchError::Length { found: 16, expected: 20, .. }));
    assert!(matches!(spoil(&|p| p.fields[0].weight = 101), MatchError::Weight { found: 101, .. }));
    assert!(matches!(spoil(&|p| p.fields[0].sigma[1] = f64::NAN), MatchError::Sigma { .. }));
    assert!(matches!(spoil(&|p| p.fields[0].wanted[3].0[1] = f32::NAN), MatchError::Light { index: 3, .. }));
    let far = spoil(&|p| p.fields[0].cells[5] = CellRule::Fixed(3));
    assert_eq!(far, MatchError::FixedColour { field, cell: 5, colour: 3, colours: 3 });
}

#[test]
fn no_fields_and_no_cells_match_nothing() {
    let mut problem = support::short_problem(3, 3, 2, 1);
    problem.fields[0].cells.fill(CellRule::Empty);
    let matched = match_exact(&problem, &mut go).unwrap();
    assert_eq!((matched.objective, matched.bound, matched.used), (0, 0, vec![0, 0]));
    problem.fields.clear();
    assert_eq!(match_exact(&problem, &mut go).unwrap().cells.len(), 0);
}

#[test]
fn a_class_with_two_colours_gives_each_one_stretch_of_a_lane() {
    let colours = support::palette(2);
    for (axis, changes) in [(Axis::Cols, 1), (Axis::Rows, 1)] {
        let mut problem = flat(&[colours[0]; 36], &colours, &[15, 21]);
        problem.fields[0].cols = 6;
        problem.fields[0].rows = 6;
        problem.fields[0].runs_along = axis;
        let matched = match_exact(&problem, &mut go).unwrap();
        assert_eq!(colour::runs(&problem.fields[0], &matched.cells[0]).changes, changes);
    }
}

#[test]
fn a_match_stops_when_asked_at_any_point() {
    let problem = support::short_problem(200, 200, 16, 2);
    let mut all = 0;
    match_exact(&problem, &mut |_| {
        all += 1;
        Flow::Go
    })
    .unwrap();
    assert!(all > 5);
    for stop_at in 0..all {
        let mut asked = 0;
        let stopped = match_exact(&problem, &mut |_| {
            asked += 1;
            if asked > stop_at { Flow::Stop } else { Flow::Go }
        });
        assert_eq!((stopped, asked), (Err(MatchError::Stopped), stop_at + 1));
    }
}

#[test]
fn the_table_for_other_solvers_holds_all_cells() {
    let problem = support::short_problem(40, 40, 5, 2);
    let table = class_table(&problem).unwrap();
    assert_eq!(table.counts.iter().sum::<u32>(), 1600);
    assert_eq!(table.costs.len(), 5 * table.counts.len());
    assert_eq!(table.stock, problem.stock);
}
