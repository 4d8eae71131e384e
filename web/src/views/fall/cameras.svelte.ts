/** From where the fall is seen: a camera that circles, somebody who walks, one that follows the front, and places of the plan. */
import { around, low, narrow, type Box, type Size } from "../../kernels/floor";
import { frontAt, type Front } from "../../kernels/front";
import { approach, circle, slide, whole, type Orbit } from "../../kernels/orbit";
import { heights } from "../../kernels/slopes";
import { EYE_HEIGHT, ofOrbit, ofWalker, orbitOf, placeOf, sightOf, standAt, stride, turnHead, walkerAt, type Sight, type Walker } from "../../kernels/view";
import type { CameraMode } from "../../state/lists/fall";
import { plan } from "../../state/plan.svelte";
import { t } from "../../state/say.svelte";
import type { FallFacts } from "./facts.svelte";
import type { Player } from "./player.svelte";

/** As high as pieces usually stand, mm, with a name above them. */
const TALL = 120;
/** How far from everything somebody may still walk, mm. */
const AROUND = 3_000;
/** What is looked at from no farther off than this is what somebody wants to see, mm. */
const NEARBY = 6_000;
/** How far the camera that follows is off, mm: at the least, and for each mm that the front is wide. */
const FOLLOW = { least: 1_300, wide: 2.6 };
/** A tablet that is held upright: the report lies at the foot of the scene, as in `look/fall.css`. */
const upright = () => matchMedia("(min-width: 601px) and (max-width: 900px) and (orientation: portrait)").matches;

export class Cameras {
  mode = $state<CameraMode>("orbit");
  orbit = $state.raw<Orbit | null>(null);
  private fitted: Orbit | null = null;
  walker = $state.raw<Walker | null>(null);
  /** The camera item that is looked from. */
  place = $state<number | null>(null);
  /** How many times nearer than usual the camera follows. */
  private near = $state(1);

  constructor(
    private readonly facts: FallFacts,
    private readonly player: Player,
    private readonly size: () => Size,
  ) {}

  /** Camera items of the plan. */
  readonly places = $derived((plan.state?.items ?? []).filter((i) => i.body.is === "camera"));
  private readonly front = $derived.by((): Front | null => (this.mode === "follow" ? this.facts.front(this.player.speed) : null));

  private aspect = () => this.size().width / Math.max(1, this.size().height);

  private following(front: Front | null, seconds: number): Orbit | null {
    if (!this.orbit || !front) return this.orbit;
    const { x, y, wide } = frontAt(front, seconds);
    return approach({ ...this.orbit, x, y, far: FOLLOW.least + FOLLOW.wide * wide }, this.near);
  }

  /** What is seen at a time; null before the first look. */
  sight(seconds: number): Sight | null {
    if (this.mode === "place") {
      const sight = this.fromPlace(this.place, this.aspect());
      if (sight) return sight;
    }
    if (this.mode === "walk" && this.walker) return ofWalker(this.walker);
    const o = this.mode === "follow" ? this.following(this.front, seconds) : this.orbit;
    return o && ofOrbit(o);
  }

  /** What a camera item sees in a picture of some shape. */
  fromPlace(id: number | null, aspect: number): Sight | null {
    const item = this.places.find((i) => i.id === id);
    if (item?.body.is !== "camera") return null;
    const on = plan.state?.surfaces.find((s) => s.id === item.surface);
    return sightOf({ x: item.x, y: item.y, heading: item.heading, camera: item.body }, aspect, on ? heights(on)(item.x, item.y) : 0);
  }

  /** What a picture of another shape shows at each time; for films, so that nothing hangs on what was seen before. */
  filmed(from: "now" | "follow" | number, speed: number, aspect: number): (seconds: number) => Sight | null {
    if (typeof from === "number") return () => this.fromPlace(from, aspect);
    if (from === "now" && this.mode === "place") return this.filmed(this.place ?? -1, speed, aspect);
    if (from === "now" && this.mode === "walk" && this.walker) return () => ofWalker(this.walker!);
    if (from === "now" && this.mode === "orbit") return () => this.orbit && ofOrbit(this.orbit);
    const front = this.facts.front(speed);
    return (seconds) => {
      const o = this.following(front, seconds);
      return o && ofOrbit(o);
    };
  }

  /** Another way to look, beginning from what is seen now. */
  use(mode: "orbit" | "walk" | "follow") {
    const now = this.sight(this.player.time);
    if (mode === "walk") {
      if (this.mode === "place" && now) this.walker = walkerAt(now);
      else if (this.orbit) this.walker = this.kept(standAt(this.watched()));
    } else if (now && (this.mode === "walk" || this.mode === "place")) this.orbit = orbitOf(now);
    else if (this.mode === "follow") this.orbit = this.following(this.front, this.player.time);
    if (mode === "follow" && this.orbit) {
      this.near = 1;
      this.orbit = { ...this.orbit, steep: Math.min(0.7, Math.max(0.3, this.orbit.steep)) };
    }
    this.mode = mode;
  }

  /** Where a walk begins to look: at what is seen from near, else at the front of the fall, so that there is something to see. */
  private watched(): Orbit {
    const o = this.orbit!;
    if (this.mode === "orbit" && o.far < NEARBY) return o;
    return this.following(this.facts.front(1), this.player.time) ?? o;
  }

