import js from "@eslint/js";
import tseslint from "typescript-eslint";

const pureRooms = ["src/**/*.ts"];
const shellRooms = ["src/batch/**/*.ts", "src/recording/files/**/*.ts"];

export default tseslint.config(
  { ignores: ["dist", "node_modules", "coverage", ".tools"] },
  js.configs.recommended,
  ...tseslint.configs.strict,
  {
    rules: {
      "max-lines": ["error", { max: 300, skipBlankLines: true, skipComments: true }],
      "max-lines-per-function": ["error", { max: 70, skipBlankLines: true, skipComments: true }],
      complexity: ["error", 14],
      "max-depth": ["error", 4],
      "max-params": ["error", 5],
      "@typescript-eslint/no-non-null-assertion": "off",
      "@typescript-eslint/no-unused-vars": ["error", { argsIgnorePattern: "^_" }],
      "no-console": "error",
    },
  },
  {
    files: pureRooms,
    ignores: shellRooms,
    rules: {
      "no-restricted-properties": [
        "error",
        { object: "Math", property: "random", message: "Pass a seeded random generator in." },
        { object: "Date", property: "now", message: "Pass the time in." },
        { object: "performance", property: "now", message: "Pass the time in." },
      ],
      "no-restricted-globals": ["error", "process", "Buffer"],
    },
  },
  {
    files: ["**/*.data.ts", "tests/**/*.ts"],
    rules: { "max-lines": "off", "max-lines-per-function": "off", "max-params": "off" },
  },
  {
    files: ["*.mjs", "**/*.mjs"],
    languageOptions: { globals: { process: "readonly", console: "readonly" } },
    rules: { "no-console": "off" },
  },
);
