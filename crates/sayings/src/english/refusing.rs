//! Why anything else cannot be done, and what to do next. Written by `cargo xtask codegen` from web/src/i18n/en.json.

use crate::Saying;

/// "{why}"
pub const AS_TOLD: Saying<1> = Saying::plain("refusing.as-told", "{why}", ["why"]);
/// "This change is larger than the {most} MiB that fit here. Make it in parts."
pub const CHANGE_LARGE: Saying<1> = Saying::plain("refusing.change-large", "This change is larger than the {most}\u{a0}MiB that fit here. Make it in parts.", ["most"]);
/// "The plan has changed meanwhile, so nothing was done. Look again, then repeat it."
pub const CHANGED: Saying<0> = Saying::plain("refusing.changed", "The plan has changed meanwhile, so nothing was done. Look again, then repeat it.", []);
/// "The project is closed. Open it again."
pub const CLOSED: Saying<0> = Saying::plain("refusing.closed", "The project is closed. Open it again.", []);
/// "The server is closing. Start it again, then load this page again."
pub const CLOSING: Saying<0> = Saying::plain("refusing.closing", "The server is closing. Start it again, then load this page again.", []);
/// "Too many wrong codes came in. Wait {n} s, then type the code on the planner's screen."
pub const CODE_WAIT: Saying<1> = Saying::plain("refusing.code.wait", "Too many wrong codes came in. Wait {n} s, then type the code on the planner's screen.", ["n"]);
/// "This code does not open the plan. Compare it with the code on the planner's screen and type it again."
pub const CODE_WRONG: Saying<0> = Saying::plain("refusing.code.wrong", "This code does not open the plan. Compare it with the code on the planner's screen and type it again.", []);
/// "The request broke off. Repeat it."
pub const CUT: Saying<0> = Saying::plain("refusing.cut", "The request broke off. Repeat it.", []);
/// "A request that changes something must carry the header "X-Standfast: 1". Add it and repeat."
pub const DOOR_HEADER: Saying<0> = Saying::plain("refusing.door.header", "A request that changes something must carry the header \"X-Standfast: 1\". Add it and repeat.", []);
/// "The address in the browser is not one of this server's own. Open {fix} instead."
pub const DOOR_HOST: Saying<1> = Saying::plain("refusing.door.host", "The address in the browser is not one of this server's own. Open {fix} instead.", ["fix"]);
/// "The request came from a page that is not this server's own. Open http://{host}/ and repeat it there."
pub const DOOR_ORIGIN: Saying<1> = Saying::plain("refusing.door.origin", "The request came from a page that is not this server's own. Open http://{host}/ and repeat it there.", ["host"]);
/// ""{text}" is no eye point. Give a distance of 100 to 1 000 000 mm, a height of 50 to 100 000 mm and a bearing in degrees, apart by commas."
pub const EYE: Saying<1> = Saying::plain("refusing.eye", "\"{text}\" is no eye point. Give a distance of 100 to 1\u{a0}000\u{a0}000\u{a0}mm, a height of 50 to 100\u{a0}000\u{a0}mm and a bearing in degrees, apart by commas.", ["text"]);
/// "{why}"
pub const FILE: Saying<1> = Saying::plain("refusing.file", "{why}", ["why"]);
/// "As many pages are open as fit. Close one that is not needed, then load this one again."
pub const FULL: Saying<0> = Saying::plain("refusing.full", "As many pages are open as fit. Close one that is not needed, then load this one again.", []);
/// "Gaps cannot be proposed so. Ask for 1 to 1 000 gaps, or for at least 1 piece that may fall, or for neither."
pub const GAPS: Saying<0> = Saying::plain("refusing.gaps", "Gaps cannot be proposed so. Ask for 1 to 1\u{a0}000 gaps, or for at least 1 piece that may fall, or for neither.", []);
/// "A field of {cols} x {rows} cells cannot be made: choose 1 to {most} cells in all."
pub const GRID_CELLS: Saying<3> = Saying::plain("refusing.grid.cells", "A field of {cols} x {rows} cells cannot be made: choose 1 to {most} cells in all.", ["cols", "rows", "most"]);
/// "A cell uses colour number {colour}, but there are only {count}: choose a colour of the list."
pub const GRID_COLOUR: Saying<2> = Saying::plain("refusing.grid.colour", "A cell uses colour number {colour}, but there are only {count}: choose a colour of the list.", ["colour", "count"]);
/// "The cut-out from {left} to {right} across and {top} to {bottom} down holds nothing of the picture: give fractions between 0 and 1, left before right and top before bottom."
pub const GRID_CROP: Saying<4> = Saying::plain("refusing.grid.crop", "The cut-out from {left} to {right} across and {top} to {bottom} down holds nothing of the picture: give fractions between 0 and 1, left before right and top before bottom.", ["left", "right", "top", "bottom"]);
/// "A {what} of {mm} cannot be used: give a length above 0 mm."
pub const GRID_LENGTH: Saying<2> = Saying::plain("refusing.grid.length", "A {what} of {mm} cannot be used: give a length above 0 mm.", ["what", "mm"]);
/// "A drawing of {width} x {height} pixels cannot be made: choose another scale."
pub const GRID_RASTER: Saying<2> = Saying::plain("refusing.grid.raster", "A drawing of {width} x {height} pixels cannot be made: choose another scale.", ["width", "height"]);
/// "The work was stopped before it was complete: start it again when it is wanted."
pub const GRID_STOPPED: Saying<0> = Saying::plain("refusing.grid.stopped", "The work was stopped before it was complete: start it again when it is wanted.", []);
/// "A drawing of {cols} x {rows} cells got {got} values: give one for each cell."
pub const GRID_VALUES: Saying<3> = Saying::plain("refusing.grid.values", "A drawing of {cols} x {rows} cells got {got} values: give one for each cell.", ["cols", "rows", "got"]);
/// ""{list}" is no list of {what}. Write their numbers with commas between."
pub const IDS: Saying<2> = Saying::plain("refusing.ids", "\"{list}\" is no list of {what}. Write their numbers with commas between.", ["list", "what"]);
/// "{what} The plan on disk is as it was after the last change shown as saved; load the page again and repeat the last step."
pub const INSIDE: Saying<1> = Saying::plain("refusing.inside", "{what} The plan on disk is as it was after the last change shown as saved; load the page again and repeat the last step.", ["what"]);
/// "There is no room for a copy on this machine's disk."
pub const INSIDE_COPY: Saying<0> = Saying::plain("refusing.inside.copy", "There is no room for a copy on this machine's disk.", []);
/// "A request came past the door."
pub const INSIDE_DOOR: Saying<0> = Saying::plain("refusing.inside.door", "A request came past the door.", []);
/// "The server failed at this request."
pub const INSIDE_FAILED: Saying<0> = Saying::plain("refusing.inside.failed", "The server failed at this request.", []);
/// "An answer could not be written as JSON."
pub const INSIDE_JSON: Saying<0> = Saying::plain("refusing.inside.json", "An answer could not be written as JSON.", []);
/// "The picture could not be written as PNG."
pub const INSIDE_PNG: Saying<0> = Saying::plain("refusing.inside.png", "The picture could not be written as PNG.", []);
/// "The system's random source did not answer."
pub const INSIDE_RANDOM: Saying<0> = Saying::plain("refusing.inside.random", "The system's random source did not answer.", []);
/// "The sheets hold {printed} pieces and the plan {planned}, so they are not printed. {problems}"
pub const INSIDE_SHEETS: Saying<3> = Saying::plain("refusing.inside.sheets", "The sheets hold {printed} pieces and the plan {planned}, so they are not printed. {problems}", ["printed", "planned", "problems"]);
/// "An item of an unknown sort was asked for."
pub const INSIDE_SORT: Saying<0> = Saying::plain("refusing.inside.sort", "An item of an unknown sort was asked for.", []);
/// "This work failed inside. Nothing was changed; the plan is safe."
pub const JOB_FAILED: Saying<0> = Saying::plain("refusing.job-failed", "This work failed inside. Nothing was changed; the plan is safe.", []);
/// "Four jobs are running already. Wait for one to end, or stop it."
pub const JOBS: Saying<0> = Saying::plain("refusing.jobs", "Four jobs are running already. Wait for one to end, or stop it.", []);
/// "This tablet has not been let in yet. Type the code on the planner's screen at /join."
pub const JOIN: Saying<0> = Saying::plain("refusing.join", "This tablet has not been let in yet. Type the code on the planner's screen at /join.", []);
/// "The request could not be read: {why}. Load the page again and repeat."
pub const JSON: Saying<1> = Saying::plain("refusing.json", "The request could not be read: {why}. Load the page again and repeat.", ["why"]);
/// "The body must be JSON and say so in its Content-Type, application/json."
pub const JSON_KIND: Saying<0> = Saying::plain("refusing.json.kind", "The body must be JSON and say so in its Content-Type, application/json.", []);
/// "A file must be sent with its length. Choose the file again."
pub const LENGTH_NONE: Saying<0> = Saying::plain("refusing.length.none", "A file must be sent with its length. Choose the file again.", []);
/// "The length of the request is not a number. Repeat it."
pub const LENGTH_WRONG: Saying<0> = Saying::plain("refusing.length.wrong", "The length of the request is not a number. Repeat it.", []);
/// "Nothing was changed."
pub const LIST_ALL: Saying<0> = Saying::plain("refusing.list.all", "Nothing was changed.", []);
/// "{a} and {b}"
pub const LIST_AND: Saying<2> = Saying::plain("refusing.list.and", "{a} and {b}", ["a", "b"]);
/// "{file}, line {line}: {value} {problem}. {next}."
pub const LIST_AT: Saying<5> = Saying::plain("refusing.list.at", "{file}, line {line}: {value} {problem}. {next}.", ["file", "line", "value", "problem", "next"]);
/// "The list of {n} bytes"
pub const LIST_BYTES: Saying<1> = Saying::plain("refusing.list.bytes", "The list of {n} bytes", ["n"]);
/// "Leave out what the event does not use"
pub const LIST_BYTES_NEXT: Saying<0> = Saying::plain("refusing.list.bytes.next", "Leave out what the event does not use", []);
/// "is larger than 4 MiB"
pub const LIST_BYTES_PROBLEM: Saying<0> = Saying::plain("refusing.list.bytes.problem", "is larger than 4 MiB", []);
/// "can be taken for "{code}" of "{name}" on line {line}"
pub const LIST_CODE_ALIKE: Saying<3> = Saying::plain("refusing.list.code-alike", "can be taken for \"{code}\" of \"{name}\" on line {line}", ["code", "name", "line"]);
/// "is the code of "{name}" here and of "{other}" on line {line}"
pub const LIST_CODE_TWICE: Saying<3> = Saying::plain("refusing.list.code-twice", "is the code of \"{name}\" here and of \"{other}\" on line {line}", ["name", "other", "line"]);
/// "Give each colour a code of its own"
pub const LIST_CODE_NEXT: Saying<0> = Saying::plain("refusing.list.code.next", "Give each colour a code of its own", []);
/// "is the id of the colour on line {line}, too"
pub const LIST_COLOUR_ID: Saying<1> = Saying::plain("refusing.list.colour-id", "is the id of the colour on line {line}, too", ["line"]);
/// "are more than the {most} that one plan may have"
pub const LIST_COLOURS: Saying<1> = Saying::plain("refusing.list.colours", "are more than the {most} that one plan may have", ["most"]);
/// "Leave out those that the event does not use"
pub const LIST_COLOURS_NEXT: Saying<0> = Saying::plain("refusing.list.colours.next", "Leave out those that the event does not use", []);
/// "The column "{name}""
pub const LIST_COLUMN: Saying<1> = Saying::plain("refusing.list.column", "The column \"{name}\"", ["name"]);
/// "is there twice"
pub const LIST_COLUMN_TWICE: Saying<0> = Saying::plain("refusing.list.column.twice", "is there twice", []);
/// "Keep one of them"
pub const LIST_COLUMN_TWICE_NEXT: Saying<0> = Saying::plain("refusing.list.column.twice.next", "Keep one of them", []);
/// "is more than a thousand million"
pub const LIST_COUNT_LARGE: Saying<0> = Saying::plain("refusing.list.count-large", "is more than a thousand million", []);
/// "Put the true number"
pub const LIST_COUNT_LARGE_NEXT: Saying<0> = Saying::plain("refusing.list.count-large.next", "Put the true number", []);
/// "is not the size of a crate"
pub const LIST_CRATE: Saying<0> = Saying::plain("refusing.list.crate", "is not the size of a crate", []);
/// "Put 1 to 1 000 000, or leave it empty"
pub const LIST_CRATE_NEXT: Saying<0> = Saying::plain("refusing.list.crate.next", "Put 1 to 1 000 000, or leave it empty", []);
/// "is the {column} of "{name}" here, but line {line} says "{there}""
pub const LIST_DIFFERS: Saying<4> = Saying::plain("refusing.list.differs", "is the {column} of \"{name}\" here, but line {line} says \"{there}\"", ["column", "name", "line", "there"]);
/// "Make both rows the same, or give one another name"
pub const LIST_DIFFERS_NEXT: Saying<0> = Saying::plain("refusing.list.differs.next", "Make both rows the same, or give one another name", []);
/// "is empty"
pub const LIST_EMPTY: Saying<0> = Saying::plain("refusing.list.empty", "is empty", []);
/// "Give a first line with name, code, hex, count"
pub const LIST_EMPTY_NEXT: Saying<0> = Saying::plain("refusing.list.empty.next", "Give a first line with name, code, hex, count", []);
/// "This file"
pub const LIST_FILE: Saying<0> = Saying::plain("refusing.list.file", "This file", []);
/// "Write matt, gloss, metallic, clear or painted, or leave it empty"
pub const LIST_FINISHES: Saying<0> = Saying::plain("refusing.list.finishes", "Write matt, gloss, metallic, clear or painted, or leave it empty", []);
/// "Write it as #rrggbb"
pub const LIST_HEX: Saying<0> = Saying::plain("refusing.list.hex", "Write it as #rrggbb", []);
/// "Write it as #rrggbb, or leave it empty"
pub const LIST_HEX_OR_NONE: Saying<0> = Saying::plain("refusing.list.hex-or-none", "Write it as #rrggbb, or leave it empty", []);
/// "Leave it empty, and an id will be given"
pub const LIST_IDS_NEXT: Saying<0> = Saying::plain("refusing.list.ids.next", "Leave it empty, and an id will be given", []);
/// "Leave it empty if in doubt"
pub const LIST_IN_DOUBT: Saying<0> = Saying::plain("refusing.list.in-doubt", "Leave it empty if in doubt", []);
/// "Leave it out"
pub const LIST_LEAVE_OUT: Saying<0> = Saying::plain("refusing.list.leave-out", "Leave it out", []);
/// "{lines}"
pub const LIST_LINES: Saying<1> = Saying::plain("refusing.list.lines", "{lines}", ["lines"]);
/// "is longer than 10 000 signs"
pub const LIST_LONG: Saying<0> = Saying::plain("refusing.list.long", "is longer than 10 000 signs", []);
/// "is the id of the lot on line {line}, too"
pub const LIST_LOT_ID: Saying<1> = Saying::plain("refusing.list.lot-id", "is the id of the lot on line {line}, too", ["line"]);
/// "Write a number such as 8.5"
pub const LIST_MASS: Saying<0> = Saying::plain("refusing.list.mass", "Write a number such as 8.5", []);
/// "are missing"
pub const LIST_MISSING_ARE: Saying<0> = Saying::plain("refusing.list.missing.are", "are missing", []);
/// "is missing"
pub const LIST_MISSING_IS: Saying<0> = Saying::plain("refusing.list.missing.is", "is missing", []);
/// "Add what is missing to the first line"
pub const LIST_MISSING_NEXT: Saying<0> = Saying::plain("refusing.list.missing.next", "Add what is missing to the first line", []);
/// "{n} more lines have problems."
pub const LIST_MORE: Saying<1> = Saying::plain("refusing.list.more", "{n} more lines have problems.", ["n"]);
/// "The columns name, code, hex and count are needed, but {names}"
pub const LIST_NEEDED: Saying<1> = Saying::plain("refusing.list.needed", "The columns name, code, hex and count are needed, but {names}", ["names"]);
/// "is not a code"
pub const LIST_NO_CODE: Saying<0> = Saying::plain("refusing.list.no-code", "is not a code", []);
/// "Write one to three letters or figures, or leave it empty"
pub const LIST_NO_CODE_NEXT: Saying<0> = Saying::plain("refusing.list.no-code.next", "Write one to three letters or figures, or leave it empty", []);
/// "is not a colour"
pub const LIST_NO_COLOUR: Saying<0> = Saying::plain("refusing.list.no-colour", "is not a colour", []);
/// "is not a count"
pub const LIST_NO_COUNT: Saying<0> = Saying::plain("refusing.list.no-count", "is not a count", []);
/// "Put 0 or more and drop the file again"
pub const LIST_NO_COUNT_NEXT: Saying<0> = Saying::plain("refusing.list.no-count.next", "Put 0 or more and drop the file again", []);
/// "is not a finish"
pub const LIST_NO_FINISH: Saying<0> = Saying::plain("refusing.list.no-finish", "is not a finish", []);
/// "is not an id"
pub const LIST_NO_ID: Saying<0> = Saying::plain("refusing.list.no-id", "is not an id", []);
/// "is not a mass in grams"
pub const LIST_NO_MASS: Saying<0> = Saying::plain("refusing.list.no-mass", "is not a mass in grams", []);
/// "is no name"
pub const LIST_NO_NAME: Saying<0> = Saying::plain("refusing.list.no-name", "is no name", []);
/// "Give each colour a name"
pub const LIST_NO_NAME_NEXT: Saying<0> = Saying::plain("refusing.list.no-name.next", "Give each colour a name", []);
/// "is not a spare share"
pub const LIST_NO_SPARE: Saying<0> = Saying::plain("refusing.list.no-spare", "is not a spare share", []);
/// "is not text"
pub const LIST_NO_TEXT: Saying<0> = Saying::plain("refusing.list.no-text", "is not text", []);
/// "Save it from the spreadsheet as CSV in UTF-8"
pub const LIST_NO_TEXT_NEXT: Saying<0> = Saying::plain("refusing.list.no-text.next", "Save it from the spreadsheet as CSV in UTF-8", []);
/// "is not a thickness in millimetres"
pub const LIST_NO_THICKNESS: Saying<0> = Saying::plain("refusing.list.no-thickness", "is not a thickness in millimetres", []);
/// "no code"
pub const LIST_NONE: Saying<0> = Saying::plain("refusing.list.none", "no code", []);
/// "A quote"
pub const LIST_QUOTE: Saying<0> = Saying::plain("refusing.list.quote", "A quote", []);
/// "Close it, or write two quotes where one is meant"
pub const LIST_QUOTE_NEXT: Saying<0> = Saying::plain("refusing.list.quote.next", "Close it, or write two quotes where one is meant", []);
/// "is opened here and never closed"
pub const LIST_QUOTE_PROBLEM: Saying<0> = Saying::plain("refusing.list.quote.problem", "is opened here and never closed", []);
/// "{n} rows"
pub const LIST_ROWS: Saying<1> = Saying::plain("refusing.list.rows", "{n} rows", ["n"]);
/// "Put lots of one colour together"
pub const LIST_ROWS_NEXT: Saying<0> = Saying::plain("refusing.list.rows.next", "Put lots of one colour together", []);
/// "are more than the 100 000 of one list"
pub const LIST_ROWS_PROBLEM: Saying<0> = Saying::plain("refusing.list.rows.problem", "are more than the 100 000 of one list", []);
/// "Write a share from 0 to 0.5, such as 0.03 or 3 %"
pub const LIST_SHARE: Saying<0> = Saying::plain("refusing.list.share", "Write a share from 0 to 0.5, such as 0.03 or 3 %", []);
/// "Shorten it"
pub const LIST_SHORTEN: Saying<0> = Saying::plain("refusing.list.shorten", "Shorten it", []);
/// "{what} Nothing was changed."
pub const LIST_SINGLE: Saying<1> = Saying::plain("refusing.list.single", "{what} Nothing was changed.", ["what"]);
/// "Write a number such as 7.58"
pub const LIST_THICKNESS: Saying<0> = Saying::plain("refusing.list.thickness", "Write a number such as 7.58", []);
/// "This list"
pub const LIST_THIS: Saying<0> = Saying::plain("refusing.list.this", "This list", []);
/// "has a line end or another sign that cannot be printed"
pub const LIST_UNPRINTABLE: Saying<0> = Saying::plain("refusing.list.unprintable", "has a line end or another sign that cannot be printed", []);
/// "{file}: {value} {problem}. {next}."
pub const LIST_WHOLE: Saying<4> = Saying::plain("refusing.list.whole", "{file}: {value} {problem}. {next}.", ["file", "value", "problem", "next"]);
/// "The field shows no picture."
pub const MATCH_BARE: Saying<0> = Saying::plain("refusing.match.bare", "The field shows no picture.", []);
/// "The fields have {cells} cells together, more than a match can take. Match them in parts."
pub const MATCH_CELLS: Saying<1> = Saying::plain("refusing.match.cells", "The fields have {cells} cells together, more than a match can take. Match them in parts.", ["cells"]);
/// "Colour {n}"
pub const MATCH_COLOUR: Saying<1> = Saying::plain("refusing.match.colour", "Colour {n}", ["n"]);
/// "The stock has {n} colours; a match takes 1 to {most}. Leave out colours that are not meant for pictures."
pub const MATCH_COLOURS: Saying<2> = Saying::plain("refusing.match.colours", "The stock has {n} colours; a match takes 1 to {most}. Leave out colours that are not meant for pictures.", ["n", "most"]);
/// "Field {field} needs {cells} pieces, and the colours allowed there have {pieces}: {short} are missing. Allow more colours there, make it smaller or add to the stock."
pub const MATCH_FIELD_SHORT: Saying<4> = Saying::plain("refusing.match.field-short", "Field {field} needs {cells} pieces, and the colours allowed there have {pieces}: {short} are missing. Allow more colours there, make it smaller or add to the stock.", ["field", "cells", "pieces", "short"]);
/// "The fields {fields} together need {cells} pieces, and the colours allowed there have {pieces}: {short} are missing. Allow more colours there, make it smaller or add to the stock."
pub const MATCH_FIELDS_SHORT: Saying<4> = Saying::plain("refusing.match.fields-short", "The fields {fields} together need {cells} pieces, and the colours allowed there have {pieces}: {short} are missing. Allow more colours there, make it smaller or add to the stock.", ["fields", "cells", "pieces", "short"]);
/// "Field {field}, cell {cell}: colour {colour} was set by hand, but the stock has only {colours} colours. Set the cell again."
pub const MATCH_FIXED_COLOUR: Saying<4> = Saying::plain("refusing.match.fixed-colour", "Field {field}, cell {cell}: colour {colour} was set by hand, but the stock has only {colours} colours. Set the cell again.", ["field", "cell", "colour", "colours"]);
/// "{colour} is set by hand in {cells} cells, but the stock has {pieces}: {short} are missing. Set some of them to another colour or add to the stock."
pub const MATCH_FIXED_SHORT: Saying<4> = Saying::plain("refusing.match.fixed-short", "{colour} is set by hand in {cells} cells, but the stock has {pieces}: {short} are missing. Set some of them to another colour or add to the stock.", ["colour", "cells", "pieces", "short"]);
/// "{classes} different wanted colours times {colours} stock colours are too many for one match. Match the fields in parts or leave out colours."
pub const MATCH_LARGE: Saying<2> = Saying::plain("refusing.match.large", "{classes} different wanted colours times {colours} stock colours are too many for one match. Match the fields in parts or leave out colours.", ["classes", "colours"]);
/// "Field {field} has {found} {what} and needs {expected}. Prepare its picture again."
pub const MATCH_LENGTH: Saying<4> = Saying::plain("refusing.match.length", "Field {field} has {found} {what} and needs {expected}. Prepare its picture again.", ["field", "found", "what", "expected"]);
/// "Field {field}: {what} {n} is not a colour. Prepare the picture and the stock again."
pub const MATCH_LIGHT: Saying<3> = Saying::plain("refusing.match.light", "Field {field}: {what} {n} is not a colour. Prepare the picture and the stock again.", ["field", "what", "n"]);
/// "No field was named. Choose at least one field to match."
pub const MATCH_NO_FIELD: Saying<0> = Saying::plain("refusing.match.no-field", "No field was named. Choose at least one field to match.", []);
/// "{name} shows no picture yet. Drop a picture on it, then match again."
pub const MATCH_NO_PICTURE: Saying<1> = Saying::plain("refusing.match.no-picture", "{name} shows no picture yet. Drop a picture on it, then match again.", ["name"]);
/// "None of the chosen cells of {name} is free: all were set by hand. Release them, or choose others."
pub const MATCH_NONE_FREE: Saying<1> = Saying::plain("refusing.match.none-free", "None of the chosen cells of {name} is free: all were set by hand. Release them, or choose others.", ["name"]);
/// "{name} has {cells} cells, and the choice was made among {chosen}. Choose the cells again."
pub const MATCH_OTHER_GRID: Saying<3> = Saying::plain("refusing.match.other-grid", "{name} has {cells} cells, and the choice was made among {chosen}. Choose the cells again.", ["name", "cells", "chosen"]);
/// "Field {field} is to be seen with a blur of {found} cells; it may be 0 to {most}. Choose a nearer place to see it from."
pub const MATCH_SIGMA: Saying<3> = Saying::plain("refusing.match.sigma", "Field {field} is to be seen with a blur of {found} cells; it may be 0 to {most}. Choose a nearer place to see it from.", ["field", "found", "most"]);
/// "The colours to start from do not fit field {field}. Start without them."
pub const MATCH_START: Saying<1> = Saying::plain("refusing.match.start", "The colours to start from do not fit field {field}. Start without them.", ["field"]);
/// "The match was stopped before it had an answer."
pub const MATCH_STOPPED: Saying<0> = Saying::plain("refusing.match.stopped", "The match was stopped before it had an answer.", []);
/// "The fields have {cells} cells to fill and the stock {pieces} pieces for them: {short} are missing. Make a field smaller, allow more colours or add to the stock."
pub const MATCH_TOO_SMALL: Saying<3> = Saying::plain("refusing.match.too-small", "The fields have {cells} cells to fill and the stock {pieces} pieces for them: {short} are missing. Make a field smaller, allow more colours or add to the stock.", ["cells", "pieces", "short"]);
/// "Cells were chosen, but more than one field. Choose the cells of one field."
pub const MATCH_TWO_FIELDS: Saying<0> = Saying::plain("refusing.match.two-fields", "Cells were chosen, but more than one field. Choose the cells of one field.", []);
/// "Field {field} has weight {found}; weights go from 1 to 100."
pub const MATCH_WEIGHT: Saying<2> = Saying::plain("refusing.match.weight", "Field {field} has weight {found}; weights go from 1 to 100.", ["field", "found"]);
/// "Those that can be mended: {numbers}."
pub const MEND_KNOWN: Saying<1> = Saying::plain("refusing.mend.known", "Those that can be mended: {numbers}.", ["numbers"]);
/// "None can be mended by itself."
pub const MEND_NO_KNOWN: Saying<0> = Saying::plain("refusing.mend.no-known", "None can be mended by itself.", []);
/// "{there}, but none with the number {n}. {known}"
pub const MEND_NONE: Saying<3> = Saying::plain("refusing.mend.none", "{there}, but none with the number {n}. {known}", ["there", "n", "known"]);
/// "Mended so, it would still be there: {message} Nothing was changed. By hand: {hint}"
pub const MEND_STAYS: Saying<2> = Saying::plain("refusing.mend.stays", "Mended so, it would still be there: {message} Nothing was changed. By hand: {hint}", ["message", "hint"]);
/// "There are {n} findings"
pub const MEND_THERE: Saying<1> = Saying::counted("refusing.mend.there", ("There is {n} finding", "There are {n} findings"), ["n"]);
/// "Mended so, more would be wrong: {place}: {message} Nothing was changed. By hand: {hint}"
pub const MEND_WORSE: Saying<3> = Saying::plain("refusing.mend.worse", "Mended so, more would be wrong: {place}: {message} Nothing was changed. By hand: {hint}", ["place", "message", "hint"]);
/// "Nobody can say how to mend number {n} but you. {known}"
pub const MEND_YOURS: Saying<2> = Saying::plain("refusing.mend.yours", "Nobody can say how to mend number {n} but you. {known}", ["n", "known"]);
/// "This address does not take what was sent. Load the page again."
pub const METHOD: Saying<0> = Saying::plain("refusing.method", "This address does not take what was sent. Load the page again.", []);
/// "Nothing here takes what was sent. Load the page again."
pub const METHOD_PAGE: Saying<0> = Saying::plain("refusing.method.page", "Nothing here takes what was sent. Load the page again.", []);
/// "{what} is not in this plan. {next}"
pub const MISSING: Saying<2> = Saying::plain("refusing.missing", "{what} is not in this plan. {next}", ["what", "next"]);
/// "Choose a field; other items have no cells."
pub const MISSING_CELLS: Saying<0> = Saying::plain("refusing.missing.cells", "Choose a field; other items have no cells.", []);
/// "Choose one of the plan."
pub const MISSING_CHOOSE: Saying<0> = Saying::plain("refusing.missing.choose", "Choose one of the plan.", []);
/// "Copy it once more; it is kept until the program ends or sixteen others were copied."
pub const MISSING_COPIED: Saying<0> = Saying::plain("refusing.missing.copied", "Copy it once more; it is kept until the program ends or sixteen others were copied.", []);
/// "Choose a field of the plan."
pub const MISSING_FIELD: Saying<0> = Saying::plain("refusing.missing.field", "Choose a field of the plan.", []);
/// "Put it back into the folder of the plan."
pub const MISSING_HASH: Saying<0> = Saying::plain("refusing.missing.hash", "Put it back into the folder of the plan.", []);
/// "The stock list has changed; load the page again."
pub const MISSING_LOT: Saying<0> = Saying::plain("refusing.missing.lot", "The stock list has changed; load the page again.", []);
/// "Tape more distances, or measure those again that contradict each other."
pub const MISSING_MEASURED: Saying<0> = Saying::plain("refusing.missing.measured", "Tape more distances, or measure those again that contradict each other.", []);
/// "It may have been removed; load the page again."
pub const MISSING_RELOAD: Saying<0> = Saying::plain("refusing.missing.reload", "It may have been removed; load the page again.", []);
/// "It was changed or taken away meanwhile; look at the list of the hall again."
pub const MISSING_TAPES: Saying<0> = Saying::plain("refusing.missing.tapes", "It was changed or taken away meanwhile; look at the list of the hall again.", []);
/// "Match again; only the last twelve are kept."
pub const MISSING_VARIANT: Saying<0> = Saying::plain("refusing.missing.variant", "Match again; only the last twelve are kept.", []);
/// "The file came without its name in the header X-File-Name. Choose the file again."
pub const NO_FILE_NAME: Saying<0> = Saying::plain("refusing.no-file-name", "The file came without its name in the header X-File-Name. Choose the file again.", []);
/// "Item {id} is not in this plan. Load the page again."
pub const NO_ITEM: Saying<1> = Saying::plain("refusing.no-item", "Item {id} is not in this plan. Load the page again.", ["id"]);
/// "Job {id} is not known any more. Start it again."
pub const NO_JOB: Saying<1> = Saying::plain("refusing.no-job", "Job {id} is not known any more. Start it again.", ["id"]);
/// "There is nothing at {path}, which should name a number. Go back to the first page."
pub const NO_NUMBER: Saying<1> = Saying::plain("refusing.no-number", "There is nothing at {path}, which should name a number. Go back to the first page.", ["path"]);
/// "There is no page {n}; the last one is {last}."
pub const NO_PAGE: Saying<2> = Saying::plain("refusing.no-page", "There is no page {n}; the last one is {last}.", ["n", "last"]);
/// "This field has no picture yet. Choose one, then look again."
pub const NO_PICTURE: Saying<0> = Saying::plain("refusing.no-picture", "This field has no picture yet. Choose one, then look again.", []);
/// "The plan has no piece {n}. Load the page again."
pub const NO_PIECE: Saying<1> = Saying::plain("refusing.no-piece", "The plan has no piece {n}. Load the page again.", ["n"]);
/// "The machine has no room for another job: {why}."
pub const NO_ROOM: Saying<1> = Saying::plain("refusing.no-room", "The machine has no room for another job: {why}.", ["why"]);
/// "{name} has no number {n}; the last one is {last}."
pub const NO_UNIT: Saying<3> = Saying::plain("refusing.no-unit", "{name} has no number {n}; the last one is {last}.", ["name", "n", "last"]);
/// "Variant {id} is not kept any more; only the last twelve are. Match again."
pub const NO_VARIANT: Saying<1> = Saying::plain("refusing.no-variant", "Variant {id} is not kept any more; only the last twelve are. Match again.", ["id"]);
/// "There is no such view. Choose laid, above, standing or fallen."
pub const NO_VIEW: Saying<0> = Saying::plain("refusing.no-view", "There is no such view. Choose laid, above, standing or fallen.", []);
/// "{why} Nothing was changed."
pub const NOT_SAVED: Saying<1> = Saying::plain("refusing.not-saved", "{why} Nothing was changed.", ["why"]);
/// "There is nothing at {path}. Go back to the first page."
pub const NOTHING_AT: Saying<1> = Saying::plain("refusing.nothing-at", "There is nothing at {path}. Go back to the first page.", ["path"]);
/// "There is nothing at this address. Go back to the first page."
pub const NOTHING_HERE: Saying<0> = Saying::plain("refusing.nothing-here", "There is nothing at this address. Go back to the first page.", []);
/// "There is nothing to redo."
pub const NOTHING_REDO: Saying<0> = Saying::plain("refusing.nothing.redo", "There is nothing to redo.", []);
/// "There is nothing to undo."
pub const NOTHING_UNDO: Saying<0> = Saying::plain("refusing.nothing.undo", "There is nothing to undo.", []);
/// "{header} must have 1 to {most} letters, figures or hyphens."
pub const ONCE: Saying<2> = Saying::plain("refusing.once", "{header} must have 1 to {most} letters, figures or hyphens.", ["header", "most"]);
/// "Another plan has been opened in place of the one that this page shows. Load the page again."
pub const OTHER_PLAN: Saying<0> = Saying::plain("refusing.other-plan", "Another plan has been opened in place of the one that this page shows. Load the page again.", []);
/// "{name}: {why}"
pub const PICTURE: Saying<2> = Saying::plain("refusing.picture", "{name}: {why}", ["name", "why"]);
/// "The {kind} file is cut off before the picture is complete: copy or save it again."
pub const PICTURE_CUT: Saying<1> = Saying::plain("refusing.picture.cut", "The {kind} file is cut off before the picture is complete: copy or save it again.", ["kind"]);
/// "The {kind} file is damaged ({detail}): open it in a picture editor and save it again."
pub const PICTURE_DAMAGED: Saying<2> = Saying::plain("refusing.picture.damaged", "The {kind} file is damaged ({detail}): open it in a picture editor and save it again.", ["kind", "detail"]);
/// "The {kind} file keeps its 16 bits a channel in one single strip, which takes {n} MB to read: save it with 8 bits a channel, or in several strips."
pub const PICTURE_DEEP: Saying<2> = Saying::plain("refusing.picture.deep", "The {kind} file keeps its 16 bits a channel in one single strip, which takes {n} MB to read: save it with 8 bits a channel, or in several strips.", ["kind", "n"]);
/// "The file is empty: choose another file."
pub const PICTURE_EMPTY: Saying<0> = Saying::plain("refusing.picture.empty", "The file is empty: choose another file.", []);
/// "The {kind} file carries extra data larger than the limit of {most} MiB: save it again without extra data."
pub const PICTURE_EXTRA: Saying<2> = Saying::plain("refusing.picture.extra", "The {kind} file carries extra data larger than the limit of {most} MiB: save it again without extra data.", ["kind", "most"]);
/// "The {kind} file is stored in CMYK printing inks without a colour profile that could be used, so its colours are not known: save it as RGB."
pub const PICTURE_INKS: Saying<1> = Saying::plain("refusing.picture.inks", "The {kind} file is stored in CMYK printing inks without a colour profile that could be used, so its colours are not known: save it as RGB.", ["kind"]);
/// "The {kind} file says that its picture is 0 pixels wide or high: save the picture again."
pub const PICTURE_NO_SIZE: Saying<1> = Saying::plain("refusing.picture.no-size", "The {kind} file says that its picture is 0 pixels wide or high: save the picture again.", ["kind"]);
/// "The {kind} file uses {what}, which is not read: save it as an RGB file with 8 or 16 bits."
pub const PICTURE_NOT_READ: Saying<2> = Saying::plain("refusing.picture.not-read", "The {kind} file uses {what}, which is not read: save it as an RGB file with 8 or 16 bits.", ["kind", "what"]);
/// "The file looks like {kind}, which is not read: save it as PNG, JPEG, WebP or TIFF."
pub const PICTURE_OTHER_KIND: Saying<1> = Saying::plain("refusing.picture.other-kind", "The file looks like {kind}, which is not read: save it as PNG, JPEG, WebP or TIFF.", ["kind"]);
/// "The picture is {width} x {height} pixels, more than the limit of {most} megapixels: scale it down and save it again."
pub const PICTURE_PIXELS: Saying<3> = Saying::plain("refusing.picture.pixels", "The picture is {width} x {height} pixels, more than the limit of {most} megapixels: scale it down and save it again.", ["width", "height", "most"]);
/// "The picture is {width} x {height} pixels, and a side may be at most {most} pixels long: scale it down and save it again."
pub const PICTURE_SIDE: Saying<3> = Saying::plain("refusing.picture.side", "The picture is {width} x {height} pixels, and a side may be at most {most} pixels long: scale it down and save it again.", ["width", "height", "most"]);
/// "The file is not a picture that can be read: choose a PNG, JPEG, WebP or TIFF file."
pub const PICTURE_UNKNOWN: Saying<0> = Saying::plain("refusing.picture.unknown", "The file is not a picture that can be read: choose a PNG, JPEG, WebP or TIFF file.", []);
/// "The address holds something unknown: {why}. Go back and choose again."
pub const QUERY: Saying<1> = Saying::plain("refusing.query", "The address holds something unknown: {why}. Go back and choose again.", ["why"]);
/// "The address asks for {name} "{value}". Use {known}."
pub const QUERY_VALUE: Saying<3> = Saying::plain("refusing.query.value", "The address asks for {name} \"{value}\". Use {known}.", ["name", "value", "known"]);
/// "A reach of {reach} is not within 50 to 10 000 mm. Choose another."
pub const REACH: Saying<1> = Saying::plain("refusing.reach", "A reach of {reach} is not within 50 to 10\u{a0}000 mm. Choose another.", ["reach"]);
/// "Only a planner may do this. Ask the planner, or type the planner's code at /join."
pub const ROLE: Saying<0> = Saying::plain("refusing.role", "Only a planner may do this. Ask the planner, or type the planner's code at /join.", []);
/// "{n} falls cannot be tried. Ask for 1 to 10 000."
pub const RUNS: Saying<1> = Saying::plain("refusing.runs", "{n} falls cannot be tried. Ask for 1 to 10\u{a0}000.", ["n"]);
/// "{place}: {what}. Check the plan, then print again."
pub const SHEETS_BAD: Saying<2> = Saying::plain("refusing.sheets.bad", "{place}: {what}. Check the plan, then print again.", ["place", "what"]);
/// "{name} is not a field. Lane sheets are made for fields only; choose one."
pub const SHEETS_FIELD: Saying<1> = Saying::plain("refusing.sheets.field", "{name} is not a field. Lane sheets are made for fields only; choose one.", ["name"]);
/// "Item {id} is not in this plan. Name an item of the plan."
pub const SHEETS_ITEM: Saying<1> = Saying::plain("refusing.sheets.item", "Item {id} is not in this plan. Name an item of the plan.", ["id"]);
/// "No field was chosen. Choose at least one field of the plan."
pub const SHEETS_NONE: Saying<0> = Saying::plain("refusing.sheets.none", "No field was chosen. Choose at least one field of the plan.", []);
/// "The PDF could not be written: {why}. Report this with the plan."
pub const SHEETS_PDF: Saying<1> = Saying::plain("refusing.sheets.pdf", "The PDF could not be written: {why}. Report this with the plan.", ["why"]);
/// "Printing was stopped. No file was written."
pub const SHEETS_STOPPED: Saying<0> = Saying::plain("refusing.sheets.stopped", "Printing was stopped. No file was written.", []);
/// "Sheet text, page {n}: {what}. Compare the sheet with the plan."
pub const SHEETS_TEXT: Saying<2> = Saying::plain("refusing.sheets.text", "Sheet text, page {n}: {what}. Compare the sheet with the plan.", ["n", "what"]);
/// "The request came in too slowly. Repeat it, nearer to the hall's access point if it happens again."
pub const SLOW: Saying<0> = Saying::plain("refusing.slow", "The request came in too slowly. Repeat it, nearer to the hall's access point if it happens again.", []);
/// "This address is a WebSocket. Open the first page instead."
pub const SOCKET: Saying<0> = Saying::plain("refusing.socket", "This address is a WebSocket. Open the first page instead.", []);
/// "Stopped. Nothing was changed."
pub const STOPPED: Saying<0> = Saying::plain("refusing.stopped", "Stopped. Nothing was changed.", []);
/// "The request is larger than the {most} that fit here. Send less at a time, or a smaller file."
pub const TOO_LARGE: Saying<1> = Saying::plain("refusing.too-large", "The request is larger than the {most} that fit here. Send less at a time, or a smaller file.", ["most"]);
/// "Variant {id} has no field {item}. Choose one of the fields that it matched."
pub const VARIANT_FIELD: Saying<2> = Saying::plain("refusing.variant-field", "Variant {id} has no field {item}. Choose one of the fields that it matched.", ["id", "item"]);
/// "{name} has another grid than when variant {id} was made. Match again."
pub const VARIANT_GRID: Saying<2> = Saying::plain("refusing.variant-grid", "{name} has another grid than when variant {id} was made. Match again.", ["name", "id"]);
/// "What was copied"
pub const WHAT_COPIED: Saying<0> = Saying::plain("refusing.what.copied", "What was copied", []);
/// "Field {id}"
pub const WHAT_FIELD: Saying<1> = Saying::plain("refusing.what.field", "Field {id}", ["id"]);
/// "A field named {name}"
pub const WHAT_FIELD_NAMED: Saying<1> = Saying::plain("refusing.what.field-named", "A field named {name}", ["name"]);
/// "Gear {id}"
pub const WHAT_GEAR: Saying<1> = Saying::plain("refusing.what.gear", "Gear {id}", ["id"]);
/// "The picture with the hash {hash}"
pub const WHAT_HASH: Saying<1> = Saying::plain("refusing.what.hash", "The picture with the hash {hash}", ["hash"]);
/// "Item {id}"
pub const WHAT_ITEM: Saying<1> = Saying::plain("refusing.what.item", "Item {id}", ["id"]);
/// "Lot {id}"
pub const WHAT_LOT: Saying<1> = Saying::plain("refusing.what.lot", "Lot {id}", ["id"]);
/// "Mark {id}"
pub const WHAT_MARK: Saying<1> = Saying::plain("refusing.what.mark", "Mark {id}", ["id"]);
/// "A hall that was measured otherwise than it is drawn"
pub const WHAT_MEASURED: Saying<0> = Saying::plain("refusing.what.measured", "A hall that was measured otherwise than it is drawn", []);
/// "Section {id}"
pub const WHAT_SECTION: Saying<1> = Saying::plain("refusing.what.section", "Section {id}", ["id"]);
/// "Surface {id}"
pub const WHAT_SURFACE: Saying<1> = Saying::plain("refusing.what.surface", "Surface {id}", ["id"]);
/// "The taped distance from {from} to {to}"
pub const WHAT_TAPE: Saying<2> = Saying::plain("refusing.what.tape", "The taped distance from {from} to {to}", ["from", "to"]);
/// "The timed line of {n} pieces"
pub const WHAT_TIMED: Saying<1> = Saying::counted("refusing.what.timed", ("The timed line of {n} piece", "The timed line of {n} pieces"), ["n"]);
/// "Variant {id}"
pub const WHAT_VARIANT: Saying<1> = Saying::plain("refusing.what.variant", "Variant {id}", ["id"]);
/// "A variant of this size"
pub const WHAT_VARIANT_SIZE: Saying<0> = Saying::plain("refusing.what.variant-size", "A variant of this size", []);
