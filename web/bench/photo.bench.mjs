/** A photo of 12 megapixels dropped on a field of 100 x 100: from the drop until it is matched and laid. `npm run bench:photo` in web/, with the release binary built. */
import { launched, middle, served } from "./house.mjs";

const browser = await launched();
const { server, address } = await served(10_000, "../../examples/spring-to-sea/stock.csv");
const page = await (await browser.newContext({ viewport: { width: 1440, height: 900 }, reducedMotion: "reduce" })).newPage();
const all = [];
let size = 0;
for (let i = 0; i < 5; i++) {
  await page.goto(`${address}/picture/1000`);
  await page.waitForSelector(".stage");
  // Hills, a sky and grain, so that it is as long in bytes as photos are; another one each time.
  size = await page.evaluate(async (seed) => {
    const [w, h] = [4_000, 3_000];
    const canvas = new OffscreenCanvas(w, h);
    const g = canvas.getContext("2d");
    const sky = g.createLinearGradient(0, 0, 0, h);
    sky.addColorStop(0, "#2060c0");
    sky.addColorStop(1, "#f0e0b0");
    g.fillStyle = sky;
    g.fillRect(0, 0, w, h);
    for (let k = 0; k < 40; k++) {
      g.fillStyle = `hsl(${(90 + 31 * k + 7 * seed) % 360} 55% ${25 + ((17 * k) % 50)}%)`;
      g.beginPath();
      g.ellipse((977 * k) % w, h * 0.4 + ((613 * k) % (h * 0.6)), 200 + ((331 * k) % 600), 120 + ((97 * k) % 300), k, 0, 7);
      g.fill();
    }
    const pixels = g.getImageData(0, 0, w, h);
    for (let p = 0, r = 1 + seed; p < pixels.data.length; p += 4) {
      r = (Math.imul(r, 1_664_525) + 1_013_904_223) >>> 0;
      for (let c = 0; c < 3; c++) pixels.data[p + c] += ((r >>> 24) & 15) - 8;
    }
    g.putImageData(pixels, 0, 0);
    window.photo = new File([await canvas.convertToBlob({ type: "image/jpeg", quality: 0.9 })], `photo-${seed}.jpg`, { type: "image/jpeg" });
    return window.photo.size;
  }, i);
  all.push(
    await page.evaluate(async () => {
      const laid = new RegExp(`${window.photo.name.replace(".", "[.]")} and is matched`);
      const data = new DataTransfer();
      data.items.add(window.photo);
      const began = performance.now();
      document.querySelector(".stage").dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }));
      while (!laid.test(document.body.innerText)) {
        if (performance.now() - began > 60_000) throw new Error("not matched within a minute");
        await new Promise(requestAnimationFrame);
      }
      return performance.now() - began;
    }),
  );
}
console.log(`a photo of 4 000 x 3 000 (${(size / 1e6).toFixed(1)} MB) on 100 x 100 cells: matched and laid ${middle(all).toFixed(0)} ms after the drop (${all.map((v) => v.toFixed(0)).join(", ")})`);
server.kill();
await browser.close();
