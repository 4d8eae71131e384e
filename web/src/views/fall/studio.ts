/** Stills and films: a scene of its own off the screen, drawn frame by frame, so that no frame is lost and none comes twice. */
import type { State } from "../../api/generated/State";
import type { StandsRow } from "../../api/generated/StandsRow";
import { bitRate, frameCount, frameTime, shownAt, type PictureSize, type Shot } from "../../kernels/film";
import { webm, type Coded } from "../../kernels/webm";
import type { Sight } from "../../kernels/view";
import type { FallFacts } from "./facts.svelte";
import { names } from "./overlay";
import { FallScene } from "./scene";

/** What is written over the pictures; null for nothing. */
export interface Written {
  state: State;
  stands: readonly StandsRow[];
}
export interface Film {
  blob: Blob;
  /** "webm" or "mp4". */
  ending: string;
  frames: number;
}
type SightAt = (seconds: number) => Sight | null;
export interface Progress {
  told: (frame: number, of: number) => void;
  signal: AbortSignal;
}

/** Lines that words are made for; larger pictures have larger words. */
const LINES = 900;
/** A key frame each so many seconds, so that players can seek. */
const KEY_EACH = 2;
/** Frames that may wait for the encoder. */
const WAITING = 3;

export type Means = "frames" | "record" | null;

interface Coder {
  config: VideoEncoderConfig;
  codec: "V_VP9" | "V_VP8";
}

/** The encoder that this browser has for WebM, the better first. */
async function coder(size: PictureSize, rate: number): Promise<Coder | null> {
  if (!("VideoEncoder" in window)) return null;
  // Levels of VP9: 4.1 holds full HD at 60 frames a second, 5.1 four times as much.
  const level = size.width * size.height > 2_228_224 ? "51" : "41";
  const wanted = [[`vp09.00.${level}.08`, "V_VP9"], ["vp8", "V_VP8"]] as const;
  for (const [name, codec] of wanted) {
    const config: VideoEncoderConfig = { codec: name, width: size.width, height: size.height, bitrate: bitRate(size, rate), framerate: rate, latencyMode: "quality" };
    const told = await VideoEncoder.isConfigSupported(config).catch(() => null);
    if (told?.supported) return { config, codec };
  }
  return null;
}
const RECORDED = ["video/webm;codecs=vp9", "video/webm;codecs=vp8", "video/mp4", "video/webm"];
const recorded = () => ("MediaRecorder" in window && "captureStream" in HTMLCanvasElement.prototype ? RECORDED.find((type) => MediaRecorder.isTypeSupported(type)) : undefined);

/** How this browser can make a film: frame by frame, by recording what is drawn as it goes, or not at all. */
export async function means(size: PictureSize, rate: number): Promise<Means> {
  return (await coder(size, rate)) ? "frames" : recorded() ? "record" : null;
}

export class Studio {
  private readonly glass = document.createElement("canvas");
  private readonly paper = document.createElement("canvas");
  private readonly scene: FallScene;
  private readonly g: CanvasRenderingContext2D;

  /** Throws when the browser has no WebGL, or no room for a picture of this size. */
  constructor(private readonly size: PictureSize, facts: FallFacts, private readonly dim: number, private readonly written: Written | null) {
    this.scene = new FallScene(this.glass);
    [this.paper.width, this.paper.height] = [size.width, size.height];
    const g = this.paper.getContext("2d", { alpha: false });
    if (!g || !facts.load(this.scene)) {
      this.end();
      throw new Error("nothing to draw");
    }
    this.g = g;
  }

  /** Draws a moment. */
  draw(sight: Sight | null, seconds: number) {
    if (!sight) return;
    const { g, size, scene } = this;
    const ratio = size.height / LINES;
    const words = { width: size.width / ratio, height: LINES };
    scene.draw(size, sight, seconds, { ratio: 1, dim: this.dim });
    g.setTransform(1, 0, 0, 1, 0, 0);
    // In the same task as it was drawn: afterwards the picture is not kept.
    g.drawImage(this.glass, 0, 0);
    if (!this.written) return;
    g.setTransform(ratio, 0, 0, ratio, 0, 0);
    names(g, words, (x, y, z) => scene.project(words, x, y, z), this.written.state, [...this.written.stands], []);
  }

