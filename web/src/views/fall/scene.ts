/** All pieces in space by WebGL, each hinging over its bottom edge from the moment it is hit; the time is one number. */
import {
  Box3, BoxGeometry, BufferGeometry, Color, CustomBlending, DoubleSide, EdgesGeometry, Float32BufferAttribute, Frustum, GLSL3, LineBasicMaterial, LineSegments,
  Matrix4, MaxEquation, Mesh, MeshBasicMaterial, OneFactor, PerspectiveCamera, Points, RawShaderMaterial, Scene, Shape, ShapeGeometry, ShapeUtils, Vector2, Vector3, WebGLRenderer, WebGLRenderTarget, type DataTexture, type Material,
} from "three";
import type { ColourRow } from "../../api/generated/ColourRow";
import type { KindRow } from "../../api/generated/KindRow";
import type { State } from "../../api/generated/State";
import { NEVER, type FallTimes, type HallPieces } from "../../kernels/columns";
import { runsOf } from "../../kernels/blocks";
import type { Size } from "../../kernels/floor";
import { board, LEVEL, type Slopes, type Triple } from "../../kernels/slopes";
import { rgb } from "../../kernels/swatch";
import { EASE, type Motion } from "../../kernels/topple";
import type { Sight } from "../../kernels/view";
import { BLOCK, CHUNK, Fit, SPOT, SQUARE, texture } from "../../parts/many";
import { body } from "../plan/sizes";

/** Shapes on slopes that a plan may have; with as many colours as there may be, a number of each still fits into one float. */
const SHAPES = 2048;
const MOST_COLOURS = 2 ** 24 / SHAPES;
/** How thick a board is drawn, mm; common practice, no source. A plan says how high its upper side is and no more. */
const THICK = { plank: 18, table: 25, "wall-top": 1 } as const;
/** So much lower than it is a board is drawn, mm, so that feet stand on it and not in it. */
const SUNK = 0.5;
/** A piece of fewer pixels than this is drawn as a point. */
const POINTS_BELOW = 2.5;
/** Three sides of two triangles. */
const CORNERS = 18;
/** Seconds after which nothing falls any more: a piece that never does. */
const STANDS = 1e9;
/** How long a piece falls while its motion is not known, s. */
const USUAL = 0.2;
/** So long after the hit a piece belongs to the front, s. */
const FRONT = 0.05;
/** From the camera to the farthest thing it shows and back to the nearest, as shares of how far it looks; mm at the least. */
const NEAR = { share: 1 / 200, least: 10, most: 200 };
const FAR = { share: 12, least: 120_000 };

