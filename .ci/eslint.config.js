// Gate 3 of the import law and the habits of the house: what the compiler and the import checker cannot see.
// tests/house/law.test.ts plants a violation of every rule here.
import { fileURLToPath } from "node:url";
import tseslint from "typescript-eslint";

const noClock = "The clock is an argument (nowMs): otherwise a past call cannot be reproduced.";
const noChance = "Chance is an argument (a seeded generator): otherwise no forecast can be repeated.";
const noState = "No state between calls: a second run, or a second zone, would see what the first one left behind.";
const noLocal = "This asks the machine for its time zone. Local time belongs on the screen and in the record only.";

const dateParts = "FullYear|Month|Date|Day|Hours|Minutes|Seconds|Milliseconds";

/** Every way to hidden input in what must be a pure function of its arguments. */
const pureSyntax = [
  { selector: "NewExpression[callee.name='Date'][arguments.length=0]", message: noClock },
  { selector: "CallExpression[callee.name='Date']", message: noClock },
  { selector: "NewExpression[callee.name='Date'][arguments.length>1]", message: noLocal },
  { selector: `MemberExpression[property.name=/^(get|set)(${dateParts}|TimezoneOffset)$/]`, message: noLocal },
  { selector: "MemberExpression[property.name=/^toLocale/]", message: noLocal },
  { selector: "Program > VariableDeclaration[kind!='const']", message: noState },
  { selector: "Program > ExportNamedDeclaration > VariableDeclaration[kind!='const']", message: noState },
  {
    selector: "Program > * > VariableDeclarator > NewExpression[callee.name=/^(Weak)?(Map|Set)$/][arguments.length=0]",
    message: noState,
  },
  {
    selector:
      "Program > * > * > VariableDeclarator > NewExpression[callee.name=/^(Weak)?(Map|Set)$/][arguments.length=0]",
    message: noState,
  },
];

const noGatherers = {
  selector: "ExportAllDeclaration",
  message: "No barrels: import from the file that has it, so that everybody sees where a thing lives.",
};

const noSkipping = {
  selector:
    "MemberExpression[object.name=/^(describe|it|test)$/][property.name=/^(skip|skipIf|runIf|only|todo|fails)$/]",
  message: "No test is skipped, singled out or expected to fail: mend it or delete it.",
};

export default tseslint.config(
  { ignores: ["**/node_modules/", "**/dist/", "data/", "coverage/", "tests/reference/"] },
  {
    // A rule that can be switched off in passing is a suggestion.
    linterOptions: { noInlineConfig: true, reportUnusedDisableDirectives: "error" },
  },
  {
    files: ["**/*.ts", "**/*.tsx", "**/*.js", "**/*.cjs"],
    languageOptions: { ecmaVersion: 2023, sourceType: "module" },
    rules: {
      eqeqeq: "error",
      "max-lines": ["error", { max: 400, skipBlankLines: false, skipComments: false }],
      "no-var": "error",
      "prefer-const": "error",
      "no-eval": "error",
      "no-restricted-syntax": ["error", noGatherers],
    },
  },
  { files: ["**/*.cjs"], languageOptions: { sourceType: "commonjs" } },
  {
    files: ["**/*.ts", "**/*.tsx"],
    languageOptions: {
      parser: tseslint.parser,
      parserOptions: {
        projectService: true,
        tsconfigRootDir: fileURLToPath(new URL("..", import.meta.url)),
      },
    },
    plugins: { "@typescript-eslint": tseslint.plugin },
    rules: {
      "@typescript-eslint/await-thenable": "error",
      "@typescript-eslint/ban-ts-comment": "error",
      "@typescript-eslint/consistent-type-imports": ["error", { fixStyle: "inline-type-imports" }],
      "@typescript-eslint/no-explicit-any": "error",
      "@typescript-eslint/no-floating-promises": "error",
      "@typescript-eslint/no-misused-promises": ["error", { checksVoidReturn: { attributes: false } }],
      "@typescript-eslint/no-unused-vars": ["error", { argsIgnorePattern: "^_", varsIgnorePattern: "^_" }],
      "@typescript-eslint/only-throw-error": "error",
      "@typescript-eslint/switch-exhaustiveness-check": [
        "error",
        { considerDefaultExhaustiveForUnions: true, requireDefaultForNonUnion: true },
      ],
    },
  },
  {
    files: ["server/core/**/*.ts", "server/contract/**/*.ts"],
    rules: {
      "no-restricted-syntax": ["error", noGatherers, ...pureSyntax],
      "no-restricted-properties": [
        "error",
        { object: "Date", property: "now", message: noClock },
        { object: "Math", property: "random", message: noChance },
      ],
      "no-restricted-globals": [
        "error",
        { name: "performance", message: noClock },
        { name: "process", message: noState },
        { name: "globalThis", message: noState },
        { name: "crypto", message: noChance },
        { name: "setTimeout", message: noClock },
        { name: "setInterval", message: noClock },
        { name: "console", message: "A pure function tells what it found in its result." },
      ],
    },
  },
  {
    files: ["tests/**/*.ts", "tests/**/*.tsx"],
    rules: {
      "@typescript-eslint/no-explicit-any": "off",
      "no-restricted-syntax": ["error", noGatherers, noSkipping],
    },
  },
);
