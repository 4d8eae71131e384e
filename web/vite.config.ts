/** Builds the pages and, while developing, hands everything below /api to the server. */
import { svelte } from "@sveltejs/vite-plugin-svelte";
import { defineConfig } from "vite";

export default defineConfig({
  base: "/",
  plugins: [svelte()],
  build: { target: "es2022", assetsInlineLimit: 0, modulePreload: { polyfill: false }, reportCompressedSize: true },
  server: {
    port: 5173,
    proxy: { "/api": { target: process.env.STANDFAST_API ?? "http://127.0.0.1:7327", ws: true } },
  },
});