// Nothing is instanced, see the pieces from above. Of each box only the three sides that face the eye are drawn; one that
// is smaller than POINTS_BELOW is a point with the mean colour of these sides.
const vertex = (box: boolean) => `
precision highp float; precision highp int;
uniform mat4 projectionMatrix, viewMatrix; uniform vec3 cameraPosition;
uniform sampler2D u_places, u_looks, u_colours, u_shapes;
uniform float u_time, u_known, u_dim, u_base, u_pixels; uniform vec3 u_must, u_lamp;
flat out vec3 v_colour; flat out vec4 v_id;
${SPOT}
${SQUARE}
const vec3 SUN = normalize(vec3(-0.35, -0.5, 0.8));
// Turned by the hinge: cosine and sine.
vec3 hinged(vec3 p, vec2 h) { return vec3(p.x * h.x + p.z * h.y, p.y, p.z * h.x - p.x * h.y); }
// The directions of a piece that stands square to a slope: ahead, to the left, up; see squareTo.
mat3 squareTo(vec2 grade, vec2 y) {
  vec3 ahead = normalize(vec3(y, dot(grade, y)));
  vec3 up = normalize(vec3(-grade, 1.0));
  return mat3(ahead, cross(up, ahead), up);
}
// The side along an axis that faces the eye.
vec3 facing(int axis, vec3 eye) {
  vec3 n = vec3(0.0);
  n[axis] = eye[axis] < 0.0 ? -1.0 : 1.0;
  return n;
}
// Colour and light of a side.
vec4 lit(vec3 normal, int colour, vec2 h, mat3 stands) {
  int face = normal.x > 0.5 ? 0 : normal.x < -0.5 ? 1 : 2;
  float light = 0.62 + 0.38 * max(0.0, dot(stands * hinged(normal, h), SUN));
  return vec4(light * texelFetch(u_colours, ivec2(colour, face), 0).rgb, light);
}
void main() {
  int piece = gl_VertexID / ${box ? CORNERS : 1};
  ivec2 here = spot(piece);
  vec4 place = texelFetch(u_places, here, 0);
  vec4 look = texelFetch(u_looks, here, 0);
  float hit = place.w;
  int colour = int(look.w) / ${SHAPES};
  int shape = int(look.w) % ${SHAPES};
  vec3 size = texelFetch(u_shapes, ivec2(shape, 0), 0).xyz;
  float way = look.y < 0.0 ? -1.0 : 1.0;
  float s = clamp((u_time - hit) / max(0.05, look.z), 0.0, 1.0);
  float a = abs(look.y) * (1.0 - pow(1.0 - s, ${EASE}));
  vec2 h = vec2(cos(a), sin(a) * way);
  mat3 stands = squareTo(texelFetch(u_shapes, ivec2(shape, 1), 0).xy, vec2(cos(look.x), sin(look.x)));
  // Middle and eye in the piece's own frame, its foot at zero; then the eye as a standing piece would see it.
  vec3 hinge = vec3(0.5 * way * size.x, 0.0, 0.0);
  vec3 half_up = vec3(0.0, 0.0, 0.5 * size.z);
  vec3 foot = place.xyz - half_up;
  vec3 middle = hinge + hinged(half_up - hinge, h);
  vec3 eye = hinged((cameraPosition - foot) * stands - middle, vec2(h.x, -h.y));
${box ? `  int axis = (gl_VertexID % ${CORNERS}) / 6;
  vec2 corner = CORNERS[gl_VertexID % 6];
  vec3 normal = facing(axis, eye);
  vec3 p = 0.5 * normal;
  p[(axis + 1) % 3] = corner.x;
  p[(axis + 2) % 3] = corner.y;
  vec3 own = middle + hinged(p * size, h);
  vec4 shown = lit(normal, colour, h, stands);` : `  // Each side by how large it is seen; most of the sides of a standing one is behind its neighbours.
  vec3 own = middle, seen = abs(eye) * size.yzx * size.zxy;
  float all = dot(seen, vec3(1.0));
  if (s <= 0.0) seen.xy = min(seen.xy, seen.z + 0.25 * seen.xy);
  vec4 shown = (seen.x * lit(facing(0, eye), colour, h, stands) + seen.y * lit(facing(1, eye), colour, h, stands) + seen.z * lit(facing(2, eye), colour, h, stands)) / dot(seen, vec3(1.0));`}
  gl_Position = projectionMatrix * viewMatrix * vec4(foot + stands * own, 1.0);
${box ? "" : `  // A square as large as its sides together.
  gl_PointSize = max(1.0, sqrt(all / length(eye)) * u_pixels / gl_Position.w);
`}  float state = s <= 0.0 ? 1.0 : s < 1.0 ? 1.22 : 0.72;
  v_colour = min(vec3(1.0), shown.rgb * state * u_dim);
  // The front is a thin line of lamp light: pieces that were hit just now.
  if (s > 0.0 && u_time - hit < ${FRONT.toFixed(3)}) v_colour = mix(v_colour, u_lamp, 0.75);
  if (u_known > 0.5 && hit > 1e8) v_colour = mix(v_colour, u_must, 0.72) * (0.85 + 0.3 * shown.a) * u_dim;
  float id = u_base + float(piece) + 1.0;
  v_id = vec4(mod(id, 256.0), mod(floor(id / 256.0), 256.0), mod(floor(id / 65536.0), 256.0), 255.0) / 255.0;
}`;
const FRAGMENT = `
precision highp float;
flat in vec3 v_colour; flat in vec4 v_id; uniform float u_pick; out vec4 colour;
void main() { colour = u_pick > 0.5 ? v_id : vec4(v_colour, 1.0); }`;

