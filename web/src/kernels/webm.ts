/** Writes a film of one picture track as WebM: EBML (RFC 8794) with the elements of Matroska (RFC 9559). */

export interface Track {
  /** "V_VP8" or "V_VP9". */
  codec: string;
  width: number;
  height: number;
  /** Frames a second. */
  rate: number;
}
export interface Coded {
  data: Uint8Array;
  /** When it is shown, µs. */
  at: number;
  /** It can be shown without the ones before it. */
  key: boolean;
}

/** Ids of elements, RFC 9559 section 5 and RFC 8794 section 11. */
const ID = {
  EBML: 0x1a45dfa3, EBMLVersion: 0x4286, EBMLReadVersion: 0x42f7, EBMLMaxIDLength: 0x42f2, EBMLMaxSizeLength: 0x42f3, DocType: 0x4282, DocTypeVersion: 0x4287, DocTypeReadVersion: 0x4285,
  Segment: 0x18538067, Info: 0x1549a966, TimestampScale: 0x2ad7b1, Duration: 0x4489, MuxingApp: 0x4d80, WritingApp: 0x5741,
  Tracks: 0x1654ae6b, TrackEntry: 0xae, TrackNumber: 0xd7, TrackUID: 0x73c5, FlagLacing: 0x9c, TrackType: 0x83, CodecID: 0x86, DefaultDuration: 0x23e383, Video: 0xe0, PixelWidth: 0xb0, PixelHeight: 0xba,
  Cluster: 0x1f43b675, Timestamp: 0xe7, SimpleBlock: 0xa3,
  Cues: 0x1c53bb6b, CuePoint: 0xbb, CueTime: 0xb3, CueTrackPositions: 0xb7, CueTrack: 0xf7, CueClusterPosition: 0xf1,
} as const;
type Id = (typeof ID)[keyof typeof ID];

/** Parts of a file in order, and how long they are together. */
interface Bytes {
  parts: Uint8Array[];
  length: number;
}
const of = (...parts: Uint8Array[]): Bytes => ({ parts, length: parts.reduce((sum, p) => sum + p.length, 0) });
const all = (...each: Bytes[]): Bytes => ({ parts: each.flatMap((b) => b.parts), length: each.reduce((sum, b) => sum + b.length, 0) });

/** A number, high byte first, in as few bytes as it needs. */
function number(value: number): Uint8Array {
  const out: number[] = [];
  for (let rest = value; rest > 0 || out.length === 0; rest = Math.floor(rest / 256)) out.unshift(rest % 256);
  return Uint8Array.from(out);
}
/** A length in eight bytes, whose first bit of eight says so (RFC 8794 section 4). */
function size(length: number): Uint8Array {
  const out = new Uint8Array(8);
  const view = new DataView(out.buffer);
  view.setUint32(0, 0x0100_0000 + Math.floor(length / 2 ** 32));
  view.setUint32(4, length >>> 0);
  return out;
}
function float(value: number): Uint8Array {
  const out = new Uint8Array(8);
  new DataView(out.buffer).setFloat64(0, value);
  return out;
}
const text = (value: string) => new TextEncoder().encode(value);
const element = (id: Id, content: Bytes): Bytes => all(of(number(id), size(content.length)), content);
const whole = (id: Id, value: number) => element(id, of(number(value)));

/** Milliseconds, as clusters count. */
const ms = (us: number) => Math.round(us / 1_000);
/** A cluster counts its blocks in 16 bits, ms; and players seek to clusters. */
const LONGEST = 5_000;

function block(frame: Coded, from: number): Bytes {
  const head = new Uint8Array(4);
  head[0] = 0x81;
  new DataView(head.buffer).setInt16(1, ms(frame.at) - from);
  head[3] = frame.key ? 0x80 : 0;
  return element(ID.SimpleBlock, of(head, frame.data));
}

/** A whole film; `frames` in order of time, the first of them a key. What is given is not copied. */
export function webm(track: Track, frames: readonly Coded[]): Uint8Array[] {
  const head = element(ID.EBML, all(
    whole(ID.EBMLVersion, 1), whole(ID.EBMLReadVersion, 1), whole(ID.EBMLMaxIDLength, 4), whole(ID.EBMLMaxSizeLength, 8),
    element(ID.DocType, of(text("webm"))), whole(ID.DocTypeVersion, 4), whole(ID.DocTypeReadVersion, 2),
  ));
  const last = frames.at(-1);
  const info = element(ID.Info, all(
    whole(ID.TimestampScale, 1_000_000), element(ID.Duration, of(float(last ? last.at / 1_000 + 1_000 / track.rate : 0))),
    element(ID.MuxingApp, of(text("Standfast"))), element(ID.WritingApp, of(text("Standfast"))),
  ));
  const tracks = element(ID.Tracks, element(ID.TrackEntry, all(
    whole(ID.TrackNumber, 1), whole(ID.TrackUID, 1), whole(ID.FlagLacing, 0), whole(ID.TrackType, 1), element(ID.CodecID, of(text(track.codec))),
    whole(ID.DefaultDuration, Math.round(1e9 / track.rate)), element(ID.Video, all(whole(ID.PixelWidth, track.width), whole(ID.PixelHeight, track.height))),
  )));
  const clusters: Bytes[] = [];
  const cues: Bytes[] = [];
  let at = info.length + tracks.length;
  for (let i = 0; i < frames.length; ) {
    const from = ms(frames[i]!.at);
    const blocks: Bytes[] = [whole(ID.Timestamp, from)];
    const first = i;
    for (; i < frames.length && (i === first || (!frames[i]!.key && ms(frames[i]!.at) - from < 30_000) || ms(frames[i]!.at) - from < LONGEST); i++) blocks.push(block(frames[i]!, from));
    const cluster = element(ID.Cluster, all(...blocks));
    if (frames[first]!.key) cues.push(element(ID.CuePoint, all(whole(ID.CueTime, from), element(ID.CueTrackPositions, all(whole(ID.CueTrack, 1), whole(ID.CueClusterPosition, at))))));
    clusters.push(cluster);
    at += cluster.length;
  }
  const segment = element(ID.Segment, all(info, tracks, ...clusters, element(ID.Cues, all(...cues))));
  return [...head.parts, ...segment.parts];
}
