//! Pictures laid onto cells.

use colour::{
    CellGrid, Cells, CropRect, Fit, Flow, GridError, Linear, Picture, Pixels, Srgb8, decode8, to_cells,
};
use proptest::prelude::*;

fn lay(picture: &Picture, grid: &CellGrid) -> Cells {
    to_cells(picture, grid, &mut |_| Flow::Go).unwrap()
}

/// A picture of `width` x `height` pixels in greys given by a function.
fn grey(width: u32, height: u32, value: impl Fn(u32, u32) -> u8) -> Picture {
    let samples =
        (0..height).flat_map(|y| (0..width).map(move |x| (x, y))).flat_map(|(x, y)| [value(x, y); 3]);
    Picture::from_rgb8(width, height, samples.collect()).unwrap()
}

fn noise(count: u32) -> Vec<u8> {
    (0..count).map(|i| (i.wrapping_mul(2_654_435_761) >> 24) as u8).collect()
}

fn srgb(cells: &Cells) -> Vec<Srgb8> {
    cells.wanted.iter().map(|c| c.to_srgb8()).collect()
}

#[test]
fn as_many_pixels_as_cells_pass_unchanged_bit_for_bit() {
    let samples = noise(37 * 53 * 3);
    let picture = Picture::from_rgb8(37, 53, samples.clone()).unwrap();
    for fit in [Fit::Fill, Fit::Stretch, Fit::Within] {
        for pitch in [1.0, 15.0, 25.4, 7.3] {
            let cells = lay(&picture, &CellGrid { fit, ..CellGrid::new(37, 53, pitch, pitch) });
            let got: Vec<u8> = srgb(&cells).iter().flat_map(|c| [c.r, c.g, c.b]).collect();
            assert_eq!(got, samples);
            // Not only rounded: the linear values are those of the table.
            assert!(cells.wanted.iter().zip(samples.chunks(3)).all(|(c, s)| c.0[0] == decode8(s[0])));
            assert!(cells.empty.iter().all(|e| !e));
        }
    }
}

#[test]
fn sixteen_bits_and_alpha_pass_unchanged_too() {
    let deep: Vec<u16> = noise(60).iter().map(|v| u16::from(*v) * 257).collect();
    let picture = Picture::from_pixels(4, 5, Pixels::Rgb16(deep.clone())).unwrap();
    let got = srgb(&lay(&picture, &CellGrid::new(4, 5, 1.0, 1.0)));
    assert!(got.iter().zip(deep.chunks(3)).all(|(c, s)| u16::from(c.r) * 257 == s[0]));
    let rgba: Vec<u8> = (0..=255u8).flat_map(|v| [v, 255 - v, 7, v]).collect();
    let picture = Picture::from_pixels(16, 16, Pixels::Rgba8(rgba.clone())).unwrap();
    let cells = lay(&picture, &CellGrid::new(16, 16, 1.0, 1.0));
    for (i, pixel) in rgba.chunks(4).enumerate() {
        // Alpha 128 is 50.2 %, 127 is 49.8 %.
        assert_eq!(cells.empty[i], pixel[3] < 128);
        if pixel[3] > 0 {
            assert_eq!(cells.wanted[i].0[1], decode8(pixel[1]));
        }
    }
}

#[test]
fn a_circle_stays_round_on_cells_that_are_not_square() {
    // A disc of 500 mm on 600 x 600 mm: 500/15 = 33.3 cells one way, 500/25 = 20 the other.
    let inside = |v: u32| f64::from(v) + 0.5 - 300.0;
    let disc = grey(600, 600, |x, y| {
        let (x, y) = (inside(x), inside(y));
        if x * x + y * y < 250.0 * 250.0 { 0 } else { 255 }
    });
    let dark = |cells: &Cells, along_row: bool| {
        let (cols, rows) = (cells.cols as usize, cells.rows as usize);
        let line: Vec<usize> = if along_row {
            (0..cols).map(|c| rows / 2 * cols + c).collect()
        } else {
            (0..rows).map(|r| r * cols + cols / 2).collect()
        };
        line.into_iter().filter(|i| cells.wanted[*i].0[0] < 0.5).count() as i32
    };
    for fit in [Fit::Fill, Fit::Within] {
        let cells = lay(&disc, &CellGrid { fit, ..CellGrid::new(40, 24, 15.0, 25.0) });
        assert!((dark(&cells, true) - 33).abs() <= 1 && (dark(&cells, false) - 20).abs() <= 1);
        let cells = lay(&disc, &CellGrid { fit, ..CellGrid::new(24, 40, 25.0, 15.0) });
        assert!((dark(&cells, true) - 20).abs() <= 1 && (dark(&cells, false) - 33).abs() <= 1);
    }
}

