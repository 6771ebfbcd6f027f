// How the dashboard is built and served while it is being worked on.
import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import react from "@vitejs/plugin-react";
import sharp from "sharp";
import { defineConfig, type Plugin } from "vite";

const PUBLIC = join(import.meta.dirname, "public");
const INK = "#17140f";

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

export default defineConfig({
  root: import.meta.dirname,
  plugins: [react(), shell],
  build: {
    outDir: "dist",
    emptyOutDir: true,
    // The server forbids inline code and styles, so nothing may be turned into a data address or an inline script.
    assetsInlineLimit: 0,
    modulePreload: {
      polyfill: false,
      // What a page loads later is on the device by then: naming all of it in the first script would only make that longer.
      resolveDependencies: (_file, files, { hostType }) =>
        hostType === "html" ? files : files.filter((name) => name.endsWith(".css")),
    },
  },
  server: { host: "127.0.0.1", proxy: { "/api": "http://127.0.0.1:8080" } },
});
