// The server as `npm start` runs it. Compiled from its sources at each start it would take three times as long to stand.
import { join } from "node:path";
import { builtOnce } from "./built-once.ts";

/** The file to run. */
export async function builtServer(): Promise<string> {
  return join(await builtOnce({ root: "server", sources: ["server"], entry: "main.js" }), "main.js");
}
