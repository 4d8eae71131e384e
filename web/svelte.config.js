/** Svelte in runes mode; styles stay in files, as the page allows none inline. */
import { vitePreprocess } from "@sveltejs/vite-plugin-svelte";

export default {
  preprocess: vitePreprocess(),
  compilerOptions: { runes: true },
};
