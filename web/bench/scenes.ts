/** The pieces from above and in space beside the plain way to draw many of the same thing, in one browser one after the other. */
import { BoxGeometry, Color, InstancedMesh, Matrix4, MeshBasicMaterial, OrthographicCamera, PerspectiveCamera, PlaneGeometry, Scene, WebGLRenderer, type Camera } from "three";
import type { HallPieces } from "../src/kernels/columns";
import { motion } from "../src/kernels/topple";
import { FallScene } from "../src/views/fall/scene";
import { PiecesAbove } from "../src/views/plan/pieces";
import { nearness, type Sizes } from "../src/views/plan/sizes";
import type { State } from "../src/api/generated/State";

const SIZE = { width: 1280, height: 720 };
const [ALONG, ACROSS] = [15, 26];
const BODY = [7.5, 24, 48] as const;

/** Fields of 100 x 100 pieces side by side, as a hall full of pictures has them. */
function hall(n: number): HallPieces {
  const made: HallPieces = {
    change: 1, n, items: [], x: new Float32Array(n), y: new Float32Array(n), z: new Float32Array(n).fill(24), yaw: new Float32Array(n),
    colour: new Uint16Array(n), kind: new Uint16Array(n), pose: new Uint8Array(n),
  };
  const wide = Math.ceil(Math.sqrt(n / 10_000));
  for (let p = 0; p < n; p++) {
    const [f, i] = [Math.floor(p / 10_000), p % 10_000];
    made.x[p] = (f % wide) * 110 * ALONG + (i % 100) * ALONG;
    made.y[p] = Math.floor(f / wide) * 110 * ACROSS + Math.floor(i / 100) * ACROSS;
    made.yaw[p] = f % 3;
    made.colour[p] = 1 + ((p * 7919) % 12);
    if (i === 0) made.items.push({ id: f + 1, first: p, count: Math.min(10_000, n - p) });
  }
  return made;
}
const SIZES: Sizes = { piece: () => [BODY[0], BODY[1]], cell: () => [ALONG, ACROSS], hides: () => false, least: ALONG };
const tint = (c: number) => ((c * 2_654_435_761) >>> 8) & 0xffffff;

/** Milliseconds a frame, the middle of several: all that was asked is drawn when a pixel is read back. */
function frames(canvas: HTMLCanvasElement, draw: (i: number) => void, least = 3): number {
  const gl = canvas.getContext("webgl2")!;
  const pixel = new Uint8Array(4);
  const took: number[] = [];
  const began = performance.now();
  for (let i = 0; took.length < least + 1 || (performance.now() - began < 1_500 && took.length < 40); i++) {
    const at = performance.now();
    draw(i);
    gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, pixel);
    took.push(performance.now() - at);
  }
  // The first one compiles.
  return took.slice(1).sort((a, b) => a - b)[Math.floor((took.length - 1) / 2)]!;
}
function canvas(): HTMLCanvasElement {
  const made = document.createElement("canvas");
  document.body.replaceChildren(made);
  return made;
}

function span(pieces: HallPieces): [number, number] {
  return [Math.max(...[0, pieces.n - 1].map((p) => pieces.x[p]!), Math.sqrt(pieces.n / 10_000) * 110 * ALONG), Math.sqrt(pieces.n / 10_000) * 110 * ACROSS];
}

/** The peer: one instanced mesh of the library, a matrix and a colour each. */
function plain(pieces: HallPieces, box: boolean, camera: Camera): number {
  const on = canvas();
  const renderer = new WebGLRenderer({ canvas: on, antialias: true });
  renderer.setSize(SIZE.width, SIZE.height, false);
  const mesh = new InstancedMesh(box ? new BoxGeometry(...BODY) : new PlaneGeometry(BODY[0], BODY[1]), new MeshBasicMaterial(), pieces.n);
  const [matrix, colour] = [new Matrix4(), new Color()];
  for (let p = 0; p < pieces.n; p++) {
    mesh.setMatrixAt(p, matrix.makeRotationZ(pieces.yaw[p]!).setPosition(pieces.x[p]!, pieces.y[p]!, box ? 24 : 0));
    mesh.setColorAt(p, colour.setHex(tint(pieces.colour[p]!)));
  }
  mesh.frustumCulled = false;
  const scene = new Scene();
  scene.add(mesh);
  const ms = frames(on, () => renderer.render(scene, camera), 2);
  mesh.dispose();
  renderer.dispose();
  renderer.forceContextLoss();
  return ms;
}

