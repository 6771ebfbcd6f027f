// The programs of the bench as the server is built: bundled by its own build, plain JavaScript, nothing compiled while it is measured.
import { mkdirSync, readdirSync, rmSync } from "node:fs";
import { join } from "node:path";
import { build } from "vite";
import { home } from "../../server/home.ts";
import { atExit } from "./leftovers.ts";

/** Below node_modules, so that packages are found where npm put them. */
const SHELF = join(home(), "node_modules/.cache/bench");
let built: Promise<string> | null = null;

async function buildAll(): Promise<string> {
  const out = join(SHELF, String(process.pid));
  mkdirSync(out, { recursive: true });
  atExit(() => rmSync(out, { recursive: true, force: true }));
  const programs = readdirSync(import.meta.dirname).filter((name) => name.endsWith("-child.ts"));
  await build({
    configFile: join(home(), "server/vite.config.ts"),
    logLevel: "error",
    build: {
      ssr: true,
      outDir: out,
      rolldownOptions: {
        input: Object.fromEntries(programs.map((name) => [name.replace(/\.ts$/, ""), join(import.meta.dirname, name)])),
        output: { entryFileNames: "[name].js" },
      },
    },
  });
  return out;
}

/** Builds once for each run; the folder of the built programs, which is gone when the run ends. */
export function builtPrograms(): Promise<string> {
  return (built ??= buildAll());
}
