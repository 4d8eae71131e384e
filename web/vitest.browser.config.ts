/** Tests in a real browser against the real binary: two files at a time, each with a server and a browser of its own. */
import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/**/*.spec.ts"],
    environment: "node",
    maxWorkers: 2,
    testTimeout: 120_000,
    hookTimeout: 120_000,
    // A shared machine may stall for longer than a test waits. One that passed only when tried again is named in the output.
    retry: 1,
    // A machine that builds beside the tests may need seconds for what else takes milliseconds.
    expect: { poll: { timeout: 15_000 } },
  },
});
