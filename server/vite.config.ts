// The server as plain JavaScript, so that nothing is compiled at its start. Packages stay where npm put them, but for the
// schema library: it is hundreds of small files, and to find and open each takes a quarter of the start.
import { defineConfig } from "vite";

export default defineConfig({
  root: import.meta.dirname,
  build: {
    ssr: "main.ts",
    target: "node20",
    outDir: "dist",
    emptyOutDir: true,
    minify: false,
  },
  ssr: { target: "node", noExternal: [/^#/, /^typebox/] },
});
