/** Help in English. */
import type { Book } from "../../kernels/help";

const RUNS = "Own runs of a rigid-body model, 2026. Nothing of it was measured on real pieces yet.";
const PRACTICE = "Common practice, no source.";

export const book: Book = {
  pages: {
    first: {
      lead: "From an empty hall to a plan that says what it takes. Nothing here can break the plan: every step can be taken back.",
      parts: [
        { steps: [
          "Drop a picture on the page Picture or on the floor of Plan, or open the example and look around in it first. A picture becomes a field: lanes and ranks of pieces.",
          "Bring your stock: on the page Stock, drop a list with name, code, hex and count. Three lines are enough to begin.",
          "Press Match on the page Picture. The program says what the stock can make of the picture, and how well it will be seen.",
          "Read the findings at the foot (F6). Each names a place and what to do there.",
          "Look at the fall, then print the lane sheets or let tablets in.",
        ] },
        { h: "What is always there" },
        { list: [
          "The line at the top leads to the views, in the order of the job, and says whether the work is saved.",
          "The line at the foot says what the plan costs and which colours run short.",
          "“Find or do” (the key /) finds every action, item, place and page of help.",
          "Undo takes back any number of steps, also after a restart. The history shows all of them.",
        ] },
        { h: "Saving" },
        { p: "There is no key for saving: a change counts only when it is on the disk. “Save a copy” gives you the whole project as one file, with its history and pictures. Keep a copy on another disk." },
      ],
    },
    hall: {
      lead: "The hall is the floor that everything stands on: walls, pillars, doors, exits, aisles, tables and what hangs overhead.",
      parts: [
        { p: "Measure twice, from two corners, and tape the diagonals. The program fits the marks to the tapes and names the tape that does not fit." },
        { list: [
          "Exits and escape ways stay free for as long as anybody is in the hall. Draw them as aisles; the checks name what stands in them.",
          "Lay aisles where builders must reach: nobody reaches farther than an arm.",
          "Time a line of your own on the floor of the hall: about 200 pieces, filmed. With that the times of the fall stop being a range.",
        ] },
        { p: "Draw it on the page Plan with the tool Hall (H): corner after corner, or a box, with typed figures. A click on a part or on the walls chooses it; drag its corners, type its size, or press Delete. Marks and taped distances are still written in the text plan (standfast export --to toml)." },
        { figures: ["grip", "reach", "clearance"] },
        { caution: "The program knows the plan that it is given and nothing of the building. Local codes and the owner of the hall come first." },
      ],
    },
    draw: {
      lead: "Everything that stands in the hall is drawn on the page Plan. The program checks each stroke while it is drawn, and every step can be taken back.",
      parts: [
        { p: "The comb at the left holds the tools by purpose. A letter takes a tool while the floor has the focus, Escape leads back to picking. The slip at the foot says what to do next and what the next item is made of; beside the pointer stands what it takes." },
        { h: "Choosing" },
        { list: [
          "Pick (V): choose items by a click, a box or a lasso; move, turn and reshape them.",
        ] },
        { h: "The hall" },
        { list: [
          "Hall (H): walls, pillars, doors, exits, aisles, tables and overhead points, corner by corner or as a box.",
          "Surface (U): a plank, a table or the top of a wall that items stand on.",
        ] },
        { h: "Lines" },
        { list: [
          "Line (L): through the points you click; a drag bends it, Enter or a double click ends it, the first point closes it.",
          "Arc (R): by start, end and bulge.",
          "Spiral (S): ring after ring, inwards or outwards.",
          "By hand (W): a smooth line along what you draw.",
          "Fill an area (A): one line that fills an outline by waves, a spiral or curls; type the ring distance or a number of pieces.",
          "Letters (X): words as lines, or standing in a field.",
        ] },
        { h: "Fields" },
        { list: [
          "Field (F): lanes and ranks for a picture. Drop a picture on it, or choose it and paste one; dropped elsewhere on the floor, a picture begins a new field.",
          "Placeholder (B): room for something that is built by other means.",
          "Feed (D): the ways to bring the fall to every lane, best first.",
        ] },
        { h: "The fall" },
        { list: [
          "Start (P): where somebody pushes the first piece.",
          "Stopper (O): a block that a fallen lane runs against; click a line and it stands across it.",
          "Gap (G): pieces that are put in at the end. Click a piece and drag along the line; a click on a gap takes it away.",
        ] },
        { h: "Marks" },
        { list: [
          "Dimension (M): a distance that is shown on the floor.",
          "Note (N): words at a place.",
          "Camera (C): where a camera stands and what it looks at.",
        ] },
        { h: "Typed figures" },
        { p: "Type a figure while you draw, and it takes the place of what the pointer says. Tab goes to the next figure, Enter takes it, Escape drops it. Units are free: 2.4 m, 8ft 2in, or 15 for millimetres." },
        { h: "Snapping" },
        { p: "Places snap to ports, ends, corners, middles, edges, lines of sight, steps of 15°, equal distances and the grid. A line that begins or ends at a port is linked to it. Ctrl held lets nothing snap, Shift keeps a stroke to steps of 15°." },
        { h: "By keys alone" },
        { p: "Arrows move the floor under the cross in its middle. Enter presses there, Shift and Enter end a line, Backspace takes the last point back. Full stop and comma go from item to item; arrows then move what is chosen by 1 mm, with Shift by 10 mm." },
        { h: "Reshaping" },
        { p: "Choose one item and its points show. Drag a point, or drag a middle to make a new one. [ and ] go from point to point, arrows move the point, Delete takes it away; Enter keeps the new shape, Escape gives it up." },
      ],
    },
    items: {
      lead: "What is chosen shows its figures at the right; the list shows every item, also those that are hard to hit.",
      parts: [
        { h: "The inspector" },
        { p: "The key I opens and closes it. It says what the item is, what it takes and when it falls, and every figure can be typed. Of several items it shows what they have in common, “25 and 27 mm” where they differ, and a typed figure sets all of them in one step. While nothing is chosen it shows the hall." },
        { list: [
          "Copy with Ctrl and D, turn left with Shift and R, mirror with Shift and M, take away with Delete.",
          "Align, and set equal distances, among several items.",
          "Group with Ctrl and G: a click then chooses all of the group.",
          "Lock with Ctrl and L: a locked item takes no change until it is unlocked.",
        ] },
        { h: "The list of items" },
        { p: "Shift and O opens it. Arrows walk it, Enter chooses, Space adds to the choice, F2 gives a new name. Each row hides its item or locks it, and shows the worst that was found there." },
        { h: "Sections" },
        { p: "Sections are parts of the floor that one person leads. Add them under the list, name them, say who leads, and put what is chosen into one." },
        { h: "More to see" },
        { list: [
          "Close up (E) shows the pieces under the pointer at reading size, with a map of the whole hall.",
          "Rulers, in the command list, stand at the edges.",
          "Shift and F10, or the right button, opens the menu of what is chosen.",
          "Z shows what is chosen, Home shows all, 0 leaves the floor alone.",
        ] },
      ],
    },
    lines: {
      lead: "A line is pieces one after another along a path: straight, arcs, spirals, curves through points, and bridges.",
      parts: [
        { p: "Draw lines on the page Plan with Line, Arc, Spiral, By hand, Fill an area and Letters, point by point or with typed figures; Drawing says how. Where a line begins or ends at a port, it carries on from there." },
        { p: "A line takes its gap either from piece to piece (the pitch) or face to face (the gap). Say whether a comb sets it or a hand: a hand scatters more, so it needs more room." },
        { figures: ["band", "turn", "step", "clearance"] },
        { h: "Links" },
        { p: "A line may begin at the end of another item and lead into the next one. Then it follows when they are moved, and the last leg is laid smoothly from where the path ends." },
        { h: "Splits and joins" },
        { p: "A line that begins beside another is fed where its first piece is hit. Two branches that meet are not made faster." },
        { h: "Bridges" },
        { p: "Choose a line and add a bridge under its figures: where it begins, how long and how high its deck is, and how its steps climb." },
      ],
    },
    fields: {
      lead: "A field is a picture in lanes and ranks. The fall runs along the lanes; the feed brings it to every lane.",
      parts: [
        { h: "The grid" },
        { figures: ["pitch", "across", "stagger"] },
        { h: "The picture" },
        { p: "“Exact” makes the sum of the differences as small as the stock allows, cell by cell, and proves it. “As seen” makes right what the eye mixes at a distance. The four bands show source, as laid, standing and fallen; drag the dividers." },
        { figures: ["goal", "difference", "distance", "eye", "fewer", "weight", "contrast"] },
        { h: "Cells by hand" },
        { p: "“Edit cells” on the page Picture brings the tools: Brush (B), Line (L), Rectangle (R), Fill (G), Replace (C), Stamp (S) and Pick colour (P); Choose box (X), Choose lasso (O) and Choose alike (U) choose cells, and then only those take colour. W and N make the brush wider and narrower, Y changes the symmetry." },
        { p: "By keys, arrows move the cursor, Shift by ten, Enter uses the tool and Space draws on. Cells stay as you set them when the field is matched again, until you release them (E); A matches only the chosen cells again." },
        { h: "Feeds" },
        { p: "A feed is the row of pieces that brings the fall to every lane. There are six ways to build one. The tool Feed (D) lists them for the field that you click, best first, with how sure and how slow each is; Done lays the one you choose." },
        { figures: ["feeds"] },
      ],
    },
    stock: {
      lead: "The stock is what you own, by colour, kind, batch and owner. The program plans with what is usable: owned less what is kept back.",
      parts: [
        { p: "A stock list is a CSV file with name, code, hex and count, and where wanted kind, back_hex, edge_hex, finish, batch, owner, offered, crate_size, mass_g, thickness_mm and spare. A line that cannot be taken is named with the next step, and nothing is changed." },
        { list: [
          "Ways out of a shortage come smallest visible change first: another colour, borrowing, buying, smaller fields.",
          "Batches differ in thickness and shade. Keep one batch to one place where you can.",
          "Codes are one to three signs. I, O, Q and Z are left out, since they are taken for figures.",
        ] },
        { figures: ["piece", "spare", "crates", "mass", "alike"] },
        { caution: "A crate of 500 pieces weighs more than 4 kg. Weigh, share the load, and use a trolley." },
      ],
    },
    fall: {
      lead: "The fall is worked out piece by piece, with a slow run, a fast one and a usual one. Times are ranges, and what is not sure is said.",
      parts: [
        { p: "What stays standing is listed with the reason: too far away, turned too far, blocked, not fed. Choose a piece to see by what it is struck, when, and in which direction it falls." },
        { h: "Watching it" },
        { list: [
          "Space plays and pauses. Comma and full stop step by a frame, N by a piece, [ and ] by a moment, J goes to the first stall; < and > change the speed from 1/100 to 100.",
          "Circle (O) goes around the hall, Walk (W) walks through it at eye height, Follow (L) keeps the wave in view.",
          "C goes from one camera place to the next, K keeps the view as a new one. F shows all, A looks from above, V goes to the wave.",
          "P saves a picture of this moment, M makes a film, from a camera place or as it is seen now.",
        ] },
        { figures: ["grip", "speed", "chance"] },
        { h: "What the model does not know" },
        { list: [
          "Warped and sticky pieces, draughts, slopes, and what slides out of curves.",
          "Pieces beyond the sizes that were run: all lengths are scaled by the height of the piece.",
          "Of 5 918 measured transfers, 24.7 % are answered “unsure”, and 2 are known to be answered wrongly; the rules were fitted to these same runs.",
        ] },
        { caution: "Keep people off the floor and out of the aisles beside tall parts while it falls. What hangs overhead is the business of a licensed rigger." },
      ],
    },
    touch: {
      lead: "The touch map shows what falls if somebody touches a piece now: the count, by class, and the worst places.",
      parts: [
        { p: "Safety gaps are pieces left out while building, so that an accident ends there. They are closed last, one after another, by the calmest hands. The tool Gap (G) opens and closes them on the floor; the tool Stopper (O) sets a block." },
        { figures: ["hold", "counts", "accidents"] },
        { list: [
          "A gap that holds in every measured run is called sure; one that held in some is called unsure, and then a block fixed to the floor is worth more.",
          "A loose block that stands is worse than nothing: it is pushed on like a piece.",
          "Test one gap on your own floor before you trust a hundred.",
        ] },
      ],
    },
    sheets: {
      lead: "Lane sheets are what a crew builds from that has never seen the program: a cover, a legend, and the lanes as runs with a checksum.",
      parts: [
        { p: "Each lane reads like “C 22  K 6  C 3 = 31”. The sum is what must stand at the end of the lane; if it does not, count from the last ten." },
        { list: [
          "Choose from which side the builder sits, and whether the sheets are mirrored, by looking at the preview.",
          "Strips are as deep as a builder reaches; far lanes come before near ones.",
          "Print at 100 % and measure the bar of 200 mm before you trust any other length on the paper.",
          "Without colour the sheets carry textures and codes, so that any printer will do.",
        ] },
        { figures: ["reach"] },
        { caution: "Hours on the knees want pads, changes of task and breaks. Plan them as part of the work." },
      ],
    },
    tablets: {
      lead: "Tablets in the hall read lanes aloud, one run at a time, in figures that are seen from two metres.",
      parts: [
        { steps: [
          "Start the program with standfast open --lan, in a network whose guests you know.",
          "Press Tablets. Point a camera at the code, or type the address.",
          "Type the code for the crew. Whoever has it reads; only planners change.",
          "Choose a field and a lane. Next and Back are large; a pedal or a presenter works as well.",
        ] },
        { p: "Lanes are fetched ahead: a lost connection does not stop a builder. If the planner changes a lane that is being read, the tablet says so." },
        { p: "Set the tablets to stay awake in their own settings; pages over plain http cannot ask for that." },
      ],
    },
    together: {
      lead: "Several people can work on one plan, and a lost connection loses nothing.",
      parts: [
        { h: "Two windows" },
        { p: "Open the plan in a second window or on a second computer: each sees at once what the other changes. There is one history for all of them, so Undo takes back the last step, whoever made it. The history says who made each step, and when." },
        { h: "A lost connection" },
        { list: [
          "“Saved” turns to “Kept here” with the number of changes, and drawing goes on.",
          "Changes are kept in this browser, also when the page is loaded anew, and go out in their order once the planner's computer answers. Each counts once.",
          "Checks, counts and the fall wait until then: they are worked out on the planner's computer.",
          "What can no longer be made by then is said with the reason.",
        ] },
      ],
    },
    keys: {
      lead: "Everything can be done with keys alone. The list comes from the program itself, so it is never out of date.",
      parts: [
        { p: "Keys without Ctrl act while the floor has the focus, or nothing that takes text has it. They can be kept to the floor alone: that is a choice on the sheet of keys." },
        { sheet: true },
      ],
    },
    figures: {
      lead: "Every figure that the program takes when you say nothing, what it means, and where it comes from. Most can be changed where they are shown.",
      parts: [
        { h: "Pieces and gaps" }, { figures: ["piece", "pitch", "across", "stagger", "band", "turn", "step", "clearance", "feeds"] },
        { h: "The fall" }, { figures: ["grip", "speed", "chance"] },
        { h: "Touch and gaps" }, { figures: ["hold", "counts", "accidents"] },
        { h: "Work and stock" }, { figures: ["hours", "mass", "crates", "spare", "alike", "reach"] },
        { h: "Pictures" }, { figures: ["goal", "difference", "distance", "eye", "fewer", "weight", "contrast"] },
      ],
    },
    safety: {
      lead: "What the program cannot see, and where others have the say. Local codes, the owner of the hall and licensed practice always come first.",
      parts: [
        { caution: "Overhead lines and rigging: nothing is hung, driven or hoisted because a plan shows it. Lines and loads above people belong to a licensed rigger." },
        { caution: "Aisles and exits: doors, escape ways and fire posts stay free for as long as anybody is in the hall, also on the night before the fall." },
        { caution: "Lifting: a crate of 500 pieces weighs more than 4 kg and a pallet of them far more. Weigh, share, and use a trolley." },
        { caution: "Cutting planks and boards: with guarded tools, eye protection and somebody trained for them." },
        { caution: "Long hours on the knees: pads, changes of task and breaks are part of the schedule." },
        { caution: "Tablets: use --lan only in a network whose guests you know. Without it the program speaks to this machine alone." },
      ],
    },
  },
  figures: {
    piece: { what: "The size and the mass of one piece: height, width, thickness.", usual: "48 × 24 × 7.5 mm, 8.5 g", source: "Reported sizes. Measure yours, and weigh a hundred of them." },
    pitch: { what: "From the middle of one piece to the middle of the next along the fall. Less the thickness it leaves the gap.", usual: "15 mm, which leaves 7.5 mm clear between usual pieces", source: `${PRACTICE} It is what usual combs leave; lines of 6 000 pieces at 5 to 9 mm clear ran without a stop in own runs of a rigid-body model.` },
    across: { what: "From the middle of one lane to the middle of the next.", usual: "25 mm in fields, 26 mm in lines; from 26 mm on usual lanes stand 2 mm apart", source: `25 to 27 mm are common practice. Lanes 2 to 4 mm apart never took one another along in 360 runs; at 1 mm and less up to 9 of 10 did. ${RUNS}` },
    stagger: { what: "How far every second lane is shifted along the fall.", usual: "0 mm, no shift", source: "A choice of shape; nothing is assumed." },
    band: { what: "The clear gaps, face to face, that lines are known to run at.", usual: "5 to 36 mm with a comb, 7.5 to 36 mm by hand, for usual pieces", source: `With a comb 0 stops in 6 000 pieces each at 5 to 9 mm; by hand 0 stops in 48 000 at 7.5 mm. Above 40 mm feet slide back on slick floors. ${RUNS}` },
    turn: { what: "How far one piece may be turned against the one before it.", usual: "30° always ran; from 45° on some stopped, at 90° all did", source: RUNS },
    step: { what: "How high one step of a bridge may be.", usual: "7.5 mm; 15 mm with two pieces or more on each step", source: `27 of 27 runs climbed 7.5 mm, 18 of 18 climbed 15 mm with two pieces a step; steps of 22.5 mm stopped 44 of 54. ${RUNS}` },
    clearance: { what: "Room above pieces that stand under planks, tables and decks.", usual: "55 mm for usual pieces", source: "A turning piece of 48 mm sweeps 48.6 mm, its diagonal. The rest, for boards that sag and pieces that hop, is common practice without a source." },
    feeds: { what: "How sure and how slow each way of feeding a field is.", usual: "16 runs of 5 lanes for each case", source: RUNS },
    grip: { what: "Friction of a piece on the floor and of a piece on a piece. The floor decides how far fallen pieces slide, the piece how fast the wave runs.", usual: "floor 0.15 to 0.3, piece 0.06 to 0.2", source: "From slick to normal floors; pieces as in filmed lines that ran at 0.95 to 1.25 m/s at a gap of 7.5 mm." },
    speed: { what: "How long the wave takes from piece to piece.", usual: "a range, until a line of your own was timed", source: "A model of leaning pieces, measured against rigid-body runs, not against film." },
    chance: { what: "The chance that a piece stops the fall for reasons that no model has: warped, sticky or badly set.", usual: "1 in 100 000 for each piece, more at narrow and wide gaps", source: `The rate is common practice without a source; what is added at each gap comes from own runs of a rigid-body model.` },
    hold: { what: "Whether an opening stops the fall.", usual: "the worst floor of the range counts", source: `10 to 40 runs with two engines of rigid bodies for each opening, on floors of 0.15 to 0.3. Nothing was measured on real pieces: on the floor at hand a test is worth more.` },
    counts: { what: "How many pieces fall after one touch.", usual: "exact in plans of usual size; in large ones within about 13 %, the worst places exact", source: "The bound of the estimate itself (one standard error)." },
    accidents: { what: "How many accidents are reckoned with when gaps are proposed.", usual: "one for every 10 000 pieces, at least one", source: "Crews tell of one for every 3 000 to 20 000 pieces placed: working figures, no source." },
    hours: { what: "Net hours of hands on pieces, without breaks, sorting and mending.", usual: "800 to 1 200 pieces an hour and person, and 1.5 to 3 s for each change of colour", source: "From memory of builders, not measured. Time your own crew for an hour." },
    mass: { what: "The mass of all pieces together.", usual: "8.5 g a piece where the stock list has no mass_g", source: "Reported: 8 to 8.5 g. Weigh a hundred of your own." },
    crates: { what: "How many crates leave the store.", usual: "1 000 pieces a crate where the stock list has no crate_size", source: "Common practice: 1 000 to 1 500." },
    spare: { what: "The share of a lot that is kept back for broken and lost pieces.", usual: "0, unless the stock list says more; at most half", source: "Nothing is assumed." },
    alike: { what: "Colours that get confused when they are sorted or called.", usual: "told below a difference of 7; below 5 they are hard to tell apart", source: PRACTICE },
    difference: { what: "How far two colours lie apart as the eye sees them, CIEDE2000.", usual: "0 is the same, 1 is just seen side by side, 10 is plain", source: "Formula: G. Sharma, W. Wu, E. N. Dalal, “The CIEDE2000 color-difference formula: implementation notes”, 2005. The words for 1 and 10 are common practice." },
    distance: { what: "From how far the picture is looked at. From farther away the eye mixes more pieces to one tone.", usual: "20 m", source: PRACTICE },
    eye: { what: "How high the eye is above the field when standing pieces are seen from the side.", usual: "1.6 m, somebody who stands", source: PRACTICE },
    goal: { what: "Exact: the least sum of differences cell by cell, proven. As seen: what the eye mixes at that distance.", usual: "as seen", source: "A choice; both can be compared as variants." },
    fewer: { what: "How much difference is given for longer runs of one colour, which are placed faster.", usual: "0, the picture alone counts", source: "A choice; each variant shows its price." },
    weight: { what: "Which field gets a scarce colour first.", usual: "the same for all fields", source: "A choice." },
    contrast: { what: "Flatter or harder than the picture is.", usual: "0, the picture as it is", source: "A choice." },
    reach: { what: "How far a kneeling builder sets pieces with precision.", usual: "600 mm", source: "Common practice: 500 to 600 mm are comfortable, 700 mm is the limit." },
  },
};