  choose(id: number) {
    if (!this.places.some((i) => i.id === id)) return;
    this.place = id;
    this.mode = "place";
  }
  nextPlace() {
    const at = this.mode === "place" ? this.places.findIndex((i) => i.id === this.place) : -1;
    const next = this.places[(at + 1) % Math.max(1, this.places.length)];
    if (next) this.choose(next.id);
  }

  /** Puts a camera into the plan that sees what is seen now, and looks from it. */
  async keep() {
    const now = this.sight(this.player.time);
    if (!now) return;
    const names = new Set((plan.state?.items ?? []).map((i) => i.name));
    let n = this.places.length + 1;
    while (names.has(t("fall.camera.name", { n }))) n++;
    const name = t("fall.camera.name", { n });
    const { x, y, heading, camera } = placeOf(now, this.aspect());
    const draft = { id: null, name, section: null, surface: 0, x, y, heading, built: null, gaps: [], locked: false, group: null, body: { is: "camera" as const, ...camera }, cells_from: null };
    const done = await plan.do({ do: "put", items: [draft], label: t("fall.kept.label", { name }) });
    if (!done) return null;
    const id = done.items[0] ?? done.added;
    if (id !== null && id !== undefined) this.choose(id);
    return name;
  }

  /** Everything that stands, beside the slips that lie over the picture. */
  whole() {
    const size = this.size();
    const corners = (outline: readonly (readonly [number, number])[], z: number) => outline.flatMap(([x, y]) => [[x, y, 0] as const, [x, y, z] as const]);
    const items = (plan.state?.items ?? []).filter((i) => i.pieces > 0 && i.outline.length);
    const stand = items.flatMap((i) => corners(i.outline, i.body.is === "placeholder" ? i.body.height : TALL));
    const floor = corners(plan.state?.floor_plan.outline ?? [], 0);
    const bare = corners([[0, 0], [10_000, 6_000]], 0);
    const points = [stand, floor, bare].find((p) => p.length > 0)!;
    const margin = low(size) ? ([10, 60, 10, 64] as const) : upright() ? ([24, 132, 24, 0.32 * size.height + 36] as const) : narrow(size) ? ([10, 150, 10, 16] as const) : ([24, 132, size.width > 1_100 ? 402 : 342, 24] as const);
    this.orbit = this.fitted = whole(points, size, margin, { turn: 0.35, steep: 0.75 });
    this.mode = "orbit";
  }
  /** Everything is in sight, or nothing was looked at yet: then it stays so when the room for it changes. */
  get showsAll() {
    return this.orbit === this.fitted && this.mode === "orbit";
  }
  /** To a place; `under` when a slip will lie under it. */
  show(at: readonly [number, number], under = false) {
    const size = this.size();
    const from = this.mode === "orbit" || !this.orbit ? this.orbit : orbitOf(this.sight(this.player.time) ?? ofOrbit(this.orbit));
    if (!from) return;
    const o = { ...from, x: at[0], y: at[1], steep: Math.max(0.35, from.steep), far: Math.min(from.far, 1_400) };
    this.orbit = narrow(size) ? slide(o, 0, under ? -0.2 : 0.16) : o;
    this.mode = "orbit";
  }
  above() {
    if (this.mode !== "orbit") this.use("orbit");
    if (this.orbit) this.orbit = { ...this.orbit, turn: 0, steep: 1.55, far: Math.max(this.orbit.far, 2_000) };
  }

  /** Turns by a drag or by keys, radians: around what is seen, or the head of who walks. */
  turn(by: number, steep: number) {
    if (this.mode === "place") this.use("walk");
    if (this.mode === "walk" && this.walker) this.walker = turnHead(this.walker, -by, -steep);
    else if (this.orbit) this.orbit = circle(this.orbit, by, steep);
  }
  /** Slides by shares of the picture; who walks steps to the side and ahead. */
  slide(right: number, away: number) {
    if (this.mode === "follow") this.use("orbit");
    if (this.mode === "place") this.use("walk");
    if (this.mode === "walk") this.step(2_000 * away, 2_000 * right);
    else if (this.orbit) this.orbit = slide(this.orbit, right, away);
  }
  nearer(factor: number) {
    if (this.mode === "place") this.use("walk");
    if (this.mode === "walk") this.step(900 * Math.log(factor), 0);
    else if (this.mode === "follow") this.near = Math.min(8, Math.max(0.1, this.near * factor));
    else if (this.orbit) this.orbit = approach(this.orbit, factor);
  }
  /** Walks ahead and to the right, mm. */
  step(ahead: number, right: number) {
    if (this.walker) this.walker = this.kept(stride(this.walker, ahead, right));
  }
  /** Back to the height of somebody who stands. */
  standUp() {
    if (this.walker) this.walker = { ...this.walker, z: EYE_HEIGHT };
  }

  private readonly room = $derived.by((): Box | null => around([...(plan.state?.floor_plan.outline ?? []), ...(plan.state?.items ?? []).flatMap((i) => i.outline)]));
  /** Nobody walks out of the hall so far that nothing can be seen any more. */
  private kept(w: Walker): Walker {
    const b = this.room;
    if (!b) return w;
    const within = (low: number, v: number, high: number) => Math.min(high + AROUND, Math.max(low - AROUND, v));
    return { ...w, x: within(b.x0, w.x, b.x1), y: within(b.y0, w.y, b.y1) };
  }
}
