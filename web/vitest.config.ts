/** Unit tests of the pure parts. */
import { defineConfig } from "vitest/config";

export default defineConfig({ test: { include: ["src/**/*.test.ts"], environment: "node" } });
