//! What a change does: the names of the steps in the history. Written by `cargo xtask codegen` from web/src/i18n/en.json.

use crate::Saying;

/// "Add field {name}"
pub const ADD_FIELD: Saying<1> = Saying::plain("doing.add-field", "Add field {name}", ["name"]);
/// "Align {names}"
pub const ALIGN: Saying<1> = Saying::plain("doing.align", "Align {names}", ["names"]);
/// "Draw the hall as measured"
pub const AS_MEASURED: Saying<0> = Saying::plain("doing.as-measured", "Draw the hall as measured", []);
/// "Copy {names}"
pub const COPY: Saying<1> = Saying::plain("doing.copy", "Copy {names}", ["names"]);
/// "Copy {names} {times} times"
pub const COPY_TIMES: Saying<2> = Saying::plain("doing.copy.times", "Copy {names} {times} times", ["names", "times"]);
/// "Count {colour}"
pub const COUNT: Saying<1> = Saying::plain("doing.count", "Count {colour}", ["colour"]);
/// "Count a lot"
pub const COUNT_LOT: Saying<0> = Saying::plain("doing.count.lot", "Count a lot", []);
/// "Distribute {names}"
pub const DISTRIBUTE: Saying<1> = Saying::plain("doing.distribute", "Distribute {names}", ["names"]);
/// "Draw a line of {n} cells of {name}"
pub const DRAW_LINE: Saying<2> = Saying::counted("doing.draw-line", ("Draw a line of {n} cell of {name}", "Draw a line of {n} cells of {name}"), ["n", "name"]);
/// "Draw a rectangle of {n} cells of {name}"
pub const DRAW_RECTANGLE: Saying<2> = Saying::counted("doing.draw-rectangle", ("Draw a rectangle of {n} cell of {name}", "Draw a rectangle of {n} cells of {name}"), ["n", "name"]);
/// "Draw {n} cells of {name}"
pub const DRAW: Saying<2> = Saying::counted("doing.draw", ("Draw {n} cell of {name}", "Draw {n} cells of {name}"), ["n", "name"]);
/// "Open the example {name}"
pub const EXAMPLE: Saying<1> = Saying::plain("doing.example", "Open the example {name}", ["name"]);
/// "Feed {name}"
pub const FEED: Saying<1> = Saying::plain("doing.feed", "Feed {name}", ["name"]);
/// "Fill {n} cells of {name}"
pub const FILL: Saying<2> = Saying::counted("doing.fill", ("Fill {n} cell of {name}", "Fill {n} cells of {name}"), ["n", "name"]);
/// "Put gear {name}"
pub const GEAR_PUT: Saying<1> = Saying::plain("doing.gear.put", "Put gear {name}", ["name"]);
/// "Remove gear {name}"
pub const GEAR_REMOVE: Saying<1> = Saying::plain("doing.gear.remove", "Remove gear {name}", ["name"]);
/// "Change the grid of {name}"
pub const GRID: Saying<1> = Saying::plain("doing.grid", "Change the grid of {name}", ["name"]);
/// "Group {names}"
pub const GROUP: Saying<1> = Saying::plain("doing.group", "Group {names}", ["names"]);
/// "Change the hall"
pub const HALL: Saying<0> = Saying::plain("doing.hall", "Change the hall", []);
/// "Put {names} into section {section}"
pub const INTO_SECTION: Saying<2> = Saying::plain("doing.into-section", "Put {names} into section {section}", ["names", "section"]);
/// "Lay {names}"
pub const LAY: Saying<1> = Saying::plain("doing.lay", "Lay {names}", ["names"]);
/// "Lock {names}"
pub const LOCK: Saying<1> = Saying::plain("doing.lock", "Lock {names}", ["names"]);
/// "Move mark {name}"
pub const MARK_MOVE: Saying<1> = Saying::plain("doing.mark.move", "Move mark {name}", ["name"]);
/// "Name mark {old} {name}"
pub const MARK_NAME: Saying<2> = Saying::plain("doing.mark.name", "Name mark {old} {name}", ["old", "name"]);
/// "Mark {name}"
pub const MARK_PUT: Saying<1> = Saying::plain("doing.mark.put", "Mark {name}", ["name"]);
/// "Remove mark {name}"
pub const MARK_REMOVE: Saying<1> = Saying::plain("doing.mark.remove", "Remove mark {name}", ["name"]);
/// "Match {n} cells of {names} again"
pub const MATCH_AGAIN: Saying<2> = Saying::counted("doing.match-again", ("Match {n} cell of {names} again", "Match {n} cells of {names} again"), ["n", "names"]);
/// "Matching {names}"
pub const MATCHING: Saying<1> = Saying::plain("doing.matching", "Matching {names}", ["names"]);
/// "Mend {place}"
pub const MEND: Saying<1> = Saying::plain("doing.mend", "Mend {place}", ["place"]);
/// "Mirror {names}"
pub const MIRROR: Saying<1> = Saying::plain("doing.mirror", "Mirror {names}", ["names"]);
/// "{names} and {n} more"
pub const MORE: Saying<2> = Saying::counted("doing.more", ("{names} and {n} more", "{names} and {n} more"), ["n", "names"]);
/// "Move {names}"
pub const MOVE: Saying<1> = Saying::plain("doing.move", "Move {names}", ["names"]);
/// "Name {old} {name}"
pub const NAME: Saying<2> = Saying::plain("doing.name", "Name {old} {name}", ["old", "name"]);
/// "Take {names} out of its section"
pub const OUT_OF_SECTION: Saying<1> = Saying::plain("doing.out-of-section", "Take {names} out of its section", ["names"]);
/// "Add picture {name}"
pub const PICTURE_ADD: Saying<1> = Saying::plain("doing.picture.add", "Add picture {name}", ["name"]);
/// "Choose the picture of {name}"
pub const PICTURE_CHOOSE: Saying<1> = Saying::plain("doing.picture.choose", "Choose the picture of {name}", ["name"]);
/// "Show {picture} in {name} and lay it"
pub const PICTURE_LAY: Saying<2> = Saying::plain("doing.picture.lay", "Show {picture} in {name} and lay it", ["picture", "name"]);
/// "Take the picture of {name} away"
pub const PICTURE_NONE: Saying<1> = Saying::plain("doing.picture.none", "Take the picture of {name} away", ["name"]);
/// "Show {picture} in {name}"
pub const PICTURE_SHOW: Saying<2> = Saying::plain("doing.picture.show", "Show {picture} in {name}", ["picture", "name"]);
/// "Proposing gaps"
pub const PROPOSING: Saying<0> = Saying::plain("doing.proposing", "Proposing gaps", []);
/// "Change {names}"
pub const PUT: Saying<1> = Saying::plain("doing.put", "Change {names}", ["names"]);
/// "Release {n} cells of {name}"
pub const RELEASE: Saying<2> = Saying::counted("doing.release", ("Release {n} cell of {name}", "Release {n} cells of {name}"), ["n", "name"]);
/// "Remove {names}"
pub const REMOVE: Saying<1> = Saying::plain("doing.remove", "Remove {names}", ["names"]);
/// "Name the event {name}"
pub const RENAME: Saying<1> = Saying::plain("doing.rename", "Name the event {name}", ["name"]);
/// "Replace the colour of {n} cells of {name}"
pub const REPLACE: Saying<2> = Saying::counted("doing.replace", ("Replace the colour of {n} cell of {name}", "Replace the colour of {n} cells of {name}"), ["n", "name"]);
/// "Put section {name}"
pub const SECTION_PUT: Saying<1> = Saying::plain("doing.section.put", "Put section {name}", ["name"]);
/// "Remove section {name}"
pub const SECTION_REMOVE: Saying<1> = Saying::plain("doing.section.remove", "Remove section {name}", ["name"]);
/// "Set {n} chosen cells of {name}"
pub const SET_CHOSEN: Saying<2> = Saying::counted("doing.set-chosen", ("Set {n} chosen cell of {name}", "Set {n} chosen cells of {name}"), ["n", "name"]);
/// "Set {n} cells of {name}"
pub const SET: Saying<2> = Saying::counted("doing.set", ("Set {n} cell of {name}", "Set {n} cells of {name}"), ["n", "name"]);
/// "Shift {what}"
pub const SHIFT: Saying<1> = Saying::plain("doing.shift", "Shift {what}", ["what"]);
/// "Shift section {name}"
pub const SHIFT_SECTION: Saying<1> = Saying::plain("doing.shift.section", "Shift section {name}", ["name"]);
/// "Stamp {n} cells of {name}"
pub const STAMP: Saying<2> = Saying::counted("doing.stamp", ("Stamp {n} cell of {name}", "Stamp {n} cells of {name}"), ["n", "name"]);
/// "Take the stock list {file}"
pub const STOCK_LIST: Saying<1> = Saying::plain("doing.stock-list", "Take the stock list {file}", ["file"]);
/// "Put surface {name}"
pub const SURFACE_PUT: Saying<1> = Saying::plain("doing.surface.put", "Put surface {name}", ["name"]);
/// "Remove surface {name}"
pub const SURFACE_REMOVE: Saying<1> = Saying::plain("doing.surface.remove", "Remove surface {name}", ["name"]);
/// "Change the tape {from} to {to}"
pub const TAPE_CHANGE: Saying<2> = Saying::plain("doing.tape.change", "Change the tape {from} to {to}", ["from", "to"]);
/// "Tape {from} to {to}"
pub const TAPE_PUT: Saying<2> = Saying::plain("doing.tape.put", "Tape {from} to {to}", ["from", "to"]);
/// "Remove the tape {from} to {to}"
pub const TAPE_REMOVE: Saying<2> = Saying::plain("doing.tape.remove", "Remove the tape {from} to {to}", ["from", "to"]);
/// "Change the timed line of {n} pieces"
pub const TIMED_CHANGE: Saying<1> = Saying::counted("doing.timed.change", ("Change the timed line of {n} piece", "Change the timed line of {n} pieces"), ["n"]);
/// "Time a line of {n} pieces"
pub const TIMED_PUT: Saying<1> = Saying::counted("doing.timed.put", ("Time a line of {n} piece", "Time a line of {n} pieces"), ["n"]);
/// "Remove the timed line of {n} pieces"
pub const TIMED_REMOVE: Saying<1> = Saying::counted("doing.timed.remove", ("Remove the timed line of {n} piece", "Remove the timed line of {n} pieces"), ["n"]);
/// "Trying {n} falls"
pub const TRYING: Saying<1> = Saying::plain("doing.trying", "Trying {n} falls", ["n"]);
/// "Turn {names}"
pub const TURN: Saying<1> = Saying::plain("doing.turn", "Turn {names}", ["names"]);
/// "Ungroup {names}"
pub const UNGROUP: Saying<1> = Saying::plain("doing.ungroup", "Ungroup {names}", ["names"]);
/// "Unlock {names}"
pub const UNLOCK: Saying<1> = Saying::plain("doing.unlock", "Unlock {names}", ["names"]);
/// "Change what {name} aims for"
pub const WISH: Saying<1> = Saying::plain("doing.wish", "Change what {name} aims for", ["name"]);
/// "{what} with {colour}"
pub const WITH: Saying<2> = Saying::plain("doing.with", "{what} with {colour}", ["what", "colour"]);
/// "{what} with no piece"
pub const WITH_NONE: Saying<1> = Saying::plain("doing.with-none", "{what} with no piece", ["what"]);
