// How the tests run: one command for all of them, sized for a machine with two cores.
import { defineConfig } from "vitest/config";
import Order, { APART, PURE, SHARED } from "./support/order.ts";

const testsOf = (folder: string) => `tests/${folder}/**/*.test.{ts,tsx}`;

export default defineConfig({
  root: new URL("..", import.meta.url).pathname,
  test: {
    globalSetup: [".ci/preflight.ts"],
    // A process each: tests start brokers and open databases, and a crash must cost only its own file.
    pool: "forks",
    // One more than cores: many files mostly wait for programs and browsers.
    maxWorkers: 3,
    sequence: { sequencer: Order },
    // A limit and no measure: a busy machine takes its time.
    testTimeout: 60_000,
    hookTimeout: 120_000,
    expect: { poll: { timeout: 30_000, interval: 50 } },
    passWithNoTests: false,
    // A test that is marked to run alone would hide all the others.
    allowOnly: false,
    unstubGlobals: true,
    restoreMocks: true,
    reporters: ["default", "./tests/support/last-line.ts"],
    projects: [
      { extends: true, test: { name: "pure", include: PURE.map(testsOf), isolate: false } },
      { extends: true, test: { name: "shared", include: SHARED.map(testsOf), exclude: [...APART], isolate: false } },
      {
        extends: true,
        test: {
          name: "all else",
          include: ["tests/**/*.test.ts", "tests/**/*.test.tsx"],
          exclude: [...PURE, ...SHARED, "browser"].map((folder) => `tests/${folder}/**`),
        },
      },
      // A browser that stops answering says nothing of the page: one more try, and the report names who needed it.
      { extends: true, test: { name: "browser", include: [testsOf("browser")], retry: 1 } },
      { extends: true, test: { name: "apart", include: [...APART] } },
    ],
  },
});
