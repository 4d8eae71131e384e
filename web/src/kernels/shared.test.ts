import { describe, expect, it } from "vitest";
import { shared } from "./shared";

/** A look that ends when it is told to; counts how often it began. */
function slow() {
  const ends: (() => void)[] = [];
  const look = () => new Promise<void>((done) => ends.push(done));
  return { ends, ask: shared(look) };
}

describe("a shared look", () => {
  it("begins at once, and once more for all who ask meanwhile", async () => {
    const { ends, ask } = slow();
    const first = ask();
    const more = [ask(), ask(), ask()];
    expect(ends.length).toBe(1);
    let over = false;
    void more[0]!.then(() => (over = true));
    ends[0]!();
    await first;
    // Theirs is another look: what the first one saw may be older than their question.
    await expect.poll(() => ends.length).toBe(2);
    expect(over).toBe(false);
    ends[1]!();
    await Promise.all(more);
    expect(ends.length).toBe(2);
  });

  it("begins anew when it is over, also after one that failed", async () => {
    let n = 0;
    const ask = shared(async () => {
      n += 1;
      await Promise.resolve();
      if (n === 1) throw new Error("no connection");
    });
    const first = ask();
    const second = ask();
    await expect(first).rejects.toThrow("no connection");
    await second;
    expect(n).toBe(2);
    await ask();
    expect(n).toBe(3);
  });

  it("takes who asks in the very moment when a look ends into a look of its own", async () => {
    const { ends, ask } = slow();
    const first = ask();
    const meanwhile = ask();
    ends[0]!();
    await first;
    const late = ask();
    await expect.poll(() => ends.length).toBe(2);
    ends[1]!();
    await meanwhile;
    // The one that asked after the first ended is answered by a look that began after its question.
    await late;
    expect(ends.length).toBe(2);
  });
});