  async png(): Promise<Blob> {
    const blob = await new Promise<Blob | null>((done) => this.paper.toBlob(done, "image/png"));
    if (!blob) throw new Error("no picture");
    return blob;
  }

  /** Makes a film; null when it was stopped. */
  async film(shot: Shot, sight: SightAt, progress: Progress): Promise<Film | null> {
    const found = await coder(this.size, shot.rate);
    if (found) return this.encode(found, shot, sight, progress);
    const type = recorded();
    if (!type) throw new Error("no encoder");
    return this.record(type, shot, sight, progress);
  }

  private async encode({ config, codec }: Coder, shot: Shot, sight: SightAt, { told, signal }: Progress): Promise<Film | null> {
    const coded: Coded[] = [];
    let failed: unknown = null;
    const encoder = new VideoEncoder({
      output: (chunk) => {
        const data = new Uint8Array(chunk.byteLength);
        chunk.copyTo(data);
        coded.push({ data, at: chunk.timestamp, key: chunk.type === "key" });
      },
      error: (error) => (failed = error),
    });
    try {
      encoder.configure(config);
      const count = frameCount(shot);
      const each = Math.max(1, Math.round(KEY_EACH * shot.rate));
      for (let i = 0; i < count; i++) {
        if (signal.aborted) return null;
        if (failed) throw failed;
        const seconds = frameTime(shot, i);
        this.draw(sight(seconds), seconds);
        const frame = new VideoFrame(this.paper, { timestamp: shownAt(shot, i), duration: Math.round(1e6 / shot.rate) });
        encoder.encode(frame, { keyFrame: i % each === 0 });
        frame.close();
        told(i + 1, count);
        // The page stays alive, and frames do not pile up before the encoder.
        do await pause();
        while (encoder.encodeQueueSize > WAITING && !signal.aborted && !failed);
      }
      await encoder.flush();
      if (signal.aborted) return null;
      if (failed) throw failed;
      const parts = webm({ codec, width: this.size.width, height: this.size.height, rate: shot.rate }, coded);
      return { blob: new Blob(parts as BlobPart[], { type: "video/webm" }), ending: "webm", frames: coded.length };
    } finally {
      if (encoder.state !== "closed") encoder.close();
    }
  }

  /** Without an encoder for frames the film is recorded as it goes: it takes as long as it is. */
  private async record(type: string, shot: Shot, sight: SightAt, { told, signal }: Progress): Promise<Film | null> {
    const stream = this.paper.captureStream(0);
    const track = stream.getVideoTracks()[0] as CanvasCaptureMediaStreamTrack;
    const recorder = new MediaRecorder(stream, { mimeType: type, videoBitsPerSecond: bitRate(this.size, shot.rate) });
    const parts: Blob[] = [];
    recorder.ondataavailable = (event) => parts.push(event.data);
    const over = new Promise<void>((done, fail) => {
      recorder.onstop = () => done();
      recorder.onerror = () => fail(new Error("the recorder failed"));
    });
    const count = frameCount(shot);
    recorder.start(1_000);
    const begun = performance.now();
    try {
      for (let i = 0; i < count && !signal.aborted; i++) {
        const seconds = frameTime(shot, i);
        this.draw(sight(seconds), seconds);
        track.requestFrame();
        told(i + 1, count);
        await pause(begun + (1_000 * (i + 1)) / shot.rate - performance.now());
      }
    } finally {
      if (recorder.state !== "inactive") recorder.stop();
      track.stop();
    }
    await over;
    return signal.aborted ? null : { blob: new Blob(parts, { type }), ending: type.includes("mp4") ? "mp4" : "webm", frames: count };
  }

  end() {
    this.scene.end();
    // Browsers keep few of these at a time.
    this.glass.width = this.glass.height = this.paper.width = this.paper.height = 1;
  }
}

const pause = (ms = 0) => new Promise<void>((later) => setTimeout(later, Math.max(0, ms)));

/** Hands a file to the browser, as if a link to it had been pressed. */
export function save(blob: Blob, name: string) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(blob);
  link.download = name;
  link.click();
  // Long enough for the browser to have begun.
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
