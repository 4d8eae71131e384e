/** An invented plan for the fake server: six fields from a spring to the sea, sixteen colours. */

const COLOURS = [
  ["Chalk", "W", "#f3f1ea"], ["Cream", "C", "#ead9ae"], ["Yellow", "Y", "#f2c41f"], ["Mandarin", "M", "#ee7d22"],
  ["Red", "R", "#c8262d"], ["Pink", "P", "#ec92b0"], ["Violet", "V", "#6c4ba3"], ["Navy", "N", "#1c2c5f"],
  ["Blue", "B", "#1f63c4"], ["Sky", "S", "#7cbde6"], ["Teal", "T", "#0d7d82"], ["Green", "G", "#1d7f41"],
  ["Lime", "L", "#97c63b"], ["Earth", "E", "#5d3b25"], ["Ash", "A", "#8b9195"], ["Black", "K", "#18191b"],
];
const hex = (s) => [1, 3, 5].map((i) => parseInt(s.slice(i, i + 2), 16));
export const RGB = [[35, 36, 31], ...COLOURS.map((c) => hex(c[2]))];
const lum = (c) => 0.3 * c[0] + 0.59 * c[1] + 0.11 * c[2];

export const colours = COLOURS.map(([name, code, front], i) => ({
  id: i + 1, name, code, front, back: front, edge: front, ink: lum(RGB[i + 1]) > 125 ? "#000000" : "#ffffff",
}));

const mix = (a, b, t) => a.map((v, i) => v + (b[i] - v) * Math.min(1, Math.max(0, t)));

/** The scene in true colours at u, v of 0 to 1 from the top left; each field looks a little different. */
export function scene(seed, u, v) {
  const dusk = seed % 2 === 1;
  const sky = dusk ? mix([40, 40, 100], [240, 150, 160], v * 1.8) : mix([90, 160, 220], [230, 235, 225], v * 1.8);
  const hill = 0.55 + 0.12 * Math.sin(u * 5 + seed) + 0.04 * Math.sin(u * 17 + seed * 3);
  const sun = Math.hypot((u - 0.2 - 0.1 * (seed % 6)) * 1.4, v - 0.3);
  if (v < hill) return sun < 0.1 ? [245, 200, 50] : sky;
  const river = Math.abs(u - 0.5 - 0.25 * Math.sin(v * 6 + seed)) < 0.05 + (v - hill) * 0.35;
  if (river) return mix([40, 110, 200], [20, 50, 110], Math.sin(v * 60 + Math.sin(u * 20) * 3) * 0.5 + 0.5);
  const roof = Math.abs(((u * 7 + seed) % 1) - 0.5) < 0.5 - (v - hill) * 4 && v < hill + 0.12;
  if (roof) return seed % 3 ? [190, 50, 45] : [95, 60, 40];
  return mix([60, 140, 60], [150, 190, 70], Math.sin(u * 30 + v * 18 + seed) * 0.5 + 0.5);
}

const wish = () => ({
  goal: "exact", seen_as: "standing", seen_from: 8000, eye_height: 1650, eye_bearing: 180,
  fewer_changes: 0.35, weight: 100, allowed: null,
});

let next = 7;
export function makeField(id, name, lanes, ranks, fall, picture, extra = {}) {
  const body = {
    is: "field", lanes, ranks, pitch_along: 15, pitch_across: 25, stagger: 0, fall, picture,
    picture_name: picture ? `${name.toLowerCase()}.png` : "", contrast: 0, wish: wish(), by_hand: 0,
    runs_per_lane: 41.2, difference: picture ? 6.3 : null, difference_seen: picture ? 3.1 : null,
    pieces_seen_singly: false, look: `${id}-0`, ...extra,
  };
  return sized({ id, name, section: "", pieces: lanes * ranks, x: 0, y: 0, heading: 0, hours: [0, 0], body });
}

export function sized(item) {
  const b = item.body;
  const across = b.fall === "right" || b.fall === "left";
  b.columns = across ? b.ranks : b.lanes;
  b.rows = across ? b.lanes : b.ranks;
  b.size = [b.ranks * b.pitch_along, b.lanes * b.pitch_across];
  item.hours = [item.pieces / 680, item.pieces / 440];
  return item;
}

/** Picture column and row of the piece at a lane and rank. */
export function cellOf(b, lane, rank) {
  if (b.fall === "right") return [rank, b.lanes - 1 - lane];
  if (b.fall === "up") return [b.lanes - 1 - lane, b.ranks - 1 - rank];
  if (b.fall === "left") return [b.ranks - 1 - rank, lane];
  return [lane, rank];
}

/** Nearest colour for every cell, with a little spread of the error along each lane. */
export function matched(item, allowed) {
  const b = item.body;
  const out = new Uint16Array(b.lanes * b.ranks);
  const from = allowed ?? colours.map((c) => c.id);
  for (let l = 0; l < b.lanes; l++) {
    let error = [0, 0, 0];
    for (let r = 0; r < b.ranks; r++) {
      const [c, w] = cellOf(b, l, r);
      const want = scene(item.id, (c + 0.5) / b.columns, (w + 0.5) / b.rows).map((v, i) => v + error[i] * 0.7);
      let best = 0;
      let least = Infinity;
      for (const id of from) {
        const d = RGB[id].reduce((s, v, i) => s + (v - want[i]) ** 2, 0);
        if (d < least) [best, least] = [id, d];
      }
      error = want.map((v, i) => Math.max(-60, Math.min(60, v - RGB[best][i])));
      out[l * b.ranks + r] = b.picture ? best : 0;
    }
  }
  return out;
}

export function freshPlan(empty) {
  const items = empty
    ? []
    : [
        makeField(1, "Spring", 45, 120, "right", 1),
        makeField(2, "Mill", 66, 150, "right", 2),
        makeField(3, "Town", 81, 240, "right", 3),
        makeField(4, "Bridge", 122, 152, "up", 4),
        makeField(5, "Lighthouse", 60, 100, "left", 5),
        makeField(6, "Sea", 90, 200, "down", 6),
        { id: 7, name: "Mill wheel", section: "B", pieces: 1200, x: 0, y: 0, heading: 0, hours: [6, 9],
          body: { is: "placeholder", length: 1200, width: 800, height: 400, who: "Omar" } },
      ];
  const cells = new Map(items.filter((i) => i.body.is === "field").map((i) => [i.id, matched(i, null)]));
  const owned = colours.map((c, i) => 4000 + ((i * 2657) % 9) * 1000);
  owned[9] = 6750;
  return { name: empty ? "" : "From Spring to Sea", items, cells, owned, gear: [], hands: new Map() };
}

export const nextId = () => ++next;
