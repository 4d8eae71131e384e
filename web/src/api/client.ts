/** The one place that speaks HTTP with the server. */
import type { Change } from "./generated/Change";
import { readPieces, readTimes, readTouch } from "../kernels/columns";
import type { CopyAsk } from "./generated/CopyAsk";
import type { CopyKept } from "./generated/CopyKept";
import type { Findings } from "./generated/Findings";
import type { ForgetAsk } from "./generated/ForgetAsk";
import type { StepsWeight } from "./generated/StepsWeight";
import type { Done } from "./generated/Done";
import type { FallReport } from "./generated/FallReport";
import type { FeedWays } from "./generated/FeedWays";
import type { GapsAsk } from "./generated/GapsAsk";
import type { GapStates } from "./generated/GapStates";
import type { ItemDraft } from "./generated/ItemDraft";
import type { Job } from "./generated/Job";
import type { Lan } from "./generated/Lan";
import type { MatchAsk } from "./generated/MatchAsk";
import type { MendAsk } from "./generated/MendAsk";
import type { OddsAsk } from "./generated/OddsAsk";
import type { PictureKept } from "./generated/PictureKept";
import type { PieceInfo } from "./generated/PieceInfo";
import type { ReadLane } from "./generated/ReadLane";
import type { ReadPlan } from "./generated/ReadPlan";
import type { SectionMove } from "./generated/SectionMove";
import type { SectionStands } from "./generated/SectionStands";
import type { SectionTried } from "./generated/SectionTried";
import type { SheetsInfo } from "./generated/SheetsInfo";
import type { Side } from "./generated/Side";
import type { State } from "./generated/State";
import type { Steps } from "./generated/Steps";
import type { StockReport } from "./generated/StockReport";
import type { TapedHall } from "./generated/TapedHall";
import type { TimedHall } from "./generated/TimedHall";
import type { Try } from "./generated/Try";
import type { Tried } from "./generated/Tried";
import type { Trouble } from "./generated/Trouble";
import { readingQuery, type Reading } from "../kernels/route";

/** The server said no, and why; `why` in state/say tells it in the reader's language. */
export class Refusal extends Error {
  constructor(
    readonly status: number,
    readonly trouble: Trouble,
  ) {
    super(trouble.message);
  }
}

/** The server did not answer at all, or has another plan than the one that is shown. */
export class NoConnection extends Error {}

/** The plan that this page shows; nothing is changed in another one. */
let shown: string | null = null;
export const shows = (project: string): void => void (shown = project);

async function ask(method: string, path: string, init: RequestInit = {}): Promise<Response> {
  let answer: Response;
  const headers = new Headers(init.headers);
  // A foreign page cannot set this header, so that it cannot change anything in our name.
  if (method !== "GET") headers.set("X-Standfast", "1");
  // Who has to join does not see a plan yet.
  if (method !== "GET" && shown !== null && path !== "/api/join") headers.set("X-Standfast-Plan", shown);
  try {
    answer = await fetch(path, { method, credentials: "same-origin", ...init, headers });
  } catch (error) {
    if (error instanceof DOMException && error.name === "AbortError") throw error;
    throw new NoConnection(String(error));
  }
  if (answer.ok) return answer;
  const trouble = await answer.json().then(
    (body: Trouble) => (typeof body.message === "string" ? body : null),
    () => null,
  );
  // A proxy in between answers without a Trouble when the server is away.
  if (!trouble && answer.status >= 500) throw new NoConnection(`status ${answer.status}`);
  if (trouble?.code === "other-plan") throw new NoConnection(trouble.message);
  throw new Refusal(answer.status, trouble ?? { code: `http-${answer.status}`, message: answer.statusText, said: null });
}

async function json<T>(method: string, path: string, body?: unknown, more: Record<string, string> = {}): Promise<T> {
  const init: RequestInit = {};
  if (body !== undefined) {
    init.headers = { "Content-Type": "application/json", ...more };
    init.body = JSON.stringify(body);
  }
  const answer = await ask(method, path, init);
  const text = await answer.text();
  return (text === "" ? null : JSON.parse(text)) as T;
}

export const getState = () => json<State>("GET", "/api/state");
export const getFindings = () => json<Findings>("GET", "/api/findings");
export const getStock = () => json<StockReport>("GET", "/api/stock");
export const getLan = () => json<Lan>("GET", "/api/lan");
/** Makes a change; under a key it counts once, however often it is sent. */
export const doChange = (change: Change, key?: string) => json<Done>("POST", "/api/do", change, key ? { "X-Standfast-Once": key } : {});
export const mend = (finding: number, change: number) => json<Done>("POST", "/api/mend", { finding, change } satisfies MendAsk);
export const undo = () => json<Done>("POST", "/api/undo");
export const redo = () => json<Done>("POST", "/api/redo");
/** The steps that were taken: what stands and what can be made again, or every entry of the journal. */
export const getSteps = (ask: { all: boolean; skip: number; most: number }) =>
  json<Steps>("GET", `/api/steps?all=${ask.all ? 1 : 0}&skip=${ask.skip}&most=${ask.most}`);
