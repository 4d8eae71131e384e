//! What drawings of fields must show.

use super::*;

const RED: Linear = Linear([1.0, 0.0, 0.0]);
const GREEN: Linear = Linear([0.0, 1.0, 0.0]);
const BLUE: Linear = Linear([0.0, 0.0, 1.0]);
const FLOOR: Linear = Linear([0.0, 0.0, 0.0]);
const THREE: PieceFaces = PieceFaces { front: RED, back: GREEN, edge: BLUE };
const NONE: u16 = u16::MAX;

fn drawing(cells: &[u16], cols: u32, view: View) -> FieldDrawing<'_> {
    FieldDrawing {
        cells,
        cols,
        rows: cells.len() as u32 / cols,
        fall: FallInPicture::Right,
        pieces: &[THREE],
        geometry: FieldGeometry::usual(15.0, 25.0),
        floor: FLOOR,
        view,
        px_per_mm: 2.0,
    }
}

fn eye(side: Side) -> View {
    View::Standing(Eye { side, distance_mm: 4000.0, height_mm: 1700.0 })
}

/// Pixels of the colour (red, green, blue with 255 or 0 each).
fn count(raster: &Raster, colour: [u8; 3]) -> usize {
    raster.rgba.chunks_exact(4).filter(|p| p[..3] == colour).count()
}

fn pixel(raster: &Raster, x: u32, y: u32) -> [u8; 3] {
    let at = (y * raster.width + x) as usize * 4;
    [raster.rgba[at], raster.rgba[at + 1], raster.rgba[at + 2]]
}

#[test]
fn a_drawing_keeps_the_shape_of_the_field() {
    let raster = render(&drawing(&[0; 12], 4, View::Laid)).unwrap();
    assert_eq!((raster.width, raster.height), (4 * 30, 3 * 50));
    let mut down = drawing(&[0; 12], 4, View::Laid);
    down.fall = FallInPicture::Down;
    let raster = render(&down).unwrap();
    assert_eq!((raster.width, raster.height), (4 * 50, 3 * 30));
}

#[test]
fn drawn_from_above_48_percent_of_the_pixels_are_pieces() {
    // 15 x 48 of 30 x 50 pixels a cell.
    let raster = render(&drawing(&[0; 12], 4, View::Above)).unwrap();
    assert_eq!(count(&raster, [0, 0, 255]), 12 * 15 * 48);
}

#[test]
fn an_empty_cell_shows_the_floor_in_every_view() {
    for view in [View::Laid, View::Above, View::Fallen, eye(Side::Entry)] {
        for px_per_mm in [2.0, 0.1] {
            let mut d = drawing(&[NONE; 6], 3, view);
            d.px_per_mm = px_per_mm;
            let raster = render(&d).unwrap();
            assert_eq!(count(&raster, [0, 0, 0]) as u32, raster.width * raster.height);
        }
    }
}

#[test]
fn the_picture_changes_in_falling_when_pieces_have_two_faces() {
    let standing = render(&drawing(&[0; 12], 4, eye(Side::FarEnd))).unwrap();
    let fallen = render(&drawing(&[0; 12], 4, View::Fallen)).unwrap();
    assert!(count(&standing, [255, 0, 0]) > 0 && count(&standing, [0, 255, 0]) == 0);
    assert!(count(&fallen, [255, 0, 0]) == 0);
    // Along a lane no floor is left: 48 of 50 pixels across.
    assert_eq!(count(&fallen, [0, 255, 0]), 12 * 30 * 48);
}

#[test]
fn each_side_sees_its_own_face() {
    let near = |side| render(&drawing(&[0; 12], 4, eye(side))).unwrap();
    assert!(count(&near(Side::Entry), [0, 255, 0]) > 0);
    assert!(count(&near(Side::FarEnd), [255, 0, 0]) > 0);
    for side in [Side::Left, Side::Right] {
        let raster = near(side);
        assert_eq!(count(&raster, [255, 0, 0]) + count(&raster, [0, 255, 0]), 0);
    }
}

