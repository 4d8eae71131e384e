//! Why a field can or cannot be fed in a way, and how sure that is. Written by `cargo xtask codegen` from web/src/i18n/en.json.

use crate::Saying;

/// "A line at {turn} to the lanes takes lanes {need} apart or more; here they are {lanes} apart."
pub const ANGLED: Saying<3> = Saying::plain("feeding.angled", "A line at {turn} to the lanes takes lanes {need} apart or more; here they are {lanes} apart.", ["turn", "need", "lanes"]);
/// "A turned piece beside a gap of {gap} takes lanes {need} apart or more; here they are {lanes} apart."
pub const BESIDE: Saying<3> = Saying::plain("feeding.beside", "A turned piece beside a gap of {gap} takes lanes {need} apart or more; here they are {lanes} apart.", ["gap", "need", "lanes"]);
/// "At lanes {lanes} apart and a turn of {turn} only {left} are left between the turned pieces; {least} are needed."
pub const BETWEEN: Saying<4> = Saying::plain("feeding.between", "At lanes {lanes} apart and a turn of {turn} only {left} are left between the turned pieces; {least} are needed.", ["lanes", "turn", "left", "least"]);
/// "This lane pitch and gap lie beyond what was measured; these are the nearest cases."
pub const BEYOND: Saying<0> = Saying::plain("feeding.beyond", "This lane pitch and gap lie beyond what was measured; these are the nearest cases.", []);
/// "No lane begins at this edge."
pub const EDGE: Saying<0> = Saying::plain("feeding.edge", "No lane begins at this edge.", []);
/// "Here the fall reaches every lane surely."
pub const FALLS: Saying<0> = Saying::plain("feeding.falls", "Here the fall reaches every lane surely.", []);
/// "Of {lanes} lanes tried here {n} stay standing."
pub const FALLS_NOT: Saying<2> = Saying::counted("feeding.falls.not", ("Of {lanes} lanes tried here {n} stays standing.", "Of {lanes} lanes tried here {n} stay standing."), ["n", "lanes"]);
/// "Of {lanes} lanes tried here {n} hang on hits that may fail."
pub const FALLS_PERHAPS: Saying<2> = Saying::counted("feeding.falls.perhaps", ("Of {lanes} lanes tried here {n} hangs on hits that may fail.", "Of {lanes} lanes tried here {n} hang on hits that may fail."), ["n", "lanes"]);
/// "{slick} of {slick_run} lanes fell on a slick floor (friction 0.15), {normal} of {normal_run} on a normal one (0.3)."
pub const FELL: Saying<4> = Saying::plain("feeding.fell", "{slick} of {slick_run} lanes fell on a slick floor (friction 0.15), {normal} of {normal_run} on a normal one (0.3).", ["slick", "slick_run", "normal", "normal_run"]);
/// "A piece turned by {turn} that pokes {poke} into the sweep does not fit beside a gap of {gap}."
pub const FITS: Saying<3> = Saying::plain("feeding.fits", "A piece turned by {turn} that pokes {poke} into the sweep does not fit beside a gap of {gap}.", ["turn", "poke", "gap"]);
/// "Pieces turned by {turn} in the line take lanes {need} apart, or wider by one pitch or more; here they are {lanes} apart."
pub const IN_LINE: Saying<3> = Saying::plain("feeding.in-line", "Pieces turned by {turn} in the line take lanes {need} apart, or wider by one pitch or more; here they are {lanes} apart.", ["turn", "need", "lanes"]);
/// "The lanes fall in turn: a line to lane 1 is all they need."
pub const IN_TURN: Saying<0> = Saying::plain("feeding.in-turn", "The lanes fall in turn: a line to lane 1 is all they need.", []);
/// "The stock does not hold the kind of piece for the feed."
pub const KIND: Saying<0> = Saying::plain("feeding.kind", "The stock does not hold the kind of piece for the feed.", []);
/// "The lane has no turn."
pub const NO_TURN: Saying<0> = Saying::plain("feeding.no-turn", "The lane has no turn.", []);
/// "Nothing near this was measured; try it with five lanes first."
pub const NOTHING: Saying<0> = Saying::plain("feeding.nothing", "Nothing near this was measured; try it with five lanes first.", []);
/// "With lanes that fall in opposite directions each edge feeds every second lane, {lanes} apart: {way}."
pub const OPPOSED: Saying<2> = Saying::plain("feeding.opposed", "With lanes that fall in opposite directions each edge feeds every second lane, {lanes} apart: {way}.", ["lanes", "way"]);
/// "No way is possible for every second lane either."
pub const OPPOSED_NONE: Saying<0> = Saying::plain("feeding.opposed.none", "No way is possible for every second lane either.", []);
/// "At lanes {lanes} apart and a turn of {turn} each piece reaches only {reach} of the next; {least} is needed."
pub const OVERLAP: Saying<4> = Saying::plain("feeding.overlap", "At lanes {lanes} apart and a turn of {turn} each piece reaches only {reach} of the next; {least} is needed.", ["lanes", "turn", "reach", "least"]);
/// "The feed's own pitch of {pitch} leaves {gap} between its pieces; {least} to {most} were measured."
pub const PITCH: Saying<4> = Saying::plain("feeding.pitch", "The feed's own pitch of {pitch} leaves {gap} between its pieces; {least} to {most} were measured.", ["pitch", "gap", "least", "most"]);
/// "Lanes {lanes} apart leave no room between pieces {wide} wide."
pub const ROOM: Saying<2> = Saying::plain("feeding.room", "Lanes {lanes} apart leave no room between pieces {wide} wide.", ["lanes", "wide"]);
/// "It was run with exact places only, without scatter."
pub const SCATTER: Saying<0> = Saying::plain("feeding.scatter", "It was run with exact places only, without scatter.", []);
/// "This way takes about {pieces} pieces for so many lanes; feed the field in parts."
pub const TOO_MANY: Saying<1> = Saying::plain("feeding.too-many", "This way takes about {pieces} pieces for so many lanes; feed the field in parts.", ["pieces"]);
/// "A turn of {turn} was not measured for this way; {least} to {most} were."
pub const TURNED: Saying<3> = Saying::plain("feeding.turned", "A turn of {turn} was not measured for this way; {least} to {most} were.", ["turn", "least", "most"]);
/// "Lanes in turn need no feed, but each waits for the one before; the turns between lanes {lanes} apart take steps of {step}, and steps of up to {always} always passed, up to {mostly} mostly."
pub const TURNS: Saying<4> = Saying::plain("feeding.turns", "Lanes in turn need no feed, but each waits for the one before; the turns between lanes {lanes} apart take steps of {step}, and steps of up to {always} always passed, up to {mostly} mostly.", ["lanes", "step", "always", "mostly"]);
/// "Only the usual piece of {high} × {wide} × {thick} was measured."
pub const USUAL: Saying<3> = Saying::plain("feeding.usual", "Only the usual piece of {high} × {wide} × {thick} was measured.", ["high", "wide", "thick"]);
/// "angled"
pub const WAY_ANGLED: Saying<0> = Saying::plain("feeding.way.angled", "angled", []);
/// "beside"
pub const WAY_BESIDE: Saying<0> = Saying::plain("feeding.way.beside", "beside", []);
/// "brick"
pub const WAY_BRICK: Saying<0> = Saying::plain("feeding.way.brick", "brick", []);
/// "echelon"
pub const WAY_ECHELON: Saying<0> = Saying::plain("feeding.way.echelon", "echelon", []);
/// "half-shift"
pub const WAY_HALF_SHIFT: Saying<0> = Saying::plain("feeding.way.half-shift", "half-shift", []);
/// "in-line"
pub const WAY_IN_LINE: Saying<0> = Saying::plain("feeding.way.in-line", "in-line", []);
/// "Lanes {lanes} apart are too wide: a piece half a lane over reaches neither of its neighbours."
pub const WIDE: Saying<1> = Saying::plain("feeding.wide", "Lanes {lanes} apart are too wide: a piece half a lane over reaches neither of its neighbours.", ["lanes"]);
/// "This lane pitch and gap were not measured exactly; these are the worse neighbours."
pub const WITHIN: Saying<0> = Saying::plain("feeding.within", "This lane pitch and gap were not measured exactly; these are the worse neighbours.", []);
