// Tells a server of the bench's site as a person would, before its doors are open.
import type { App } from "../../server/app.ts";
import type { Answer } from "../../server/http/answer.ts";
import { journalOf, nodeBody, SHEET, SITE, zoneBody } from "./site.ts";

function good<T>(answer: Answer<T>): void {
  if (!answer.ok) throw new Error(JSON.stringify(answer.faults));
}

/** Zones with their node and journal as of now. */
export async function setUpSite({ desk }: App, zones: number): Promise<void> {
  const nowMs = Date.now();
  good(await desk.addSite(SITE));
  good(await desk.putSheet(SHEET));
  for (let index = 0; index < zones; index++) {
    good(await desk.putZone(SITE.id, zoneBody(index), "add"));
    good(await desk.putNode(SITE.id, nodeBody(index), "add"));
    for (const entry of journalOf(index, nowMs)) good(await desk.addEntry(SITE.id, entry, null));
  }
}
