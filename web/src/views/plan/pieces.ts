/** All pieces from above by WebGL: cells of colour while they are small, true edges once they can be told apart. */
import { BufferGeometry, GLSL3, Mesh, OrthographicCamera, Points, RawShaderMaterial, Scene, Vector4, WebGLRenderer, WebGLRenderTarget, type DataTexture, type Material } from "three";
import type { HallPieces } from "../../kernels/columns";
import type { Box, Size, View } from "../../kernels/floor";
import { Changed, samplesOf } from "../../kernels/changed";
import { isFine, serves, shareOf, toKeep, type Kept } from "../../kernels/kept";
import { blocksOf, seenBlocks, type Blocks } from "../../kernels/blocks";
import { BLOCK, CHUNK, filled, Fit, sized, SPOT, SQUARE, texture } from "../../parts/many";
import { cellsOf, type Sizes } from "./sizes";

/** A pitch of so many pixels of the screen and less is drawn finer, so that no moire appears, */
const FINE_BELOW = 3;
/** and as points, a sixth of the corners. */
const POINTS_BELOW = 2;
/** From so many pieces in sight on, their picture is kept, and moved while the view moves. */
const MANY = 20_000;
/** Fewest and most samples a pixel along each way. */
const FINENESS = { least: 2, most: 4 };

// Nothing is instanced: a corner finds its piece by its number. A graphics card fills its lanes with corners of many
// pieces instead of four of one, and a software renderer starts once a chunk instead of once a piece.
const PULL = `
precision highp float; precision highp int;
uniform sampler2D u_places, u_tints, u_sizes; uniform vec4 u_view; uniform mediump float u_near;
flat out vec4 v_tint;
${SPOT}
`;
const QUADS = `${PULL}
out vec2 v_corner;
${SQUARE}
void main() {
  ivec2 here = spot(gl_VertexID / 6);
  vec4 place = texelFetch(u_places, here, 0);
  vec4 size = texelFetch(u_sizes, ivec2(int(place.w), 0), 0);
  v_corner = CORNERS[gl_VertexID % 6];
  vec2 p = v_corner * mix(size.xy, size.zw, u_near);
  float c = cos(place.z), s = sin(place.z);
  gl_Position = vec4((place.xy + vec2(c * p.x - s * p.y, s * p.x + c * p.y)) * u_view.zw + u_view.xy, 0.0, 1.0);
  v_tint = texelFetch(u_tints, here, 0);
}`;
const POINTS = `${PULL}
uniform float u_pixels; flat out vec4 v_cell;
void main() {
  ivec2 here = spot(gl_VertexID);
  vec4 place = texelFetch(u_places, here, 0);
  vec4 size = texelFetch(u_sizes, ivec2(int(place.w), 0), 0);
  // Half a cell in pixels, never so narrow that it would fall between two of them, and a little more than the
  // rounding of a point's place, so that cells meet without seams.
  vec2 half_ = max(vec2(0.5), 0.5 * u_pixels * mix(size.xy, size.zw, u_near)) + 0.1;
  v_cell = vec4(half_, cos(place.z), sin(place.z));
  gl_Position = size.x > 0.0 ? vec4(place.xy * u_view.zw + u_view.xy, 0.0, 1.0) : vec4(2.0, 2.0, 2.0, 1.0);
  gl_PointSize = ceil(2.0 * length(half_));
  v_tint = texelFetch(u_tints, here, 0);
}`;
const FRAGMENT = `
precision mediump float;
flat in vec4 v_tint; in vec2 v_corner; uniform float u_near; out vec4 colour;
void main() {
  // A rim that stands out from the piece, so that white ones show on a light floor and black ones on a dark one.
  vec2 inward = (0.5 - abs(v_corner)) / max(fwidth(v_corner), vec2(1e-6));
  float light = dot(v_tint.rgb, vec3(0.2126, 0.7152, 0.0722));
  vec3 rim = light > 0.4 ? v_tint.rgb * 0.5 : mix(v_tint.rgb, vec3(1.0), 0.35);
  float share = u_near * (1.0 - smoothstep(0.5, 1.5, min(inward.x, inward.y)));
  colour = vec4(mix(v_tint.rgb, rim, share), 1.0);
}`;
const POINT_FRAGMENT = `
precision highp float;
flat in vec4 v_tint; flat in vec4 v_cell; out vec4 colour;
void main() {
  // The turned cell within the square of the point.
  vec2 p = (gl_PointCoord - 0.5) * ceil(2.0 * length(v_cell.xy)) * vec2(1.0, -1.0);
  vec2 own = abs(vec2(v_cell.z * p.x + v_cell.w * p.y, v_cell.z * p.y - v_cell.w * p.x));
  if (own.x > v_cell.x || own.y > v_cell.y) discard;
  colour = vec4(v_tint.rgb, 1.0);
}`;

