// A data folder of a large site, written straight into the store: told one by one, as people tell it, a thousand zones would take minutes.
import { bodyFromCall, type CallBody } from "#contract/call.ts";
import { entryFromBody } from "#contract/journal.ts";
import { msFromIso } from "#contract/primitives.ts";
import { sheetFromBody } from "#contract/sheet.ts";
import { zoneFromBody } from "#contract/zone.ts";
import { judgeZone } from "#core/judge/judge.ts";
import { openStore } from "../../server/store/store.ts";
import { readingsAt } from "./filled.ts";
import { type TemporaryFolder, temporaryFolder } from "./leftovers.ts";
import { HOUR_MS, journalOf, MINUTE_MS, nodeBody, SHEET, SITE, zoneBody, zoneId } from "./site.ts";

export interface Crowd {
  readonly zones: number;
  /** Nodes of each zone; node n is in zone n modulo zones. */
  readonly nodesPerZone: number;
  readonly historyH: number;
  readonly stepMs: number;
  /** A server has run through all of this past and showed a call: none looks back at what it missed. */
  readonly watched?: boolean;
}

/** The call of a zone of which nothing was heard yet. */
function firstCall(index: number, atMs: number): CallBody {
  const zone = zoneFromBody(zoneBody(index));
  const { id: site, timezone, altitudeM } = SITE;
  const nothing = { journal: [], series: [], feeds: [], nodes: [] };
  const log = { site, timezone, altitudeM, sheets: [sheetFromBody(SHEET)], zones: [zone], ...nothing };
  return bodyFromCall(judgeZone(log, zone.id, atMs).call);
}

/** Steps written in one commit: each step touches the page of every series, and writes them all. */
const STEPS_AT_ONCE = 50;

export async function crowdedFolder({
  zones,
  nodesPerZone,
  historyH,
  stepMs,
  watched = false,
}: Crowd): Promise<TemporaryFolder> {
  const folder = await temporaryFolder();
  const store = openStore(folder.path);
  const endMs = Math.floor(Date.now() / MINUTE_MS) * MINUTE_MS;
  const fromMs = endMs - Math.max(1, historyH) * HOUR_MS;
  const nodes = zones * nodesPerZone;
  try {
    store.together(() => {
      store.records.putSite(SITE, fromMs);
      store.records.putSheet(SHEET, fromMs);
      for (let index = 0; index < zones; index++) {
        store.records.putZone(SITE.id, zoneBody(index), fromMs);
        for (const body of journalOf(index, endMs))
          store.journal.append(SITE.id, entryFromBody(body, body.id ?? "", msFromIso(body.at)));
      }
      for (let index = 0; index < nodes; index++)
        store.records.putNode(SITE.id, { ...nodeBody(index), zone: zoneId(index % zones) }, fromMs);
    });
    if (watched)
      store.together(() => {
        for (let index = 0; index < zones; index++) store.calls.append(SITE.id, firstCall(index, fromMs));
        store.runs.begin(fromMs);
        store.runs.alive(endMs);
      });
    if (historyH > 0)
      for (let atMs = fromMs; atMs <= endMs; atMs += STEPS_AT_ONCE * stepMs)
        store.together(() => {
          const untilMs = Math.min(endMs, atMs + (STEPS_AT_ONCE - 1) * stepMs);
          for (let stepAtMs = atMs; stepAtMs <= untilMs; stepAtMs += stepMs)
            store.readings.append(readingsAt(stepAtMs, nodes));
        });
  } finally {
    store.close();
  }
  return folder;
}
