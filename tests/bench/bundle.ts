// What a phone downloads before the board stands, and what each page adds to it, compressed.
import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { build } from "vite";
import type { Figure } from "./figure.ts";
import { temporaryFolder } from "./leftovers.ts";

const BYTES_PER_KB = 1000;
const SOURCE = new URL("../../dashboard/", import.meta.url).pathname;

/** Builds as for shipping, whatever this process runs for: elsewhere the libraries would bring their development parts. */
async function buildInto(outDir: string): Promise<void> {
  const { NODE_ENV } = process.env;
  process.env.NODE_ENV = "production";
  try {
    await build({
      root: SOURCE,
      configFile: join(SOURCE, "vite.config.ts"),
      logLevel: "warn",
      build: { outDir, emptyOutDir: true },
    });
  } finally {
    if (NODE_ENV === undefined) delete process.env.NODE_ENV;
    else process.env.NODE_ENV = NODE_ENV;
  }
}

/** Adds `file` and everything that it imports before it runs. */
async function addScripts(folder: string, file: string, known: Set<string>): Promise<void> {
  if (known.has(file)) return;
  known.add(file);
  const source = await readFile(join(folder, file), "utf8");
  for (const [, name = ""] of source.matchAll(/(?:from|import)\s*"\.\/([\w.-]+\.js)"/g))
    await addScripts(folder, name, known);
}

/** Rooms that are loaded when somebody goes there, by the name of their page; those without one by that of their file. */
async function roomsOf(): Promise<ReadonlyMap<string, string>> {
  const read = (file: string) => readFile(join(SOURCE, "app", file), "utf8");
  const pages = [
    ...(await read("site-page.tsx")).matchAll(/"?([\w-]+)"?: \w+\(\(\) => import\("\.\/([\w-]+)\.tsx"\)/g),
  ];
  const others = [...(await read("app.tsx")).matchAll(/= \w+\(\(\) => import\("[^"]*\/([\w-]+)\.tsx"\)/g)];
  if (pages.length === 0 || others.length === 0) throw new Error("no rooms are loaded later: is that read rightly?");
  return new Map([
    ...pages.map(([, page = "", file = ""]) => [page, file] as const),
    ...others.map(([, file = ""]) => [file, file] as const),
  ]);
}

/** Without the mark of its contents. */
const plainName = (file: string) => file.replace(/-[\w-]{8}\.js$/, "");

async function gzipKb(folder: string, files: readonly string[]): Promise<number> {
  const sizes = await Promise.all(files.map(async (file) => gzipSync(await readFile(join(folder, file))).length));
  return sizes.reduce((sum, size) => sum + size, 0) / BYTES_PER_KB;
}

async function sizesOf(dist: string): Promise<Figure[]> {
  const assets = join(dist, "assets");
  const page = await readFile(join(dist, "index.html"), "utf8");
  const inPage = (kind: string) =>
    [...page.matchAll(/(?:src|href)="\/assets\/([\w.-]+)"/g)]
      .map(([, name = ""]) => name)
      .filter((name) => name.endsWith(kind));
  const built = await readdir(assets);
  const chunk = (name: string): string => {
    const found = built.find((file) => file.startsWith(`${name}-`) && file.endsWith(".js"));
    if (found === undefined) throw new Error(`the built dashboard has no script ${name}`);
    return found;
  };

  const board = new Set<string>();
  for (const name of [...inPage(".js"), chunk("en")]) await addScripts(assets, name, board);
  const zone = new Set(board);
  for (const name of [chunk("zone-view"), chunk("night-chart")]) await addScripts(assets, name, zone);

  const figure = async (what: string, files: readonly string[], spread = ""): Promise<Figure> => ({
    what: `${what}, gzip`,
    value: await gzipKb(assets, files),
    unit: "kB",
    n: files.length,
    spread,
    peer: null,
  });
  const rooms = await Promise.all(
    [...(await roomsOf())].map(async ([page, file]) => {
      const scripts = new Set(board);
      await addScripts(assets, chunk(file), scripts);
      const added = [...scripts].filter((name) => !board.has(name));
      return figure(`page ${page}: scripts that it adds`, added, added.map(plainName).sort().join(" "));
    }),
  );
  return [
    await figure("scripts before the board stands, one language", [...board]),
    await figure("style sheets before the board stands", inPage(".css")),
    await figure(
      "scripts that a zone's page with its chart adds",
      [...zone].filter((name) => !board.has(name)),
    ),
    await figure("of these the chart", [chunk("night-chart")]),
    ...rooms,
  ];
}

export async function measureBundle(): Promise<Figure[]> {
  const dist = await temporaryFolder();
  try {
    await buildInto(dist.path);
    return await sizesOf(dist.path);
  } finally {
    await dist.remove();
  }
}
