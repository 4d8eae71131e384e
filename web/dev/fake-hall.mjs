/** The hall of the fake server: where its pieces stand, a fall that runs through one field after another, and what a touch takes. */

const NEVER = 0xffff_ffff;
/** Fields stand so far apart, mm. */
const BESIDE = 600;
/** From rank to rank, µs. */
const STEP_US = 16_000;

export const KIND = { id: 1, name: "Standard", thickness: 7.5, width: 24, height: 48 };

/** Corners of a box from its south-west one. */
const box = (x, y, w, h) => [[x, y], [x + w, y], [x + w, y + h], [x, y + h]];

/** Gives all items their places in the hall, in one row from west to east. */
export function laidOut(items) {
  let x = 1_000;
  return items.map((item) => {
    const b = item.body;
    const [w, h] = b.is === "field" ? b.size : [b.length, b.width];
    const placed = {
      ...item, sort: b.is, x, y: 1_000, outline: box(x, 1_000, w, h), pitch: b.is === "field" ? [b.pitch_along, b.pitch_across] : [0, 0],
      ports: b.is === "field" ? [{ name: "entry", enters: true, at: [x, 1_000 + h / 2], heading: 0 }] : [], gaps: [],
    };
    x += w + BESIDE;
    return placed;
  });
}

export function floorPlan(items) {
  const ends = items.map((i) => i.outline[2]);
  const [w, h] = [Math.max(8_000, ...ends.map((p) => p[0] + 1_000)), Math.max(5_000, ...ends.map((p) => p[1] + 1_500))];
  return {
    outline: box(0, 0, w, h),
    parts: [
      { name: "P1", is: "pillar", outline: box(w / 2, h - 1_000, 400, 400), height: 6_000 },
      { name: "Exit 1", is: "exit", outline: box(w - 1_600, h - 1_000, 1_200, 1_000), height: 0 },
      { name: "Aisle", is: "aisle", outline: box(0, h - 1_400, w / 3, 400), height: 0 },
    ],
  };
}

/** All pieces as rows: item, lane, rank, place, colour; the fall of each field begins where the one before ends. */
export function piecesOf(items, cells) {
  const out = { items: [], rows: [] };
  // Nothing reaches the last field, so that something stays standing.
  const last = items.filter((i) => i.body.is === "field").at(-1);
  let begins = 0;
  for (const item of items) {
    out.items.push([item.id, out.rows.length]);
    const b = item.body;
    if (b.is !== "field") continue;
    for (let lane = 0; lane < b.lanes; lane++)
      for (let rank = 0; rank < b.ranks; rank++) {
        const colour = cells.get(item.id)[lane * b.ranks + rank];
        if (!colour) continue;
        const before = out.rows.at(-1);
        out.rows.push({
          item: item.id, lane, rank, colour, x: item.x + (rank + 0.5) * b.pitch_along, y: item.y + (lane + 0.5) * b.pitch_across,
          hit: item === last ? NEVER : begins + rank * STEP_US,
          from: item !== last && before?.item === item.id && before.lane === lane ? out.rows.length - 1 : NEVER,
          forward: b.ranks - rank, back: rank + 1,
        });
      }
    begins += b.ranks * STEP_US;
  }
  return out;
}

function columns(magic, change, numbers, parts) {
  const head = Buffer.alloc(16);
  head.write(magic, "latin1");
  [change, ...numbers].forEach((n, i) => head.writeUInt32LE(n, 4 + 4 * i));
  return Buffer.concat([head, ...parts.map((p) => Buffer.from(p.buffer))]);
}

export function hallColumns({ items, rows }, change) {
  const of = (Kind, value) => Kind.from(rows, value);
  return columns("HAL1", change, [rows.length, items.length], [
    Uint32Array.from(items.flat()),
    of(Float32Array, (r) => r.x), of(Float32Array, (r) => r.y), of(Float32Array, () => KIND.height / 2), of(Float32Array, () => 0),
    of(Uint16Array, (r) => r.colour), of(Uint16Array, () => KIND.id), of(Uint8Array, () => 0),
  ]);
}

const lastHit = (rows) => rows.reduce((most, r) => (r.hit === NEVER ? most : Math.max(most, r.hit)), 0);

export function timeColumns({ rows }, change) {
  return columns("FAL1", change, [rows.length, lastHit(rows)], [Uint32Array.from(rows, (r) => r.hit), Uint32Array.from(rows, (r) => r.from), new Uint8Array(rows.length)]);
}

export function touchColumns({ rows }, change) {
  const of = (value) => Uint32Array.from(rows, value);
  return columns("TCH1", change, [rows.length, 1], [of((r) => r.forward), of((r) => r.back), of((r) => Math.max(r.forward, r.back))]);
}

const named = (rows, piece) => ({ piece, item: rows[piece].item, lane: rows[piece].lane + 1, rank: rows[piece].rank + 1 });

export function fallReport({ rows }, items, change) {
  const fallen = rows.filter((r) => r.hit !== NEVER).length;
  const first = rows.findIndex((r) => r.hit === NEVER);
  const total = lastHit(rows) / 1e6;
  const stands = first < 0 ? [] : [{
    item: rows[first].item, lanes: [[1, items.find((i) => i.id === rows[first].item).body.lanes]], pieces: rows.length - fallen,
    why: "not-fed", gap: null, piece: named(rows, first), at: [rows[first].x, rows[first].y],
  }];
  return { change, pieces: rows.length, fallen, surely: fallen, starts: fallen ? 1 : 0, least: total * 0.9, most: total * 1.1, stands, per_second: [], arrivals: [] };
}

/** One piece in words; null when there is none. */
export function pieceInfo({ rows }, piece) {
  const r = rows[piece];
  if (!r) return null;
  const at = r.hit === NEVER ? null : r.hit / 1e6;
  return {
    name: named(rows, piece), colour: r.colour, kind: KIND.id, at, between: at === null ? null : [at * 0.9, at * 1.1],
    from: r.from === NEVER ? null : named(rows, r.from), back: false, heading: 0,
    touched_forward: r.forward, touched_back: r.back, touched_most: Math.max(r.forward, r.back),
  };
}