/** A soft light around each piece that stays standing, never smaller than some pixels, so that a single one is seen across the hall. */
const GLOW_VERTEX = `
precision highp float;
in vec3 position; uniform mat4 projectionMatrix, viewMatrix; uniform float u_pixels;
void main() {
  vec4 at = viewMatrix * vec4(position, 1.0);
  // Towards the eye by the size of a piece, so that the piece itself does not cut it off.
  at.xyz *= max(0.2, 1.0 - 40.0 / length(at.xyz));
  gl_Position = projectionMatrix * at;
  gl_PointSize = clamp(100.0 * u_pixels * projectionMatrix[1][1] / gl_Position.w, 0.018 * u_pixels, 0.4 * u_pixels);
}`;
const GLOW_FRAGMENT = `
precision highp float;
uniform vec3 u_must; uniform float u_dim; out vec4 colour;
void main() {
  float r = 1.0 - clamp(2.0 * length(gl_PointCoord - 0.5), 0.0, 1.0);
  colour = vec4(u_must * u_dim * r * sqrt(r) * 0.85, 1.0);
}`;

export interface Tones {
  scene: string;
  second: string;
  line: string;
  text: string;
  must: string;
  lamp: string;
}

/** How a picture is drawn: pixels for one of its size, and how bright, 1 for as things are. */
export interface Manner {
  ratio: number;
  dim: number;
}

/** The colours side by side, the last one for a colour that nobody knows. */
function colourTable(colours: readonly ColourRow[]): DataTexture {
  const width = colours.length + 1;
  const data = new Uint8Array(4 * width * 3).fill(128);
  colours.forEach((c, slot) =>
    [c.front, c.back, c.edge].forEach((hex, row) => {
      data.set([...rgb(hex), 255], 4 * (row * width + slot));
    }),
  );
  return texture(data, width, 3);
}

/** Few shapes on few slopes are different: each piece points to its own. What comes after the last one that fits looks like that. */
class Shapes {
  private readonly sizes: number[] = [];
  private readonly grades: number[] = [];
  private readonly slots = new Map<number, number>();
  private readonly kinds: ReadonlyMap<number, KindRow>;

  constructor(
    kinds: readonly KindRow[],
    private readonly slopes: Slopes | null,
  ) {
    this.kinds = new Map(kinds.map((k) => [k.id, k]));
  }

  slot(kind: number, pose: number, piece: number): number {
    const slope = this.slopes ? this.slopes.of[piece]! : 0;
    const key = (kind * 4 + pose) * 65_536 + slope;
    let slot = this.slots.get(key);
    if (slot === undefined) {
      slot = Math.min(SHAPES - 1, this.slots.size);
      this.slots.set(key, slot);
      if (this.sizes.length < 4 * SHAPES) {
        this.sizes.push(...body(this.kinds.get(kind), pose), 0);
        this.grades.push(...(this.slopes?.grades[slope] ?? LEVEL), 0, 0);
      }
    }
    return slot;
  }

  get tallest(): number {
    return Math.max(0, ...this.sizes);
  }

  /** Sizes above, slopes beneath. */
  table(): DataTexture {
    if (this.sizes.length === 0) return texture(new Float32Array(8), 1, 2);
    return texture(Float32Array.from([...this.sizes, ...this.grades]), this.sizes.length / 4, 2);
  }
}

/** The room that each block of pieces takes, standing or fallen. */
function boxesOf(place: Float32Array, n: number, reach: number): Box3[] {
  return Array.from({ length: Math.ceil(n / BLOCK) }, (_, b) => {
    const box = new Box3();
    for (let i = b * BLOCK; i < Math.min(n, (b + 1) * BLOCK); i++) box.expandByPoint(new Vector3(place[4 * i], place[4 * i + 1], place[4 * i + 2]));
    return box.expandByScalar(reach);
  });
}

