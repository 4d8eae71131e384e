//! Why the plan does not take a change: where, which value, what is wrong with it, what to do next. Written by `cargo xtask codegen` from web/src/i18n/en.json.

use crate::Saying;

/// "about"
pub const AT_ABOUT: Saying<0> = Saying::plain("gate.at.about", "about", []);
/// "time after the first start"
pub const AT_AFTER: Saying<0> = Saying::plain("gate.at.after", "time after the first start", []);
/// "batch"
pub const AT_BATCH: Saying<0> = Saying::plain("gate.at.batch", "batch", []);
/// "beginning"
pub const AT_BEGINNING: Saying<0> = Saying::plain("gate.at.beginning", "beginning", []);
/// "bridge {n}"
pub const AT_BRIDGE: Saying<1> = Saying::plain("gate.at.bridge", "bridge {n}", ["n"]);
/// "place along the line"
pub const AT_BRIDGE_PLACE: Saying<0> = Saying::plain("gate.at.bridge.place", "place along the line", []);
/// "bridges"
pub const AT_BRIDGES: Saying<0> = Saying::plain("gate.at.bridges", "bridges", []);
/// "as built"
pub const AT_BUILT: Saying<0> = Saying::plain("gate.at.built", "as built", []);
/// "built too far east"
pub const AT_BUILT_EAST: Saying<0> = Saying::plain("gate.at.built.east", "built too far east", []);
/// "built too far north"
pub const AT_BUILT_NORTH: Saying<0> = Saying::plain("gate.at.built.north", "built too far north", []);
/// "clear distance"
pub const AT_CLEAR: Saying<0> = Saying::plain("gate.at.clear", "clear distance", []);
/// "clear gap"
pub const AT_CLEAR_GAP: Saying<0> = Saying::plain("gate.at.clear-gap", "clear gap", []);
/// "code"
pub const AT_CODE: Saying<0> = Saying::plain("gate.at.code", "code", []);
/// "colour"
pub const AT_COLOUR: Saying<0> = Saying::plain("gate.at.colour", "colour", []);
/// "colour {name}"
pub const AT_COLOUR_OF: Saying<1> = Saying::plain("gate.at.colour.of", "colour {name}", ["name"]);
/// "colours"
pub const AT_COLOURS: Saying<0> = Saying::plain("gate.at.colours", "colours", []);
/// "column"
pub const AT_COLUMN: Saying<0> = Saying::plain("gate.at.column", "column", []);
/// "columns"
pub const AT_COLUMNS: Saying<0> = Saying::plain("gate.at.columns", "columns", []);
/// "contrast"
pub const AT_CONTRAST: Saying<0> = Saying::plain("gate.at.contrast", "contrast", []);
/// "copy"
pub const AT_COPY: Saying<0> = Saying::plain("gate.at.copy", "copy", []);
/// "corner {n}"
pub const AT_CORNER: Saying<1> = Saying::plain("gate.at.corner", "corner {n}", ["n"]);
/// "count"
pub const AT_COUNT: Saying<0> = Saying::plain("gate.at.count", "count", []);
/// "course"
pub const AT_COURSE: Saying<0> = Saying::plain("gate.at.course", "course", []);
/// "crate size"
pub const AT_CRATE: Saying<0> = Saying::plain("gate.at.crate", "crate size", []);
/// "crop"
pub const AT_CROP: Saying<0> = Saying::plain("gate.at.crop", "crop", []);
/// "deck"
pub const AT_DECK: Saying<0> = Saying::plain("gate.at.deck", "deck", []);
/// "thickness of the deck"
pub const AT_DECK_THICKNESS: Saying<0> = Saying::plain("gate.at.deck.thickness", "thickness of the deck", []);
/// "least delay"
pub const AT_DELAY_LEAST: Saying<0> = Saying::plain("gate.at.delay.least", "least delay", []);
/// "longest delay"
pub const AT_DELAY_MOST: Saying<0> = Saying::plain("gate.at.delay.most", "longest delay", []);
/// "direction"
pub const AT_DIRECTION: Saying<0> = Saying::plain("gate.at.direction", "direction", []);
/// "draft"
pub const AT_DRAFT: Saying<0> = Saying::plain("gate.at.draft", "draft", []);
/// "east"
pub const AT_EAST: Saying<0> = Saying::plain("gate.at.east", "east", []);
/// "end"
pub const AT_END: Saying<0> = Saying::plain("gate.at.end", "end", []);
/// "example"
pub const AT_EXAMPLE: Saying<0> = Saying::plain("gate.at.example", "example", []);
/// "eye bearing"
pub const AT_EYE_BEARING: Saying<0> = Saying::plain("gate.at.eye.bearing", "eye bearing", []);
/// "eye distance"
pub const AT_EYE_DISTANCE: Saying<0> = Saying::plain("gate.at.eye.distance", "eye distance", []);
/// "eye height"
pub const AT_EYE_HEIGHT: Saying<0> = Saying::plain("gate.at.eye.height", "eye height", []);
/// "field that it feeds"
pub const AT_FED: Saying<0> = Saying::plain("gate.at.fed", "field that it feeds", []);
/// "fewer changes"
pub const AT_FEWER: Saying<0> = Saying::plain("gate.at.fewer", "fewer changes", []);
/// "fields"
pub const AT_FIELDS: Saying<0> = Saying::plain("gate.at.fields", "fields", []);
/// "floor"
pub const AT_FLOOR: Saying<0> = Saying::plain("gate.at.floor", "floor", []);
/// "gap"
pub const AT_GAP: Saying<0> = Saying::plain("gate.at.gap", "gap", []);
/// "safety gap {n}"
pub const AT_GAP_NTH: Saying<1> = Saying::plain("gate.at.gap.nth", "safety gap {n}", ["n"]);
/// "safety gaps"
pub const AT_GAPS: Saying<0> = Saying::plain("gate.at.gaps", "safety gaps", []);
/// "gear"
pub const AT_GEAR: Saying<0> = Saying::plain("gate.at.gear", "gear", []);
/// "gear {name}"
pub const AT_GEAR_OF: Saying<1> = Saying::plain("gate.at.gear.of", "gear {name}", ["name"]);
/// "columns times rows, without the first"
pub const AT_GRID: Saying<0> = Saying::plain("gate.at.grid", "columns times rows, without the first", []);
/// "grip of the floor"
pub const AT_GRIP_FLOOR: Saying<0> = Saying::plain("gate.at.grip.floor", "grip of the floor", []);
/// "grip of the pieces"
pub const AT_GRIP_PIECES: Saying<0> = Saying::plain("gate.at.grip.pieces", "grip of the pieces", []);
/// "group"
pub const AT_GROUP: Saying<0> = Saying::plain("gate.at.group", "group", []);
/// "hall"
pub const AT_HALL: Saying<0> = Saying::plain("gate.at.hall", "hall", []);
/// "heading"
pub const AT_HEADING: Saying<0> = Saying::plain("gate.at.heading", "heading", []);
/// "height"
pub const AT_HEIGHT: Saying<0> = Saying::plain("gate.at.height", "height", []);
/// "hours"
pub const AT_HOURS: Saying<0> = Saying::plain("gate.at.hours", "hours", []);
/// "ids"
pub const AT_IDS: Saying<0> = Saying::plain("gate.at.ids", "ids", []);
/// "item"
pub const AT_ITEM: Saying<0> = Saying::plain("gate.at.item", "item", []);
/// "item {name}"
pub const AT_ITEM_OF: Saying<1> = Saying::plain("gate.at.item.of", "item {name}", ["name"]);
/// "items"
pub const AT_ITEMS: Saying<0> = Saying::plain("gate.at.items", "items", []);
/// "kind"
pub const AT_KIND: Saying<0> = Saying::plain("gate.at.kind", "kind", []);
/// "kind {name}"
pub const AT_KIND_OF: Saying<1> = Saying::plain("gate.at.kind.of", "kind {name}", ["name"]);
/// "kinds"
pub const AT_KINDS: Saying<0> = Saying::plain("gate.at.kinds", "kinds", []);
/// "lane {n}"
pub const AT_LANE: Saying<1> = Saying::plain("gate.at.lane", "lane {n}", ["n"]);
/// "lanes"
pub const AT_LANES: Saying<0> = Saying::plain("gate.at.lanes", "lanes", []);
/// "lead"
pub const AT_LEAD: Saying<0> = Saying::plain("gate.at.lead", "lead", []);
/// "leg {n}"
pub const AT_LEG: Saying<1> = Saying::plain("gate.at.leg", "leg {n}", ["n"]);
/// "length"
pub const AT_LENGTH: Saying<0> = Saying::plain("gate.at.length", "length", []);
/// "what it looks at"
pub const AT_LOOK: Saying<0> = Saying::plain("gate.at.look", "what it looks at", []);
/// "height of what it looks at"
pub const AT_LOOK_HEIGHT: Saying<0> = Saying::plain("gate.at.look.height", "height of what it looks at", []);
/// "lot"
pub const AT_LOT: Saying<0> = Saying::plain("gate.at.lot", "lot", []);
/// "lot {id} of {name}"
pub const AT_LOT_COLOUR: Saying<2> = Saying::plain("gate.at.lot.colour", "lot {id} of {name}", ["id", "name"]);
/// "lot {name}"
pub const AT_LOT_OF: Saying<1> = Saying::plain("gate.at.lot.of", "lot {name}", ["name"]);
/// "lots"
pub const AT_LOTS: Saying<0> = Saying::plain("gate.at.lots", "lots", []);
/// "mark"
pub const AT_MARK: Saying<0> = Saying::plain("gate.at.mark", "mark", []);
/// "mark {name}"
pub const AT_MARK_OF: Saying<1> = Saying::plain("gate.at.mark.of", "mark {name}", ["name"]);
/// "marks"
pub const AT_MARKS: Saying<0> = Saying::plain("gate.at.marks", "marks", []);
/// "mass"
pub const AT_MASS: Saying<0> = Saying::plain("gate.at.mass", "mass", []);
/// "material"
pub const AT_MATERIAL: Saying<0> = Saying::plain("gate.at.material", "material", []);
/// "mirror"
pub const AT_MIRROR: Saying<0> = Saying::plain("gate.at.mirror", "mirror", []);
/// "move"
pub const AT_MOVE: Saying<0> = Saying::plain("gate.at.move", "move", []);
/// "name"
pub const AT_NAME: Saying<0> = Saying::plain("gate.at.name", "name", []);
/// "north"
pub const AT_NORTH: Saying<0> = Saying::plain("gate.at.north", "north", []);
/// "offered"
pub const AT_OFFERED: Saying<0> = Saying::plain("gate.at.offered", "offered", []);
/// "other end"
pub const AT_OTHER_END: Saying<0> = Saying::plain("gate.at.other-end", "other end", []);
/// "outline"
pub const AT_OUTLINE: Saying<0> = Saying::plain("gate.at.outline", "outline", []);
/// "owner"
pub const AT_OWNER: Saying<0> = Saying::plain("gate.at.owner", "owner", []);
/// "part {n}"
pub const AT_PART: Saying<1> = Saying::plain("gate.at.part", "part {n}", ["n"]);
/// "part {name}"
pub const AT_PART_OF: Saying<1> = Saying::plain("gate.at.part.of", "part {name}", ["name"]);
/// "parts"
pub const AT_PARTS: Saying<0> = Saying::plain("gate.at.parts", "parts", []);
/// "path"
pub const AT_PATH: Saying<0> = Saying::plain("gate.at.path", "path", []);
/// "pieces on a step"
pub const AT_PER_STEP: Saying<0> = Saying::plain("gate.at.per-step", "pieces on a step", []);
/// "picture"
pub const AT_PICTURE: Saying<0> = Saying::plain("gate.at.picture", "picture", []);
/// "picture {name}"
pub const AT_PICTURE_OF: Saying<1> = Saying::plain("gate.at.picture.of", "picture {name}", ["name"]);
/// "piece {n}"
pub const AT_PIECE: Saying<1> = Saying::plain("gate.at.piece", "piece {n}", ["n"]);
/// "pieces"
pub const AT_PIECES: Saying<0> = Saying::plain("gate.at.pieces", "pieces", []);
/// "pitch"
pub const AT_PITCH: Saying<0> = Saying::plain("gate.at.pitch", "pitch", []);
/// "pitch between lanes"
pub const AT_PITCH_ACROSS: Saying<0> = Saying::plain("gate.at.pitch.across", "pitch between lanes", []);
/// "pitch along the fall"
pub const AT_PITCH_ALONG: Saying<0> = Saying::plain("gate.at.pitch.along", "pitch along the fall", []);
/// "plan"
pub const AT_PLAN: Saying<0> = Saying::plain("gate.at.plan", "plan", []);
/// "point {n}"
pub const AT_POINT: Saying<1> = Saying::plain("gate.at.point", "point {n}", ["n"]);
/// "poke"
pub const AT_POKE: Saying<0> = Saying::plain("gate.at.poke", "poke", []);
/// "port"
pub const AT_PORT: Saying<0> = Saying::plain("gate.at.port", "port", []);
/// "port {name}"
pub const AT_PORT_OF: Saying<1> = Saying::plain("gate.at.port.of", "port {name}", ["name"]);
/// "radius"
pub const AT_RADIUS: Saying<0> = Saying::plain("gate.at.radius", "radius", []);
/// "ranks"
pub const AT_RANKS: Saying<0> = Saying::plain("gate.at.ranks", "ranks", []);
/// "ring"
pub const AT_RING: Saying<0> = Saying::plain("gate.at.ring", "ring", []);
/// "row"
pub const AT_ROW: Saying<0> = Saying::plain("gate.at.row", "row", []);
/// "rows"
pub const AT_ROWS: Saying<0> = Saying::plain("gate.at.rows", "rows", []);
/// "section"
pub const AT_SECTION: Saying<0> = Saying::plain("gate.at.section", "section", []);
/// "section {name}"
pub const AT_SECTION_OF: Saying<1> = Saying::plain("gate.at.section.of", "section {name}", ["name"]);
/// "seen from"
pub const AT_SEEN_FROM: Saying<0> = Saying::plain("gate.at.seen-from", "seen from", []);
/// "shift"
pub const AT_SHIFT: Saying<0> = Saying::plain("gate.at.shift", "shift", []);
/// "slope"
pub const AT_SLOPE: Saying<0> = Saying::plain("gate.at.slope", "slope", []);
/// "spare"
pub const AT_SPARE: Saying<0> = Saying::plain("gate.at.spare", "spare", []);
/// "stagger"
pub const AT_STAGGER: Saying<0> = Saying::plain("gate.at.stagger", "stagger", []);
/// "step"
pub const AT_STEP: Saying<0> = Saying::plain("gate.at.step", "step", []);
/// "stock"
pub const AT_STOCK: Saying<0> = Saying::plain("gate.at.stock", "stock", []);
/// "surface"
pub const AT_SURFACE: Saying<0> = Saying::plain("gate.at.surface", "surface", []);
/// "surface {name}"
pub const AT_SURFACE_OF: Saying<1> = Saying::plain("gate.at.surface.of", "surface {name}", ["name"]);
/// "swing"
pub const AT_SWING: Saying<0> = Saying::plain("gate.at.swing", "swing", []);
/// "tape {n}"
pub const AT_TAPE: Saying<1> = Saying::plain("gate.at.tape", "tape {n}", ["n"]);
/// "tapes"
pub const AT_TAPES: Saying<0> = Saying::plain("gate.at.tapes", "tapes", []);
/// "teeth"
pub const AT_TEETH: Saying<0> = Saying::plain("gate.at.teeth", "teeth", []);
/// "text"
pub const AT_TEXT: Saying<0> = Saying::plain("gate.at.text", "text", []);
/// "thickness"
pub const AT_THICKNESS: Saying<0> = Saying::plain("gate.at.thickness", "thickness", []);
/// "through"
pub const AT_THROUGH: Saying<0> = Saying::plain("gate.at.through", "through", []);
/// "time"
pub const AT_TIME: Saying<0> = Saying::plain("gate.at.time", "time", []);
/// "timed line {n}"
pub const AT_TIMED: Saying<1> = Saying::plain("gate.at.timed", "timed line {n}", ["n"]);
/// "timed lines"
pub const AT_TIMED_ALL: Saying<0> = Saying::plain("gate.at.timed.all", "timed lines", []);
/// "gap"
pub const AT_TIMED_GAP: Saying<0> = Saying::plain("gate.at.timed.gap", "gap", []);
/// "times"
pub const AT_TIMES: Saying<0> = Saying::plain("gate.at.times", "times", []);
/// "to the east"
pub const AT_TO_EAST: Saying<0> = Saying::plain("gate.at.to-east", "to the east", []);
/// "to the north"
pub const AT_TO_NORTH: Saying<0> = Saying::plain("gate.at.to-north", "to the north", []);
/// "turn"
pub const AT_TURN: Saying<0> = Saying::plain("gate.at.turn", "turn", []);
/// "turn"
pub const AT_TURNING: Saying<0> = Saying::plain("gate.at.turning", "turn", []);
/// "turns"
pub const AT_TURNS: Saying<0> = Saying::plain("gate.at.turns", "turns", []);
/// "field of view"
pub const AT_VIEW: Saying<0> = Saying::plain("gate.at.view", "field of view", []);
/// "importance"
pub const AT_WEIGHT: Saying<0> = Saying::plain("gate.at.weight", "importance", []);
/// "who"
pub const AT_WHO: Saying<0> = Saying::plain("gate.at.who", "who", []);
/// "width"
pub const AT_WIDTH: Saying<0> = Saying::plain("gate.at.width", "width", []);
/// "a blend of {n} colours"
pub const BLEND: Saying<1> = Saying::plain("gate.blend", "a blend of {n} colours", ["n"]);
/// "Give two colours or more, or one plain colour."
pub const BLEND_NEXT: Saying<0> = Saying::plain("gate.blend.next", "Give two colours or more, or one plain colour.", []);
/// "has nothing to lead from and to"
pub const BLEND_PROBLEM: Saying<0> = Saying::plain("gate.blend.problem", "has nothing to lead from and to", []);
/// "{place}: {problem}. {next}"
pub const BRIEF: Saying<3> = Saying::plain("gate.brief", "{place}: {problem}. {next}", ["place", "problem", "next"]);
/// "the new colour"
pub const BY_HAND: Saying<0> = Saying::plain("gate.by-hand", "the new colour", []);
/// "Release the cell first, or match again."
pub const BY_HAND_NEXT: Saying<0> = Saying::plain("gate.by-hand.next", "Release the cell first, or match again.", []);
/// "would overwrite a cell that was set by hand"
pub const BY_HAND_PROBLEM: Saying<0> = Saying::plain("gate.by-hand.problem", "would overwrite a cell that was set by hand", []);
/// "its own place"
pub const CAMERA: Saying<0> = Saying::plain("gate.camera", "its own place", []);
/// "Let it look somewhere else."
pub const CAMERA_NEXT: Saying<0> = Saying::plain("gate.camera.next", "Let it look somewhere else.", []);
/// "is what it looks at, so that it has no direction"
pub const CAMERA_PROBLEM: Saying<0> = Saying::plain("gate.camera.problem", "is what it looks at, so that it has no direction", []);
/// "cell {n}"
pub const CELL: Saying<1> = Saying::plain("gate.cell", "cell {n}", ["n"]);
/// "Choose a cell within the field."
pub const CELL_NEXT: Saying<0> = Saying::plain("gate.cell.next", "Choose a cell within the field.", []);
/// "is outside the field of {n} cells"
pub const CELL_OUTSIDE: Saying<1> = Saying::plain("gate.cell.outside", "is outside the field of {n} cells", ["n"]);
/// "do not fill {lanes} lanes x {ranks} ranks"
pub const CELLS_DIFFER: Saying<2> = Saying::plain("gate.cells-differ", "do not fill {lanes} lanes x {ranks} ranks", ["lanes", "ranks"]);
/// "Give {n} cells."
pub const CELLS_DIFFER_NEXT: Saying<1> = Saying::plain("gate.cells-differ.next", "Give {n} cells.", ["n"]);
/// "Choose cells within the field."
pub const CELLS_NEXT: Saying<0> = Saying::plain("gate.cells.next", "Choose cells within the field.", []);
/// "is not one to three letters or figures"
pub const CODE: Saying<0> = Saying::plain("gate.code", "is not one to three letters or figures", []);
/// "can be taken for "{code}" of {name}"
pub const CODE_ALIKE: Saying<2> = Saying::plain("gate.code-alike", "can be taken for \"{code}\" of {name}", ["code", "name"]);
/// "Give a code that differs in more than case, O and 0, I and 1, or Z and 2."
pub const CODE_ALIKE_NEXT: Saying<0> = Saying::plain("gate.code-alike.next", "Give a code that differs in more than case, O and 0, I and 1, or Z and 2.", []);
/// "Give a short code that can be called across the hall."
pub const CODE_NEXT: Saying<0> = Saying::plain("gate.code.next", "Give a short code that can be called across the hall.", []);
/// "is the name of another colour"
pub const COLOUR_TWICE: Saying<0> = Saying::plain("gate.colour-twice", "is the name of another colour", []);
/// "Give each colour a name of its own."
pub const COLOUR_TWICE_NEXT: Saying<0> = Saying::plain("gate.colour-twice.next", "Give each colour a name of its own.", []);
/// "are more than the {most} that are copied at once"
pub const COPIES_CELLS: Saying<1> = Saying::plain("gate.copies.cells", "are more than the {most} that are copied at once", ["most"]);
/// "Make fewer copies at once."
pub const COPIES_CELLS_NEXT: Saying<0> = Saying::plain("gate.copies.cells.next", "Make fewer copies at once.", []);
/// "Make fewer copies."
pub const COPIES_ITEMS: Saying<0> = Saying::plain("gate.copies.items", "Make fewer copies.", []);
/// "is not a part of the picture"
pub const CROP: Saying<0> = Saying::plain("gate.crop", "is not a part of the picture", []);
/// "Give shares from 0 to 1, left before right and top before bottom."
pub const CROP_NEXT: Saying<0> = Saying::plain("gate.crop.next", "Give shares from 0 to 1, left before right and top before bottom.", []);
/// "{left}, {top} to {right}, {bottom}"
pub const CROP_VALUE: Saying<4> = Saying::plain("gate.crop.value", "{left}, {top} to {right}, {bottom}", ["left", "top", "right", "bottom"]);
/// "a curve through no point"
pub const CURVE: Saying<0> = Saying::plain("gate.curve", "a curve through no point", []);
/// "Give one point or more, or take the leg away."
pub const CURVE_NEXT: Saying<0> = Saying::plain("gate.curve.next", "Give one point or more, or take the leg away.", []);
/// "leads nowhere"
pub const CURVE_PROBLEM: Saying<0> = Saying::plain("gate.curve.problem", "leads nowhere", []);
/// "is no distance that could be shown"
pub const DIMENSION: Saying<0> = Saying::plain("gate.dimension", "is no distance that could be shown", []);
/// "Set its other end somewhere else."
pub const DIMENSION_NEXT: Saying<0> = Saying::plain("gate.dimension.next", "Set its other end somewhere else.", []);
/// "Make it smaller, or lay it in parts."
pub const DRAFT_NEXT: Saying<0> = Saying::plain("gate.draft.next", "Make it smaller, or lay it in parts.", []);
/// "about {n} pieces"
pub const DRAFT_PIECES: Saying<1> = Saying::plain("gate.draft.pieces", "about {n} pieces", ["n"]);
/// "are more than the {most} that are placed while somebody draws"
pub const DRAFT_PROBLEM: Saying<1> = Saying::plain("gate.draft.problem", "are more than the {most} that are placed while somebody draws", ["most"]);
/// "is empty"
pub const EMPTY: Saying<0> = Saying::plain("gate.empty", "is empty", []);
/// "Give it a name."
pub const EMPTY_NAME: Saying<0> = Saying::plain("gate.empty.name", "Give it a name.", []);
/// "Write something, or take the note away."
pub const EMPTY_TEXT: Saying<0> = Saying::plain("gate.empty.text", "Write something, or take the note away.", []);
/// "{n} items"
pub const EXAMPLE_ITEMS: Saying<1> = Saying::counted("gate.example.items", ("{n} item", "{n} items"), ["n"]);
/// "Make a plan of its own for it with `standfast new spring.standfast --example spring-to-sea`."
pub const EXAMPLE_NEXT: Saying<0> = Saying::plain("gate.example.next", "Make a plan of its own for it with `standfast new spring.standfast --example spring-to-sea`.", []);
/// "are in this plan, and the example would take their place"
pub const EXAMPLE_PROBLEM: Saying<0> = Saying::plain("gate.example.problem", "are in this plan, and the example would take their place", []);
/// "this feed"
pub const FEED_ALONE: Saying<0> = Saying::plain("gate.feed-alone", "this feed", []);
/// "Choose its field as well, or leave the feed out."
pub const FEED_ALONE_NEXT: Saying<0> = Saying::plain("gate.feed-alone.next", "Choose its field as well, or leave the feed out.", []);
/// "is to be copied without its field"
pub const FEED_ALONE_PROBLEM: Saying<0> = Saying::plain("gate.feed-alone.problem", "is to be copied without its field", []);
/// "would take the place of the field that is fed by {feed}"
pub const FEED_FED: Saying<1> = Saying::plain("gate.feed-fed", "would take the place of the field that is fed by {feed}", ["feed"]);
/// "Take the feed away first, or lead it to another field."
pub const FEED_FED_NEXT: Saying<0> = Saying::plain("gate.feed-fed.next", "Take the feed away first, or lead it to another field.", []);
/// "have too few places of their own"
pub const FEW_PLACES: Saying<0> = Saying::plain("gate.few-places", "have too few places of their own", []);
/// "Choose {least} items or groups that do not carry on from another one."
pub const FEW_PLACES_NEXT: Saying<1> = Saying::plain("gate.few-places.next", "Choose {least} items or groups that do not carry on from another one.", ["least"]);
/// "are {cells} cells, more than the {most} of one field"
pub const FIELD_FULL: Saying<2> = Saying::plain("gate.field-full", "are {cells} cells, more than the {most} of one field", ["cells", "most"]);
/// "Split the picture over several fields."
pub const FIELD_FULL_NEXT: Saying<0> = Saying::plain("gate.field-full.next", "Split the picture over several fields.", []);
/// "are more than the {most} that are taken at once"
pub const FIELDS_FULL: Saying<1> = Saying::plain("gate.fields-full", "are more than the {most} that are taken at once", ["most"]);
/// "Choose fewer lanes or ranks, or send fewer fields at once."
pub const FIELDS_FULL_NEXT: Saying<0> = Saying::plain("gate.fields-full.next", "Choose fewer lanes or ranks, or send fewer fields at once.", []);
/// "project file"
pub const FILE: Saying<0> = Saying::plain("gate.file", "project file", []);
/// "cannot be kept, since it does not read back ({why})"
pub const FILE_BACK: Saying<1> = Saying::plain("gate.file.back", "cannot be kept, since it does not read back ({why})", ["why"]);
/// "cannot be kept, since it has {n} bytes and at most {most} are taken"
pub const FILE_LONG: Saying<2> = Saying::plain("gate.file.long", "cannot be kept, since it has {n} bytes and at most {most} are taken", ["n", "most"]);
/// "Make it in smaller parts."
pub const FILE_NEXT: Saying<0> = Saying::plain("gate.file.next", "Make it in smaller parts.", []);
/// "cannot be kept, since it does not read back the same"
pub const FILE_OTHER: Saying<0> = Saying::plain("gate.file.other", "cannot be kept, since it does not read back the same", []);
/// "cannot be kept, since it has no text ({why})"
pub const FILE_TEXT: Saying<1> = Saying::plain("gate.file.text", "cannot be kept, since it has no text ({why})", ["why"]);
/// "this change"
pub const FILE_VALUE: Saying<0> = Saying::plain("gate.file.value", "this change", []);
/// "is not a colour in hex"
pub const FLOOR: Saying<0> = Saying::plain("gate.floor", "is not a colour in hex", []);
/// "Write it as #8a7a62."
pub const FLOOR_NEXT: Saying<0> = Saying::plain("gate.floor.next", "Write it as #8a7a62.", []);
/// "its name"
pub const FOLDER: Saying<0> = Saying::plain("gate.folder", "its name", []);
/// "Give the bare file name."
pub const FOLDER_NEXT: Saying<0> = Saying::plain("gate.folder.next", "Give the bare file name.", []);
/// "leads to a folder"
pub const FOLDER_PROBLEM: Saying<0> = Saying::plain("gate.folder.problem", "leads to a folder", []);
/// "is beyond the {most} pieces that one item may have"
pub const GAP_BEYOND: Saying<1> = Saying::plain("gate.gap.beyond", "is beyond the {most} pieces that one item may have", ["most"]);
/// "Name pieces of the item."
pub const GAP_BEYOND_NEXT: Saying<0> = Saying::plain("gate.gap.beyond.next", "Name pieces of the item.", []);
/// "a count of 0"
pub const GAP_NONE: Saying<0> = Saying::plain("gate.gap.none", "a count of 0", []);
/// "Give a count of 1 or more, or take the gap away."
pub const GAP_NONE_NEXT: Saying<0> = Saying::plain("gate.gap.none.next", "Give a count of 1 or more, or take the gap away.", []);
/// "leaves no piece out"
pub const GAP_NONE_PROBLEM: Saying<0> = Saying::plain("gate.gap.none.problem", "leaves no piece out", []);
/// "lies before piece {n}, where the gap before it ends"
pub const GAP_ORDER: Saying<1> = Saying::plain("gate.gap.order", "lies before piece {n}, where the gap before it ends", ["n"]);
/// "Give gaps in rising order that do not overlap."
pub const GAP_ORDER_NEXT: Saying<0> = Saying::plain("gate.gap.order.next", "Give gaps in rising order that do not overlap.", []);
/// "piece {n}"
pub const GAP_PIECE: Saying<1> = Saying::plain("gate.gap.piece", "piece {n}", ["n"]);
/// "is not from the least to the most"
pub const GRIP: Saying<0> = Saying::plain("gate.grip", "is not from the least to the most", []);
/// "Give the smaller figure first."
pub const GRIP_NEXT: Saying<0> = Saying::plain("gate.grip.next", "Give the smaller figure first.", []);
/// "group {id}"
pub const GROUP: Saying<1> = Saying::plain("gate.group", "group {id}", ["id"]);
/// "one item"
pub const GROUP_ONE: Saying<0> = Saying::plain("gate.group-one", "one item", []);
/// "Choose two items or more."
pub const GROUP_ONE_NEXT: Saying<0> = Saying::plain("gate.group-one.next", "Choose two items or more.", []);
/// "makes no group"
pub const GROUP_ONE_PROBLEM: Saying<0> = Saying::plain("gate.group-one.problem", "makes no group", []);
/// "history"
pub const HISTORY: Saying<0> = Saying::plain("gate.history", "history", []);
/// "Make a change first."
pub const HISTORY_NEXT: Saying<0> = Saying::plain("gate.history.next", "Make a change first.", []);
/// "redo"
pub const HISTORY_REDO: Saying<0> = Saying::plain("gate.history.redo", "redo", []);
/// "has nothing left to make again"
pub const HISTORY_REDO_PROBLEM: Saying<0> = Saying::plain("gate.history.redo.problem", "has nothing left to make again", []);
/// "undo"
pub const HISTORY_UNDO: Saying<0> = Saying::plain("gate.history.undo", "undo", []);
/// "has nothing left to take back"
pub const HISTORY_UNDO_PROBLEM: Saying<0> = Saying::plain("gate.history.undo.problem", "has nothing left to take back", []);
/// "id {id}"
pub const ID: Saying<1> = Saying::plain("gate.id", "id {id}", ["id"]);
/// "is the floor"
pub const ID_FLOOR: Saying<0> = Saying::plain("gate.id-floor", "is the floor", []);
/// "Give an id of 1 or more."
pub const ID_NEXT: Saying<0> = Saying::plain("gate.id-next", "Give an id of 1 or more.", []);
/// "stands for "no piece""
pub const ID_NONE: Saying<0> = Saying::plain("gate.id-none", "stands for \"no piece\"", []);
/// "is locked"
pub const LOCKED: Saying<0> = Saying::plain("gate.locked", "is locked", []);
/// "Unlock it first."
pub const LOCKED_NEXT: Saying<0> = Saying::plain("gate.locked.next", "Unlock it first.", []);
/// "is not a mark of the hall"
pub const MARK_NONE: Saying<0> = Saying::plain("gate.mark.none", "is not a mark of the hall", []);
/// "Add the mark first, or name one that is there."
pub const MARK_NONE_NEXT: Saying<0> = Saying::plain("gate.mark.none.next", "Add the mark first, or name one that is there.", []);
/// "is the name of another mark"
pub const MARK_TWICE: Saying<0> = Saying::plain("gate.mark.twice", "is the name of another mark", []);
/// "Give each mark a name of its own."
pub const MARK_TWICE_NEXT: Saying<0> = Saying::plain("gate.mark.twice.next", "Give each mark a name of its own.", []);
/// "a mirror image of {n} lanes that fall to and fro"
pub const MIRROR: Saying<1> = Saying::plain("gate.mirror", "a mirror image of {n} lanes that fall to and fro", ["n"]);
/// "Give it an odd number of lanes, or mirror the others without it."
pub const MIRROR_NEXT: Saying<0> = Saying::plain("gate.mirror.next", "Give it an odd number of lanes, or mirror the others without it.", []);
/// "would begin with a lane that falls the other way"
pub const MIRROR_PROBLEM: Saying<0> = Saying::plain("gate.mirror.problem", "would begin with a lane that falls the other way", []);
/// "{n} bridges"
pub const N_BRIDGES: Saying<1> = Saying::plain("gate.n.bridges", "{n} bridges", ["n"]);
/// "{n} cells"
pub const N_CELLS: Saying<1> = Saying::plain("gate.n.cells", "{n} cells", ["n"]);
/// "{n} colours"
pub const N_COLOURS: Saying<1> = Saying::plain("gate.n.colours", "{n} colours", ["n"]);
/// "an outline of {n} corners"
pub const N_CORNERS: Saying<1> = Saying::plain("gate.n.corners", "an outline of {n} corners", ["n"]);
/// "{n} gaps"
pub const N_GAPS: Saying<1> = Saying::plain("gate.n.gaps", "{n} gaps", ["n"]);
/// "{lanes} lanes x {ranks} ranks"
pub const N_GRID: Saying<2> = Saying::plain("gate.n.grid", "{lanes} lanes x {ranks} ranks", ["lanes", "ranks"]);
/// "{n} items"
pub const N_ITEMS: Saying<1> = Saying::plain("gate.n.items", "{n} items", ["n"]);
/// "{n} lanes"
pub const N_LANES: Saying<1> = Saying::plain("gate.n.lanes", "{n} lanes", ["n"]);
/// "{n} legs"
pub const N_LEGS: Saying<1> = Saying::plain("gate.n.legs", "{n} legs", ["n"]);
/// "{n} lines"
pub const N_LINES: Saying<1> = Saying::plain("gate.n.lines", "{n} lines", ["n"]);
/// "{n} marks"
pub const N_MARKS: Saying<1> = Saying::plain("gate.n.marks", "{n} marks", ["n"]);
/// "{n} parts"
pub const N_PARTS: Saying<1> = Saying::plain("gate.n.parts", "{n} parts", ["n"]);
/// "{n} pieces"
pub const N_PIECES: Saying<1> = Saying::plain("gate.n.pieces", "{n} pieces", ["n"]);
/// "{n} pixels"
pub const N_PIXELS: Saying<1> = Saying::plain("gate.n.pixels", "{n} pixels", ["n"]);
/// "{n} points"
pub const N_POINTS: Saying<1> = Saying::plain("gate.n.points", "{n} points", ["n"]);
/// "{least} to {most}"
pub const N_SPAN: Saying<2> = Saying::plain("gate.n.span", "{least} to {most}", ["least", "most"]);
/// "{n} stretches"
pub const N_STRETCHES: Saying<1> = Saying::plain("gate.n.stretches", "{n} stretches", ["n"]);
/// "{n} tapes"
pub const N_TAPES: Saying<1> = Saying::plain("gate.n.tapes", "{n} tapes", ["n"]);
/// "a text of {n} signs"
pub const N_TEXT: Saying<1> = Saying::plain("gate.n.text", "a text of {n} signs", ["n"]);
/// "{n} pieces"
pub const N_TIMED: Saying<1> = Saying::counted("gate.n.timed", ("{n} piece", "{n} pieces"), ["n"]);
/// "{n} turns"
pub const N_TURNS: Saying<1> = Saying::plain("gate.n.turns", "{n} turns", ["n"]);
/// "has more than {most} cells"
pub const NEW_FIELD: Saying<1> = Saying::plain("gate.new-field", "has more than {most} cells", ["most"]);
/// "Choose fewer lanes or ranks."
pub const NEW_FIELD_NEXT: Saying<0> = Saying::plain("gate.new-field.next", "Choose fewer lanes or ranks.", []);
/// "Take the next id that the plan gives."
pub const NEXT_ID: Saying<0> = Saying::plain("gate.next-id", "Take the next id that the plan gives.", []);
/// "encloses no area that can be worked with"
pub const NO_AREA: Saying<0> = Saying::plain("gate.no-area", "encloses no area that can be worked with", []);
/// "Give three corners or more, at most {most}."
pub const NO_AREA_NEXT: Saying<1> = Saying::plain("gate.no-area.next", "Give three corners or more, at most {most}.", ["most"]);
/// "is not a field"
pub const NO_FIELD: Saying<0> = Saying::plain("gate.no-field", "is not a field", []);
/// "Name a field; only fields are fed this way."
pub const NO_FIELD_FED: Saying<0> = Saying::plain("gate.no-field.fed", "Name a field; only fields are fed this way.", []);
/// "Choose a field; only fields have cells and pictures."
pub const NO_FIELD_NEXT: Saying<0> = Saying::plain("gate.no-field.next", "Choose a field; only fields have cells and pictures.", []);
/// "Use at least {size}."
pub const NO_ROOM_NEXT: Saying<1> = Saying::plain("gate.no-room.next", "Use at least {size}.", ["size"]);
/// "has no room for a piece, which is {size} thick"
pub const NO_ROOM_THICK: Saying<1> = Saying::plain("gate.no-room.thick", "has no room for a piece, which is {size} thick", ["size"]);
/// "has no room for a piece, which is {size} wide"
pub const NO_ROOM_WIDE: Saying<1> = Saying::plain("gate.no-room.wide", "has no room for a piece, which is {size} wide", ["size"]);
/// "no item"
pub const NONE: Saying<0> = Saying::plain("gate.none", "no item", []);
/// "is chosen"
pub const NONE_CHOSEN: Saying<0> = Saying::plain("gate.none.chosen", "is chosen", []);
/// "Choose one item or more."
pub const NONE_CHOSEN_NEXT: Saying<0> = Saying::plain("gate.none.chosen.next", "Choose one item or more.", []);
/// "is put"
pub const NONE_PUT: Saying<0> = Saying::plain("gate.none.put", "is put", []);
/// "Send one item or more."
pub const NONE_PUT_NEXT: Saying<0> = Saying::plain("gate.none.put.next", "Send one item or more.", []);
/// "is none of the items that are sent together"
pub const NOT_SENT: Saying<0> = Saying::plain("gate.not-sent", "is none of the items that are sent together", []);
/// "Name the place of one of them, counted from 0."
pub const NOT_SENT_NEXT: Saying<0> = Saying::plain("gate.not-sent.next", "Name the place of one of them, counted from 0.", []);
/// "is too long for a note"
pub const NOTE_LONG: Saying<0> = Saying::plain("gate.note-long", "is too long for a note", []);
/// "leaves nothing to lay"
pub const NOTHING_TO_LAY: Saying<0> = Saying::plain("gate.nothing-to-lay", "leaves nothing to lay", []);
/// "Give 1 or more."
pub const NOTHING_TO_LAY_NEXT: Saying<0> = Saying::plain("gate.nothing-to-lay.next", "Give 1 or more.", []);
/// "stands after id {id}"
pub const ORDER: Saying<1> = Saying::plain("gate.order", "stands after id {id}", ["id"]);
/// "Give ids from 1 in rising order, none twice."
pub const ORDER_NEXT: Saying<0> = Saying::plain("gate.order.next", "Give ids from 1 in rising order, none twice.", []);
/// "colours no piece"
pub const PATTERN: Saying<0> = Saying::plain("gate.pattern", "colours no piece", []);
/// "an empty pattern"
pub const PATTERN_EMPTY: Saying<0> = Saying::plain("gate.pattern.empty", "an empty pattern", []);
/// "Give at least one stretch with a count of 1 or more."
pub const PATTERN_NEXT: Saying<0> = Saying::plain("gate.pattern.next", "Give at least one stretch with a count of 1 or more.", []);
/// "a pattern of counts of 0"
pub const PATTERN_ZEROS: Saying<0> = Saying::plain("gate.pattern.zeros", "a pattern of counts of 0", []);
/// "are more than the {most} that one plan may have"
pub const PLAN_FULL: Saying<1> = Saying::plain("gate.plan-full", "are more than the {most} that one plan may have", ["most"]);
/// "Leave out those that the event does not use."
pub const PLAN_FULL_COLOURS: Saying<0> = Saying::plain("gate.plan-full.colours", "Leave out those that the event does not use.", []);
/// "Split the event over several plans."
pub const PLAN_FULL_ITEMS: Saying<0> = Saying::plain("gate.plan-full.items", "Split the event over several plans.", []);
/// "port {name}"
pub const PORT_OWN: Saying<1> = Saying::plain("gate.port-own", "port {name}", ["name"]);
/// "Name another item."
pub const PORT_OWN_NEXT: Saying<0> = Saying::plain("gate.port-own.next", "Name another item.", []);
/// "is one of the item itself"
pub const PORT_OWN_PROBLEM: Saying<0> = Saying::plain("gate.port-own.problem", "is one of the item itself", []);
/// ""{text}""
pub const QUOTED: Saying<1> = Saying::plain("gate.quoted", "\"{text}\"", ["text"]);
/// "is not from {least} to {most}"
pub const RANGE: Saying<2> = Saying::plain("gate.range", "is not from {least} to {most}", ["least", "most"]);
/// "Give a value in that range."
pub const RANGE_NEXT: Saying<0> = Saying::plain("gate.range.next", "Give a value in that range.", []);
/// "Give a number in that range."
pub const RANGE_NUMBER: Saying<0> = Saying::plain("gate.range.number", "Give a number in that range.", []);
/// "is not from {least} to {most}"
pub const RANGE_THINGS: Saying<2> = Saying::plain("gate.range.things", "is not from {least} to {most}", ["least", "most"]);
/// "{place}: {value} {problem}. {next}"
pub const REFUSED: Saying<4> = Saying::plain("gate.refused", "{place}: {value} {problem}. {next}", ["place", "value", "problem", "next"]);
/// "is not a SHA-256 in lower-case hex"
pub const SHA: Saying<0> = Saying::plain("gate.sha", "is not a SHA-256 in lower-case hex", []);
/// "Import the picture again."
pub const SHA_NEXT: Saying<0> = Saying::plain("gate.sha.next", "Import the picture again.", []);
/// "is named"
pub const SHIFT_ITEMS: Saying<0> = Saying::plain("gate.shift.items", "is named", []);
/// "Name one or more items of the plan."
pub const SHIFT_ITEMS_NEXT: Saying<0> = Saying::plain("gate.shift.items.next", "Name one or more items of the plan.", []);
/// "no item"
pub const SHIFT_NONE: Saying<0> = Saying::plain("gate.shift.none", "no item", []);
/// "belongs to this section"
pub const SHIFT_SECTION: Saying<0> = Saying::plain("gate.shift.section", "belongs to this section", []);
/// "Put items into it first, or name the items."
pub const SHIFT_SECTION_NEXT: Saying<0> = Saying::plain("gate.shift.section.next", "Put items into it first, or name the items.", []);
/// "the sign U+{code}"
pub const SIGN: Saying<1> = Saying::plain("gate.sign", "the sign U+{code}", ["code"]);
/// "has {n} signs"
pub const SIGNS: Saying<1> = Saying::plain("gate.signs", "has {n} signs", ["n"]);
/// "Use at most {n}."
pub const SIGNS_NEXT: Saying<1> = Saying::plain("gate.signs.next", "Use at most {n}.", ["n"]);
/// "lead from a radius of {from} to one of {to}"
pub const SPIRAL: Saying<2> = Saying::plain("gate.spiral", "lead from a radius of {from} to one of {to}", ["from", "to"]);
/// "Give fewer turns, a smaller ring distance or another radius."
pub const SPIRAL_NEXT: Saying<0> = Saying::plain("gate.spiral.next", "Give fewer turns, a smaller ring distance or another radius.", []);
/// "would stay as they are"
pub const STAY: Saying<0> = Saying::plain("gate.stay", "would stay as they are", []);
/// "Choose other items, or something else to do with them."
pub const STAY_NEXT: Saying<0> = Saying::plain("gate.stay.next", "Choose other items, or something else to do with them.", []);
/// "is used here but is not in the new stock"
pub const STOCK_LACKS: Saying<0> = Saying::plain("gate.stock-lacks", "is used here but is not in the new stock", []);
/// "a kind"
pub const STOCK_LACKS_KIND: Saying<0> = Saying::plain("gate.stock-lacks.kind", "a kind", []);
/// "Keep it in the stock with a count of 0, or change the item first."
pub const STOCK_LACKS_NEXT: Saying<0> = Saying::plain("gate.stock-lacks.next", "Keep it in the stock with a count of 0, or change the item first.", []);
/// "the stroke"
pub const STROKE: Saying<0> = Saying::plain("gate.stroke", "the stroke", []);
/// "Draw over one cell at least."
pub const STROKE_NEXT: Saying<0> = Saying::plain("gate.stroke.next", "Draw over one cell at least.", []);
/// "has no cells"
pub const STROKE_PROBLEM: Saying<0> = Saying::plain("gate.stroke.problem", "has no cells", []);
/// "is both ends of the tape"
pub const TAPE_ENDS: Saying<0> = Saying::plain("gate.tape.ends", "is both ends of the tape", []);
/// "Name two marks."
pub const TAPE_ENDS_NEXT: Saying<0> = Saying::plain("gate.tape.ends.next", "Name two marks.", []);
/// "this item"
pub const THIS_ITEM: Saying<0> = Saying::plain("gate.this-item", "this item", []);
/// "cannot tell a speed"
pub const TIMED: Saying<0> = Saying::plain("gate.timed", "cannot tell a speed", []);
/// "Time a line of 20 pieces or more."
pub const TIMED_NEXT: Saying<0> = Saying::plain("gate.timed.next", "Time a line of 20 pieces or more.", []);
/// "are more than the {most} that are taken"
pub const TOO_MANY: Saying<1> = Saying::plain("gate.too-many", "are more than the {most} that are taken", ["most"]);
/// "Leave out what is not needed, or split it; at most {most} go here."
pub const TOO_MANY_NEXT: Saying<1> = Saying::plain("gate.too-many.next", "Leave out what is not needed, or split it; at most {most} go here.", ["most"]);
/// "is not in this plan"
pub const UNKNOWN: Saying<0> = Saying::plain("gate.unknown", "is not in this plan", []);
/// "Add that item first, or name one of the plan."
pub const UNKNOWN_ITEM: Saying<0> = Saying::plain("gate.unknown.item", "Add that item first, or name one of the plan.", []);
/// "Name an item of the plan."
pub const UNKNOWN_ITEM_NAME: Saying<0> = Saying::plain("gate.unknown.item.name", "Name an item of the plan.", []);
/// "Name a {what} of the plan."
pub const UNKNOWN_NAME: Saying<1> = Saying::plain("gate.unknown.name", "Name a {what} of the plan.", ["what"]);
/// "Add the {what} first, or name one of the plan."
pub const UNKNOWN_NEXT: Saying<1> = Saying::plain("gate.unknown.next", "Add the {what} first, or name one of the plan.", ["what"]);
/// "cannot be printed"
pub const UNPRINTABLE: Saying<0> = Saying::plain("gate.unprintable", "cannot be printed", []);
/// "Leave it out of the name."
pub const UNPRINTABLE_NAME: Saying<0> = Saying::plain("gate.unprintable.name", "Leave it out of the name.", []);
/// "Leave it out of the text."
pub const UNPRINTABLE_TEXT: Saying<0> = Saying::plain("gate.unprintable.text", "Leave it out of the text.", []);
/// "is used by {by}"
pub const USED: Saying<1> = Saying::plain("gate.used", "is used by {by}", ["by"]);
/// "Change or remove what uses it first."
pub const USED_NEXT: Saying<0> = Saying::plain("gate.used.next", "Change or remove what uses it first.", []);
