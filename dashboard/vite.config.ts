// How the dashboard is built and served while it is being worked on.
import react from "@vitejs/plugin-react";
import { defineConfig } from "vite";

export default defineConfig({
  root: import.meta.dirname,
  plugins: [react()],
  build: {
    outDir: "dist",
    emptyOutDir: true,
    // The server forbids inline code and styles, so nothing may be turned into a data address or an inline script.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
  server: { host: "127.0.0.1", proxy: { "/api": "http://127.0.0.1:8080" } },
});