/** What a scene shows. */
export interface Loaded {
  pieces: HallPieces;
  times: FallTimes | null;
  motion: Motion | null;
  slopes: Slopes | null;
  state: State;
  tones: Tones;
  /** Something falls at all. */
  known: boolean;
}

interface Chunk {
  boxes: Mesh<BufferGeometry, Material[]>;
  points: Points<BufferGeometry, Material[]>;
  n: number;
  /** What each block of pieces takes. */
  room: Box3[];
}

function lined(ends: number[], tone: string): LineSegments {
  const shape = new BufferGeometry();
  shape.setAttribute("position", new Float32BufferAttribute(ends, 3));
  return new LineSegments(shape, new LineBasicMaterial({ color: new Color().setStyle(tone) }));
}

export class FallScene {
  private readonly renderer: WebGLRenderer;
  private readonly fit: Fit;
  private readonly scene = new Scene();
  private readonly camera = new PerspectiveCamera(42, 1, 20, 900_000);
  private readonly target = new WebGLRenderTarget(1, 1);
  private readonly still: (Mesh | LineSegments)[] = [];
  private tables: DataTexture[] = [];
  private chunks: Chunk[] = [];
  private tallest = 0;
  /** What all chunks are drawn with. */
  private readonly common: Record<string, { value: unknown }> = { u_time: { value: 0 }, u_dim: { value: 1 }, u_pick: { value: 0 }, u_pixels: { value: 1 } };
  private readonly frustum = new Frustum();
  private readonly seen = new Matrix4();
  private glow: Points | null = null;
  private origin: [number, number] = [0, 0];

  /** Throws when the browser has no WebGL. */
  constructor(canvas: HTMLCanvasElement) {
    this.renderer = new WebGLRenderer({ canvas, antialias: true });
    this.fit = new Fit(this.renderer);
    this.camera.up = new Vector3(0, 0, 1);
  }

  load({ pieces, times, motion, slopes, state, tones, known }: Loaded) {
    this.drop();
    const shapes = new Shapes(state.kinds, slopes);
    const slots = new Map(state.colours.map((c, i) => [c.id, i]));
    this.origin = pieces.n ? [pieces.x[0]!, pieces.y[0]!] : [0, 0];
    const colours = colourTable(state.colours);
    this.tables.push(colours);
    const [must, lamp] = [tones.must, tones.lamp].map((hex) => new Vector3(...rgb(hex).map((v) => v / 255)));
    const rooms: Float32Array[] = [];
    const shapesOf: { value: DataTexture | null } = { value: null };
    Object.assign(this.common, { u_shapes: shapesOf, u_known: { value: known ? 1 : 0 }, u_colours: { value: colours }, u_must: { value: must }, u_lamp: { value: lamp } });
    for (let first = 0; first < pieces.n; first += CHUNK) {
      const n = Math.min(CHUNK, pieces.n - first);
      const rows = Math.ceil(n / BLOCK);
      const [place, look] = [new Float32Array(4 * BLOCK * rows), new Float32Array(4 * BLOCK * rows)];
      for (let i = 0; i < n; i++) {
        const [p, at] = [first + i, 4 * i];
        const us = times?.hit[p] ?? NEVER;
        place[at] = pieces.x[p]! - this.origin[0];
        place[at + 1] = pieces.y[p]! - this.origin[1];
        place[at + 2] = pieces.z[p]!;
        place[at + 3] = us === NEVER ? STANDS : us / 1e6;
        look[at] = pieces.yaw[p]!;
        look[at + 1] = motion?.rest[p] ?? 0;
        look[at + 2] = motion?.takes[p] ?? USUAL;
        const colour = Math.min(slots.get(pieces.colour[p]!) ?? slots.size, MOST_COLOURS - 1);
        look[at + 3] = SHAPES * colour + shapes.slot(pieces.kind[p]!, pieces.pose[p]!, p);
      }
      const [places, looks] = [texture(place, BLOCK, rows), texture(look, BLOCK, rows)];
      this.tables.push(places, looks);
      const uniforms = { ...this.common, u_base: { value: first }, u_places: { value: places }, u_looks: { value: looks } };
      const of = (box: boolean) => [new RawShaderMaterial({ glslVersion: GLSL3, vertexShader: vertex(box), fragmentShader: FRAGMENT, side: DoubleSide, uniforms })];
      // Shapes without corners of their own: the shaders make them from their numbers.
      const [boxes, points] = [new Mesh(new BufferGeometry(), of(true)), new Points(new BufferGeometry(), of(false))];
      boxes.frustumCulled = points.frustumCulled = false;
      this.scene.add(boxes, points);
      this.chunks.push({ boxes, points, n, room: [] });
      rooms.push(place);
    }
    const table = shapes.table();
    this.tables.push(table);
    shapesOf.value = table;
    this.tallest = shapes.tallest;
    const reach = 2 * this.tallest;
    this.chunks.forEach((chunk, i) => (chunk.room = boxesOf(rooms[i]!, chunk.n, reach)));
    this.floor(state, tones);
    if (known && times) this.light(pieces, times, must!);
  }

