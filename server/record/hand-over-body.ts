// The hand-over of a zone as it stands now, for the client.
import type { HandOverBody } from "#contract/hand-over.ts";
import { isoFromMs, isoOrNull } from "#contract/primitives.ts";
import { outlookNow, weighedWith } from "#core/judge/seen.ts";
import { handOverOf } from "#core/record/hand-over.ts";
import { poursOf, standingOf } from "#core/record/pours.ts";
import { zoneState } from "#core/zone/state.ts";
import { lineageOf } from "#core/zone/zones.ts";
import { HAND_OVER_NOTICE } from "./notice.ts";
import type { RecordSource } from "./ports.ts";
import { nodesOf } from "./source-coat.ts";

const HOUR_MS = 3_600_000;
const LOOK_BACK_MS = 52 * HOUR_MS;

const whole = (atMs: number | null) => isoOrNull(atMs === null ? null : Math.ceil(atMs / 60_000) * 60_000);

/** null where there is no such site or zone. */
export function handOverBody(source: RecordSource, siteId: string, zoneId: string): HandOverBody | null {
  const site = source.site(siteId);
  if (site === null) return null;
  const nowMs = source.now();
  const { log: bare, body } = site;
  try {
    lineageOf(bare, zoneId, nowMs);
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
  const lineage = lineageOf(bare, zoneId, nowMs);
  const pours = poursOf(standingOf(bare, zoneId, nowMs));
  const startMs = Math.min(nowMs, pours.at(-1)?.fromMs ?? nowMs) - LOOK_BACK_MS;
  const log = source.withReadings(bare, nodesOf(bare, lineage), startMs, nowMs);
  const state = zoneState(log, zoneId, { nowMs, heardByMs: nowMs });
  const outlook = outlookNow(state);
  const { prospect } = weighedWith(state, outlook);
  const found = handOverOf(state, outlook, prospect);
  const warm = found?.keepWarm ?? null;
  const shut = found?.keepShut ?? null;
  const { film, zone } = state;
  return {
    site: body,
    zone: {
      id: zone.id,
      name: zone.name,
      areaM2: zone.areaM2,
      pourM2PerH: zone.pourM2PerH,
      system: [...zone.system],
      base: zone.base,
    },
    timezone: body.timezone,
    madeAt: isoFromMs(nowMs),
    film:
      film === null
        ? null
        : {
            coat: film.record.coat,
            sheet: film.sheet.id,
            name: film.sheet.name,
            pouredFrom: isoFromMs(film.record.fromMs),
            pouredTo: isoFromMs(film.record.toMs),
            last: state.record.nextCoat === null,
          },
    uses: (found?.uses ?? []).map(({ use, state: of, reachedMs, notBeforeMs, earned, estimated }) => ({
      use,
      state: of,
      reachedAt: whole(reachedMs),
      // Up to the minute, and never earlier than now.
      notBefore: whole(notBeforeMs),
      earned: earned === null ? null : Math.floor(earned * 1000) / 1000,
      estimated,
    })),
    keepWarm: warm === null ? null : { slabMinC: warm.slabMinC, until: whole(warm.untilMs) },
    keepShut: shut === null ? null : { marginMinK: shut.marginMinK, until: whole(shut.untilMs) },
    notice: [...HAND_OVER_NOTICE],
  };
}
