// How the tests run: one command for all of them, sized for a machine with two cores.
import { defineConfig } from "vitest/config";

export default defineConfig({
  root: new URL("..", import.meta.url).pathname,
  test: {
    include: ["tests/**/*.test.ts", "tests/**/*.test.tsx"],
    globalSetup: [".ci/preflight.ts"],
    // A process each: tests start brokers and open databases, and a crash must cost only its own file.
    pool: "forks",
    maxWorkers: 2,
    testTimeout: 30_000,
    hookTimeout: 120_000,
    passWithNoTests: false,
    // A test that is marked to run alone would hide all the others.
    allowOnly: false,
    unstubGlobals: true,
    restoreMocks: true,
    reporters: ["default", "./tests/support/last-line.ts"],
  },
});
