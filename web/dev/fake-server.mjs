/**
 * A stand-in for the server while the pages are made: plausible answers, nothing computed with care, never shipped.
 * `node dev/fake-server.mjs [--port 7327] [--dist dist] [--empty] [--crew]`
 */
import { createHash } from "node:crypto";
import { existsSync, readFileSync } from "node:fs";
import { createServer } from "node:http";
import { extname, join } from "node:path";
import { cellOf, colours, freshPlan, makeField, matched, nextId, RGB, scene, sized } from "./fake-plan.mjs";
import { fallReport, floorPlan, hallColumns, KIND, laidOut, pieceInfo, piecesOf, timeColumns, touchColumns } from "./fake-hall.mjs";
import { png } from "./fake-png.mjs";

const option = (name, usual) => {
  const at = process.argv.indexOf(`--${name}`);
  return at < 0 ? usual : process.argv[at + 1];
};
const port = Number(option("port", 7327));
const dist = option("dist", null);
let plan = freshPlan(process.argv.includes("--empty"));
const role = process.argv.includes("--crew") ? "crew" : "planner";
const past = [];
const future = [];
let change = 812;
const sockets = new Set();
const jobs = new Map();
const variants = new Map();
const pictures = new Map();
/** The picture of a change: one of the plan, or one that comes with it. */
const shown = (ask) => (ask.shows ? Number(ask.shows.sha256) : ask.picture);
let nextJob = 1;
let writable = true;

const time = () => new Date().toTimeString().slice(0, 8);
let savedAt = time();
const saved = () => ({ change, at: savedAt, writable });
const fields = () => plan.items.filter((i) => i.body.is === "field");
const needed = () => {
  const n = new Array(colours.length + 1).fill(0);
  for (const cells of plan.cells.values()) for (const c of cells) n[c]++;
  return n;
};

/** The pieces of the present change. */
let stood = { change: -1 };
const standing = () => {
  const items = laidOut(plan.items);
  if (stood.change !== change) stood = { change, items, pieces: piecesOf(items, plan.cells) };
  return stood;
};

/** No key that the pages know: they show the English text then. */
const UNSAID = Object.fromEntries(["place", "message", "hint"].map((name) => [name, { key: "", args: {} }]));

function state() {
  const pieces = plan.items.reduce((s, i) => s + i.pieces, 0);
  const n = needed();
  const items = laidOut(plan.items);
  const placeOf = (id) => items.find((i) => i.id === id)?.outline[0] ?? null;
  const short = colours.filter((c) => n[c.id] > plan.owned[c.id - 1]);
  const findings = short.map((c) => ({
    code: "stock-short", severity: "must", item: null, place: c.name, at: null,
    message: `${c.name} is short by ${n[c.id] - plan.owned[c.id - 1]}.`, hint: "Match again, or see the ways out under Stock.",
  }));
  if (plan.items.length) {
    findings.push({ code: "colours-alike", severity: "note", item: 2, place: "Mill", at: placeOf(2),
      message: "Teal and Green look alike in hall light. They touch in 14 lanes of Mill.", hint: "Leave Teal out of Mill." });
    findings.push({ code: "picture-singly", severity: "should", item: 3, place: "Town", at: placeOf(3),
      message: "Single pieces are seen in Town from 8 m.", hint: "Match it as seen, or look from 12 m." });
  }
  return {
    name: plan.name, hall: plan.items.length ? "Larkmeadow Hall" : "", floor: "#b9a88a", floor_plan: floorPlan(items), surfaces: [], kinds: [KIND], file: "spring-to-sea.standfast", project: "0".repeat(64),
    saved: saved(), notes: writable ? [] : ["The disk is full. Nothing is saved since change 811."],
    undo: past.at(-1)?.label ?? null, redo: future.at(-1)?.label ?? null, colours, gear: plan.gear, items,
    cost: { pieces, hours: [pieces / 680, pieces / 440], mass: (pieces * 8.5) / 1000, crates: Math.ceil(pieces / 1200),
      changes: 24000, assumed: 1200 / Math.max(1, pieces) },
    findings: findings.map((f) => ({ ...f, said: UNSAID, mend: false })), found: change, role,
  };
}

