import { PerspectiveCamera, Vector3 } from "three";
import { describe, expect, it } from "vitest";
import { VIEW_ANGLE, type Orbit } from "./orbit";
import { EYE_HEIGHT, ofOrbit, ofWalker, orbitOf, placeOf, sightOf, standAt, stride, tallOf, turnHead, walkerAt, wideOf, type Sight } from "./view";

/** Where a point is drawn by the camera of the library that draws the fall; it shares no arithmetic with these kernels. */
function drawn(s: Sight, aspect: number, p: readonly [number, number, number]): [number, number] {
  const camera = new PerspectiveCamera(s.tall, aspect, 10, 1e6);
  camera.up = new Vector3(0, 0, 1);
  camera.position.set(...s.at);
  camera.lookAt(...s.look);
  camera.updateMatrixWorld();
  const v = new Vector3(...p).project(camera);
  return [v.x, v.y];
}
const POINTS = [[0, 0, 0], [3_000, 1_000, 48], [-2_000, 4_000, 900]] as const;
const same = (a: Sight, b: Sight, aspect: number, digits = 6) => {
  for (const p of POINTS) drawn(a, aspect, p).forEach((v, i) => expect(v).toBeCloseTo(drawn(b, aspect, p)[i]!, digits));
};
const orbit: Orbit = { x: 500, y: 1_500, far: 9_000, turn: 0.7, steep: 0.6 };

describe("a camera place", () => {
  it.each([["an orbit", ofOrbit(orbit)], ["straight down", ofOrbit({ ...orbit, turn: 0, steep: 1.55 })], ["a walker", ofWalker({ x: -3_000, y: -5_000, z: 1_600, turn: -0.4, steep: 0.2, tall: 60 })], ["one that looks up", ofWalker({ x: -3_000, y: -5_000, z: 200, turn: -0.4, steep: -0.1, tall: 35 })]] as const)(
    "shows the same when it is chosen again: %s",
    (_, sight) => {
      for (const aspect of [16 / 9, 0.6]) {
        // What goes to the server and comes back is numbers in text.
        const kept = JSON.parse(JSON.stringify(placeOf(sight, aspect))) as ReturnType<typeof placeOf>;
        expect(kept.camera.height).toBeCloseTo(sight.at[2], 9);
        same(sight, sightOf(kept, aspect), aspect);
      }
    },
  );
  it("keeps what lies between its left and right edge in a picture of another shape", () => {
    const sight = ofOrbit(orbit);
    const again = sightOf(placeOf(sight, 2), 1);
    expect(wideOf(again.tall, 1)).toBeCloseTo(wideOf(sight.tall, 2), 9);
  });
  // Drawn on paper: heading north, it looks 2 m ahead and 1 m to its left, so to the west.
  it("reads what it looks at along its heading and to the left of it", () => {
    const s = sightOf({ x: 1_000, y: 2_000, heading: 90, camera: { height: 1_600, look: [2_000, 1_000], look_height: 48, field_of_view: 90 } }, 1, 750);
    s.at.forEach((v, i) => expect(v).toBeCloseTo([1_000, 2_000, 2_350][i]!, 6));
    s.look.forEach((v, i) => expect(v).toBeCloseTo([0, 4_000, 798][i]!, 6));
    expect(s.tall).toBeCloseTo(90, 9);
  });
  // tan 45 degrees is 1: 90 degrees across a picture of 2 to 1 are 2 atan(1/2) from edge to edge upwards.
  it("turns angles across into angles upwards", () => {
    expect(tallOf(90, 2)).toBeCloseTo((2 * Math.atan(0.5) * 180) / Math.PI, 9);
    expect(wideOf(tallOf(77, 1.6), 1.6)).toBeCloseTo(77, 9);
  });
});

describe("a walk", () => {
  const w = { x: 0, y: 0, z: EYE_HEIGHT, turn: Math.PI / 2, steep: 0.1, tall: 60 };
  it("goes ahead and to the side of where it looks, and stays at its height", () => {
    // Turned a quarter counter-clockwise from north it looks west; north is then at its right.
    expect(stride(w, 500, 0)).toMatchObject({ x: -500, z: EYE_HEIGHT });
    expect(stride(w, 0, 500).y).toBeCloseTo(500, 9);
  });
  it("never tips over backwards", () => {
    expect(turnHead(w, 0, 9).steep).toBeLessThan(Math.PI / 2);
    expect(turnHead(w, 0, -9).steep).toBeGreaterThan(-Math.PI / 2);
  });
  it("sees what a sight sees, and an orbit begins from where it looks", () => {
    same(ofOrbit(orbit), ofWalker(walkerAt(ofOrbit(orbit))), 1.5);
    expect(orbitOf({ ...ofOrbit(orbit) })).toMatchObject({ far: expect.closeTo(orbit.far, 4), x: expect.closeTo(orbit.x, 4), y: expect.closeTo(orbit.y, 4) });
  });
  it("begins at the height of eyes, on the side of the camera, looking at the same", () => {
    const stood = standAt(orbit);
    expect(stood.z).toBe(1_600);
    const [x, y] = drawn(ofWalker(stood), 1.5, [orbit.x, orbit.y, 0]);
    expect([x, y].map((v) => Math.abs(v) < 1e-9)).toEqual([true, true]);
    expect(stood.turn).toBeCloseTo(orbit.turn, 9);
    expect(Math.hypot(stood.x - orbit.x, stood.y - orbit.y)).toBeLessThanOrEqual(4_000 + 1e-6);
  });
  it("has the angle of view of the picture in an orbit", () => expect(ofOrbit(orbit).tall).toBe(VIEW_ANGLE));
});
