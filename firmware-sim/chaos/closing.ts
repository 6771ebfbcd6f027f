// The end of every trial: the last hours arrive, the clock stands at one moment, and all calls are listed.
import type { BoardZoneBody } from "#contract/board.ts";
import { bodyFromCall, type CallBody } from "#contract/call.ts";
import { sayFaults } from "#contract/faults.ts";
import { readNightFile } from "#contract/night-file.ts";
import { msFromIso } from "#contract/primitives.ts";
import { judgeZone } from "#core/judge/judge.ts";
import type { SiteLog } from "#core/zone/site.ts";
import type { Fleet } from "./fleet.ts";
import { CLOSING_MS, FLOW_END_MS, NODES, type Packs, SITE, zoneId } from "./floor.ts";
import { until } from "./program.ts";
import type { TrialServer } from "./server.ts";

const HOUR_MS = 3_600_000;
const MINUTE_MS = 60_000;
const JUDGED_WITHIN_MS = 240_000;
/** Calls are made again for these hours before the end of the flow. */
const PAST_MS = 12 * HOUR_MS;
const EVERY_MS = 20 * MINUTE_MS;

/** What of a call does not move with the second at which it was made. */
const sayCall = ({ zone, call, limiting, steps, rules, window }: CallBody): string =>
  [
    zone,
    call,
    limiting ?? "-",
    steps.join("+"),
    window.state,
    rules.map(({ rule, outcome }) => `${rule}:${outcome}`).join(","),
  ].join(" ");

/** The log as if everything had been heard when it happened: what was late differs from trial to trial. */
const heardAtOnce = (log: SiteLog): SiteLog => ({
  ...log,
  journal: log.journal.map((entry) => ({ ...entry, heardMs: entry.atMs })),
  series: log.series.map((series) => ({ ...series, heardMs: series.atMs })),
});

async function pastCalls(server: TrialServer, zone: string): Promise<string[]> {
  const answer = await fetch(`${server.httpUrl}/api/v1/sites/${SITE.id}/zones/${zone}/night-file`);
  const night = readNightFile(await answer.json());
  if (!night.ok) throw new Error(`night file of ${zone}: ${sayFaults(night.faults)}`);
  const log = heardAtOnce(night.value.log);
  const calls: string[] = [];
  for (let atMs = FLOW_END_MS - PAST_MS; atMs <= FLOW_END_MS; atMs += EVERY_MS)
    calls.push(`${new Date(atMs).toISOString()} ${sayCall(bodyFromCall(judgeZone(log, zone, atMs).call))}`);
  return calls;
}

const shown = async (server: TrialServer): Promise<readonly BoardZoneBody[]> => (await server.api.board(SITE.id)).zones;

/** Sends the last packs with the clock at the closing moment, waits until all is judged, and lists the calls. */
export async function closingCalls(
  server: TrialServer,
  mqttUrl: string,
  fleet: Fleet,
  packs: Packs,
  pastOf: number,
): Promise<string[]> {
  const all = packs.count + packs.closing;
  server.setClock(CLOSING_MS);
  // A busy server may find the packs before it finds what time it is, and refuse them as of the future.
  await until(
    async () => msFromIso((await server.health()).at) >= CLOSING_MS,
    JUDGED_WITHIN_MS,
    () => "the server did not hear what time it is",
  );
  await until(
    () => fleet.send(mqttUrl, all, null),
    JUDGED_WITHIN_MS,
    () => "the last packs were not taken",
  );
  // The same second for every trial, whatever it took to get here.
  server.setClock(CLOSING_MS + 5000);
  let last = "";
  const judged = async () => {
    const zones = await shown(server);
    const fresh =
      zones.length === NODES &&
      zones.every(({ call }) => (call.conditions.ageS ?? Infinity) < packs.stepMs / 1000 + 120);
    const { counters } = await server.health();
    const now = fresh && counters["queueJudge"] === 0 ? zones.map(({ call }) => sayCall(call)).join("\n") : "";
    const still = now !== "" && now === last;
    last = now;
    return still;
  };
  await until(judged, JUDGED_WITHIN_MS, () => `not judged in time; the server said:\n${server.said().slice(-2000)}`);
  const live = (await shown(server)).map(({ call }) => sayCall(call)).sort();
  const past: string[] = [];
  for (let zone = 0; zone < pastOf; zone++) past.push(...(await pastCalls(server, zoneId(zone))));
  return [...live, ...past];
}
