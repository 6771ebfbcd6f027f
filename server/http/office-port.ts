// What the HTTP door needs of an office.
import type { ServerResponse } from "node:http";
import type { OfficeBody } from "#contract/office.ts";

/** Whose sites are told; null = every one. */
export type SiteBorder = readonly string[] | null;

export interface OfficeDesk {
  body(): OfficeBody;
  /** Takes the response over, or leaves it untouched when no further client is taken. */
  open(within: SiteBorder, zone: string | null, raw: ServerResponse): "opened" | "full";
  close(): void;
}
