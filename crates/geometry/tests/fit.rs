//! Taped distances against triangles that everybody knows.

use geometry::{FitError, Point, fit_distances};
use proptest::prelude::*;
use units::{Angle, maths};

fn points(corners: &[(f64, f64)]) -> Vec<Point> {
    corners.iter().map(|&(x, y)| Point::new(x, y)).collect()
}

fn assert_at(found: Point, x: f64, y: f64) {
    assert!(found.minus(Point::new(x, y)).length() < 1e-5, "{found:?} should be at {x}, {y}");
}

/// Sides 3, 4 and 5: the corner between 3 and 4 is square.
#[test]
fn sides_of_three_four_and_five_make_a_square_corner() {
    let drawn = points(&[(100.0, 200.0), (3300.0, 200.0), (0.0, 3900.0)]);
    let fit = fit_distances(&drawn, &[(0, 1, 3000.0), (0, 2, 4000.0), (1, 2, 5000.0)]).unwrap();
    assert_at(fit.at[0], 100.0, 200.0);
    assert_at(fit.at[1], 3100.0, 200.0);
    assert_at(fit.at[2], 100.0, 4200.0);
    assert!(fit.misfit.iter().all(|v| v.abs() < 1e-6) && fit.loose.is_empty() && fit.suspect.is_none());
    assert_eq!((fit.spare, fit.sigma), (0, 0.0));
}

/// A hall of 12 m by 9 m has diagonals of 15 m.
#[test]
fn a_rectangle_with_both_diagonals_is_found_with_one_to_spare() {
    let drawn = points(&[(0.0, 0.0), (11_900.0, 0.0), (12_200.0, 9_100.0), (-80.0, 8_900.0)]);
    let tapes = [
        (0, 1, 12_000.0),
        (1, 2, 9_000.0),
        (2, 3, 12_000.0),
        (3, 0, 9_000.0),
        (0, 2, 15_000.0),
        (1, 3, 15_000.0),
    ];
    let fit = fit_distances(&drawn, &tapes).unwrap();
    assert_at(fit.at[1], 12_000.0, 0.0);
    assert_at(fit.at[2], 12_000.0, 9_000.0);
    assert_at(fit.at[3], 0.0, 9_000.0);
    assert_eq!(fit.spare, 1);
    assert!(fit.sigma < 1e-6 && fit.loose.is_empty() && fit.suspect.is_none());
}

/// Two rectangles side by side with all their diagonals, taped to a millimetre or two; each tape in turn is read
/// 100 mm wrong.
#[test]
fn the_tape_that_was_read_wrong_is_the_one_named() {
    let real = points(&[
        (0.0, 0.0),
        (12_000.0, 0.0),
        (24_000.0, 0.0),
        (24_000.0, 9_000.0),
        (12_000.0, 9_000.0),
        (0.0, 9_000.0),
    ]);
    let mut tapes = Vec::new();
    for i in 0..6 {
        for j in 0..i {
            // Readings are off by -1, 0 or 1 mm, in a fixed pattern.
            let off = ((i * 7 + j * 3) % 3) as f64 - 1.0;
            tapes.push((j, i, real[i].minus(real[j]).length() + off));
        }
    }
    let good = fit_distances(&real, &tapes).unwrap();
    assert!(good.suspect.is_none() && good.sigma < 1.5 && good.spare == 6, "{good:?}");
    for wrong in 0..tapes.len() {
        for by in [100.0, -100.0] {
            let mut read = tapes.clone();
            read[wrong].2 += by;
            let fit = fit_distances(&real, &read).unwrap();
            let (named, w) = fit.suspect.expect("a tape is named");
            assert_eq!(named, wrong, "{fit:?}");
            assert!(w * by > 0.0, "it read long when it is positive");
        }
    }
}

#[test]
fn a_triangle_that_cannot_be_is_named_with_its_misfit() {
    let drawn = points(&[(0.0, 0.0), (3000.0, 0.0), (1500.0, 2000.0)]);
    let fit = fit_distances(&drawn, &[(0, 1, 9000.0), (0, 2, 4000.0), (1, 2, 3500.0)]).unwrap();
    assert_eq!(fit.impossible.len(), 1);
    let bad = fit.impossible[0];
    assert_eq!((bad.long, bad.short, bad.misfit), (0, (1, 2), 1500.0));
    // Flat, each tape gives way by a third of it.
    assert!(fit.misfit.iter().all(|v| (v.abs() - 500.0).abs() < 1.0), "{:?}", fit.misfit);
    // The same pair taped twice is no triangle.
    assert!(fit_distances(&drawn, &[(0, 1, 10.0), (1, 0, 90.0)]).unwrap().impossible.is_empty());
}

