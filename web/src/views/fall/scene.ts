/** All pieces in space by WebGL, each hinging over its bottom edge from the moment it is hit; the time is one number. */
import {
  BoxGeometry, BufferGeometry, Color, DataTexture, EdgesGeometry, Float32BufferAttribute, FloatType, GLSL3, InstancedBufferAttribute, InstancedBufferGeometry,
  LineBasicMaterial, LineSegments, MaxEquation, Mesh, MeshBasicMaterial, OneFactor, PerspectiveCamera, Points, CustomBlending, RawShaderMaterial, RGBAFormat, Scene, Shape, ShapeGeometry, Vector3, WebGLRenderer, WebGLRenderTarget, DoubleSide, type Material,
} from "three";
import type { ColourRow } from "../../api/generated/ColourRow";
import type { KindRow } from "../../api/generated/KindRow";
import type { State } from "../../api/generated/State";
import { NEVER, type FallTimes, type HallPieces } from "../../kernels/columns";
import type { Size } from "../../kernels/floor";
import { rgb } from "../../kernels/swatch";
import { EASE, type Motion } from "../../kernels/topple";
import type { Sight } from "../../kernels/view";
import { body } from "../plan/sizes";

const CHUNK = 65_536;
/** Seconds after which nothing falls any more: a piece that never does. */
const STANDS = 1e9;
/** The shortest and longest motion that the shader holds: steps of 4 ms. */
const TICK = 0.004;
/** So long after the hit a piece belongs to the front, s. */
const FRONT = 0.05;
/** From the camera to the farthest thing it shows and back to the nearest, as shares of how far it looks; mm at the least. */
const NEAR = { share: 1 / 200, least: 10, most: 200 };
const FAR = { share: 12, least: 120_000 };

