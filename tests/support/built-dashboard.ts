// The dashboard as it is shipped, for browser tests.
import { builtOnce } from "./built-once.ts";

export function builtDashboard(): Promise<string> {
  const sources = ["dashboard", "server/core", "server/contract"];
  return builtOnce({ root: "dashboard", sources, entry: "index.html" });
}