function stock() {
  const n = needed();
  const rows = colours.map((c) => {
    const owned = plan.owned[c.id - 1];
    const takers = fields().map((i) => [i.id, plan.cells.get(i.id).filter((v) => v === c.id).length]).filter((t) => t[1]);
    return {
      colour: c.id, kind: "48 × 24 × 7.5 mm", needed: n[c.id], wanted: n[c.id] + 120, owned, usable: Math.round(owned * 0.97),
      offered: c.id === 10 ? 500 : 0, crates: Math.ceil(n[c.id] / 1200),
      lots: [
        { id: c.id * 2, batch: "1", owner: "Ines", count: Math.round(owned * 0.66), offered: 0, thickness: 7.52, spare: 0.03 },
        { id: c.id * 2 + 1, batch: "2", owner: "Omar", count: owned - Math.round(owned * 0.66), offered: c.id === 10 ? 500 : 0, thickness: null, spare: 0.03 },
      ],
      takers,
    };
  });
  rows.sort((a, b) => a.usable - a.needed - (b.usable - b.needed));
  const short = rows.filter((r) => r.needed > r.usable);
  const words = ["No colour is", "One colour is", "Two colours are", "Three colours are"];
  return {
    headline: `${words[short.length] ?? `${short.length} colours are`} short`,
    needed: n.slice(1).reduce((a, b) => a + b, 0), owned: plan.owned.reduce((a, b) => a + b, 0),
    usable: Math.round(plan.owned.reduce((a, b) => a + b, 0) * 0.97), rows,
    ways_out: short.flatMap((r) => [
      { is: "other-colour", from: r.colour, to: (r.colour % 16) + 1, pieces: r.needed - r.usable, difference: [3.4, 3.6] },
      ...(r.offered ? [{ is: "borrow", colour: r.colour, lot: r.lots[1].id, owner: "Omar", pieces: 500 }] : []),
      { is: "buy", colour: r.colour, pieces: r.needed - r.usable, worth: 0.8 },
      ...(r.takers.length ? [{ is: "smaller-fields", fields: [[r.takers[0][0], 40, 110]] }] : []),
    ]),
    alike: [{ a: 11, b: 12, why: "under warm hall light", said: { key: "", args: {} }, difference: 4.1 }, { a: 8, b: 16, why: "in half light", said: { key: "", args: {} }, difference: 3.2 }],
  };
}

function picture(item, view, scale, cells) {
  const b = item.body;
  const s = Math.max(1, Math.min(scale, 8));
  const [sw, sh] = b.fall === "right" || b.fall === "left" ? [b.pitch_along, b.pitch_across] : [b.pitch_across, b.pitch_along];
  const width = Math.round(b.columns * s);
  const height = Math.round(b.rows * s * (sh / sw));
  const at = new Uint16Array(b.columns * b.rows);
  for (let l = 0; l < b.lanes; l++)
    for (let r = 0; r < b.ranks; r++) {
      const [c, w] = cellOf(b, l, r);
      at[w * b.columns + c] = cells[l * b.ranks + r];
    }
  return png(width, height, (x, y) => {
    const u = (x + 0.5) / width;
    const v = (y + 0.5) / height;
    if (view === "source") return scene(item.id, u, v);
    const cx = u * b.columns;
    const cy = v * b.rows;
    const c = RGB[at[Math.floor(cy) * b.columns + Math.floor(cx)]];
    if (view === "laid") return c;
    const [fx, fy] = [cx % 1, cy % 1];
    if (view === "above") return Math.abs(fx - 0.5) < 0.25 ? c : RGB[0];
    const shade = view === "standing" ? 1 - 0.25 * fy : 0.8 + 0.2 * fx;
    return c.map((q) => q * shade);
  });
}

function tell(news) {
  const body = Buffer.from(JSON.stringify(news));
  const head = body.length < 126 ? Buffer.from([0x81, body.length]) : Buffer.from([0x81, 126, body.length >> 8, body.length & 255]);
  for (const socket of sockets) socket.write(Buffer.concat([head, body]));
}

const copy = () => ({ ...plan, items: structuredClone(plan.items), cells: new Map(plan.cells), owned: [...plan.owned] });
const refuse = (status, code, message) => Object.assign(new Error(message), { status, code });

function moved(label, items) {
  change += 1;
  savedAt = time();
  tell({ is: "changed", saved: saved(), label, items });
  return { saved: saved(), label, added: null };
}

