// What the HTTP door needs of live updates.
import type { ServerResponse } from "node:http";

export type StreamOpening = "opened" | "missing" | "full";

export interface StreamRoutes {
  /**
   * Takes the response over and answers `opened`, or leaves it untouched: `missing` for a site that is not known,
   * `full` when no further client is taken. `lastEventId` is what a browser sends when it comes back. `zone`: only what
   * speaks of that zone; null = of the whole site.
   */
  open(site: string, lastEventId: string | null, raw: ServerResponse, zone: string | null): StreamOpening;
  /** The id of the last change that was told of a known site, also where there was none: a stream can go on after it. */
  upTo(site: string): string;
  /** Ends every stream, so that the server can stop. */
  close(): void;
}
