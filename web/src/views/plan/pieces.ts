/** All pieces from above by WebGL: cells of colour while they are small, true edges once they can be told apart. */
import { BufferAttribute, GLSL3, InstancedBufferAttribute, InstancedBufferGeometry, Mesh, OrthographicCamera, RawShaderMaterial, Scene, Vector4, WebGLRenderer } from "three";
import type { HallPieces } from "../../kernels/columns";
import type { Size, View } from "../../kernels/floor";
import { cellsOf, type Sizes } from "./sizes";

/** Pieces drawn at once. */
const CHUNK = 65_536;
/** A pitch of so many pixels and less is drawn twice as fine, so that no moire appears. */
const FINE_BELOW = 3;

const VERTEX = `
precision highp float;
in vec2 corner; in vec2 place; in float yaw; in vec4 cell; in vec4 tint;
uniform vec4 u_view; uniform mediump float u_near;
out vec4 v_tint; out vec2 v_corner;
void main() {
  vec2 size = mix(cell.xy, cell.zw, u_near) * 0.25;
  vec2 p = corner * size;
  float c = cos(yaw), s = sin(yaw);
  vec2 at = place + vec2(c * p.x - s * p.y, s * p.x + c * p.y);
  gl_Position = vec4(at * u_view.zw + u_view.xy, 0.0, 1.0);
  v_tint = tint;
  v_corner = corner;
}`;
const FRAGMENT = `
precision mediump float;
in vec4 v_tint; in vec2 v_corner; uniform float u_near; out vec4 colour;
void main() {
  // A rim that stands out from the piece, so that white ones show on a light floor and black ones on a dark one.
  vec2 inward = (0.5 - abs(v_corner)) / max(fwidth(v_corner), vec2(1e-6));
  float light = dot(v_tint.rgb, vec3(0.2126, 0.7152, 0.0722));
  vec3 rim = light > 0.4 ? v_tint.rgb * 0.5 : mix(v_tint.rgb, vec3(1.0), 0.35);
  float share = u_near * (1.0 - smoothstep(0.5, 1.5, min(inward.x, inward.y)));
  colour = vec4(mix(v_tint.rgb, rim, share), 1.0);
}`;

export class PiecesAbove {
  private readonly renderer: WebGLRenderer;
  private readonly scene = new Scene();
  private readonly camera = new OrthographicCamera();
  private readonly material: RawShaderMaterial;
  private chunks: { mesh: Mesh; tint: InstancedBufferAttribute; first: number }[] = [];
  private origin: [number, number] = [0, 0];
  private pitch = 15;
  private ratio = 0;

  /** Throws when the browser has no WebGL. */
  constructor(canvas: HTMLCanvasElement) {
    this.renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true, premultipliedAlpha: true });
    this.renderer.setClearColor(0, 0);
    this.material = new RawShaderMaterial({
      glslVersion: GLSL3, vertexShader: VERTEX, fragmentShader: FRAGMENT, depthTest: false, depthWrite: false,
      uniforms: { u_view: { value: new Vector4() }, u_near: { value: 0 } },
    });
  }

  /** Takes pieces; their colours follow by `paint`. */
  load(pieces: HallPieces, sizes: Sizes) {
    this.drop();
    this.origin = pieces.n ? [pieces.x[0]!, pieces.y[0]!] : [0, 0];
    this.pitch = sizes.least;
    const cells = cellsOf(pieces, sizes);
    for (let first = 0; first < pieces.n; first += CHUNK) {
      const n = Math.min(CHUNK, pieces.n - first);
      const place = new Float32Array(2 * n);
      for (let i = 0; i < n; i++) {
        place[2 * i] = pieces.x[first + i]! - this.origin[0];
        place[2 * i + 1] = pieces.y[first + i]! - this.origin[1];
      }
      const shape = new InstancedBufferGeometry();
      shape.setAttribute("corner", new BufferAttribute(Float32Array.of(-0.5, -0.5, 0.5, -0.5, 0.5, 0.5, -0.5, 0.5), 2));
      shape.setIndex([0, 1, 2, 0, 2, 3]);
      shape.setAttribute("place", new InstancedBufferAttribute(place, 2));
      shape.setAttribute("yaw", new InstancedBufferAttribute(pieces.yaw.slice(first, first + n), 1));
      shape.setAttribute("cell", new InstancedBufferAttribute(cells.slice(4 * first, 4 * (first + n)), 4));
      const tint = new InstancedBufferAttribute(new Uint8Array(4 * n), 4, true);
      shape.setAttribute("tint", tint);
      shape.instanceCount = n;
      const mesh = new Mesh(shape, this.material);
      mesh.frustumCulled = false;
      this.scene.add(mesh);
      this.chunks.push({ mesh, tint, first });
    }
  }

  /** Colours all pieces: 0xrrggbb by number. */
  paint(colour: (piece: number) => number) {
    for (const { tint, first } of this.chunks) {
      const bytes = tint.array;
      for (let i = 0; i < tint.count; i++) {
        const c = colour(first + i);
        bytes[4 * i] = c >> 16;
        bytes[4 * i + 1] = (c >> 8) & 255;
        bytes[4 * i + 2] = c & 255;
        bytes[4 * i + 3] = 255;
      }
      tint.needsUpdate = true;
    }
  }

  draw(view: View, size: Size, near: number) {
    const ratio = devicePixelRatio * (view.scale * this.pitch < FINE_BELOW ? 2 : 1);
    if (ratio !== this.ratio) this.renderer.setPixelRatio((this.ratio = ratio));
    this.renderer.setSize(size.width, size.height, false);
    const [sx, sy] = [(2 * view.scale) / size.width, (2 * view.scale) / size.height];
    const uniforms = this.material.uniforms;
    (uniforms.u_view!.value as Vector4).set((this.origin[0] - view.x) * sx, (this.origin[1] - view.y) * sy, sx, sy);
    uniforms.u_near!.value = near;
    this.renderer.render(this.scene, this.camera);
  }

  private drop() {
    for (const { mesh } of this.chunks) {
      this.scene.remove(mesh);
      mesh.geometry.dispose();
    }
    this.chunks = [];
  }

  end() {
    this.drop();
    this.material.dispose();
    this.renderer.dispose();
  }
}
