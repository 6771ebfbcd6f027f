// How the dashboard is built and served while it is being worked on.
import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { promisify } from "node:util";
import { brotliCompress, gzip } from "node:zlib";
import react from "@vitejs/plugin-react";
import sharp from "sharp";
import { build, defineConfig, minify, type Plugin } from "vite";

const PUBLIC = join(import.meta.dirname, "public");
const INK = "#17140f";
const BASE =
  /rolldown.runtime|node_modules\/(?:react|react-dom|scheduler)\/|dashboard\/(?:ui\/(?:voice|boundary)|units\/show)\.tsx?$|core\/units\.ts$/;
const TEXTS = /\.(?:js|css|html|svg|webmanifest)$/;

/** The mark as a home screen asks for it; where the system cuts a shape out, the outer tenth may be lost. */
async function icon(sizePx: number, cut: boolean): Promise<Buffer> {
  const markPx = cut ? Math.round(sizePx * 0.7) : sizePx;
  const edgePx = Math.round((sizePx - markPx) / 2);
  const mark = sharp(join(PUBLIC, "mark.svg"), { density: (72 * markPx) / 32 }).resize(markPx, markPx);
  const framed = cut
    ? mark.extend({ top: edgePx, bottom: edgePx, left: edgePx, right: edgePx, background: INK })
    : mark;
  return framed.flatten({ background: INK }).png({ palette: true }).toBuffer();
}

/** Icons, and the list of all files by which the service worker keeps the page; its version changes with any of them. */
const shell: Plugin = {
  name: "shell",
  apply: "build",
  enforce: "post",
  async generateBundle(_options, bundle) {
    for (const [fileName, sizePx, cut] of [
      ["icon-192.png", 192, false],
      ["icon-512.png", 512, false],
      ["icon-cut-512.png", 512, true],
      ["icon-touch-180.png", 180, true],
    ] as const)
      this.emitFile({ type: "asset", fileName, source: await icon(sizePx, cut) });
    const hash = createHash("sha256");
    for (const name of readdirSync(PUBLIC).sort()) hash.update(name).update(readFileSync(join(PUBLIC, name)));
    const files = Object.values(bundle).filter(({ fileName }) => !fileName.endsWith(".html"));
    for (const { fileName } of files) hash.update(fileName);
    for (const page of Object.values(bundle))
      if (page.fileName === "index.html") hash.update(String(Reflect.get(page, "source")));
    const shelf = {
      version: hash.digest("hex").slice(0, 12),
      files: ["/", "/mark.svg", ...files.map(({ fileName }) => `/${fileName}`).sort()],
    };
    this.emitFile({ type: "asset", fileName: "shell.js", source: `self.SHELL = ${JSON.stringify(shelf)};\n` });
  },
};

/** What asks for the first answers while the program is on its way. It stands before it, and is told what the words are called. */
function early(): Plugin {
  let fileName = "";
  return {
    name: "early",
    apply: "build",
    async buildStart() {
      const { code } = await minify("early.js", readFileSync(join(import.meta.dirname, "early.js"), "utf8"));
      fileName = `assets/early-${createHash("sha256").update(code).digest("hex").slice(0, 8)}.js`;
      this.emitFile({ type: "asset", fileName, source: code });
    },
    transformIndexHtml: {
      order: "post",
      handler(html, { bundle = {} }) {
        const words = ["en", "es"].map((name) => {
          const chunk = Object.values(bundle).find((one) => one.type === "chunk" && one.name === name);
          if (chunk === undefined) throw new Error(`no words in "${name}" were built`);
          return ` data-${name}="/${chunk.fileName}"`;
        });
        const root = '<div id="root"></div>';
        if (!html.includes(root)) throw new Error(`the page has no ${root}`);
        const main = /<script type="module" crossorigin src="([^"]+)"><\/script>/.exec(html);
        if (main === null) throw new Error("the page has no program");
        const [tag, address] = main;
        // Behind the place of the page: what the server has drawn there is shown by it, and only then the program begins.
        const first = `<script src="/${fileName}" data-main="${address}"${words.join("")}></script>`;
        return html
          .replace(tag, `<link rel="modulepreload" crossorigin href="${address}">`)
          .replaceAll('rel="modulepreload"', 'rel="modulepreload" fetchpriority="low"')
          .replace(root, `${root}\n    ${first}`);
      },
    },
  };
}

const NOTHING = "\0nothing";
/** A page that is drawn once shows of what comes later what stands in its place until then, however often it is drawn. */
const comesLater: Plugin = {
  name: "comes-later",
  resolveDynamicImport: (specifier) => (specifier === NOTHING ? null : { id: NOTHING }),
  load: (id) => (id === NOTHING ? "const never = new Promise(() => {}); export default () => { throw never; };" : null),
};

/** What draws the first picture on the server, as one file that needs no packages. */
const picture: Plugin = {
  name: "picture",
  apply: "build",
  async writeBundle({ dir = "" }) {
    await build({
      configFile: false,
      root: import.meta.dirname,
      logLevel: "warn",
      publicDir: false,
      plugins: [react(), comesLater],
      build: {
        ...{ ssr: "first-picture.tsx", target: "node20", outDir: join(dir, "drawn"), emptyOutDir: true, minify: true },
        rolldownOptions: { output: { codeSplitting: false } },
      },
      ssr: { target: "node", noExternal: true },
    });
  },
};

/** Every text beside itself as small as it gets: the server hands out what the browser can read. */
const smaller: Plugin = {
  name: "smaller",
  apply: "build",
  async writeBundle({ dir }, bundle) {
    const folder = dir ?? "";
    const names = [...Object.keys(bundle), ...readdirSync(PUBLIC)].filter((name) => TEXTS.test(name));
    await Promise.all(
      names.map(async (name) => {
        const path = join(folder, name);
        const text = await readFile(path);
        await writeFile(`${path}.br`, await promisify(brotliCompress)(text));
        await writeFile(`${path}.gz`, await promisify(gzip)(text, { level: 9 }));
      }),
    );
  },
};

export default defineConfig({
  root: import.meta.dirname,
  plugins: [react(), early(), shell, smaller, picture],
  build: {
    outDir: "dist",
    emptyOutDir: true,
    // The server forbids inline code and styles, so nothing may be turned into a data address or an inline script.
    assetsInlineLimit: 0,
    rolldownOptions: {
      output: {
        codeSplitting: {
          // What every page needs, as one file in place of several that a phone asks for one by one.
          groups: [{ name: "base", test: BASE }],
        },
      },
    },
    modulePreload: {
      polyfill: false,
      // What a page loads later is on the device by then: naming all of it in the first script would only make that longer.
      resolveDependencies: (_file, files, { hostType }) =>
        hostType === "html" ? files : files.filter((name) => name.endsWith(".css")),
    },
  },
  server: { host: "127.0.0.1", proxy: { "/api": "http://127.0.0.1:8080" } },
});