  /** The light around what stays standing: one draw call, of the brightest of all lights that meet. */
  private light(pieces: HallPieces, times: FallTimes, must: Vector3) {
    let n = 0;
    for (let p = 0; p < pieces.n; p++) if (times.hit[p] === NEVER) n++;
    if (n === 0) return;
    const at = new Float32Array(3 * n);
    let i = 0;
    for (let p = 0; p < pieces.n; p++) if (times.hit[p] === NEVER) at.set([pieces.x[p]! - this.origin[0], pieces.y[p]! - this.origin[1], pieces.z[p]!], 3 * i++);
    const shape = new BufferGeometry();
    shape.setAttribute("position", new Float32BufferAttribute(at, 3));
    const material = new RawShaderMaterial({
      glslVersion: GLSL3, vertexShader: GLOW_VERTEX, fragmentShader: GLOW_FRAGMENT, depthWrite: false, transparent: true,
      blending: CustomBlending, blendEquation: MaxEquation, blendSrc: OneFactor, blendDst: OneFactor,
      uniforms: { u_must: { value: must }, u_dim: { value: 1 }, u_pixels: { value: 1 } },
    });
    this.glow = new Points(shape, material);
    this.glow.frustumCulled = false;
    this.glow.renderOrder = 1;
    this.scene.add(this.glow);
  }