const KEPT = `
precision highp float; precision highp int;
${SQUARE}
out vec2 v_at; uniform vec4 u_share;
void main() {
  vec2 corner = CORNERS[gl_VertexID];
  v_at = u_share.xy + (corner + 0.5) * u_share.zw;
  gl_Position = vec4(2.0 * corner, 0.0, 1.0);
}`;
const KEPT_FRAGMENT = `
precision highp float;
in vec2 v_at; uniform sampler2D u_kept; out vec4 colour;
void main() {
  if (any(lessThan(v_at, vec2(0.0))) || any(greaterThan(v_at, vec2(1.0)))) discard;
  colour = texture(u_kept, v_at);
}`;

/** Places are told from the first piece, as long as it is no farther off, mm: the numbers of a card are short. */
const FAR = 100_000;

interface Chunk {
  quads: Mesh;
  points: Points;
  places: { value: DataTexture };
  tints: { value: DataTexture };
  n: number;
  blocks: Blocks;
}

export class PiecesAbove {
  private readonly renderer: WebGLRenderer;
  private readonly fit: Fit;
  private readonly scene = new Scene();
  private readonly camera = new OrthographicCamera();
  private readonly view = { value: new Vector4() };
  private readonly near = { value: 0 };
  private readonly pixels = { value: 1 };
  private readonly sizes: { value: DataTexture | null } = { value: null };
  private chunks: Chunk[] = [];
  private origin: [number, number] = [0, 0];
  private pitch = 15;
  /** All that there is, mm. */
  private all: Box = { x0: 0, y0: 0, x1: 0, y1: 0 };
  /** How far a piece reaches from its place, mm. */
  private reach = 0;
  /** What changed since the canvas was drawn, mm from the origin. */
  private changed = new Changed();
  private kept: Kept | null = null;
  /** What the canvas shows, and whether a finer picture is due; null when that is of no use any more. */
  private done: { asked: readonly number[]; due: boolean } | null = null;
  private target: WebGLRenderTarget | null = null;
  private readonly share = { value: new Vector4() };
  private readonly keptIn: { value: unknown } = { value: null };
  private readonly sheet = new Scene();

  /** Throws when the browser has no WebGL. */
  constructor(canvas: HTMLCanvasElement) {
    this.renderer = new WebGLRenderer({ canvas, antialias: false, depth: false, alpha: true, premultipliedAlpha: true });
    this.fit = new Fit(this.renderer);
    this.renderer.setClearColor(0, 0);
    canvas.addEventListener("webglcontextlost", () => (this.kept = this.done = null));
    this.renderer.sortObjects = false;
    const sheet = new Mesh(new BufferGeometry(), new RawShaderMaterial({ glslVersion: GLSL3, vertexShader: KEPT, fragmentShader: KEPT_FRAGMENT, depthTest: false, depthWrite: false, uniforms: { u_kept: this.keptIn, u_share: this.share } }));
    sheet.geometry.setDrawRange(0, 6);
    sheet.frustumCulled = false;
    this.sheet.add(sheet);
  }