function above(pieces: HallPieces) {
  const [wide, deep] = span(pieces);
  const on = canvas();
  const ours = new PiecesAbove(on);
  const began = performance.now();
  ours.load(pieces, SIZES);
  ours.paint((p) => tint(pieces.colour[p]!));
  const load = performance.now() - began;
  const scale = Math.min(SIZE.width / wide, SIZE.height / deep);
  const shown = (s: number) => frames(on, (i) => ours.draw({ scale: s, x: wide / 2 + i, y: deep / 2 }, SIZE, nearness(s * ALONG)));
  // Another scale each time, so that no picture is kept.
  const all = frames(on, (i) => ours.draw({ scale: scale * (1 + 1e-5 * i), x: wide / 2, y: deep / 2 }, SIZE, nearness(scale * ALONG), true));
  const [moved, near] = [shown(scale), shown(1)];
  const { calls } = ours.cost;
  ours.end();
  const flat = new OrthographicCamera(-wide / 2, wide / 2, deep / 2, -deep / 2, -1, 1);
  flat.position.set(wide / 2, deep / 2, 0);
  return { load, all, moved, near, calls, bytes: ours.bytesOf(pieces.n), plain: plain(pieces, false, flat) };
}

function space(pieces: HallPieces) {
  const [wide, deep] = span(pieces);
  const hit = Uint32Array.from(pieces.x, (x) => x * 300);
  const times = { change: 1, n: pieces.n, last: 0, hit, from: new Uint32Array(pieces.n).fill(0xffff_ffff), way: new Uint8Array(pieces.n) };
  const state = { kinds: [{ id: 0, name: "", thickness: BODY[0], width: BODY[1], height: BODY[2] }], colours: Array.from({ length: 13 }, (_, id) => ({ id, front: "#c08040", back: "#8040c0", edge: "#40c080" })), floor_plan: { outline: [], parts: [] }, surfaces: [], items: [] } as unknown as State;
  const on = canvas();
  const scene = new FallScene(on);
  const began = performance.now();
  const tones = { scene: "#101010", second: "#181818", line: "#444444", text: "#ffffff", must: "#ff7060", lamp: "#ffcc40" };
  scene.load({ pieces, times, motion: motion(pieces, times, () => ({ thickness: BODY[0], height: BODY[2] })), slopes: null, state, tones, known: true });
  const load = performance.now() - began;
  const eye = { at: [wide / 2, -0.35 * deep, 0.75 * deep] as [number, number, number], look: [wide / 2, deep / 2, 0] as [number, number, number], tall: 42 };
  const walk = { at: [wide / 2, deep / 2 - 600, 300] as [number, number, number], look: [wide / 2, deep / 2 + 600, 0] as [number, number, number], tall: 42 };
  const end = Math.max(...[pieces.n - 1].map((p) => hit[p]! / 1e6), 1);
  const all = frames(on, (i) => scene.draw(SIZE, eye, (i % 20) * 0.05 * end, { ratio: 1, dim: 1 }));
  const close = frames(on, (i) => scene.draw(SIZE, walk, (i % 20) * 0.05 * end, { ratio: 1, dim: 1 }));
  const { calls } = scene.cost;
  scene.end();
  const camera = new PerspectiveCamera(eye.tall, SIZE.width / SIZE.height, 20, 900_000);
  camera.up.set(0, 0, 1);
  camera.position.set(...eye.at);
  camera.lookAt(...eye.look);
  camera.updateMatrixWorld();
  return { load, all, moved: all, near: close, calls, bytes: scene.bytesOf(pieces.n), plain: plain(pieces, true, camera) };
}

Object.assign(window, { measure: (what: "above" | "space", n: number) => (what === "above" ? above(hall(n)) : space(hall(n))) });