  /** The hall's outline, its parts and placeholders as plain shapes. */
  private floor(state: State, tones: Tones) {
    this.renderer.setClearColor(new Color().setStyle(tones.scene));
    const at = (p: readonly [number, number]) => [p[0] - this.origin[0], p[1] - this.origin[1]] as const;
    const add = (o: Mesh | LineSegments) => {
      this.still.push(o);
      this.scene.add(o);
    };
    const lines: number[] = [];
    const rims: number[] = [];
    const loop = (outline: readonly [number, number][], z: number) =>
      outline.forEach((p, i) => lines.push(...at(p), z, ...at(outline[(i + 1) % outline.length]!), z));
    loop(state.floor_plan.outline, 0);
    for (const part of state.floor_plan.parts) if (part.is !== "overhead" && part.is !== "surface") loop(part.outline, 0);
    const fill = (outline: readonly [number, number][], z: number, colour: string) => {
      if (outline.length < 3) return;
      const shape = new Shape();
      outline.forEach((p, i) => (i === 0 ? shape.moveTo(...at(p)) : shape.lineTo(...at(p))));
      const mesh = new Mesh(new ShapeGeometry(shape), new MeshBasicMaterial({ color: new Color().setStyle(colour), side: DoubleSide }));
      mesh.position.z = z;
      add(mesh);
    };
    fill(state.floor_plan.outline, -4, tones.second);
    for (const s of state.surfaces) {
      if (s.outline.length < 3) continue;
      const { above, beneath } = board({ ...s, height: s.height - SUNK }, THICK[s.is]);
      add(this.slab(above, beneath, tones.line));
      const edges = above.map((p, i) => [p, above[(i + 1) % above.length]!, beneath[i]!, beneath[(i + 1) % above.length]!] as const);
      for (const [a, b, c, d] of edges) for (const [x, y, z] of [a, b, c, d, a, c]) rims.push(...at([x, y]), z);
    }
    add(lined(rims, tones.text));
    for (const item of state.items) {
      if (item.body.is !== "placeholder" || item.outline.length < 4) continue;
      const { length, width, height } = item.body;
      const box = new LineSegments(new EdgesGeometry(new BoxGeometry(length, width, Math.max(1, height))), new LineBasicMaterial({ color: new Color().setStyle(tones.text) }));
      const [a, c] = [item.outline[0]!, item.outline[2]!];
      const middle = at([(a[0] + c[0]) / 2, (a[1] + c[1]) / 2]);
      box.position.set(middle[0], middle[1], height / 2);
      box.rotation.z = (item.heading * Math.PI) / 180;
      add(box);
    }
    add(lined(lines, tones.line));
  }

  /** A board: its upper side as bright as its colour, its sides half as bright, so that its slope is seen. */
  private slab(above: readonly Triple[], beneath: readonly Triple[], tone: string): Mesh {
    const n = above.length;
    const faces = ShapeUtils.triangulateShape(above.map(([x, y]) => new Vector2(x, y)), []).flat();
    const sides = above.flatMap((_, i) => [i, (i + 1) % n, n + i, n + i, (i + 1) % n, n + ((i + 1) % n)]);
    const corners = [...above, ...beneath];
    const colour = new Color().setStyle(tone);
    const side = colour.clone().multiplyScalar(0.5);
    const order = [...faces, ...faces.map((i) => n + i), ...sides];
    const shape = new BufferGeometry();
    shape.setAttribute("position", new Float32BufferAttribute(order.flatMap((i) => [corners[i]![0] - this.origin[0], corners[i]![1] - this.origin[1], corners[i]![2]]), 3));
    shape.setAttribute("color", new Float32BufferAttribute(order.flatMap((_, i) => (i < faces.length ? colour : side).toArray()), 3));
    return new Mesh(shape, new MeshBasicMaterial({ vertexColors: true, side: DoubleSide }));
  }

  private aim(size: Size, { at, look, tall }: Sight) {
    const [dx, dy, dz] = [look[0] - at[0], look[1] - at[1], look[2] - at[2]];
    const far = Math.hypot(dx, dy, dz);
    this.camera.fov = tall;
    this.camera.aspect = size.width / Math.max(1, size.height);
    this.camera.near = Math.min(NEAR.most, Math.max(NEAR.least, far * NEAR.share));
    this.camera.far = Math.max(FAR.least, far * FAR.share);
    this.camera.position.set(at[0] - this.origin[0], at[1] - this.origin[1], at[2]);
    this.camera.lookAt(look[0] - this.origin[0], look[1] - this.origin[1], look[2]);
    this.camera.updateProjectionMatrix();
    this.camera.updateMatrixWorld();
  }

  private set(name: string, value: number) {
    this.common[name]!.value = value;
  }

