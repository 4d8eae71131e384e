/** Two windows at one plan: how long after a key in the one the other shows what it did: `npm run bench:windows [-- TIMES [undrawn] [alone]]` in web/, with the release binary built. */
import { launched, middle, servedExample } from "./house.mjs";

const TIMES = Number(process.argv[2]) || 41;
// Without graphics, pages do all but draw the pieces: software draws those of two windows on the cores that everything else runs on.
const drawing = !process.argv.includes("undrawn");
// As with a machine for each window: the change comes from no window of this one.
const alone = process.argv.includes("alone");
const browser = await launched(...(drawing ? [] : ["--disable-3d-apis"]));
const { server, address } = await servedExample();

/** A window of its own with the plan; a browser that shares nothing with the other. */
async function window() {
  const page = await (await browser.newContext({ viewport: { width: 1440, height: 900 }, reducedMotion: "reduce" })).newPage();
  await page.goto(`${address}/plan`);
  await page.waitForSelector('.hallcount[data-pieces]:not([data-pieces=""]):not([data-pieces="0"])', { timeout: 60_000 });
  const floor = page.getByRole("application");
  await floor.focus();
  await page.keyboard.press(".");
  await page.waitForSelector(".inspector .itemform");
  return page;
}
const [one, other] = [alone ? null : await window(), await window()];
const chosen = Number(await other.locator(".hallview").getAttribute("data-chosen"));

/** When the other one tells of the change, shows the figure, has the pieces, and has drawn them; clocks of one machine, ms. */
const watch = () =>
  other.evaluate(
    () =>
      new Promise((done) => {
        const figure = [...document.querySelectorAll(".inspector .itemform input")].find((i) => i.labels?.[0]?.innerText === "East of the datum");
        const saved = document.querySelector(".saved");
        const [before, told] = [figure.value, saved.textContent];
        const now = () => performance.timeOrigin + performance.now();
        const at = {};
        const look = () => {
          if (saved.textContent !== told) at.told ??= now();
          if (figure.value !== before) at.figure ??= now();
          const came = performance.getEntriesByType("resource").find((e) => e.name.endsWith("/api/hall/pieces"));
          if (came) at.pieces ??= performance.timeOrigin + came.responseEnd;
          if (at.figure && at.pieces) requestAnimationFrame(() => setTimeout(() => done({ ...at, drawn: now() })));
          else setTimeout(look, 1);
        };
        performance.clearResourceTimings();
        window.watching = true;
        look();
      }),
  );

/** Posts the move that the key would make; when it was asked for and when it was taken. */
async function posted(by) {
  const now = () => performance.timeOrigin + performance.now();
  const begun = now();
  const answer = await fetch(`${address}/api/do`, { method: "POST", headers: { Origin: address, "X-Standfast": "1", "Content-Type": "application/json" }, body: JSON.stringify({ do: "arrange", items: [chosen], how: { is: "move", by: [by, 0] } }) });
  if (!answer.ok) throw new Error(await answer.text());
  await answer.arrayBuffer();
  return [begun, now()];
}

const seen = { taken: [], told: [], figure: [], pieces: [], drawn: [] };
for (let i = 0; i < TIMES; i++) {
  await other.evaluate(() => (window.watching = false));
  const told = watch();
  await other.waitForFunction(() => window.watching);
  const [begun, taken] = alone ? await posted(i % 2 ? -100 : 100) : await one.evaluate(async (key) => {
    performance.clearResourceTimings();
    const begun = performance.timeOrigin + performance.now();
    document.querySelector("[role=application]").dispatchEvent(new KeyboardEvent("keydown", { key, shiftKey: true, bubbles: true, cancelable: true }));
    for (;;) {
      const sent = performance.getEntriesByType("resource").find((e) => e.name.endsWith("/api/do"));
      if (sent) return [begun, performance.timeOrigin + sent.responseEnd];
      await new Promise((later) => setTimeout(later, 1));
    }
  }, i % 2 ? "ArrowLeft" : "ArrowRight");
  const at = { taken, ...(await told) };
  for (const [name, when] of Object.entries(at)) seen[name].push(when - begun);
  await new Promise((later) => setTimeout(later, 300));
}
for (const [name, words] of [["taken", "the change is on the disk and acknowledged"], ["told", "the other window tells of it"], ["figure", "its figure of the item has changed"], ["pieces", "it has the pieces"], ["drawn", "and has drawn them"]]) {
  const all = seen[name].sort((a, b) => a - b);
  console.log(`${words}: ${middle(all).toFixed(0)} ms in the middle of ${TIMES}, ${all[Math.floor(all.length * 0.9)].toFixed(0)} ms nine times of ten, ${all.at(-1).toFixed(0)} ms at the most`);
}
server.kill();
await browser.close();
