//! What the checks find, where, and what to do about it. Written by `cargo xtask codegen` from web/src/i18n/en.json.

use crate::Saying;

/// "{a} and {b} get confused {why}. {where}."
pub const ALIKE: Saying<4> = Saying::plain("found.alike", "{a} and {b} get confused {why}. {where}.", ["a", "b", "why", "where"]);
/// "in {item} in {count}"
pub const ALIKE_ALSO: Saying<2> = Saying::plain("found.alike.also", "in {item} in {count}", ["item", "count"]);
/// "by everybody"
pub const ALIKE_BY_ALL: Saying<0> = Saying::plain("found.alike.by.all", "by everybody", []);
/// "by builders who do not see green"
pub const ALIKE_BY_DEUTAN: Saying<0> = Saying::plain("found.alike.by.deutan", "by builders who do not see green", []);
/// "in hall light"
pub const ALIKE_BY_LIGHT: Saying<0> = Saying::plain("found.alike.by.light", "in hall light", []);
/// "by builders who do not see red"
pub const ALIKE_BY_PROTAN: Saying<0> = Saying::plain("found.alike.by.protan", "by builders who do not see red", []);
/// "by builders who do not see blue"
pub const ALIKE_BY_TRITAN: Saying<0> = Saying::plain("found.alike.by.tritan", "by builders who do not see blue", []);
/// "Leave one of them out of a field where they touch, or mark both crates by code and check the lanes twice."
pub const ALIKE_HINT: Saying<0> = Saying::plain("found.alike.hint", "Leave one of them out of a field where they touch, or mark both crates by code and check the lanes twice.", []);
/// "In {item} they touch in {n} places"
pub const ALIKE_IN: Saying<2> = Saying::counted("found.alike.in", ("In {item} they touch in {n} place", "In {item} they touch in {n} places"), ["n", "item"]);
/// "and in {n} more fields"
pub const ALIKE_REST: Saying<1> = Saying::counted("found.alike.rest", ("and in {n} more field", "and in {n} more fields"), ["n"]);
/// "{pieces} of {all} pieces, {share}, are only assumed: placeholders ask for them."
pub const ASSUMED: Saying<3> = Saying::plain("found.assumed", "{pieces} of {all} pieces, {share}, are only assumed: placeholders ask for them.", ["pieces", "all", "share"]);
/// "Draw the placeholders before the stock is settled."
pub const ASSUMED_HINT: Saying<0> = Saying::plain("found.assumed.hint", "Draw the placeholders before the stock is settled.", []);
/// "camera {name}"
pub const AT_CAMERA: Saying<1> = Saying::plain("found.at.camera", "camera {name}", ["name"]);
/// "dimension {name}"
pub const AT_DIMENSION: Saying<1> = Saying::plain("found.at.dimension", "dimension {name}", ["name"]);
/// "the fall"
pub const AT_FALL: Saying<0> = Saying::plain("found.at.fall", "the fall", []);
/// "feed {name}"
pub const AT_FEED: Saying<1> = Saying::plain("found.at.feed", "feed {name}", ["name"]);
/// "field {name}"
pub const AT_FIELD: Saying<1> = Saying::plain("found.at.field", "field {name}", ["name"]);
/// "fill {name}"
pub const AT_FILL: Saying<1> = Saying::plain("found.at.fill", "fill {name}", ["name"]);
/// "the hall"
pub const AT_HALL: Saying<0> = Saying::plain("found.at.hall", "the hall", []);
/// "line {name}"
pub const AT_LINE: Saying<1> = Saying::plain("found.at.line", "line {name}", ["name"]);
/// "note {name}"
pub const AT_NOTE: Saying<1> = Saying::plain("found.at.note", "note {name}", ["name"]);
/// "placeholder {name}"
pub const AT_PLACEHOLDER: Saying<1> = Saying::plain("found.at.placeholder", "placeholder {name}", ["name"]);
/// "the plan"
pub const AT_PLAN: Saying<0> = Saying::plain("found.at.plan", "the plan", []);
/// "start {name}"
pub const AT_START: Saying<1> = Saying::plain("found.at.start", "start {name}", ["name"]);
/// "stock"
pub const AT_STOCK: Saying<0> = Saying::plain("found.at.stock", "stock", []);
/// "Stock, {name}"
pub const AT_STOCK_OF: Saying<1> = Saying::plain("found.at.stock.of", "Stock, {name}", ["name"]);
/// "stopper {name}"
pub const AT_STOPPER: Saying<1> = Saying::plain("found.at.stopper", "stopper {name}", ["name"]);
/// "{colour} in {item} comes from more than one batch: it wants {wanted}, the largest batch has {largest}. The shade may jump."
pub const BATCHES: Saying<4> = Saying::plain("found.batches", "{colour} in {item} comes from more than one batch: it wants {wanted}, the largest batch has {largest}. The shade may jump.", ["colour", "item", "wanted", "largest"]);
/// "Change batches where the picture has an edge, or shuffle them where they meet."
pub const BATCHES_HINT: Saying<0> = Saying::plain("found.batches.hint", "Change batches where the picture has an edge, or shuffle them where they meet.", []);
/// "Climb by {step} a step."
pub const BRIDGE_HINT: Saying<1> = Saying::plain("found.bridge.hint", "Climb by {step} a step.", ["step"]);
/// "{bridge} climbs by {step} a step with {n} pieces on each: {what}."
pub const BRIDGE: Saying<4> = Saying::counted("found.bridge", ("{bridge} climbs by {step} a step with {n} piece on each: {what}.", "{bridge} climbs by {step} a step with {n} pieces on each: {what}."), ["n", "bridge", "step", "what"]);
/// "Bridge {number} of {item}"
pub const BRIDGE_NTH: Saying<2> = Saying::plain("found.bridge.nth", "Bridge {number} of {item}", ["number", "item"]);
/// "so high a step stops the wave more often than not"
pub const BRIDGE_PERHAPS: Saying<0> = Saying::plain("found.bridge.perhaps", "so high a step stops the wave more often than not", []);
/// "so high a step stops the wave"
pub const BRIDGE_STOPS: Saying<0> = Saying::plain("found.bridge.stops", "so high a step stops the wave", []);
/// "The bridge of {item}"
pub const BRIDGE_THE: Saying<1> = Saying::plain("found.bridge.the", "The bridge of {item}", ["item"]);
/// "over {most} it needs two pieces or more on each step"
pub const BRIDGE_TWO: Saying<1> = Saying::plain("found.bridge.two", "over {most} it needs two pieces or more on each step", ["most"]);
/// "the bridge of {item}"
pub const CLEARANCE_BRIDGE: Saying<1> = Saying::plain("found.clearance.bridge", "the bridge of {item}", ["item"]);
/// "Raise it by {by}, or lead the pieces round it."
pub const CLEARANCE_HINT: Saying<1> = Saying::plain("found.clearance.hint", "Raise it by {by}, or lead the pieces round it.", ["by"]);
/// "{n} pieces of {item} have {clear} of clear height under {over}; a falling piece needs {least}."
pub const CLEARANCE: Saying<5> = Saying::counted("found.clearance", ("{n} piece of {item} has {clear} of clear height under {over}; a falling piece needs {least}.", "{n} pieces of {item} have {clear} of clear height under {over}; a falling piece needs {least}."), ["n", "item", "clear", "over", "least"]);
/// "Colour {id}"
pub const COLOUR: Saying<1> = Saying::plain("found.colour", "Colour {id}", ["id"]);
/// "{colour} ({kind})"
pub const COLOUR_OF: Saying<2> = Saying::plain("found.colour.of", "{colour} ({kind})", ["colour", "kind"]);
/// "{item} is laid at {pitch}, and there is no comb of that pitch."
pub const COMB_MISSING: Saying<2> = Saying::plain("found.comb.missing", "{item} is laid at {pitch}, and there is no comb of that pitch.", ["item", "pitch"]);
/// "Add the combs that you have to the gear of the stock, or lay it by eye and measure often."
pub const COMB_MISSING_ADD: Saying<0> = Saying::plain("found.comb.missing.add", "Add the combs that you have to the gear of the stock, or lay it by eye and measure often.", []);
/// "Lay it at {nearest} as the nearest comb does, or add a comb of {pitch} to the gear of the stock."
pub const COMB_MISSING_NEAREST: Saying<2> = Saying::plain("found.comb.missing.nearest", "Lay it at {nearest} as the nearest comb does, or add a comb of {pitch} to the gear of the stock.", ["nearest", "pitch"]);
/// "{item} comes out even only at {pitch}, and its comb sets {comb}."
pub const COMB_STRETCHED: Saying<3> = Saying::plain("found.comb.stretched", "{item} comes out even only at {pitch}, and its comb sets {comb}.", ["item", "pitch", "comb"]);
/// "Shift what it leads to, or lay the last pieces by hand."
pub const COMB_STRETCHED_HINT: Saying<0> = Saying::plain("found.comb.stretched.hint", "Shift what it leads to, or lay the last pieces by hand.", []);
/// "{item} crosses itself: {pieces} of its pieces stand in one another, by up to {depth}."
pub const CROSSES: Saying<3> = Saying::plain("found.crosses", "{item} crosses itself: {pieces} of its pieces stand in one another, by up to {depth}.", ["item", "pieces", "depth"]);
/// "Lead it round, or over itself by a bridge, or join and split it again; no flat crossing was found to work."
pub const CROSSES_HINT: Saying<0> = Saying::plain("found.crosses.hint", "Lead it round, or over itself by a bridge, or join and split it again; no flat crossing was found to work.", []);
/// "Close the gap before it, fill the empty cells, or lead a line to it."
pub const CUT_OFF_HINT: Saying<0> = Saying::plain("found.cut-off.hint", "Close the gap before it, fill the empty cells, or lead a line to it.", []);
/// "The wave cannot enter {runs} of {item}: {n} pieces stand, the first in lane {lane} from rank {rank} on."
pub const CUT_OFF: Saying<5> = Saying::counted("found.cut-off", ("The wave cannot enter {runs} of {item}: {n} piece stands, the first in lane {lane} from rank {rank} on.", "The wave cannot enter {runs} of {item}: {n} pieces stand, the first in lane {lane} from rank {rank} on."), ["n", "runs", "item", "lane", "rank"]);
/// "{n} runs"
pub const CUT_OFF_RUNS: Saying<1> = Saying::counted("found.cut-off.runs", ("{n} run", "{n} runs"), ["n"]);
/// "{item} ends {laid} after its beginning although its path is {length} long: its pieces are more than the {most} of one item."
pub const CUT_SHORT: Saying<4> = Saying::plain("found.cut-short", "{item} ends {laid} after its beginning although its path is {length} long: its pieces are more than the {most} of one item.", ["item", "laid", "length", "most"]);
/// "Draw a shorter path, fewer lanes or a wider pitch, or lay it as several lines."
pub const CUT_SHORT_HINT: Saying<0> = Saying::plain("found.cut-short.hint", "Draw a shorter path, fewer lanes or a wider pitch, or lay it as several lines.", []);
/// "{item} has no pieces yet."
pub const EMPTY: Saying<1> = Saying::plain("found.empty", "{item} has no pieces yet.", ["item"]);
/// "Choose a picture and match it, or paint its cells."
pub const EMPTY_CHOOSE: Saying<0> = Saying::plain("found.empty.choose", "Choose a picture and match it, or paint its cells.", []);
/// "Match its picture, or paint its cells."
pub const EMPTY_MATCH: Saying<0> = Saying::plain("found.empty.match", "Match its picture, or paint its cells.", []);
/// "below {least} corners touch and pieces jam"
pub const GAP_NARROW_JAM: Saying<1> = Saying::plain("found.gap-narrow.jam", "below {least} corners touch and pieces jam", ["least"]);
/// "{n} gaps of {item}, at rank {rank}, narrowest {gap}: {what}."
pub const GAP_NARROW: Saying<5> = Saying::counted("found.gap-narrow", ("{n} gap of {item}, at rank {rank}, narrowest {gap}: {what}.", "{n} gaps of {item}, at rank {rank}, narrowest {gap}: {what}."), ["n", "item", "rank", "gap", "what"]);
/// "there is no room between the pieces"
pub const GAP_NARROW_NONE: Saying<0> = Saying::plain("found.gap-narrow.none", "there is no room between the pieces", []);
/// "above {most} pieces hit low and their feet slide back, so the wave may stop"
pub const GAP_WIDE_LOW: Saying<1> = Saying::plain("found.gap-wide.low", "above {most} pieces hit low and their feet slide back, so the wave may stop", ["most"]);
/// "{n} gaps of {item}, at rank {rank}, widest {gap}: {what}."
pub const GAP_WIDE: Saying<5> = Saying::counted("found.gap-wide", ("{n} gap of {item}, at rank {rank}, widest {gap}: {what}.", "{n} gaps of {item}, at rank {rank}, widest {gap}: {what}."), ["n", "item", "rank", "gap", "what"]);
/// "a falling piece reaches {reach}, so the wave stops here"
pub const GAP_WIDE_STOPS: Saying<1> = Saying::plain("found.gap-wide.stops", "a falling piece reaches {reach}, so the wave stops here", ["reach"]);
/// "its lanes end after {n} pieces"
pub const GAP_AFTER: Saying<1> = Saying::counted("found.gap.after", ("its lanes end after {n} piece", "its lanes end after {n} pieces"), ["n"]);
/// "{gap} leaves nothing out: {there}."
pub const GAP_BEYOND: Saying<2> = Saying::plain("found.gap.beyond", "{gap} leaves nothing out: {there}.", ["gap", "there"]);
/// "Take it away, or leave it where pieces stand; it stops no fall."
pub const GAP_BEYOND_HINT: Saying<0> = Saying::plain("found.gap.beyond.hint", "Take it away, or leave it where pieces stand; it stops no fall.", []);
/// "the item has no pieces"
pub const GAP_NONE: Saying<0> = Saying::plain("found.gap.none", "the item has no pieces", []);
/// "{gap} reaches beyond its end: {there}."
pub const GAP_OVER: Saying<2> = Saying::plain("found.gap.over", "{gap} reaches beyond its end: {there}.", ["gap", "there"]);
/// "Let it end with the last piece, or look whether the item was meant to be longer."
pub const GAP_OVER_HINT: Saying<0> = Saying::plain("found.gap.over.hint", "Let it end with the last piece, or look whether the item was meant to be longer.", []);
/// "Safety gap {first} of {item}"
pub const GAP_RANK: Saying<2> = Saying::plain("found.gap.rank", "Safety gap {first} of {item}", ["first", "item"]);
/// "Safety gap {first} to {last} of {item}"
pub const GAP_RANKS: Saying<3> = Saying::plain("found.gap.ranks", "Safety gap {first} to {last} of {item}", ["first", "last", "item"]);
/// "The hall is not as it was drawn: {mark} lies {off} off, by the tapes."
pub const HALL_OFF: Saying<2> = Saying::plain("found.hall-off", "The hall is not as it was drawn: {mark} lies {off} off, by the tapes.", ["mark", "off"]);
/// "Draw the hall as measured, under “Measured hall”; “Move a section” or `standfast shift` moves a whole section along with its mark."
pub const HALL_OFF_HINT: Saying<0> = Saying::plain("found.hall-off.hint", "Draw the hall as measured, under “Measured hall”; “Move a section” or `standfast shift` moves a whole section along with its mark.", []);
/// "{stands} in the aisle {name}, where people walk while the crew builds."
pub const IN_AISLE: Saying<2> = Saying::plain("found.in.aisle", "{stands} in the aisle {name}, where people walk while the crew builds.", ["stands", "name"]);
/// "Move it, or build it last and walking backwards."
pub const IN_AISLE_HINT: Saying<0> = Saying::plain("found.in.aisle.hint", "Move it, or build it last and walking backwards.", []);
/// "{stands} before the door {name}."
pub const IN_DOOR: Saying<2> = Saying::plain("found.in.door", "{stands} before the door {name}.", ["stands", "name"]);
/// "Move it, or use another door while it stands: as deep as a door is wide stays free before it (common practice)."
pub const IN_DOOR_HINT: Saying<0> = Saying::plain("found.in.door.hint", "Move it, or use another door while it stands: as deep as a door is wide stays free before it (common practice).", []);
/// "{stands} before the exit {name}, which must stay free."
pub const IN_EXIT: Saying<2> = Saying::plain("found.in.exit", "{stands} before the exit {name}, which must stay free.", ["stands", "name"]);
/// "Move it: as deep as the exit is wide stays free at least (common practice); local codes and the hall's own rules decide how much it has to be."
pub const IN_EXIT_HINT: Saying<0> = Saying::plain("found.in.exit.hint", "Move it: as deep as the exit is wide stays free at least (common practice); local codes and the hall's own rules decide how much it has to be.", []);
/// "{stands} in the pillar {name}."
pub const IN_PILLAR: Saying<2> = Saying::plain("found.in.pillar", "{stands} in the pillar {name}.", ["stands", "name"]);
/// "Move it, or leave these cells empty."
pub const IN_PILLAR_HINT: Saying<0> = Saying::plain("found.in.pillar.hint", "Move it, or leave these cells empty.", []);
/// "{stands} where the table {name} is."
pub const IN_TABLE: Saying<2> = Saying::plain("found.in.table", "{stands} where the table {name} is.", ["stands", "name"]);
/// "Move one of them; to build on the table, make it a surface."
pub const IN_TABLE_HINT: Saying<0> = Saying::plain("found.in.table.hint", "Move one of them; to build on the table, make it a surface.", []);
/// "kind {id}"
pub const KIND: Saying<1> = Saying::plain("found.kind", "kind {id}", ["id"]);
/// "{item} feeds a field that is not in the plan any more."
pub const LINK_FIELD: Saying<1> = Saying::plain("found.link.field", "{item} feeds a field that is not in the plan any more.", ["item"]);
/// "Choose the field that it feeds, or take it away."
pub const LINK_FIELD_HINT: Saying<0> = Saying::plain("found.link.field.hint", "Choose the field that it feeds, or take it away.", []);
/// "{item} begins at "{port}" of {other}, but the fall enters there."
pub const LINK_FLOW_FROM: Saying<3> = Saying::plain("found.link.flow.from", "{item} begins at \"{port}\" of {other}, but the fall enters there.", ["item", "port", "other"]);
/// "{item} leads to "{port}" of {other}, but the fall leaves there."
pub const LINK_FLOW_TO: Saying<3> = Saying::plain("found.link.flow.to", "{item} leads to \"{port}\" of {other}, but the fall leaves there.", ["item", "port", "other"]);
/// "{item} begins at an item that is not in the plan any more."
pub const LINK_GONE_FROM: Saying<1> = Saying::plain("found.link.gone.from", "{item} begins at an item that is not in the plan any more.", ["item"]);
/// "Link it again, or lay it free."
pub const LINK_GONE_HINT: Saying<0> = Saying::plain("found.link.gone.hint", "Link it again, or lay it free.", []);
/// "{item} leads to an item that is not in the plan any more."
pub const LINK_GONE_TO: Saying<1> = Saying::plain("found.link.gone.to", "{item} leads to an item that is not in the plan any more.", ["item"]);
/// "Choose one of its ports: {ports}."
pub const LINK_PORT_CHOOSE: Saying<1> = Saying::plain("found.link.port.choose", "Choose one of its ports: {ports}.", ["ports"]);
/// "{item} begins at "{port}" of {other}, which has no such port."
pub const LINK_PORT_FROM: Saying<3> = Saying::plain("found.link.port.from", "{item} begins at \"{port}\" of {other}, which has no such port.", ["item", "port", "other"]);
/// "Choose another item; this one has no port for it."
pub const LINK_PORT_NONE: Saying<0> = Saying::plain("found.link.port.none", "Choose another item; this one has no port for it.", []);
/// "{item} leads to "{port}" of {other}, which has no such port."
pub const LINK_PORT_TO: Saying<3> = Saying::plain("found.link.port.to", "{item} leads to \"{port}\" of {other}, which has no such port.", ["item", "port", "other"]);
/// "The tapes do not fix {marks}."
pub const LOOSE: Saying<1> = Saying::plain("found.loose", "The tapes do not fix {marks}.", ["marks"]);
/// "Tape each mark from two others at least."
pub const LOOSE_HINT: Saying<0> = Saying::plain("found.loose.hint", "Tape each mark from two others at least.", []);
/// "{line} runs along the edge of {field}: a plain line fells none of the lanes beside it (0 of 180 tried)."
pub const MISFED_EDGE: Saying<2> = Saying::plain("found.misfed.edge", "{line} runs along the edge of {field}: a plain line fells none of the lanes beside it (0 of 180 tried).", ["line", "field"]);
/// "Put a feed of brick ranks before it, which was surest of all, and lead the line to its entry."
pub const MISFED_HINT: Saying<0> = Saying::plain("found.misfed.hint", "Put a feed of brick ranks before it, which was surest of all, and lead the line to its entry.", []);
/// "Of {lanes} lanes of {field} only {n} are hit: pieces that stand in line with one another pass nothing sideways."
pub const MISFED_RANK: Saying<3> = Saying::counted("found.misfed.rank", ("Of {lanes} lanes of {field} only {n} is hit: pieces that stand in line with one another pass nothing sideways.", "Of {lanes} lanes of {field} only {n} are hit: pieces that stand in line with one another pass nothing sideways."), ["n", "lanes", "field"]);
/// "A piece of {field} stands square in {line} after rank {rank}: it does not fall, and it stops the line (64 of 66 tried)."
pub const MISFED_SQUARE: Saying<3> = Saying::plain("found.misfed.square", "A piece of {field} stands square in {line} after rank {rank}: it does not fall, and it stops the line (64 of 66 tried).", ["field", "line", "rank"]);
/// "Mend those that are told; the others come forth then."
pub const MORE_HINT: Saying<0> = Saying::plain("found.more.hint", "Mend those that are told; the others come forth then.", []);
/// "There are {n} more findings of this sort."
pub const MORE: Saying<1> = Saying::counted("found.more", ("There is {n} more finding of this sort.", "There are {n} more findings of this sort."), ["n"]);
/// "So many items stand close together that not all of them were compared."
pub const NEAR: Saying<0> = Saying::plain("found.near", "So many items stand close together that not all of them were compared.", []);
/// "Move items apart that lie on one another, and check again."
pub const NEAR_HINT: Saying<0> = Saying::plain("found.near.hint", "Move items apart that lie on one another, and check again.", []);
/// "{a} and {b}"
pub const OFF_BOTH: Saying<2> = Saying::plain("found.off.both", "{a} and {b}", ["a", "b"]);
/// "{by} east"
pub const OFF_EAST: Saying<1> = Saying::plain("found.off.east", "{by} east", ["by"]);
/// "{by} north"
pub const OFF_NORTH: Saying<1> = Saying::plain("found.off.north", "{by} north", ["by"]);
/// "{by} south"
pub const OFF_SOUTH: Saying<1> = Saying::plain("found.off.south", "{by} south", ["by"]);
/// "{by} west"
pub const OFF_WEST: Saying<1> = Saying::plain("found.off.west", "{by} west", ["by"]);
/// "{stands} outside the hall."
pub const OUTSIDE: Saying<1> = Saying::plain("found.outside", "{stands} outside the hall.", ["stands"]);
/// "Move it within the walls, or draw the hall as it is."
pub const OUTSIDE_HINT: Saying<0> = Saying::plain("found.outside.hint", "Move it within the walls, or draw the hall as it is.", []);
/// "{stands} outside the hall as measured."
pub const OUTSIDE_MEASURED: Saying<1> = Saying::plain("found.outside.measured", "{stands} outside the hall as measured.", ["stands"]);
/// "Move it within the measured walls, or its whole section with “Move a section” or `standfast shift`, or measure them again."
pub const OUTSIDE_MEASURED_HINT: Saying<0> = Saying::plain("found.outside.measured.hint", "Move it within the measured walls, or its whole section with “Move a section” or `standfast shift`, or measure them again.", []);
/// "Move it within the measured walls, or its whole section with “Move a section” or `standfast shift` (mark {mark} lies {off} of where it was drawn), or measure them again."
pub const OUTSIDE_MEASURED_MARK: Saying<2> = Saying::plain("found.outside.measured.mark", "Move it within the measured walls, or its whole section with “Move a section” or `standfast shift` (mark {mark} lies {off} of where it was drawn), or measure them again.", ["mark", "off"]);
/// "{a} and {b} overlap by {depth}."
pub const OVERLAP: Saying<3> = Saying::plain("found.overlap", "{a} and {b} overlap by {depth}.", ["a", "b", "depth"]);
/// "Move one of them, or put one on another surface."
pub const OVERLAP_HINT: Saying<0> = Saying::plain("found.overlap.hint", "Move one of them, or put one on another surface.", []);
/// "Lead one over the other by a bridge, or join the two and split them again, or move one; no flat crossing was found to work."
pub const OVERLAP_LINES_HINT: Saying<0> = Saying::plain("found.overlap.lines.hint", "Lead one over the other by a bridge, or join the two and split them again, or move one; no flat crossing was found to work.", []);
/// "{n} pieces of {a} stand in {b}, by up to {depth}."
pub const OVERLAP_PIECES: Saying<4> = Saying::counted("found.overlap.pieces", ("{n} piece of {a} stands in {b}, by up to {depth}.", "{n} pieces of {a} stand in {b}, by up to {depth}."), ["n", "a", "b", "depth"]);
/// "Nobody said how long the fall takes through {item}."
pub const PLACEHOLDER_DELAY: Saying<1> = Saying::plain("found.placeholder.delay", "Nobody said how long the fall takes through {item}.", ["item"]);
/// "Give the least and the most that it may take."
pub const PLACEHOLDER_DELAY_HINT: Saying<0> = Saying::plain("found.placeholder.delay.hint", "Give the least and the most that it may take.", []);
/// "The fall neither enters nor leaves {item}: it has no ports."
pub const PLACEHOLDER_PORTS: Saying<1> = Saying::plain("found.placeholder.ports", "The fall neither enters nor leaves {item}: it has no ports.", ["item"]);
/// "Say where the fall comes in and where it goes out."
pub const PLACEHOLDER_PORTS_HINT: Saying<0> = Saying::plain("found.placeholder.ports.hint", "Say where the fall comes in and where it goes out.", []);
/// ""{name}""
pub const QUOTED: Saying<1> = Saying::plain("found.quoted", "\"{name}\"", ["name"]);
/// "{item} at rank {rank} stands {clear} from {other}; past its end its pieces slide up to {reach} on the slickest floor that you expect."
pub const REACH_AHEAD: Saying<5> = Saying::plain("found.reach.ahead", "{item} at rank {rank} stands {clear} from {other}; past its end its pieces slide up to {reach} on the slickest floor that you expect.", ["item", "rank", "clear", "other", "reach"]);
/// "{item} at rank {rank} stands {clear} from {other}; beside it its pieces reach up to {reach} on the slickest floor that you expect."
pub const REACH_BESIDE: Saying<5> = Saying::plain("found.reach.beside", "{item} at rank {rank} stands {clear} from {other}; beside it its pieces reach up to {reach} on the slickest floor that you expect.", ["item", "rank", "clear", "other", "reach"]);
/// "another course of the same line"
pub const REACH_COURSE: Saying<0> = Saying::plain("found.reach.course", "another course of the same line", []);
/// "Lay its courses {by} farther apart."
pub const REACH_COURSE_HINT: Saying<1> = Saying::plain("found.reach.course.hint", "Lay its courses {by} farther apart.", ["by"]);
/// "Move one of them away by {by}, or set a stopper between them."
pub const REACH_HINT: Saying<1> = Saying::plain("found.reach.hint", "Move one of them away by {by}, or set a stopper between them.", ["by"]);
/// "{item} at rank {rank} stands {clear} from {other}; outside of the curve its pieces fly up to {reach} on the slickest floor that you expect."
pub const REACH_OUTSIDE: Saying<5> = Saying::plain("found.reach.outside", "{item} at rank {rank} stands {clear} from {other}; outside of the curve its pieces fly up to {reach} on the slickest floor that you expect.", ["item", "rank", "clear", "other", "reach"]);
/// "The middle of {item} cannot be reached once it stands: lanes {lane} to {lanes}, ranks {rank} to {ranks}, up to {away} from where somebody can kneel."
pub const REPAIR: Saying<6> = Saying::plain("found.repair", "The middle of {item} cannot be reached once it stands: lanes {lane} to {lanes}, ranks {rank} to {ranks}, up to {away} from where somebody can kneel.", ["item", "lane", "lanes", "rank", "ranks", "away"]);
/// "Plan a plank across, or leave a gap of {gap} at rank {rank}."
pub const REPAIR_HINT: Saying<2> = Saying::plain("found.repair.hint", "Plan a plank across, or leave a gap of {gap} at rank {rank}.", ["gap", "rank"]);
/// "Once it stands nobody can reach into {item}: there is no room to kneel, neither beside it nor within it."
pub const REPAIR_NOWHERE: Saying<1> = Saying::plain("found.repair.nowhere", "Once it stands nobody can reach into {item}: there is no room to kneel, neither beside it nor within it.", ["item"]);
/// "Leave {gap} free along one side of it, or plan a plank across."
pub const REPAIR_NOWHERE_HINT: Saying<1> = Saying::plain("found.repair.nowhere.hint", "Leave {gap} free along one side of it, or plan a plank across.", ["gap"]);
/// "Each of {items} begins where another of them ends: none has a place of its own."
pub const RING: Saying<1> = Saying::plain("found.ring", "Each of {items} begins where another of them ends: none has a place of its own.", ["items"]);
/// "Lay one of them free, at a place of its own."
pub const RING_HINT: Saying<0> = Saying::plain("found.ring.hint", "Lay one of them free, at a place of its own.", []);
/// "{item} begins where it ends itself."
pub const RING_SELF: Saying<1> = Saying::plain("found.ring.self", "{item} begins where it ends itself.", ["item"]);
/// "{colour} is short by {short}. The plan wants {wanted} ({who}), you own {owned}."
pub const SHORT: Saying<5> = Saying::plain("found.short", "{colour} is short by {short}. The plan wants {wanted} ({who}), you own {owned}.", ["colour", "short", "wanted", "who", "owned"]);
/// "{item} {count}"
pub const SHORT_BY: Saying<2> = Saying::plain("found.short.by", "{item} {count}", ["item", "count"]);
/// "Use another colour, make a field smaller, buy {short}, or borrow them."
pub const SHORT_HINT: Saying<1> = Saying::plain("found.short.hint", "Use another colour, make a field smaller, buy {short}, or borrow them.", ["short"]);
/// "Use another colour, make a field smaller, buy {short}, or ask for the {n} pieces that are offered."
pub const SHORT_HINT_ASK: Saying<2> = Saying::counted("found.short.hint.ask", ("Use another colour, make a field smaller, buy {short}, or ask for the {n} piece that is offered.", "Use another colour, make a field smaller, buy {short}, or ask for the {n} pieces that are offered."), ["n", "short"]);
/// "an item"
pub const SHORT_ITEM: Saying<0> = Saying::plain("found.short.item", "an item", []);
/// "{n} others {count}"
pub const SHORT_OTHERS: Saying<2> = Saying::counted("found.short.others", ("{n} other {count}", "{n} others {count}"), ["n", "count"]);
/// "{colour} is short by {short}. The plan wants {wanted} ({who}), you own {owned} and keep {spare} of them as spare."
pub const SHORT_SPARE: Saying<6> = Saying::plain("found.short.spare", "{colour} is short by {short}. The plan wants {wanted} ({who}), you own {owned} and keep {spare} of them as spare.", ["colour", "short", "wanted", "who", "owned", "spare"]);
/// "The lanes of {item} stand {clear} apart side by side; under {least} a lane drags the one beside it."
pub const SIDES: Saying<3> = Saying::plain("found.sides", "The lanes of {item} stand {clear} apart side by side; under {least} a lane drags the one beside it.", ["item", "clear", "least"]);
/// "Lay the lanes at {pitch} centre to centre."
pub const SIDES_HINT: Saying<1> = Saying::plain("found.sides.hint", "Lay the lanes at {pitch} centre to centre.", ["pitch"]);
/// "{item} may slide down {surface}: it slopes by {slope}, and with the least friction of the hall's floor pieces hold up to {holds}."
pub const SLICK: Saying<4> = Saying::plain("found.slick", "{item} may slide down {surface}: it slopes by {slope}, and with the least friction of the hall's floor pieces hold up to {holds}.", ["item", "surface", "slope", "holds"]);
/// "Cover it with something that grips, or make it less steep."
pub const SLICK_HINT: Saying<0> = Saying::plain("found.slick.hint", "Cover it with something that grips, or make it less steep.", []);
/// "Set its clear gap to {gap}."
pub const SPACING_HINT: Saying<1> = Saying::plain("found.spacing.hint", "Set its clear gap to {gap}.", ["gap"]);
/// "Move the pieces that the gap lies between."
pub const SPACING_HINT_MOVE: Saying<0> = Saying::plain("found.spacing.hint.move", "Move the pieces that the gap lies between.", []);
/// "{item} stands"
pub const STANDS: Saying<1> = Saying::plain("found.stands", "{item} stands", ["item"]);
/// "{n} pieces of {item} stand"
pub const STANDS_PIECES: Saying<2> = Saying::counted("found.stands.pieces", ("{n} piece of {item} stands", "{n} pieces of {item} stand"), ["n", "item"]);
/// "{item} pushes nothing: no piece that topples stands within {reach} before it."
pub const START_IDLE: Saying<2> = Saying::plain("found.start.idle", "{item} pushes nothing: no piece that topples stands within {reach} before it.", ["item", "reach"]);
/// "Move it before the first piece, and turn it along the fall."
pub const START_IDLE_HINT: Saying<0> = Saying::plain("found.start.idle.hint", "Move it before the first piece, and turn it along the fall.", []);
/// "{item} stands inside {field}: a hand has to reach in among its pieces."
pub const START_INSIDE: Saying<2> = Saying::plain("found.start.inside", "{item} stands inside {field}: a hand has to reach in among its pieces.", ["item", "field"]);
/// "Put it before the first rank, or lead a line to where the fall is to begin."
pub const START_INSIDE_HINT: Saying<0> = Saying::plain("found.start.inside.hint", "Put it before the first rank, or lead a line to where the fall is to begin.", []);
/// "Nothing starts the fall: the plan has no start."
pub const START_MISSING: Saying<0> = Saying::plain("found.start.missing", "Nothing starts the fall: the plan has no start.", []);
/// "Put a start before the first piece that is to fall."
pub const START_MISSING_HINT: Saying<0> = Saying::plain("found.start.missing.hint", "Put a start before the first piece that is to fall.", []);
/// "Nothing starts the fall yet: the plan has pieces and no start."
pub const START_NONE_YET: Saying<0> = Saying::plain("found.start.none-yet", "Nothing starts the fall yet: the plan has pieces and no start.", []);
/// "For a picture alone nothing is missing; for a fall put a start and lead a line to what is to fall."
pub const START_NONE_YET_HINT: Saying<0> = Saying::plain("found.start.none-yet.hint", "For a picture alone nothing is missing; for a fall put a start and lead a line to what is to fall.", []);
/// "What {a} and {b} start meets in {item}, about rank {rank}."
pub const STARTS_MEET: Saying<4> = Saying::plain("found.starts.meet", "What {a} and {b} start meets in {item}, about rank {rank}.", ["a", "b", "item", "rank"]);
/// "Nothing is lost; move a start or its time if they are to meet elsewhere."
pub const STARTS_MEET_HINT: Saying<0> = Saying::plain("found.starts.meet.hint", "Nothing is lost; move a start or its time if they are to meet elsewhere.", []);
/// "Lower the slope of {surface} to {slope}, or build steps."
pub const STEEP_HINT: Saying<2> = Saying::plain("found.steep.hint", "Lower the slope of {surface} to {slope}, or build steps.", ["surface", "slope"]);
/// "{n} pieces of {item} stand on {surface} at a slope of {slope}: pieces of {thick} by {high} tip by themselves from {tips} on."
pub const STEEP: Saying<7> = Saying::counted("found.steep", ("{n} piece of {item} stands on {surface} at a slope of {slope}: pieces of {thick} by {high} tip by themselves from {tips} on.", "{n} pieces of {item} stand on {surface} at a slope of {slope}: pieces of {thick} by {high} tip by themselves from {tips} on."), ["n", "item", "surface", "slope", "thick", "high", "tips"]);
/// "{n} pieces of {item} stand on {surface} at a slope of {slope}: a knock or a board that sags fells them, for pieces of {thick} by {high} tip by themselves from {tips} on."
pub const STEEP_NEAR: Saying<7> = Saying::counted("found.steep.near", ("{n} piece of {item} stands on {surface} at a slope of {slope}: a knock or a board that sags fells them, for pieces of {thick} by {high} tip by themselves from {tips} on.", "{n} pieces of {item} stand on {surface} at a slope of {slope}: a knock or a board that sags fells them, for pieces of {thick} by {high} tip by themselves from {tips} on."), ["n", "item", "surface", "slope", "thick", "high", "tips"]);
/// "Leave their crates at home, lend them, or let more fields use them."
pub const SURPLUS_HINT: Saying<0> = Saying::plain("found.surplus.hint", "Leave their crates at home, lend them, or let more fields use them.", []);
/// "{n} pieces of the stock are left over: {colours}."
pub const SURPLUS: Saying<2> = Saying::counted("found.surplus", ("{n} piece of the stock is left over: {colours}.", "{n} pieces of the stock are left over: {colours}."), ["n", "colours"]);
/// "{n} more colours"
pub const SURPLUS_MORE: Saying<1> = Saying::counted("found.surplus.more", ("{n} more colour", "{n} more colours"), ["n"]);
/// "{count} {colour}"
pub const SURPLUS_OF: Saying<2> = Saying::plain("found.surplus.of", "{count} {colour}", ["count", "colour"]);
/// "{from} to {to}"
pub const TAPE: Saying<2> = Saying::plain("found.tape", "{from} to {to}", ["from", "to"]);
/// "Measure it again."
pub const TAPE_AGAIN: Saying<0> = Saying::plain("found.tape.again", "Measure it again.", []);
/// "The tape from {from} to {to} says {length}. Give a length above {least} and at most {most}."
pub const TAPE_LENGTH: Saying<5> = Saying::plain("found.tape.length", "The tape from {from} to {to} says {length}. Give a length above {least} and at most {most}.", ["from", "to", "length", "least", "most"]);
/// "The tape from {long} is longer by {by} than those from {a} and {b} together."
pub const TAPE_LONG: Saying<4> = Saying::plain("found.tape.long", "The tape from {long} is longer by {by} than those from {a} and {b} together.", ["long", "by", "a", "b"]);
/// "Measure all three again."
pub const TAPE_LONG_HINT: Saying<0> = Saying::plain("found.tape.long.hint", "Measure all three again.", []);
/// "The tape from {from} to {to} names a mark that is not there."
pub const TAPE_MARK: Saying<2> = Saying::plain("found.tape.mark", "The tape from {from} to {to} names a mark that is not there.", ["from", "to"]);
/// "Draw the mark, or take the tape away."
pub const TAPE_MARK_HINT: Saying<0> = Saying::plain("found.tape.mark.hint", "Draw the mark, or take the tape away.", []);
/// "The tapes do not fit together: even at the best {most} remain, at {tapes}."
pub const TAPE_MISFIT: Saying<2> = Saying::plain("found.tape.misfit", "The tapes do not fit together: even at the best {most} remain, at {tapes}.", ["most", "tapes"]);
/// "Measure these again; with one distance more it can be told which one is wrong."
pub const TAPE_MISFIT_HINT: Saying<0> = Saying::plain("found.tape.misfit.hint", "Measure these again; with one distance more it can be told which one is wrong.", []);
/// "Mark {mark} has a place that is not a number. Draw it again."
pub const TAPE_PLACE: Saying<1> = Saying::plain("found.tape.place", "Mark {mark} has a place that is not a number. Draw it again.", ["mark"]);
/// "The tape from {from} to {to} leads from a mark to itself. Name two different marks."
pub const TAPE_SAME: Saying<2> = Saying::plain("found.tape.same", "The tape from {from} to {to} leads from a mark to itself. Name two different marks.", ["from", "to"]);
/// "The tape from {from} to {to}, {length}, is likely wrong: {n} triangles of tapes do not close, and no other tape is in all of them."
pub const TAPE_SOLE: Saying<4> = Saying::plain("found.tape.sole", "The tape from {from} to {to}, {length}, is likely wrong: {n} triangles of tapes do not close, and no other tape is in all of them.", ["from", "to", "length", "n"]);
/// "The tape from {from} to {to} says {length}; with all the others they are {apart} apart."
pub const TAPE_SUSPECT: Saying<4> = Saying::plain("found.tape.suspect", "The tape from {from} to {to} says {length}; with all the others they are {apart} apart.", ["from", "to", "length", "apart"]);
/// "Measure this one again first."
pub const TAPE_SUSPECT_HINT: Saying<0> = Saying::plain("found.tape.suspect.hint", "Measure this one again first.", []);
/// "There are {marks} marks; the fit takes at most {most}. Leave some out, or fit the hall in parts."
pub const TAPE_TOO_MANY: Saying<2> = Saying::plain("found.tape.too-many", "There are {marks} marks; the fit takes at most {most}. Leave some out, or fit the hall in parts.", ["marks", "most"]);
/// "A timed line of {n} pieces with a gap of {gap} is said to have fallen in {took}; without any friction it takes {least}."
pub const TIMED_FAST: Saying<4> = Saying::plain("found.timed.fast", "A timed line of {n} pieces with a gap of {gap} is said to have fallen in {took}; without any friction it takes {least}.", ["n", "gap", "took", "least"]);
/// "Count and time it again, from a film. Until then it does not count for the times of the fall."
pub const TIMED_HINT: Saying<0> = Saying::plain("found.timed.hint", "Count and time it again, from a film. Until then it does not count for the times of the fall.", []);
/// "A timed line of {n} pieces with a gap of {gap} is said to have taken {took}; even pieces that grip like rubber take no more than {most}."
pub const TIMED_SLOW: Saying<4> = Saying::plain("found.timed.slow", "A timed line of {n} pieces with a gap of {gap} is said to have taken {took}; even pieces that grip like rubber take no more than {most}.", ["n", "gap", "took", "most"]);
/// "A timed line of {n} pieces is said to have a gap of {gap}, which is no less than a piece is high: none of them would reach the next."
pub const TIMED_WIDE: Saying<2> = Saying::plain("found.timed.wide", "A timed line of {n} pieces is said to have a gap of {gap}, which is no less than a piece is high: none of them would reach the next.", ["n", "gap"]);
/// "Put in the clear gap from face to face. Until then it does not count for the times of the fall."
pub const TIMED_WIDE_HINT: Saying<0> = Saying::plain("found.timed.wide.hint", "Put in the clear gap from face to face. Until then it does not count for the times of the fall.", []);
/// "Widen the turn to a radius of at least {radius}, or lay it closer."
pub const TURN_HINT: Saying<1> = Saying::plain("found.turn.hint", "Widen the turn to a radius of at least {radius}, or lay it closer.", ["radius"]);
/// "{item} turns by up to {turn} a piece at rank {rank}, over {n} steps; over {most} waves stop."
pub const TURN: Saying<5> = Saying::counted("found.turn", ("{item} turns by up to {turn} a piece at rank {rank}, over {n} step; over {most} waves stop.", "{item} turns by up to {turn} a piece at rank {rank}, over {n} steps; over {most} waves stop."), ["n", "item", "turn", "rank", "most"]);
/// "{item} turns by up to {turn} a piece at rank {rank}, over {n} steps; over {most} some waves stop."
pub const TURN_SOME: Saying<5> = Saying::counted("found.turn.some", ("{item} turns by up to {turn} a piece at rank {rank}, over {n} step; over {most} some waves stop.", "{item} turns by up to {turn} a piece at rank {rank}, over {n} steps; over {most} some waves stop."), ["n", "item", "turn", "rank", "most"]);
/// "{item} reaches {top}, and {name} hangs above it at {height}."
pub const UNDER: Saying<4> = Saying::plain("found.under", "{item} reaches {top}, and {name} hangs above it at {height}.", ["item", "top", "name", "height"]);
/// "Ask the hall what may stand there; its own rules count."
pub const UNDER_HINT: Saying<0> = Saying::plain("found.under.hint", "Ask the hall what may stand there; its own rules count.", []);
/// "{item} reaches {top}, and nobody measured how high {name} hangs above it."
pub const UNDER_UNKNOWN: Saying<3> = Saying::plain("found.under.unknown", "{item} reaches {top}, and nobody measured how high {name} hangs above it.", ["item", "top", "name"]);
/// "Measure its height, and ask the hall what may stand there; its own rules count."
pub const UNDER_UNKNOWN_HINT: Saying<0> = Saying::plain("found.under.unknown.hint", "Measure its height, and ask the hall what may stand there; its own rules count.", []);
/// "{lanes} lanes of {item} between {first} and {last} are not fed: {pieces} pieces stand."
pub const UNFED_BETWEEN: Saying<5> = Saying::plain("found.unfed.between", "{lanes} lanes of {item} between {first} and {last} are not fed: {pieces} pieces stand.", ["lanes", "item", "first", "last", "pieces"]);
/// "The wave cannot enter {item}: its nearest piece ahead is {clear} away from the end of {line}; a falling piece reaches {reach}."
pub const UNFED_FAR: Saying<4> = Saying::plain("found.unfed.far", "The wave cannot enter {item}: its nearest piece ahead is {clear} away from the end of {line}; a falling piece reaches {reach}.", ["item", "clear", "line", "reach"]);
/// "Close it to {gap}."
pub const UNFED_FAR_HINT: Saying<1> = Saying::plain("found.unfed.far.hint", "Close it to {gap}.", ["gap"]);
/// "Lead a line to its entry."
pub const UNFED_HINT_ENTRY: Saying<0> = Saying::plain("found.unfed.hint.entry", "Lead a line to its entry.", []);
/// "Put a feed before its first rank and lead a line to it."
pub const UNFED_HINT_FEED: Saying<0> = Saying::plain("found.unfed.hint.feed", "Put a feed before its first rank and lead a line to it.", []);
/// "Lead a line to {feed}, or see where the fall stops before it."
pub const UNFED_HINT_LINE: Saying<1> = Saying::plain("found.unfed.hint.line", "Lead a line to {feed}, or see where the fall stops before it.", ["feed"]);
/// "Lead the fall to its beginning, or put a start there."
pub const UNFED_HINT_START: Saying<0> = Saying::plain("found.unfed.hint.start", "Lead the fall to its beginning, or put a start there.", []);
/// "Lane {lane} of {item} is not fed: {n} stand."
pub const UNFED_LANE: Saying<3> = Saying::counted("found.unfed.lane", ("Lane {lane} of {item} is not fed: {n} stands.", "Lane {lane} of {item} is not fed: {n} stand."), ["n", "lane", "item"]);
/// "Lanes {first} to {last} of {item} are not fed: {pieces} stand."
pub const UNFED_LANES: Saying<4> = Saying::plain("found.unfed.lanes", "Lanes {first} to {last} of {item} are not fed: {pieces} stand.", ["first", "last", "item", "pieces"]);
/// "The wave does not enter {item}: {n} pieces stand."
pub const UNFED: Saying<2> = Saying::counted("found.unfed", ("The wave does not enter {item}: {n} piece stands.", "The wave does not enter {item}: {n} pieces stand."), ["n", "item"]);
/// "Match the picture again, or empty them by hand if they are meant to stay empty."
pub const UNFILLED_HINT: Saying<0> = Saying::plain("found.unfilled.hint", "Match the picture again, or empty them by hand if they are meant to stay empty.", []);
/// "{n} cells of {item} should show the picture but have no piece."
pub const UNFILLED: Saying<2> = Saying::counted("found.unfilled", ("{n} cell of {item} should show the picture but has no piece.", "{n} cells of {item} should show the picture but have no piece."), ["n", "item"]);
/// "{item} has no piece. {why}"
pub const UNLAID: Saying<2> = Saying::plain("found.unlaid", "{item} has no piece. {why}", ["item", "why"]);
/// "It asks for {wanted} pieces; with all that is laid before it these are more than the {most} of one plan."
pub const UNLAID_BEYOND: Saying<2> = Saying::plain("found.unlaid.beyond", "It asks for {wanted} pieces; with all that is laid before it these are more than the {most} of one plan.", ["wanted", "most"]);
/// "Make it smaller or its pitch wider, or split the event over several plans."
pub const UNLAID_BEYOND_HINT: Saying<0> = Saying::plain("found.unlaid.beyond.hint", "Make it smaller or its pitch wider, or split the event over several plans.", []);
/// "Between {least} and {most} no distance from course to course takes {pieces} pieces or fewer and fits."
pub const UNLAID_COUNT: Saying<3> = Saying::plain("found.unlaid.count", "Between {least} and {most} no distance from course to course takes {pieces} pieces or fewer and fits.", ["least", "most", "pieces"]);
/// "The outline of its area crosses itself or encloses nothing."
pub const UNLAID_CROSSES: Saying<0> = Saying::plain("found.unlaid.crosses", "The outline of its area crosses itself or encloses nothing.", []);
/// "Move its corners so that its sides do not touch."
pub const UNLAID_CROSSES_HINT: Saying<0> = Saying::plain("found.unlaid.crosses.hint", "Move its corners so that its sides do not touch.", []);
/// "No lane begins at its edge."
pub const UNLAID_EDGE: Saying<0> = Saying::plain("found.unlaid.edge", "No lane begins at its edge.", []);
/// "Choose another way of feeding, or lay the lanes of the field at another pitch."
pub const UNLAID_FEED_HINT: Saying<0> = Saying::plain("found.unlaid.feed.hint", "Choose another way of feeding, or lay the lanes of the field at another pitch.", []);
/// "Courses {ring} apart are too many for an area of this size."
pub const UNLAID_FINE: Saying<1> = Saying::plain("found.unlaid.fine", "Courses {ring} apart are too many for an area of this size.", ["ring"]);
/// "Make the distance from course to course larger or fill it in parts."
pub const UNLAID_FINE_HINT: Saying<0> = Saying::plain("found.unlaid.fine.hint", "Make the distance from course to course larger or fill it in parts.", []);
/// "The distance from course to course or the swing is {value}; give a length above {least} and at most {most}."
pub const UNLAID_LENGTH: Saying<3> = Saying::plain("found.unlaid.length", "The distance from course to course or the swing is {value}; give a length above {least} and at most {most}.", ["value", "least", "most"]);
/// "Change the distance from course to course or the swing."
pub const UNLAID_LENGTH_HINT: Saying<0> = Saying::plain("found.unlaid.length.hint", "Change the distance from course to course or the swing.", []);
/// "No line with courses {ring} apart fits into its area."
pub const UNLAID_ROOM: Saying<1> = Saying::plain("found.unlaid.room", "No line with courses {ring} apart fits into its area.", ["ring"]);
/// "Make the area wider or the distance from course to course smaller."
pub const UNLAID_ROOM_HINT: Saying<0> = Saying::plain("found.unlaid.room.hint", "Make the area wider or the distance from course to course smaller.", []);
/// "Turn its line to {turn}, as text {text}; or choose another way of feeding, or lay the lanes of the field at another pitch."
pub const UNLAID_TURN_HINT: Saying<2> = Saying::plain("found.unlaid.turn.hint", "Turn its line to {turn}, as text {text}; or choose another way of feeding, or lay the lanes of the field at another pitch.", ["turn", "text"]);
/// "With the turns between its lanes it asks for {wanted} pieces, more than the {most} of one item."
pub const UNLAID_TURNS: Saying<2> = Saying::plain("found.unlaid.turns", "With the turns between its lanes it asks for {wanted} pieces, more than the {most} of one item.", ["wanted", "most"]);
/// "Lay its lanes closer together, or let them fall the same way."
pub const UNLAID_TURNS_HINT: Saying<0> = Saying::plain("found.unlaid.turns.hint", "Lay its lanes closer together, or let them fall the same way.", []);
/// "Lines cross there. Lead one over the other by a bridge, or join the two and split them again; no flat crossing was found to work."
pub const UNSURE_CROSSED_HINT: Saying<0> = Saying::plain("found.unsure.crossed.hint", "Lines cross there. Lead one over the other by a bridge, or join the two and split them again; no flat crossing was found to work.", []);
/// "Close the gap or lessen the turn there, or try it out on this floor."
pub const UNSURE_HINT: Saying<0> = Saying::plain("found.unsure.hint", "Close the gap or lessen the turn there, or try it out on this floor.", []);
/// "{n} pieces hang on {passages} that may fail; the first leads to {item}, lane {lane}, rank {rank}."
pub const UNSURE: Saying<5> = Saying::counted("found.unsure", ("{n} piece hangs on {passages} that may fail; the first leads to {item}, lane {lane}, rank {rank}.", "{n} pieces hang on {passages} that may fail; the first leads to {item}, lane {lane}, rank {rank}."), ["n", "passages", "item", "lane", "rank"]);
/// "{n} passages"
pub const UNSURE_PASSAGES: Saying<1> = Saying::counted("found.unsure.passages", ("{n} passage", "{n} passages"), ["n"]);
/// "{item} pushes up a slope of {slope}: there one push against one piece dies out after a few."
pub const UPHILL: Saying<2> = Saying::plain("found.uphill", "{item} pushes up a slope of {slope}: there one push against one piece dies out after a few.", ["item", "slope"]);
/// "Push the first three pieces together, begin on the level, or leave wider gaps."
pub const UPHILL_HINT: Saying<0> = Saying::plain("found.uphill.hint", "Push the first three pieces together, begin on the level, or leave wider gaps.", []);
/// "At their best the pictures would take {wanted} {colour}, usable are {usable}: short by {short}. As they are laid, other colours stand in."
pub const WANTED: Saying<4> = Saying::plain("found.wanted", "At their best the pictures would take {wanted} {colour}, usable are {usable}: short by {short}. As they are laid, other colours stand in.", ["wanted", "colour", "usable", "short"]);
/// "See the ways out: another colour, smaller fields, buying or borrowing."
pub const WANTED_HINT: Saying<0> = Saying::plain("found.wanted.hint", "See the ways out: another colour, smaller fields, buying or borrowing.", []);
