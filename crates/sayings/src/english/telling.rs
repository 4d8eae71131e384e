//! How the stock stands, where a builder sits, and what was done to a picture. Written by `cargo xtask codegen` from web/src/i18n/en.json.

use crate::Saying;

/// "east"
pub const COMPASS_E: Saying<0> = Saying::plain("telling.compass.e", "east", []);
/// "north"
pub const COMPASS_N: Saying<0> = Saying::plain("telling.compass.n", "north", []);
/// "north-east"
pub const COMPASS_NE: Saying<0> = Saying::plain("telling.compass.ne", "north-east", []);
/// "north-west"
pub const COMPASS_NW: Saying<0> = Saying::plain("telling.compass.nw", "north-west", []);
/// "south"
pub const COMPASS_S: Saying<0> = Saying::plain("telling.compass.s", "south", []);
/// "south-east"
pub const COMPASS_SE: Saying<0> = Saying::plain("telling.compass.se", "south-east", []);
/// "south-west"
pub const COMPASS_SW: Saying<0> = Saying::plain("telling.compass.sw", "south-west", []);
/// "west"
pub const COMPASS_W: Saying<0> = Saying::plain("telling.compass.w", "west", []);
/// "Eight"
pub const N_EIGHT: Saying<0> = Saying::plain("telling.n.eight", "Eight", []);
/// "Five"
pub const N_FIVE: Saying<0> = Saying::plain("telling.n.five", "Five", []);
/// "Four"
pub const N_FOUR: Saying<0> = Saying::plain("telling.n.four", "Four", []);
/// "Nine"
pub const N_NINE: Saying<0> = Saying::plain("telling.n.nine", "Nine", []);
/// "Seven"
pub const N_SEVEN: Saying<0> = Saying::plain("telling.n.seven", "Seven", []);
/// "Six"
pub const N_SIX: Saying<0> = Saying::plain("telling.n.six", "Six", []);
/// "Ten"
pub const N_TEN: Saying<0> = Saying::plain("telling.n.ten", "Ten", []);
/// "Three"
pub const N_THREE: Saying<0> = Saying::plain("telling.n.three", "Three", []);
/// "The file is animated; only its first picture is used."
pub const PICTURE_FIRST_FRAME: Saying<0> = Saying::plain("telling.picture.first-frame", "The file is animated; only its first picture is used.", []);
/// "The file has several pages; only the first is used."
pub const PICTURE_FIRST_PAGE: Saying<0> = Saying::plain("telling.picture.first-page", "The file has several pages; only the first is used.", []);
/// "The file has a flaw in its data: look for grey or shifted parts, and save it again if there are any."
pub const PICTURE_FLAWED: Saying<0> = Saying::plain("telling.picture.flawed", "The file has a flaw in its data: look for grey or shifted parts, and save it again if there are any.", []);
/// "The picture is very large, so that only 8 of its 16 bits a channel are used."
pub const PICTURE_NARROWED: Saying<0> = Saying::plain("telling.picture.narrowed", "The picture is very large, so that only 8 of its 16 bits a channel are used.", []);
/// "The colour profile in the file could not be used; the colours are taken as sRGB."
pub const PICTURE_PROFILE: Saying<0> = Saying::plain("telling.picture.profile", "The colour profile in the file could not be used; the colours are taken as sRGB.", []);
/// "The file describes its colours by a gamma or a video code that is not read; they are taken as sRGB."
pub const PICTURE_SRGB: Saying<0> = Saying::plain("telling.picture.srgb", "The file describes its colours by a gamma or a video code that is not read; they are taken as sRGB.", []);
/// "Sit in the {sits} and look {looks}; the fall runs {fall}. Start at the {start}, the {corner} corner."
pub const SEAT: Saying<5> = Saying::plain("telling.seat", "Sit in the {sits} and look {looks}; the fall runs {fall}. Start at the {start}, the {corner} corner.", ["sits", "looks", "fall", "start", "corner"]);
/// "away from you"
pub const SEAT_AWAY: Saying<0> = Saying::plain("telling.seat.away", "away from you", []);
/// "far left"
pub const SEAT_FAR_LEFT: Saying<0> = Saying::plain("telling.seat.far-left", "far left", []);
/// "far right"
pub const SEAT_FAR_RIGHT: Saying<0> = Saying::plain("telling.seat.far-right", "far right", []);
/// "from your left to your right"
pub const SEAT_LEFT_TO_RIGHT: Saying<0> = Saying::plain("telling.seat.left-to-right", "from your left to your right", []);
/// "near left"
pub const SEAT_NEAR_LEFT: Saying<0> = Saying::plain("telling.seat.near-left", "near left", []);
/// "near right"
pub const SEAT_NEAR_RIGHT: Saying<0> = Saying::plain("telling.seat.near-right", "near right", []);
/// "from your right to your left"
pub const SEAT_RIGHT_TO_LEFT: Saying<0> = Saying::plain("telling.seat.right-to-left", "from your right to your left", []);
/// "towards you"
pub const SEAT_TOWARDS: Saying<0> = Saying::plain("telling.seat.towards", "towards you", []);
/// "A colour"
pub const STOCK_COLOUR: Saying<0> = Saying::plain("telling.stock.colour", "A colour", []);
/// "The stock is enough"
pub const STOCK_ENOUGH: Saying<0> = Saying::plain("telling.stock.enough", "The stock is enough", []);
/// "{what}; {pieces} pieces are missing whatever their colour"
pub const STOCK_MISSING: Saying<2> = Saying::plain("telling.stock.missing", "{what}; {pieces} pieces are missing whatever their colour", ["what", "pieces"]);
/// "As laid it is enough. {what} for the best pictures"
pub const STOCK_PICTURES: Saying<1> = Saying::plain("telling.stock.pictures", "As laid it is enough. {what} for the best pictures", ["what"]);
/// "{n} colours are short"
pub const STOCK_SEVERAL: Saying<1> = Saying::plain("telling.stock.several", "{n} colours are short", ["n"]);
/// "{colour} is short by {pieces}"
pub const STOCK_SINGLE: Saying<2> = Saying::plain("telling.stock.single", "{colour} is short by {pieces}", ["colour", "pieces"]);
/// "{a} and {b} are short"
pub const STOCK_TWO: Saying<2> = Saying::plain("telling.stock.two", "{a} and {b} are short", ["a", "b"]);
