/** What is drawn by WebGL: its code comes when its canvas is there, and it ends with it. */
import type { Attachment } from "svelte/attachments";

export class Drawing<T extends { end: () => void }> {
  /** Null until its code is there, and when the browser has no WebGL. */
  by = $state.raw<T | null>(null);
  failed = $state(false);

  constructor(private readonly code: () => Promise<new (canvas: HTMLCanvasElement) => T>) {}

  /** For `{@attach}` on the canvas. */
  readonly on: Attachment<HTMLCanvasElement> = (canvas) => {
    let gone = false;
    let mine: T | null = null;
    void this.code()
      .then((Made) => {
        if (gone) return;
        mine = new Made(canvas);
        this.by = mine;
      })
      .catch(() => (this.failed = true));
    return () => {
      gone = true;
      this.by = null;
      mine?.end();
    };
  };
}

/** A flat canvas as fine as the screen, in pixels of the page; keeps what is on it while its size stays. */
export function surface(canvas: HTMLCanvasElement, size: { width: number; height: number }): CanvasRenderingContext2D | null {
  const [w, h] = [Math.round(size.width * devicePixelRatio), Math.round(size.height * devicePixelRatio)];
  if (canvas.width !== w || canvas.height !== h) [canvas.width, canvas.height] = [w, h];
  const g = canvas.getContext("2d");
  g?.setTransform(devicePixelRatio, 0, 0, devicePixelRatio, 0, 0);
  return g;
}

/** A box on the screen: left, top, right, bottom. */
export type Covered = [number, number, number, number];

/** What slips lie over a canvas of this room; names drawn there could not be read. */
export function covered(room: HTMLElement): Covered[] {
  const all = room.getBoundingClientRect();
  return [...room.querySelectorAll(".slip, .scalebar")].map((slip) => {
    const r = slip.getBoundingClientRect();
    return [r.left - all.left, r.top - all.top, r.right - all.left, r.bottom - all.top];
  });
}