#[test]
fn light_is_averaged_not_screen_values() {
    // Black and white pixels in turn: half the light, sRGB 188 (IEC 61966-2-1), not 128.
    let checks = grey(64, 64, |x, y| if (x + y) % 2 == 0 { 255 } else { 0 });
    for colour in srgb(&lay(&checks, &CellGrid::new(8, 8, 1.0, 1.0))) {
        assert_eq!(colour, Srgb8::new(188, 188, 188));
    }
}

#[test]
fn pixels_on_a_border_count_by_their_covered_part() {
    // Three pixels on two cells: white, black, white; each cell has 1 white and 0.5 black pixels.
    let picture = grey(3, 1, |x, _| if x == 1 { 0 } else { 255 });
    let cells = lay(&picture, &CellGrid { fit: Fit::Stretch, ..CellGrid::new(2, 1, 1.0, 1.0) });
    for colour in &cells.wanted {
        assert!((f64::from(colour.0[0]) - 2.0 / 3.0).abs() < 1e-6);
    }
}

#[test]
fn fewer_pixels_than_cells_stay_flat() {
    let picture = grey(2, 1, |x, _| if x == 0 { 10 } else { 200 });
    let cells = lay(&picture, &CellGrid { fit: Fit::Stretch, ..CellGrid::new(6, 2, 1.0, 1.0) });
    let got: Vec<u8> = srgb(&cells).iter().map(|c| c.r).collect();
    assert_eq!(got, [10, 10, 10, 200, 200, 200, 10, 10, 10, 200, 200, 200]);
}

#[test]
fn what_is_transparent_lends_no_colour_and_leaves_cells_empty() {
    // Transparent red beside opaque blue, and a cell that is three quarters transparent.
    let rgba = vec![255, 0, 0, 0, 0, 0, 255, 255, 255, 0, 0, 0, 0, 0, 255, 128];
    let picture = Picture::from_pixels(4, 1, Pixels::Rgba8(rgba)).unwrap();
    let cells = lay(&picture, &CellGrid { fit: Fit::Stretch, ..CellGrid::new(2, 1, 1.0, 1.0) });
    assert_eq!(cells.wanted[0], Linear([0.0, 0.0, 1.0]));
    assert_eq!(cells.empty, [false, true]);
}

#[test]
fn a_picture_shown_whole_leaves_the_same_border_on_both_sides() {
    let square = grey(10, 10, |_, _| 100);
    let cells = lay(&square, &CellGrid { fit: Fit::Within, ..CellGrid::new(20, 10, 1.0, 1.0) });
    for row in cells.empty.chunks(20) {
        assert!(row.iter().enumerate().all(|(col, empty)| *empty != (5..15).contains(&col)));
    }
}

#[test]
fn a_picture_that_fills_loses_the_same_on_both_sides() {
    let wide = grey(20, 10, |x, _| x as u8);
    let cells = lay(&wide, &CellGrid::new(10, 10, 1.0, 1.0));
    assert_eq!(
        srgb(&cells)[..10].iter().map(|c| c.r).collect::<Vec<_>>(),
        [5, 6, 7, 8, 9, 10, 11, 12, 13, 14]
    );
}

#[test]
fn a_cut_out_takes_its_part_only() {
    let wide = grey(20, 10, |x, y| (x * 10 + y) as u8);
    let crop = Some(CropRect { left: 0.5, top: 0.2, right: 0.7, bottom: 0.4 });
    let cells = lay(&wide, &CellGrid { crop, fit: Fit::Stretch, ..CellGrid::new(4, 2, 1.0, 1.0) });
    assert_eq!(
        srgb(&cells).iter().map(|c| c.r).collect::<Vec<_>>(),
        [102, 112, 122, 132, 103, 113, 123, 133]
    );
    // Shown whole, what lies outside the cut-out stays away.
    let cells = lay(&wide, &CellGrid { crop, fit: Fit::Within, ..CellGrid::new(4, 4, 1.0, 1.0) });
    assert_eq!(cells.empty.iter().filter(|e| **e).count(), 8);
}

#[test]
fn contrast_and_brightness_do_nothing_at_0_and_all_at_the_ends() {
    let ramp = grey(256, 1, |x, _| x as u8);
    let with = |contrast, brightness| {
        let grid = CellGrid { contrast, brightness, fit: Fit::Stretch, ..CellGrid::new(256, 1, 1.0, 1.0) };
        srgb(&lay(&ramp, &grid)).iter().map(|c| c.r).collect::<Vec<u8>>()
    };
    assert_eq!(with(0.0, 0.0), (0..=255).collect::<Vec<u8>>());
    assert!(with(-1.0, 0.0).iter().all(|v| v.abs_diff(128) <= 1));
    assert!(with(0.0, 1.0).iter().all(|v| *v == 255) && with(0.0, -1.0).iter().all(|v| *v == 0));
    let steep = with(0.5, 0.0);
    assert!(steep[60] < 60 && steep[200] > 200 && steep.is_sorted());
    assert_eq!(with(f32::NAN, f32::NAN), with(0.0, 0.0));
}