  /** Draws what the camera may see only: blocks that lie in its view, neighbours at once, far ones as points of so many pixels a size at a distance of one. */
  private cull(pixels: number | null) {
    this.frustum.setFromProjectionMatrix(this.seen.multiplyMatrices(this.camera.projectionMatrix, this.camera.matrixWorldInverse));
    const eye = this.camera.position;
    const far = (room: Box3) => pixels !== null && this.tallest * pixels < POINTS_BELOW * room.distanceToPoint(eye);
    for (const { boxes, points, n, room } of this.chunks) {
      const group = (of: Mesh | Points, corners: number, seen: (room: Box3) => boolean) => {
        of.geometry.clearGroups();
        for (const [first, end] of runsOf(room.length, (b) => seen(room[b]!) && this.frustum.intersectsBox(room[b]!), 0)) {
          of.geometry.addGroup(corners * BLOCK * first, corners * (Math.min(n, BLOCK * end) - BLOCK * first), 0);
        }
      };
      group(boxes, CORNERS, (r) => !far(r));
      group(points, 1, far);
    }
  }

  draw(size: Size, sight: Sight, seconds: number, { ratio, dim }: Manner) {
    this.fit.to(ratio, size);
    this.aim(size, sight);
    const pixels = (size.height * ratio) / 2 / Math.tan((sight.tall * Math.PI) / 360);
    this.cull(pixels);
    this.set("u_pixels", pixels);
    this.set("u_time", seconds);
    this.set("u_dim", dim);
    if (this.glow) {
      const { u_pixels, u_dim } = (this.glow.material as RawShaderMaterial).uniforms;
      u_pixels!.value = size.height * ratio;
      u_dim!.value = dim;
    }
    this.renderer.render(this.scene, this.camera);
  }

  /** Draw calls of the last picture. */
  get cost(): { calls: number } {
    return { calls: this.renderer.info.render.calls };
  }

  /** What so many pieces take on the graphics card, bytes: place and time in 16, motion and colour in 16. */
  bytesOf(n: number): number {
    return 32 * BLOCK * Math.ceil(n / BLOCK);
  }

  /** Where a place of the floor is seen; null behind the camera. */
  project(size: Size, x: number, y: number, z: number): [number, number] | null {
    const v = new Vector3(x - this.origin[0], y - this.origin[1], z).project(this.camera);
    return v.z > 1 ? null : [((v.x + 1) / 2) * size.width, ((1 - v.y) / 2) * size.height];
  }

  /** The piece that is seen at a point of the canvas. */
  pick(size: Size, sight: Sight, seconds: number, px: number, py: number): number | null {
    this.aim(size, sight);
    this.camera.setViewOffset(size.width, size.height, px, py, 1, 1);
    this.cull(null);
    for (const o of this.still) o.visible = false;
    if (this.glow) this.glow.visible = false;
    this.set("u_time", seconds);
    this.set("u_pick", 1);
    const before = this.renderer.getClearColor(new Color());
    this.renderer.setClearColor(0, 0);
    this.renderer.setRenderTarget(this.target);
    this.renderer.clear();
    this.renderer.render(this.scene, this.camera);
    const out = new Uint8Array(4);
    this.renderer.readRenderTargetPixels(this.target, 0, 0, 1, 1, out);
    this.renderer.setRenderTarget(null);
    this.renderer.setClearColor(before, 1);
    this.set("u_pick", 0);
    for (const o of this.still) o.visible = true;
    if (this.glow) this.glow.visible = true;
    this.camera.clearViewOffset();
    const id = out[0]! + 256 * out[1]! + 65_536 * out[2]!;
    return id > 0 ? id - 1 : null;
  }

  /** Gives back what lies with the graphics card: it is not freed by itself. */
  private drop() {
    for (const shown of [...this.chunks.flatMap((c) => [c.boxes, c.points]), ...this.still, ...(this.glow ? [this.glow] : [])]) {
      this.scene.remove(shown);
      shown.geometry.dispose();
      for (const material of [shown.material].flat() as Material[]) material.dispose();
    }
    for (const table of this.tables) table.dispose();
    this.glow = null;
    this.chunks = [];
    this.still.length = 0;
    this.tables = [];
  }

  end() {
    this.drop();
    this.target.dispose();
    this.renderer.dispose();
    // A browser keeps few contexts, and does not know that this one is of no use any more.
    this.renderer.forceContextLoss();
  }
}