function doChange(ask) {
  const before = copy();
  const item = ask.item ? plan.items.find((i) => i.id === ask.item) : null;
  let label = ask.do;
  let added = null;
  const relook = () => { item.body.look = `${item.id}-${change + 1}`; };
  if (ask.do === "add-field") {
    added = nextId();
    const field = makeField(added, ask.name, ask.lanes, ask.ranks, ask.fall, shown(ask));
    plan.items.push(field);
    plan.cells.set(added, new Uint16Array(ask.lanes * ask.ranks));
    label = `Add field ${ask.name}`;
  } else if (ask.do === "wish") {
    item.body.wish = ask.wish;
    relook();
    label = `Change the goal of ${item.name}`;
  } else if (ask.do === "frame") {
    if (ask.pitch_along < 9) throw refuse(422, "pitch-small", "A piece is 7.5 mm thick. Use a pitch of at least 9 mm.");
    Object.assign(item.body, { lanes: ask.lanes, ranks: ask.ranks, pitch_along: ask.pitch_along, pitch_across: ask.pitch_across, stagger: ask.stagger, fall: ask.fall });
    item.pieces = ask.lanes * ask.ranks;
    sized(item);
    plan.cells.set(item.id, matched(item, null));
    relook();
    label = `Change the frame of ${item.name}`;
  } else if (ask.do === "picture") {
    Object.assign(item.body, { picture: shown(ask), contrast: ask.contrast });
    relook();
    label = `Change the picture of ${item.name}`;
  } else if (ask.do === "place") {
    item.name = ask.name;
    label = `Name ${ask.name}`;
  } else if (ask.do === "remove") {
    plan.items = plan.items.filter((i) => i !== item);
    plan.cells.delete(ask.item);
    label = `Remove ${item.name}`;
  } else if (ask.do === "paint") {
    const cells = plan.cells.get(ask.item).slice();
    if (ask.colour !== null) for (const c of ask.cells) cells[c] = ask.colour;
    plan.cells.set(ask.item, cells);
    item.body.by_hand = ask.colour === null ? Math.max(0, item.body.by_hand - ask.cells.length) : item.body.by_hand + ask.cells.length;
    relook();
    label = `Set ${ask.cells.length} cells of ${item.name}`;
  } else if (ask.do === "count") {
    plan.owned[Math.floor(ask.lot / 2) - 1] = ask.count + 2000;
    label = "Count a lot";
  } else if (ask.do === "put-gear") {
    const id = ask.id ?? nextId();
    if (ask.id === null) added = id;
    plan.gear = [...plan.gear.filter((g) => g.id !== id), { id, ...ask.gear }].sort((a, b) => a.id - b.id);
    label = `Put gear ${ask.gear.name}`;
  } else if (ask.do === "remove-gear") {
    plan.gear = plan.gear.filter((g) => g.id !== ask.id);
    label = "Remove gear";
  } else if (ask.do === "stock-list") {
    if (!ask.text.startsWith("name,")) throw refuse(422, "stock-list", `${ask.file}, line 1: the first line names the columns. Begin with "name,code,hex,count". Nothing was changed.\n${ask.file}, line 12: "-40" is not a count. Put 0 or more and drop the file again.`);
    label = `Take ${ask.file} as the stock`;
  }
  past.push({ label, plan: before });
  future.length = 0;
  return { ...moved(label, item ? [item.id] : []), added };
}

function swap(from, to) {
  const step = from.pop();
  if (!step) throw refuse(409, "nothing", "There is nothing to take back.");
  to.push({ label: step.label, plan: copy() });
  plan = step.plan;
  return moved(step.label, []);
}

function startMatch(ask) {
  const id = nextJob++;
  const items = ask.items.map((i) => plan.items.find((x) => x.id === i));
  const job = { id, kind: "match", odds: null, what: `Matching ${items.map((i) => i.name).join(", ")}`, stage: "Comparing colours", share: 0, over: false, stopped: false, trouble: null, variant: null };
  jobs.set(id, job);
  const goal = ask.goal ?? items[0].body.wish.goal;
  const fewer = ask.fewer_changes ?? items[0].body.wish.fewer_changes;
  const timer = setInterval(() => {
    job.share = Math.min(1, job.share + 0.125);
    job.stage = job.share < 0.5 ? "Comparing colours" : "Sharing the stock";
    if (job.share >= 1 || job.stopped) {
      clearInterval(timer);
      job.over = true;
      const made = new Map(items.map((i) => [i.id, matched(i, i.body.wish.allowed)]));
      const pieces = items.reduce((s, i) => s + i.pieces, 0);
      const sum = Math.round(pieces * (goal === "exact" ? 6290 : 7100));
      job.variant = { id: id + 100, goal, fewer_changes: fewer, objective: goal === "exact" ? sum : null, bound: goal === "exact" ? sum : null,
        difference: 6.3 + fewer, difference_seen: 2.5 + fewer * 1.7, runs_per_lane: 54 - fewer * 12, hours: [pieces / 700, pieces / 460],
        used: [[1, 200]], seconds: [["match", 1.2]], laid: false, items: ask.items };
      variants.set(job.variant.id, { ...job.variant, made });
    }
    tell({ is: "job", job });
  }, 250);
  return job;
}

