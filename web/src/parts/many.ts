/** What the drawings of many pieces share: their data in textures of whole rows, and a canvas in the size that is wanted. */
import { DataTexture, FloatType, RGBAFormat, type WebGLRenderer } from "three";
import type { Size } from "../kernels/floor";

/** A block of pieces is a row of the textures; pieces drawn at once are as many rows. */
export const BLOCK = 1024;
export const CHUNK = BLOCK * 1024;

/** For shaders: where the textures hold a piece. */
export const SPOT = `ivec2 spot(int piece) { return ivec2(piece % ${BLOCK}, piece / ${BLOCK}); }`;
/** For shaders: the corners of two triangles that make a square. */
export const SQUARE = "const vec2 CORNERS[6] = vec2[6](vec2(-0.5), vec2(0.5, -0.5), vec2(0.5), vec2(-0.5), vec2(0.5), vec2(-0.5, 0.5));";

/** Four numbers a texel: floats as they are, bytes as shares of 255. */
export function texture(data: Float32Array | Uint8Array, width: number, height: number): DataTexture {
  const made = new DataTexture(data as Float32Array<ArrayBuffer>, width, height, RGBAFormat, data instanceof Float32Array ? FloatType : undefined);
  made.needsUpdate = true;
  return made;
}

/** A texture with other data: the old one where it is of this size, else one that takes its place. */
export function filled(old: DataTexture | null, data: Float32Array | Uint8Array, width: number, height: number): DataTexture {
  if (old && old.image.width === width && old.image.height === height) {
    old.image.data = data as Float32Array<ArrayBuffer>;
    old.needsUpdate = true;
    return old;
  }
  old?.dispose();
  return texture(data, width, height);
}

/** A texture of bytes of this size: the old one where it fits, else an empty one that takes its place. */
export function sized(old: DataTexture, width: number, height: number): DataTexture {
  return old.image.width === width && old.image.height === height ? old : filled(old, new Uint8Array(4 * width * height), width, height);
}

/** Sets the size of a canvas when it is another one only: setting it clears the canvas, and costs as much as a picture. */
export class Fit {
  private set = { ratio: 0, width: 0, height: 0 };

  constructor(private readonly renderer: WebGLRenderer) {}

  to(ratio: number, { width, height }: Size) {
    const { set } = this;
    if (ratio === set.ratio && width === set.width && height === set.height) return;
    this.set = { ratio, width, height };
    this.renderer.setPixelRatio(ratio);
    this.renderer.setSize(width, height, false);
  }
}