#[test]
fn the_near_face_is_drawn_on_the_side_of_the_eye_for_every_direction_of_the_fall() {
    // One cell: the face (green, back) is on the entry side.
    let at = |fall, x_mm: f64, y_mm: f64| {
        let mut d = drawing(&[0], 1, eye(Side::Entry));
        d.fall = fall;
        pixel(&render(&d).unwrap(), (x_mm * 2.0) as u32, (y_mm * 2.0) as u32)
    };
    let green = [0, 255, 0];
    assert_eq!(at(FallInPicture::Right, 1.0, 12.0), green);
    assert_eq!(at(FallInPicture::Left, 14.0, 12.0), green);
    assert_eq!(at(FallInPicture::Down, 12.0, 1.0), green);
    assert_eq!(at(FallInPicture::Up, 12.0, 14.0), green);
    assert_eq!(at(FallInPicture::Right, 14.0, 12.0), [0, 0, 255]);
}

#[test]
fn a_nearer_eye_sees_less_of_the_ranks_below_it_than_of_those_far_away() {
    // 200 ranks of 15 mm: the eye, 3 m high, stands at the entry.
    let cells = [0; 200];
    let view = View::Standing(Eye { side: Side::Entry, distance_mm: 1600.0, height_mm: 3000.0 });
    let raster = render(&drawing(&cells, 200, view)).unwrap();
    let green = |from: u32, to: u32| (from..to).filter(|x| pixel(&raster, *x, 25) == [0, 255, 0]).count();
    assert!(green(0, 300) < green(2700, 3000));
}

#[test]
fn the_last_piece_lies_flat_over_the_empty_floor_before_it() {
    // Piece, piece, then six empty cells: the second reaches 48 mm from the entry side of its cell.
    let raster = render(&drawing(&[0, 0, NONE, NONE, NONE, NONE, NONE, NONE], 8, View::Fallen)).unwrap();
    let reach = (0..raster.width).filter(|x| pixel(&raster, *x, 25) == [0, 255, 0]).count();
    assert_eq!(reach as u32, 30 + 96);
}

#[test]
fn small_cells_show_their_mixed_colour() {
    let mut d = drawing(&[0; 400], 20, View::Above);
    d.px_per_mm = 1.0 / 15.0;
    let raster = render(&d).unwrap();
    let want = super::super::seen_colours(d.pieces, &d.geometry, d.floor, &d.view)[0].to_srgb8();
    assert_eq!((raster.width, raster.height), (20, 33));
    assert_eq!(count(&raster, [want.r, want.g, want.b]), 20 * 33);
}

#[test]
fn cells_that_share_a_pixel_are_averaged_in_linear_light() {
    // Black and white in turn: linear 0.5 is sRGB 188 (IEC 61966-2-1: 0.7354 * 255 = 187.5).
    let pieces = [PieceFaces::plain(Linear([0.0; 3])), PieceFaces::plain(Linear([1.0; 3]))];
    let cells: Vec<u16> = (0..64).map(|i| (i % 8 + i / 8) % 2).collect();
    let mut d = drawing(&cells, 8, View::Laid);
    d.pieces = &pieces;
    d.geometry = FieldGeometry::usual(25.0, 25.0);
    d.px_per_mm = 1.0 / 50.0;
    let raster = render(&d).unwrap();
    assert_eq!(count(&raster, [188; 3]), 16);
}

#[test]
fn a_wrong_drawing_is_refused_in_words() {
    let wrong = |change: &dyn Fn(&mut FieldDrawing<'_>)| {
        let mut d = drawing(&[0; 4], 2, View::Laid);
        change(&mut d);
        render(&d).unwrap_err().to_string()
    };
    assert!(wrong(&|d| d.rows = 3).contains("2 x 3 cells got 4 values"));
    assert!(wrong(&|d| d.pieces = &[]).contains("colour number 0"));
    assert!(wrong(&|d| d.geometry.pitch_along_mm = 0.0).contains("pitch along the fall of 0 mm"));
    assert!(wrong(&|d| d.px_per_mm = 1e9).contains("another scale"));
    assert!(wrong(&|d| d.px_per_mm = f64::NAN).contains("another scale"));
}
