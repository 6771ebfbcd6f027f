// The peer of the server: subscribes, parses, counts; stores and judges nothing.
import { connectAsync } from "mqtt";
import { answer } from "./answer.ts";

let packs = 0;
let readings = 0;
let wanted = 0;
let reached: (() => void) | null = null;

answer({
  async start({ url, filter }: { url: string; filter: string }): Promise<void> {
    const client = await connectAsync(url);
    client.on("message", (_topic, payload) => {
      readings += (JSON.parse(payload.toString()) as unknown[]).length;
      packs += 1;
      if (packs >= wanted) reached?.();
    });
    await client.subscribeAsync(filter, { qos: 1 });
  },
  /** Answers as soon as so many packs have been counted. */
  async counted(count: number): Promise<number> {
    wanted = count;
    if (packs < count) await new Promise<void>((resolve) => (reached = resolve));
    return readings;
  },
});