function runs(item, n) {
  const b = item.body;
  const cells = plan.cells.get(item.id).subarray((n - 1) * b.ranks, n * b.ranks);
  const calls = [];
  let laid = 0;
  for (let i = 0; i < cells.length; ) {
    let j = i;
    while (j < cells.length && cells[j] === cells[i] && j - i < 30) j++;
    if (cells[i]) laid += j - i;
    calls.push({ colour: cells[i], count: j - i, laid, from: i + 1 });
    i = j;
  }
  return { number: n, calls, places: b.ranks, total: laid };
}

function sheetPage(n) {
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 210 297"><rect width="210" height="297" fill="#fff"/><text x="15" y="25" font-size="8" font-family="sans-serif">Sheet ${n}</text>${Array.from({ length: 20 }, (_, i) => `<text x="15" y="${45 + i * 12}" font-size="6" font-family="sans-serif">${i + 1}  C 22  K 6  C 3 = 31</text>`).join("")}</svg>`;
}

const read = (request) =>
  new Promise((done) => {
    const parts = [];
    request.on("data", (d) => parts.push(d));
    request.on("end", () => done(Buffer.concat(parts)));
  });

const columns = (of) => ["application/octet-stream", of(standing().pieces, change)];

async function api(request, url) {
  if (request.method !== "GET" && request.headers["x-standfast"] !== "1") throw refuse(403, "header", "The header X-Standfast is missing.");
  const parts = url.pathname.split("/").slice(2);
  const q = url.searchParams;
  const bytes = request.method === "POST" ? await read(request) : null;
  const body = bytes?.length && request.headers["content-type"] === "application/json" ? JSON.parse(bytes) : null;
  const item = (id) => fields().find((i) => i.id === Number(id)) ?? (() => { throw refuse(404, "no-field", `There is no field ${id}.`); })();
  switch (`${request.method} ${parts[0]}`) {
    case "GET state": return state();
    case "GET stock": return stock();
    case "GET lan": return { open: true, addresses: ["http://192.168.7.4:7327", "http://larkmeadow.local:7327"], crew_code: "4827", planner_code: "913 406", qr: '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 7 7"><rect width="7" height="7" fill="#fff"/><path d="M1 1h2v2H1zM4 1h2v2H4zM1 4h2v2H1zM4 4h1v1H4zM5 5h1v1H5z"/></svg>' };
    case "POST join": if (body.code !== "4827") throw refuse(403, "code", "This code is not known. Look at the planner's screen."); return null;
    case "POST do": return doChange(body);
    case "POST undo": return swap(past, future);
    case "POST redo": return swap(future, past);
    case "GET steps": {
      const row = (of, i, undo, redo) => ({ change: i, at: "2026-05-01T14:03:22Z", who: "planner", label: of.label, did: redo === null ? "do" : "undo", undo, redo });
      const again = future.map((s, i) => row(s, past.length + future.length - i, null, future.length - i));
      const stands = [...past].reverse().map((s, i) => row(s, past.length - i, i, null));
      const rows = [...again, ...stands];
      const skip = Number(q.get("skip") ?? 0);
      return { rows: rows.slice(skip, skip + Number(q.get("most") ?? 100)), all: rows.length, undo: past.length, redo: future.length };
    }
    case "POST match": return startMatch(body);
    case "GET job": return jobs.get(Number(parts[1])) ?? (() => { throw refuse(404, "no-job", "There is no such job."); })();
    case "POST job": jobs.get(Number(parts[1])).stopped = true; return null;
    case "POST variant": {
      const v = variants.get(Number(parts[1]));
      past.push({ label: "Lay a variant", plan: copy() });
      for (const [id, cells] of v.made) { plan.cells.set(id, cells); item(id).body.look = `${id}-${change + 1}`; }
      return moved("Lay a variant", v.items);
    }
    case "DELETE variant": variants.delete(Number(parts[1])); return null;
    case "GET variant": return ["image/png", picture(item(parts[2]), parts[3].replace(".png", ""), 2, variants.get(Number(parts[1])).made.get(Number(parts[2])))];
    case "POST pictures": {
      const name = decodeURIComponent(request.headers["x-file-name"] ?? "");
      if (!/\.(png|jpe?g|webp|gif)$/i.test(name)) throw refuse(415, "picture-kind", `${name} cannot be read. Save it as JPEG or PNG and drop it again. Nothing was changed.`);
      const id = pictures.size + 50;
      pictures.set(id, name);
      return { shows: { name, sha256: String(id) }, width: 1600, height: 900, notes: ["Turned upright."], notes_said: [null] };
    }
    case "GET field":
      if (parts[2] === "cells.bin") return ["application/octet-stream", Buffer.from(plan.cells.get(item(parts[1]).id).buffer.slice(0))];
      return ["image/png", picture(item(parts[1]), parts[3].replace(".png", ""), Number(q.get("scale") ?? 1), plan.cells.get(Number(parts[1])))];
    case "GET sheets": {
      if (parts[1] === "page") return ["image/svg+xml", Buffer.from(sheetPage(parts[2].replace(".svg", "")))];
      const chosen = (q.get("fields") ?? "").split(",").filter(Boolean).map(item);
      const total = chosen.reduce((s, i) => s + i.pieces, 0);
      return { pages: chosen.flatMap((i) => Array.from({ length: Math.ceil(i.body.lanes / 20) }, (_, k) => `${i.name}, lanes ${k * 20 + 1} to ${Math.min(i.body.lanes, k * 20 + 20)}`)), in_plan: total, on_sheets: total, placed: total, width: 210, height: 297 };
    }
    case "GET read": {
      const field = item(parts[1]);
      if (parts[2]) return runs(field, Number(parts[2]));
      return { item: field.id, name: field.name, units: field.body.lanes, unit: q.get("unit"), side: "You sit south and start at your left", change };
    }
    case "GET hall": return columns(hallColumns);
    case "GET touch": return columns(touchColumns);
    case "GET gaps": return { change, gaps: [] };
    case "GET fall": return parts[1] === "times" ? columns(timeColumns) : fallReport(standing().pieces, standing().items, change);
    case "GET piece": return pieceInfo(standing().pieces, Number(parts[1])) ?? (() => { throw refuse(404, "no-piece", `The plan has no piece ${parts[1]}.`); })();
    case "GET backup": return ["application/octet-stream", Buffer.from("fake")];
    case "GET test": writable = parts[1] !== "full"; moved("Test", []); return null;
    default: throw refuse(404, "nothing", "There is nothing here.");
  }
}