#[test]
fn what_no_tape_fixes_is_loose() {
    let drawn = points(&[(0.0, 0.0), (4000.0, 0.0), (0.0, 3000.0), (5000.0, 5000.0), (9000.0, 9000.0)]);
    let tapes = [(0, 1, 4000.0), (0, 2, 3000.0), (1, 2, 5000.0), (2, 3, 5200.0)];
    let fit = fit_distances(&drawn, &tapes).unwrap();
    assert_eq!(fit.loose, [3, 4]);
    assert_eq!(fit.at[4], drawn[4]);
    assert_at(fit.at[1], 4000.0, 0.0);
    // One tape moves mark 3 straight away from mark 2 and no further than it must.
    assert!((fit.at[3].minus(fit.at[2]).length() - 5200.0).abs() < 1e-6);
    // A braced frame that is not tied to the datum turns as a whole.
    let apart = [(0, 1, 4000.0), (2, 3, 5400.0), (3, 4, 5700.0), (2, 4, 10_800.0)];
    assert_eq!(fit_distances(&drawn, &apart).unwrap().loose, [2, 3, 4]);
    assert_eq!(fit_distances(&drawn[..2], &[]).unwrap().loose, [1]);
    assert!(fit_distances(&[], &[]).unwrap().loose.is_empty());
}

#[test]
fn marks_drawn_in_one_place_come_apart() {
    let drawn = points(&[(0.0, 0.0), (0.0, 0.0), (0.0, 0.0)]);
    let fit = fit_distances(&drawn, &[(0, 1, 3000.0), (0, 2, 4000.0), (1, 2, 5000.0)]).unwrap();
    assert!(fit.misfit.iter().all(|v| v.abs() < 1e-4), "{:?}", fit.misfit);
}

#[test]
fn tapes_that_make_no_sense_are_refused_by_number() {
    let drawn = points(&[(0.0, 0.0), (1.0, 0.0)]);
    assert_eq!(
        fit_distances(&drawn, &[(0, 2, 1.0)]),
        Err(FitError::NoSuchMark { tape: 0, mark: 2, marks: 2 })
    );
    assert_eq!(fit_distances(&drawn, &[(0, 1, 1.0), (1, 1, 1.0)]), Err(FitError::SameMark(1)));
    assert!(matches!(fit_distances(&drawn, &[(0, 1, f64::NAN)]), Err(FitError::BadLength { tape: 0, .. })));
    assert!(matches!(fit_distances(&drawn, &[(0, 1, -1.0)]), Err(FitError::BadLength { .. })));
    assert_eq!(fit_distances(&points(&[(f64::NAN, 0.0)]), &[]), Err(FitError::BadPlace(0)));
    assert_eq!(fit_distances(&vec![Point::new(0.0, 0.0); 201], &[]), Err(FitError::TooMany(201)));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]
    /// Exact distances of a known figure, drawn up to half a metre off: the figure comes back.
    #[test]
    fn exact_distances_give_the_figure_back(
        spots in prop::collection::vec((0.0..20_000.0f64, 0.0..20_000.0f64), 1..8),
        off in prop::collection::vec((-500.0..500.0f64, -500.0..500.0f64), 8),
        turn in 0.0..360.0f64,
    ) {
        let (sin, cos) = Angle::deg(turn).sin_cos();
        let put = |x: f64, y: f64| Point::new(cos * x - sin * y, sin * x + cos * y);
        let mut real = vec![put(0.0, 0.0), put(15_000.0, 0.0), put(0.0, 12_000.0)];
        real.extend(spots.iter().map(|&(x, y)| put(x, y)));
        let mut drawn = real.clone();
        for (p, o) in drawn.iter_mut().skip(2).zip(&off) {
            (p.x, p.y) = (p.x + o.0, p.y + o.1);
        }
        let mut tapes = Vec::new();
        for i in 0..real.len() {
            for j in 0..i {
                let length = real[i].minus(real[j]).length();
                prop_assume!(length > 1500.0);
                tapes.push((j, i, length));
            }
        }
        let fit = fit_distances(&drawn, &tapes).unwrap();
        for (found, real) in fit.at.iter().zip(&real) {
            prop_assert!(found.minus(*real).length() < 1e-3, "{found:?} {real:?}");
        }
        prop_assert!(fit.suspect.is_none() && fit.loose.is_empty() && fit.impossible.is_empty());
        prop_assert!(maths::hypot(fit.sigma, 0.0) < 1e-3);
    }
}