const VERTEX = `
precision highp float; precision highp int;
in vec3 position; in vec3 normal; in vec3 place; in vec2 turn; in float hit; in vec4 look;
uniform mat4 projectionMatrix, viewMatrix;
uniform float u_time, u_known, u_dim; uniform sampler2D u_colours, u_shapes; uniform vec3 u_must, u_lamp; uniform float u_base;
flat out vec3 v_colour; flat out vec4 v_id;
void main() {
  vec3 size = texelFetch(u_shapes, ivec2(int(look.z + 0.5), 0), 0).xyz;
  float way = turn.y < 0.0 ? -1.0 : 1.0;
  float takes = max(0.05, look.w * ${TICK});
  float s = clamp((u_time - hit) / takes, 0.0, 1.0);
  float a = abs(turn.y) * 3.14159265 * (1.0 - pow(1.0 - s, ${EASE}));
  float ca = cos(a), sa = sin(a) * way;
  vec3 p = position * size + vec3(0.0, 0.0, 0.5 * size.z);
  float hinge = 0.5 * way * size.x;
  vec2 d = vec2(p.x - hinge, p.z);
  p.x = hinge + d.x * ca + d.y * sa;
  p.z = d.y * ca - d.x * sa;
  vec3 n = vec3(normal.x * ca + normal.z * sa, normal.y, normal.z * ca - normal.x * sa);
  float yaw = turn.x * 3.14159265, c = cos(yaw), q = sin(yaw);
  vec3 at = place + vec3(c * p.x - q * p.y, q * p.x + c * p.y, p.z - 0.5 * size.z);
  n = vec3(c * n.x - q * n.y, q * n.x + c * n.y, n.z);
  gl_Position = projectionMatrix * viewMatrix * vec4(at, 1.0);
  int colour = int(look.x + 0.5) + 256 * int(look.y + 0.5);
  int face = normal.x > 0.5 ? 0 : normal.x < -0.5 ? 1 : 2;
  vec3 own = texelFetch(u_colours, ivec2(colour, face), 0).rgb;
  float light = 0.62 + 0.38 * max(0.0, dot(n, normalize(vec3(-0.35, -0.5, 0.8))));
  float state = s <= 0.0 ? 1.0 : s < 1.0 ? 1.22 : 0.72;
  own = min(vec3(1.0), own * light * state * u_dim);
  // The front is a thin line of lamp light: pieces that were hit just now.
  if (s > 0.0 && u_time - hit < ${FRONT.toFixed(3)}) own = mix(own, u_lamp, 0.75);
  if (u_known > 0.5 && hit > 1e8) own = mix(own, u_must, 0.72) * (0.85 + 0.3 * light) * u_dim;
  v_colour = own;
  float id = u_base + float(gl_InstanceID) + 1.0;
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

function colourTable(colours: readonly ColourRow[]): DataTexture {
  const width = Math.max(1, ...colours.map((c) => c.id + 1));
  const data = new Uint8Array(4 * width * 3).fill(128);
  for (const c of colours)
    [c.front, c.back, c.edge].forEach((hex, row) => {
      data.set([...rgb(hex), 255], 4 * (row * width + c.id));
    });
  const table = new DataTexture(data, width, 3);
  table.needsUpdate = true;
  return table;
}

export class FallScene {
  private readonly renderer: WebGLRenderer;
  private readonly scene = new Scene();
  private readonly camera = new PerspectiveCamera(42, 1, 20, 900_000);
  private readonly target = new WebGLRenderTarget(1, 1);
  private readonly still: (Mesh | LineSegments)[] = [];
  private tables: DataTexture[] = [];
  private chunks: { mesh: Mesh; material: RawShaderMaterial }[] = [];
  private glow: Points | null = null;
  private origin: [number, number] = [0, 0];

  /** Throws when the browser has no WebGL. */
  constructor(canvas: HTMLCanvasElement) {
    this.renderer = new WebGLRenderer({ canvas, antialias: true });
    this.camera.up = new Vector3(0, 0, 1);
  }

  load(pieces: HallPieces, times: FallTimes | null, motion: Motion | null, state: State, tones: Tones, known: boolean) {
    this.drop();
    const kinds = new Map<number, KindRow>(state.kinds.map((k) => [k.id, k]));
    const shapes: number[] = [];
    const slots = new Map<number, number>();
    const shapeOf = (kind: number, pose: number) => {
      const key = kind * 4 + pose;
      const slot = slots.get(key) ?? Math.min(255, slots.size);
      if (!slots.has(key)) {
        slots.set(key, slot);
        shapes.push(...body(kinds.get(kind), pose), 0);
      }
      return slot;
    };
    this.origin = pieces.n ? [pieces.x[0]!, pieces.y[0]!] : [0, 0];
    const colours = colourTable(state.colours);
    this.tables.push(colours);
    const parts: { mesh: Mesh; material: RawShaderMaterial }[] = [];
    const [must, lamp] = [tones.must, tones.lamp].map((hex) => new Vector3(...rgb(hex).map((v) => v / 255)));
    const box = new BoxGeometry(1, 1, 1);
    for (let first = 0; first < pieces.n; first += CHUNK) {
      const n = Math.min(CHUNK, pieces.n - first);
      const [place, turn, hit, look] = [new Float32Array(3 * n), new Int16Array(2 * n), new Float32Array(n), new Uint8Array(4 * n)];
      for (let i = 0; i < n; i++) {
        const p = first + i;
        place.set([pieces.x[p]! - this.origin[0], pieces.y[p]! - this.origin[1], pieces.z[p]!], 3 * i);
        const yaw = Math.atan2(Math.sin(pieces.yaw[p]!), Math.cos(pieces.yaw[p]!));
        turn[2 * i] = Math.round((yaw / Math.PI) * 32_767);
        turn[2 * i + 1] = Math.round(((motion?.rest[p] ?? 0) / Math.PI) * 32_767);
        const us = times?.hit[p] ?? NEVER;
        hit[i] = us === NEVER ? STANDS : us / 1e6;
        const colour = pieces.colour[p]!;
        look.set([colour & 255, colour >> 8, shapeOf(pieces.kind[p]!, pieces.pose[p]!), Math.min(255, Math.round((motion?.takes[p] ?? 0.2) / TICK))], 4 * i);
      }
      const shape = new InstancedBufferGeometry();
      shape.index = box.index;
      shape.setAttribute("position", box.getAttribute("position"));
      shape.setAttribute("normal", box.getAttribute("normal"));
      shape.setAttribute("place", new InstancedBufferAttribute(place, 3));
      shape.setAttribute("turn", new InstancedBufferAttribute(turn, 2, true));
      shape.setAttribute("hit", new InstancedBufferAttribute(hit, 1));
      shape.setAttribute("look", new InstancedBufferAttribute(look, 4));
      shape.instanceCount = n;
      const material = new RawShaderMaterial({
        glslVersion: GLSL3, vertexShader: VERTEX, fragmentShader: FRAGMENT,
        uniforms: {
          u_time: { value: 0 }, u_known: { value: known ? 1 : 0 }, u_dim: { value: 1 }, u_pick: { value: 0 }, u_base: { value: first },
          u_colours: { value: colours }, u_shapes: { value: null }, u_must: { value: must }, u_lamp: { value: lamp },
        },
      });
      const mesh = new Mesh(shape, material);
      mesh.frustumCulled = false;
      parts.push({ mesh, material });
      this.scene.add(mesh);
    }
    const table = new DataTexture(Float32Array.from(shapes.length ? shapes : [1, 1, 1, 0]), Math.max(1, shapes.length / 4), 1, RGBAFormat, FloatType);
    table.needsUpdate = true;
    this.tables.push(table);
    for (const { material } of parts) material.uniforms.u_shapes!.value = table;
    this.chunks = parts;
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
    const loop = (outline: readonly [number, number][], z: number) =>
      outline.forEach((p, i) => lines.push(...at(p), z, ...at(outline[(i + 1) % outline.length]!), z));
    loop(state.floor_plan.outline, 0);
    for (const part of state.floor_plan.parts) if (part.is !== "overhead") loop(part.outline, part.is === "surface" ? part.height : 0);
    const fill = (outline: readonly [number, number][], z: number, colour: string) => {
      if (outline.length < 3) return;
      const shape = new Shape();
      outline.forEach((p, i) => (i === 0 ? shape.moveTo(...at(p)) : shape.lineTo(...at(p))));
      const mesh = new Mesh(new ShapeGeometry(shape), new MeshBasicMaterial({ color: new Color().setStyle(colour), side: DoubleSide }));
      mesh.position.z = z;
      add(mesh);
    };
    fill(state.floor_plan.outline, -4, tones.second);
    for (const part of state.floor_plan.parts.filter((p) => p.is === "surface")) fill(part.outline, part.height - 1, tones.line);
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
    const shape = new BufferGeometry();
    shape.setAttribute("position", new Float32BufferAttribute(lines, 3));
    add(new LineSegments(shape, new LineBasicMaterial({ color: new Color().setStyle(tones.line) })));
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
    for (const { material } of this.chunks) material.uniforms[name]!.value = value;
  }

  draw(size: Size, sight: Sight, seconds: number, { ratio, dim }: Manner) {
    this.renderer.setPixelRatio(ratio);
    this.renderer.setSize(size.width, size.height, false);
    this.aim(size, sight);
    this.set("u_time", seconds);
    this.set("u_dim", dim);
    if (this.glow) {
      const { u_pixels, u_dim } = (this.glow.material as RawShaderMaterial).uniforms;
      u_pixels!.value = size.height * ratio;
      u_dim!.value = dim;
    }
    this.renderer.render(this.scene, this.camera);
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
    for (const shown of [...this.chunks.map((c) => c.mesh), ...this.still, ...(this.glow ? [this.glow] : [])]) {
      this.scene.remove(shown);
      shown.geometry.dispose();
      (shown.material as Material).dispose();
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