/** How much was done before a time, UTC. */
export const getOlder = (before: Date) => json<StepsWeight>("GET", `/api/steps/older?before=${before.toISOString().replace(/\.\d+Z$/, "Z")}`);
/** Forgets the steps up to a change for good; gives how much that was. */
export const forgetSteps = (upto: number) => json<StepsWeight>("POST", "/api/steps/forget", { upto } satisfies ForgetAsk);
/** Keeps items as they are now, for a paste to come. */
export const copyItems = (items: readonly number[]) => json<CopyKept>("POST", "/api/copy", { items: [...items] } satisfies CopyAsk);
export const startMatch = (wanted: MatchAsk) => json<Job>("POST", "/api/match", wanted);
export const startOdds = (wanted: OddsAsk) => json<Job>("POST", "/api/odds", wanted);
export const startGaps = (wanted: GapsAsk) => json<Job>("POST", "/api/gaps", wanted);
export const getJob = (id: number) => json<Job>("GET", `/api/job/${id}`);
export const stopJob = (id: number) => json<unknown>("POST", `/api/job/${id}/stop`);
export const useVariant = (id: number) => json<Done>("POST", `/api/variant/${id}/use`);
export const dropVariant = (id: number) => json<unknown>("DELETE", `/api/variant/${id}`);
export const join = (code: string) => json<unknown>("POST", "/api/join", { code });
export const getSheets = (query: string) => json<SheetsInfo>("GET", `/api/sheets?${query}`);
export const getReadPlan = (item: number, r: Reading) => json<ReadPlan>("GET", `/api/read/${item}?${readingQuery(r)}`);
export const getReadLane = (item: number, n: number, r: Reading) =>
  json<ReadLane>("GET", `/api/read/${item}/${n}?${readingQuery(r)}`);

/** An item, whole. */
export const getItem = (id: number) => json<ItemDraft>("GET", `/api/item/${id}`);
/** The ways to feed a field for a line from this side, best first. */
export const getFeeds = (field: number, side: Side) => json<FeedWays>("GET", `/api/field/${field}/feeds?side=${side}`);
/** Where a section stands, and how far it may lie off. */
export const getSection = (id: number) => json<SectionStands>("GET", `/api/section/${id}`);
/** The hall as measured: marks, taped distances, and how they fit. */
export const getTaped = () => json<TapedHall>("GET", "/api/hall/taped");
/** Lines of the crew's own that were timed, and the friction that the fall takes. */
export const getTimed = () => json<TimedHall>("GET", "/api/hall/timed");
/** What a move of a section would do; nothing is changed. */
export const trySection = (id: number, by: SectionMove) => json<SectionTried>("POST", `/api/section/${id}/try`, by);
/** Items, whole; what is not in the plan any more is left out. */
export const getItems = (ids: readonly number[]) => json<ItemDraft[]>("GET", `/api/items?ids=${ids.join(",")}`);
/** What drafts would take and what would be wrong with them; nothing is changed. */
export const tryItems = (items: ItemDraft[]) => json<Tried>("POST", "/api/try", { items } satisfies Try);

const columns = async (path: string) => (await ask("GET", path)).arrayBuffer();
export const getPieces = async () => readPieces(await columns("/api/hall/pieces"));
export const getTimes = async () => readTimes(await columns("/api/fall/times"));
export const getTouch = async (query: string) => readTouch(await columns(`/api/touch?${query}`));
export const getGaps = () => json<GapStates>("GET", "/api/gaps");
export async function tryPieces(items: ItemDraft[]) {
  const answer = await ask("POST", "/api/try/pieces", { headers: { "Content-Type": "application/json" }, body: JSON.stringify({ items } satisfies Try) });
  return readPieces(await answer.arrayBuffer());
}
export const getReport = () => json<FallReport>("GET", "/api/fall/report");
export const getPiece = (n: number, touch: string) => json<PieceInfo>("GET", `/api/piece/${n}${touch && `?${touch}`}`);

/** Sends a picture file as it is; it comes into the plan with the change that shows it. */
export async function keepPicture(file: File): Promise<PictureKept> {
  const headers = { "Content-Type": file.type || "application/octet-stream", "X-File-Name": encodeURIComponent(file.name) };
  const answer = await ask("POST", "/api/pictures/kept", { body: file, headers });
  return (await answer.json()) as PictureKept;
}

/** Colour ids of a field, lane by lane, rank 0 first; 0 for no piece. On the wire: unsigned 16 bit, low byte first. */
export async function getCells(item: number, look: string): Promise<Uint16Array> {
  const answer = await ask("GET", `/api/field/${item}/cells.bin?look=${encodeURIComponent(look)}`);
  const view = new DataView(await answer.arrayBuffer());
  return Uint16Array.from({ length: view.byteLength >> 1 }, (_, i) => view.getUint16(i * 2, true));
}

/** One byte a cell in the same order: 1 where it was set by hand. */
export const getByHand = async (item: number) => new Uint8Array(await columns(`/api/field/${item}/by-hand.bin`));

/** Where somebody stands who looks at a field: mm, mm, and degrees against the fall; 180 is behind the entry. */
export interface EyePoint {
  distance: number;
  height: number;
  bearing: number;
}

/** Address of the whole picture of a field, `longest` pixels along its longer side, before anything is cut away. */
export const wholePicture = (item: number, look: string, scale: number) => `/api/field/${item}/view/whole.png?look=${encodeURIComponent(look)}&scale=${scale}`;

export type FieldPicture = "source" | "laid" | "above" | "standing" | "fallen";

/** Address of a picture of a field; it changes with the field's look, so that it may be kept for ever. */
export function fieldPicture(item: number, view: FieldPicture, look: string, scale: number, eye: EyePoint | null = null): string {
  return `/api/field/${item}/view/${view}.png?look=${encodeURIComponent(look)}&scale=${scale}${eyeQuery(eye)}`;
}

/** Address of a picture of a field as a variant would lay it. */
export function variantPicture(variant: number, item: number, view: "laid" | "above" | "standing" | "fallen", scale: number, eye: EyePoint | null = null): string {
  return `/api/variant/${variant}/${item}/${view}.png?scale=${scale}${eyeQuery(eye)}`;
}

const eyeQuery = (eye: EyePoint | null) => (eye ? `&eye=${eye.distance},${eye.height},${eye.bearing}` : "");
