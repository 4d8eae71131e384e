/** The workbench with large plans, as a planner feels it: `npm run bench:workbench [-- PIECES...]` in web/, with the release binary built. */
import { launched, middle, served } from "./house.mjs";

const browser = await launched();
for (const n of process.argv.slice(2).map(Number).filter(Boolean).concat(process.argv.length > 2 ? [] : [100_000, 1_000_000])) {
  const { server, address, listens } = await served(n, "../tests/data/run/stock.csv");
  const page = await (await browser.newContext({ viewport: { width: 1440, height: 900 }, reducedMotion: "reduce" })).newPage();
  const opened = performance.now();
  await page.goto(`${address}/plan`);
  await page.waitForSelector('.hallcount[data-pieces]:not([data-pieces=""]):not([data-pieces="0"])', { timeout: 120_000 });
  /** Milliseconds from an event until what it changed is drawn: the frame, and a pixel read back from the graphics. */
  const drawn = (act, times = 15) => page.evaluate(async ([how, times]) => {
    const floor = document.querySelector("[role=application]");
    const gl = [...document.querySelectorAll("canvas")].map((c) => c.getContext("webgl2")).find(Boolean);
    const pixel = new Uint8Array(4);
    const out = [];
    const box = floor.getBoundingClientRect();
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    const send = (is, dx, buttons) => floor.dispatchEvent(new PointerEvent(is, { bubbles: true, pointerId: 1, pointerType: "mouse", isPrimary: true, button: is === "pointermove" ? -1 : 1, buttons, clientX: x + dx, clientY: y }));
    if (how === "pan") send("pointerdown", 0, 4);
    for (let i = 1; i <= times; i++) {
      const at = performance.now();
      if (how === "pan") send("pointermove", 3 * i, 4);
      else floor.dispatchEvent(new WheelEvent("wheel", { bubbles: true, cancelable: true, deltaY: i % 2 ? -100 : 100, clientX: x, clientY: y }));
      await new Promise((done) => setTimeout(() => requestAnimationFrame(done)));
      gl?.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, pixel);
      out.push(performance.now() - at);
    }
    if (how === "pan") send("pointerup", 3 * times, 0);
    return out;
  }, [act, times]);
  await drawn("wheel", 1);
  const open = performance.now() - opened;
  const pan = middle(await drawn("pan"));
  const zoom = middle(await drawn("wheel"));
  for (let i = 0; i < 6; i++) await page.getByRole("application").press("+");
  const near = middle(await drawn("pan"));
  const told = await page.evaluate(async () => {
    const headers = { "X-Standfast": "1", "Content-Type": "application/json" };
    const timed = async (call) => {
      const at = performance.now();
      const answer = await call();
      return [performance.now() - at, answer];
    };
    const out = { take: [], state: [], findings: [], pieces: [], fall: [] };
    await fetch("/api/fall/report").then((r) => r.json());
    for (let i = 0; i < 5; i++) {
      const by = [i % 2 ? -40 : 40, 0];
      const [take] = await timed(() => fetch("/api/do", { method: "POST", headers, body: JSON.stringify({ do: "arrange", items: [1000], how: { is: "move", by } }) }).then((r) => (r.ok ? r.json() : r.text().then((t) => Promise.reject(new Error(t))))));
      const [state] = await timed(() => fetch("/api/state").then((r) => r.json()));
      const [findings] = await timed(() => fetch("/api/findings").then((r) => r.json()));
      const [fall] = await timed(() => fetch("/api/fall/report").then((r) => r.json()));
      const [pieces] = await timed(() => fetch("/api/hall/pieces").then((r) => r.arrayBuffer()));
      out.take.push(take); out.state.push(state); out.findings.push(findings); out.fall.push(fall); out.pieces.push(pieces);
    }
    return out;
  });
  const ms = (v) => `${v.toFixed(v < 10 ? 1 : 0)} ms`;
  console.log(`${n} pieces: listens after ${ms(listens)}; all pieces drawn ${ms(open)} after the page was asked for (with one more frame)`);
  console.log(`  from the pointer to the picture, moving the view: all in sight ${ms(pan)}, near ${ms(near)}, larger and smaller ${ms(zoom)} (up to 17 ms of it wait for the screen's next frame)`);
  console.log(`  a field moved: taken ${ms(middle(told.take))}, the plan told ${ms(middle(told.state))} and its findings ${ms(middle(told.findings))} later, fall again ${ms(middle(told.fall))}, all pieces again ${ms(middle(told.pieces))}`);
  server.kill();
  await page.context().close();
}
await browser.close();
