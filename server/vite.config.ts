// The server as plain JavaScript, so that nothing is compiled at its start. Packages stay where npm put them, but for the
// schema library: it is hundreds of small files, and to find and open each takes a quarter of the start.
import { defineConfig, type Plugin } from "vite";

/** One letter beyond Latin-1, and the engine holds the whole text of the program in two bytes a letter. */
const oneByteText: Plugin = {
  name: "one-byte-text",
  enforce: "post",
  generateBundle(_options, bundle) {
    for (const chunk of Object.values(bundle))
      if (chunk.type === "chunk")
        chunk.code = chunk.code.replace(
          /[^\0-\xff]/g,
          (letter) => `\\u${letter.charCodeAt(0).toString(16).padStart(4, "0")}`,
        );
  },
};

export default defineConfig({
  plugins: [oneByteText],
  root: import.meta.dirname,
  build: {
    ssr: "main.ts",
    target: "node20",
    outDir: "dist",
    emptyOutDir: true,
    minify: false,
    // Constants of a file stay constants: of a `var`, which is what they are made into otherwise, the engine looks up anew at
    // every use what it holds, in the inner loops of the judge too.
    rolldownOptions: { output: { topLevelVar: false } },
  },
  ssr: { target: "node", noExternal: [/^#/, /^typebox/] },
});
