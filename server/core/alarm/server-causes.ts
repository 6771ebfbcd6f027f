// Causes in the server itself, told at every site that it serves.
import { NO_FACTS } from "#core/alarm/alarm.ts";
import { filmAtStake, type Found, isUnjudged } from "#core/alarm/film-causes.ts";
import type { AlarmKind, AlarmLevel } from "#core/alarm/kinds.ts";
import type { SiteMoment } from "#core/alarm/moment.ts";
import { CAUSES } from "#core/alarm/rules.ts";
import { placeOf, type Sign } from "#core/alarm/sign.ts";

const HOUR_MS = 3_600_000;
const MINUTE_MS = 60_000;

interface Look {
  readonly group: string;
  readonly kind: AlarmKind;
  /** true = it is so, false = it is well, null = nobody knows. */
  readonly bad: boolean | null;
  readonly level: AlarmLevel;
  readonly facts?: Partial<Sign["facts"]>;
  readonly zones?: readonly string[];
}

function diskLook(disk: { readonly freeBytes: number; readonly totalBytes: number } | null, stands: boolean): Look {
  const look = { group: "disk", kind: "disk-full", level: "tell" } as const;
  if (disk === null || !(disk.totalBytes > 0)) return { ...look, bad: null };
  const leastBytes = Math.min(CAUSES.diskLeastBytes, CAUSES.diskLeastShare * disk.totalBytes);
  const bad = disk.freeBytes < leastBytes * (stands ? CAUSES.diskBack : 1);
  const facts = {
    measured: (100 * disk.freeBytes) / disk.totalBytes,
    limit: (100 * leastBytes) / disk.totalBytes,
    unit: "%",
  };
  return { ...look, bad, facts };
}

function awayLook({ nowMs, server }: SiteMoment): Look {
  const { away } = server;
  const isNews =
    away !== null &&
    away.toMs - away.fromMs >= CAUSES.awayMin * MINUTE_MS &&
    nowMs - away.toMs < CAUSES.newsH * HOUR_MS;
  return {
    group: "away",
    kind: "server-away",
    bad: isNews,
    level: "tell",
    facts: away === null ? {} : { expectedAtMs: away.fromMs, measured: (away.toMs - away.fromMs) / HOUR_MS, unit: "h" },
  };
}

/** `shownOf`: the sign of a group that stands by now. */
export function serverCauses(moment: SiteMoment, shownOf: (group: string) => Sign | undefined): Found {
  const { server, zones, nowMs } = moment;
  const atStake = zones.some(filmAtStake);
  const blind = zones.filter(isUnjudged).map(({ zone }) => zone);
  const loud = atStake ? "wake" : "tell";
  const looks: Look[] = [
    { group: "broker", kind: "broker-down", bad: server.brokerDown, level: loud },
    { group: "store", kind: "store-failing", bad: server.storeDown, level: loud },
    diskLook(server.disk, shownOf("disk") !== undefined),
    {
      group: "judge",
      kind: "judge-failing",
      bad: zones.length === 0 ? null : blind.length > 0,
      level: loud,
      zones: blind,
    },
    awayLook(moment),
  ];
  const signs: Sign[] = [];
  const fine: string[] = [];
  for (const { group, kind, bad, level, facts = {}, zones: at = [] } of looks) {
    const place = { group, member: "" };
    if (bad === false) fine.push(placeOf(place));
    if (bad === true)
      signs.push({
        ...place,
        kind,
        level,
        zones: at,
        order: 0,
        facts: { ...NO_FACTS, expectedAtMs: shownOf(group)?.facts.expectedAtMs ?? nowMs, ...facts },
      });
  }
  for (const { about, sinceMs } of server.channels ?? [])
    signs.push({
      group: "channel",
      member: about,
      kind: "channel-failing",
      level: "tell",
      zones: [],
      order: sinceMs,
      facts: { ...NO_FACTS, expectedAtMs: sinceMs, about },
    });
  return { signs, fine };
}