#[test]
fn any_number_of_threads_gives_the_same_bits() {
    let picture = Picture::from_rgb8(301, 203, noise(301 * 203 * 3)).unwrap();
    let grid = CellGrid::new(41, 29, 15.0, 25.0);
    let with = |threads| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| lay(&picture, &grid))
    };
    let one = with(1);
    assert!(with(2) == one && with(8) == one);
}

#[test]
fn the_work_stops_when_told_and_reports_up_to_the_end() {
    let picture = grey(100, 100, |_, _| 1);
    let grid = CellGrid::new(100, 100, 1.0, 1.0);
    assert_eq!(to_cells(&picture, &grid, &mut |_| Flow::Stop), Err(GridError::Stopped));
    let mut heard = Vec::new();
    to_cells(&picture, &grid, &mut |p| {
        heard.push(p.done);
        Flow::Go
    })
    .unwrap();
    assert!(heard.is_sorted() && heard.last() == Some(&1.0) && heard.len() > 10);
}

#[test]
fn a_grid_that_makes_no_sense_is_refused_in_words() {
    let picture = grey(4, 4, |_, _| 1);
    let said = |grid: CellGrid| to_cells(&picture, &grid, &mut |_| Flow::Go).unwrap_err().to_string();
    assert!(said(CellGrid::new(0, 5, 1.0, 1.0)).contains("0 x 5 cells"));
    assert!(said(CellGrid::new(u32::MAX, u32::MAX, 1.0, 1.0)).contains("cannot be made"));
    assert!(said(CellGrid::new(5, 5, 0.0, 1.0)).contains("cell width of 0 mm"));
    assert!(said(CellGrid::new(5, 5, 1.0, f64::NAN)).contains("cell height of NaN mm"));
    let crop = Some(CropRect { left: 0.5, top: 0.0, right: 0.5, bottom: 1.0 });
    assert!(said(CellGrid { crop, ..CellGrid::new(5, 5, 1.0, 1.0) }).contains("cut-out from 0.500 to 0.500"));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..ProptestConfig::default() })]

    /// Light is neither lost nor made: the mean over the cells is the mean over the pixels.
    #[test]
    fn stretching_keeps_the_mean_light(
        size in (1u32..40, 1u32..40),
        cells in (1u32..50, 1u32..50),
        shift in any::<u32>(),
    ) {
        let samples = noise(size.0 * size.1 * 3).iter().map(|v| v.wrapping_add(shift as u8)).collect::<Vec<u8>>();
        let wanted: f64 = samples.chunks(3).map(|p| f64::from(decode8(p[0]))).sum::<f64>();
        let wanted = wanted / f64::from(size.0 * size.1);
        let picture = Picture::from_rgb8(size.0, size.1, samples).unwrap();
        let grid = CellGrid { fit: Fit::Stretch, ..CellGrid::new(cells.0, cells.1, 3.0, 2.0) };
        let laid = lay(&picture, &grid);
        let got = laid.wanted.iter().map(|c| f64::from(c.0[0])).sum::<f64>() / f64::from(cells.0 * cells.1);
        prop_assert!((got - wanted).abs() < 1e-6, "wanted {wanted}, got {got}");
    }

    /// No grid of sound numbers panics, and every cell is sound.
    #[test]
    fn any_sound_grid_gives_sound_cells(
        size in (1u32..30, 1u32..30),
        cells in (1u32..30, 1u32..30),
        pitch in (0.001f64..1000.0, 0.001f64..1000.0),
        crop in proptest::option::of((0.0f64..0.5, 0.0f64..0.5, 0.5001f64..1.0, 0.5001f64..1.0)),
        fit in prop::sample::select(vec![Fit::Fill, Fit::Stretch, Fit::Within]),
    ) {
        let picture = Picture::from_rgb8(size.0, size.1, noise(size.0 * size.1 * 3)).unwrap();
        let crop = crop.map(|(left, top, right, bottom)| CropRect { left, top, right, bottom });
        let laid = lay(&picture, &CellGrid { crop, fit, ..CellGrid::new(cells.0, cells.1, pitch.0, pitch.1) });
        prop_assert_eq!(laid.wanted.len(), (cells.0 * cells.1) as usize);
        prop_assert!(laid.wanted.iter().all(|c| c.0.iter().all(|v| (0.0..=1.0).contains(v))));
        if fit != Fit::Within {
            prop_assert!(laid.empty.iter().all(|e| !e));
        }
    }
}
