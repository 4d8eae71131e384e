/** Words as ink, in the program's font or one from a file of the planner's own. The file stays in the browser. */
import type { Ink } from "../kernels/thin";

const OWN = "Standfast own";
/** Signs wider than this many pixels in all are cut off: a canvas takes no more everywhere. */
const WIDEST = 12_000;

class Glyphs {
  /** Name of the file that the letters come from; empty for the program's own font. */
  file = $state("");
  private family = $state('"Atkinson Next"');
  private face: FontFace | null = null;
  private readonly kept = new Map<string, Ink | null>();

  /** Takes a font from a file; false when it is none. */
  async take(file: File): Promise<boolean> {
    try {
      const face = await new FontFace(OWN, await file.arrayBuffer()).load();
      if (this.face) document.fonts.delete(this.face);
      document.fonts.add(face);
      this.face = face;
      this.kept.clear();
      this.family = `"${OWN}"`;
      this.file = file.name;
      return true;
    } catch {
      return false;
    }
  }

  /** Back to the program's own font. */
  leave() {
    this.kept.clear();
    this.family = '"Atkinson Next"';
    this.file = "";
  }

  /** Counts up when a font has come, so that what waits for it is drawn again. */
  private come = $state(0);

  readonly ink = (text: string, height: number): Ink | null => {
    void this.come;
    const font = `500 ${height}px ${this.family}`;
    if (!document.fonts.check(font, text)) {
      // Rarer signs lie in a file of their own, which comes when it is asked for.
      void document.fonts.load(font, text).then((faces) => faces.length && this.come++, () => null);
      if (this.come === 0) return null;
    }
    const key = `${this.come} ${font} ${text}`;
    const known = this.kept.get(key);
    if (known !== undefined) return known;
    if (this.kept.size > 32) this.kept.clear();
    const made = draw(text, `${font}, sans-serif`, height);
    this.kept.set(key, made);
    return made;
  };
}

/** Draws words and cuts off the paper around them. */
function draw(text: string, font: string, height: number): Ink | null {
  const canvas = document.createElement("canvas");
  const g = canvas.getContext("2d", { willReadFrequently: true });
  if (!g) return null;
  g.font = font;
  const w = Math.min(WIDEST, Math.ceil(g.measureText(text).width) + height);
  const h = 2 * height;
  [canvas.width, canvas.height] = [w, h];
  g.font = font;
  g.textBaseline = "alphabetic";
  g.fillText(text, height / 2, 1.4 * height);
  const { data } = g.getImageData(0, 0, w, h);
  let [x0, y0, x1, y1] = [w, h, 0, 0];
  for (let y = 0; y < h; y++)
    for (let x = 0; x < w; x++)
      if (data[(y * w + x) * 4 + 3]! > 127) [x0, y0, x1, y1] = [Math.min(x0, x), Math.min(y0, y), Math.max(x1, x + 1), Math.max(y1, y + 1)];
  if (x1 <= x0) return null;
  const [width, high] = [x1 - x0, y1 - y0];
  const ink = new Uint8Array(width * high);
  for (let y = 0; y < high; y++) for (let x = 0; x < width; x++) ink[y * width + x] = data[((y + y0) * w + x + x0) * 4 + 3]! > 127 ? 1 : 0;
  return { width, height: high, ink };
}

export const glyphs = new Glyphs();