  /** Takes pieces; their colours follow by `paint`. What was made for others serves again: making shaders takes longest. */
  load(pieces: HallPieces, sizes: Sizes) {
    this.done = null;
    if (pieces.n && Math.hypot(pieces.x[0]! - this.origin[0], pieces.y[0]! - this.origin[1]) > FAR) {
      this.origin = [pieces.x[0]!, pieces.y[0]!];
      this.kept = null;
    }
    const { table, row } = cellsOf(pieces, sizes);
    // Other sizes are seen everywhere.
    const old = this.sizes.value?.image.data as Float32Array | undefined;
    if (old?.length !== table.length || table.some((mm, i) => mm !== old[i]) || sizes.least !== this.pitch) this.kept = null;
    this.pitch = sizes.least;
    const reach = Math.max(...table);
    this.reach = reach;
    this.sizes.value = filled(this.sizes.value, table, table.length / 4, 1);
    const wanted = Math.ceil(pieces.n / CHUNK);
    for (const chunk of this.chunks.splice(wanted)) {
      this.discard(chunk);
      this.kept = null;
    }
    for (let k = 0; k < wanted; k++) {
      const first = k * CHUNK;
      const n = Math.min(CHUNK, pieces.n - first);
      const rows = Math.ceil(n / BLOCK);
      const place = new Float32Array(4 * BLOCK * rows);
      for (let i = 0; i < n; i++) {
        place[4 * i] = pieces.x[first + i]! - this.origin[0];
        place[4 * i + 1] = pieces.y[first + i]! - this.origin[1];
        place[4 * i + 2] = pieces.yaw[first + i]!;
        place[4 * i + 3] = row[first + i]!;
      }
      const chunk = (this.chunks[k] ??= this.made(rows));
      this.changed.places(chunk.places.value.image.data as Float32Array, place, [chunk.n, n], reach);
      chunk.places.value = filled(chunk.places.value, place, BLOCK, rows);
      chunk.tints.value = sized(chunk.tints.value, BLOCK, rows);
      chunk.n = n;
      chunk.blocks = blocksOf(place, n, BLOCK, reach);
    }
    this.all = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity };
    for (const { blocks: { bounds } } of this.chunks)
      for (let b = 0; b < bounds.length; b += 4) {
        this.all.x0 = Math.min(this.all.x0, bounds[b]! + this.origin[0]);
        this.all.y0 = Math.min(this.all.y0, bounds[b + 1]! + this.origin[1]);
        this.all.x1 = Math.max(this.all.x1, bounds[b + 2]! + this.origin[0]);
        this.all.y1 = Math.max(this.all.y1, bounds[b + 3]! + this.origin[1]);
      }
  }

  private made(rows: number): Chunk {
    const [places, tints] = [{ value: texture(new Float32Array(4 * BLOCK * rows), BLOCK, rows) }, { value: texture(new Uint8Array(4 * BLOCK * rows), BLOCK, rows) }];
    const uniforms = { u_places: places, u_tints: tints, u_sizes: this.sizes, u_view: this.view, u_near: this.near, u_pixels: this.pixels };
    const of = (vertexShader: string, fragmentShader: string) => new RawShaderMaterial({ glslVersion: GLSL3, vertexShader, fragmentShader, depthTest: false, depthWrite: false, uniforms });
    // Shapes without corners of their own: the shaders make them from their numbers.
    const quads = new Mesh(new BufferGeometry(), [of(QUADS, FRAGMENT)]);
    const points = new Points(new BufferGeometry(), [of(POINTS, POINT_FRAGMENT)]);
    for (const o of [quads, points]) {
      o.frustumCulled = false;
      this.scene.add(o);
    }
    return { quads, points, places, tints, n: 0, blocks: { bounds: new Float32Array() } };
  }

  /** Colours all pieces: 0xrrggbb by number. */
  paint(colour: (piece: number) => number) {
    this.done = null;
    for (const [k, { places, tints: { value: tints }, n }] of this.chunks.entries()) {
      const bytes = tints.image.data as Uint8Array;
      const place = places.value.image.data as Float32Array;
      for (let i = 0; i < n; i++) {
        const c = colour(k * CHUNK + i);
        const [at, r, g, b] = [4 * i, c >> 16, (c >> 8) & 255, c & 255];
        if (bytes[at] === r && bytes[at + 1] === g && bytes[at + 2] === b && bytes[at + 3] === 255) continue;
        bytes[at] = r;
        bytes[at + 1] = g;
        bytes[at + 2] = b;
        bytes[at + 3] = 255;
        this.changed.add(place[at]!, place[at + 1]!, this.reach);
        tints.needsUpdate = true;
      }
    }
  }

  /**
   * Draws what a view shows. Many pieces are drawn into a picture that is kept and moved with the view; `rests` asks for a
   * new one when the kept one is of another scale. True when it is, and a finer one is due once the view rests. What the canvas
   * shows already is not drawn again: marks and words over it change more often.
   */
  draw(view: View, size: Size, near: number, rests = false): boolean {
    const asked = [view.x, view.y, view.scale, size.width, size.height, near, devicePixelRatio];
    const { done } = this;
    if (done && (!rests || !done.due) && done.asked.every((value, i) => value === asked[i])) return done.due;
    const due = this.picture(view, size, near, rests);
    this.done = { asked, due };
    return due;
  }

  private picture(view: View, size: Size, near: number, rests: boolean): boolean {
    const pitch = view.scale * this.pitch;
    const ratio = Math.min(FINENESS.most, Math.max(FINENESS.least, devicePixelRatio * (pitch < FINE_BELOW ? 2 : 1)));
    this.near.value = near;
    const [w, h] = [size.width / 2 / view.scale, size.height / 2 / view.scale];
    const box: Box = { x0: view.x - w, y0: view.y - h, x1: view.x + w, y1: view.y + h };
    const samples = view.scale * ratio;
    const small = pitch < POINTS_BELOW;
    const changed = this.changed.window;
    this.changed = new Changed();
    if (this.choose(box, small) < MANY) {
      this.kept = null;
      this.fit.to(ratio, size);
      this.render(box, samples, null);
      return false;
    }
    const { kept } = this;
    if (!kept || !serves(kept, view, size, this.all, samples) || (rests && !isFine(kept, samples))) {
      this.kept = toKeep(view, size, this.all, samples);
      if (!this.kept) return false;
      this.choose(this.kept.box, small);
      this.render(this.kept.box, this.kept.samples, this.targetOf(this.kept));
    } else if (changed) {
      this.patch(kept, changed, small);
    }
    // Between two samples each way lies the mean of four, so that the canvas needs no more pixels than the screen.
    this.fit.to(Math.max(ratio / 2, Math.min(devicePixelRatio, ratio)), size);
    this.share.value.set(...shareOf(this.kept!, view, size, samples));
    this.renderer.render(this.sheet, this.camera);
    return !isFine(this.kept!, samples);
  }

  /** Picks what meets a window; how many pieces that are. */
  private choose({ x0, y0, x1, y1 }: Box, small: boolean): number {
    const [ox, oy] = this.origin;
    let all = 0;
    for (const { quads, points, n, blocks } of this.chunks) {
      const [shown, other, corners] = small ? [points, quads, 1] : [quads, points, 6];
      other.visible = false;
      shown.visible = true;
      shown.geometry.clearGroups();
      for (const [first, end] of seenBlocks(blocks, x0 - ox, y0 - oy, x1 - ox, y1 - oy)) {
        const from = first * BLOCK;
        const count = Math.min(n, end * BLOCK) - from;
        shown.geometry.addGroup(corners * from, corners * count, 0);
        all += count;
      }
    }
    return all;
  }

  /** Draws what is picked: a window of the floor onto the canvas or into a picture. */
  private render({ x0, y0, x1, y1 }: Box, samples: number, into: WebGLRenderTarget | null) {
    const [sx, sy] = [2 / (x1 - x0), 2 / (y1 - y0)];
    this.view.value.set((this.origin[0] - (x0 + x1) / 2) * sx, (this.origin[1] - (y0 + y1) / 2) * sy, sx, sy);
    this.pixels.value = samples;
    this.renderer.setRenderTarget(into);
    this.renderer.render(this.scene, this.camera);
    this.renderer.setRenderTarget(null);
  }

  /** Draws a window of the kept picture again, mm from the origin: so much as changed. */
  private patch({ box, samples }: Kept, { x0, y0, x1, y1 }: Box, small: boolean) {
    const [ox, oy] = this.origin;
    const window = { x0: x0 + ox, y0: y0 + oy, x1: x1 + ox, y1: y1 + oy };
    const part = samplesOf(window, box, samples);
    const { target } = this;
    if (!part || !target) return;
    const rim = this.reach + 4 / samples;
    this.choose({ x0: window.x0 - rim, y0: window.y0 - rim, x1: window.x1 + rim, y1: window.y1 + rim }, small);
    target.scissor.set(...part);
    target.scissorTest = true;
    this.render(box, samples, target);
    target.scissorTest = false;
  }

  private targetOf({ box, samples }: Kept): WebGLRenderTarget {
    const [w, h] = [box.x1 - box.x0, box.y1 - box.y0].map((mm) => Math.max(1, Math.round(mm * samples))) as [number, number];
    if (this.target?.width !== w || this.target.height !== h) {
      this.target?.dispose();
      this.target = new WebGLRenderTarget(w, h, { depthBuffer: false });
      this.keptIn.value = this.target.texture;
    }
    return this.target;
  }

  /** Draw calls of the last picture. */
  get cost(): { calls: number } {
    return { calls: this.renderer.info.render.calls };
  }

  /** What so many pieces take on the graphics card, bytes: place, heading and size in 16, colour in 4. */
  bytesOf(n: number): number {
    return 20 * BLOCK * Math.ceil(n / BLOCK);
  }

  private discard({ quads, points, tints, places }: Chunk) {
    for (const o of [quads, points]) {
      this.scene.remove(o);
      o.geometry.dispose();
      for (const material of o.material as Material[]) material.dispose();
    }
    tints.value.dispose();
    places.value.dispose();
  }

  end() {
    for (const chunk of this.chunks.splice(0)) this.discard(chunk);
    this.sizes.value?.dispose();
    this.target?.dispose();
    this.renderer.dispose();
  }
}