const KINDS = { ".html": "text/html", ".js": "text/javascript", ".css": "text/css", ".svg": "image/svg+xml", ".woff2": "font/woff2" };
const POLICY = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; font-src 'self'; connect-src 'self'; form-action 'none'; base-uri 'none'; frame-ancestors 'none'";

const server = createServer(async (request, response) => {
  const url = new URL(request.url, "http://x");
  try {
    if (url.pathname.startsWith("/api/")) {
      const made = await api(request, url);
      if (Array.isArray(made)) response.writeHead(200, { "Content-Type": made[0] }).end(made[1]);
      else response.writeHead(200, { "Content-Type": "application/json" }).end(JSON.stringify(made));
      return;
    }
    const file = dist && extname(url.pathname) ? join(dist, url.pathname) : dist && join(dist, "index.html");
    if (!file || !existsSync(file)) throw refuse(404, "nothing", "There is nothing here.");
    response.writeHead(200, { "Content-Type": KINDS[extname(file)] ?? "application/octet-stream", "Content-Security-Policy": POLICY });
    response.end(readFileSync(file));
  } catch (error) {
    if (!error.status) console.error(error);
    response.writeHead(error.status ?? 500, { "Content-Type": "application/json" });
    response.end(JSON.stringify({ code: error.code ?? "fault", message: error.message }));
  }
});
server.on("upgrade", (request, socket) => {
  const key = createHash("sha1").update(request.headers["sec-websocket-key"] + "258EAFA5-E914-47DA-95CA-C5AB0DC85B11").digest("base64");
  socket.write(`HTTP/1.1 101 Switching Protocols\r\nUpgrade: websocket\r\nConnection: Upgrade\r\nSec-WebSocket-Accept: ${key}\r\n\r\n`);
  sockets.add(socket);
  socket.on("close", () => sockets.delete(socket));
  socket.on("error", () => sockets.delete(socket));
  socket.on("data", () => undefined);
  tell({ is: "hello", saved: saved() });
});
server.listen(port, "127.0.0.1", () => console.log(`http://127.0.0.1:${server.address().port}/`));
