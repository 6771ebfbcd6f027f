// Causes at a zone beside its film: heat that is lost, the window, the pour, a door.
import { NO_FACTS } from "#core/alarm/alarm.ts";
import { type Found, filmAtStake, isUnjudged } from "#core/alarm/film-causes.ts";
import type { NodeMoment, ZoneMoment } from "#core/alarm/moment.ts";
import { CAUSES } from "#core/alarm/rules.ts";
import { placeOf, type Sign } from "#core/alarm/sign.ts";

const HOUR_MS = 3_600_000;
const MINUTE_MS = 60_000;
const NOTHING: Found = { signs: [], fine: [] };

/** Air that has come back from its lowest by so much says that the heat is on again; not to fall any more says nothing. */
function isWarmAgain({ trail, call }: ZoneMoment): boolean {
  const past = trail.flatMap(({ airC }) => airC ?? []);
  const { airC } = call.conditions;
  return airC !== null && past.length > 0 && airC - Math.min(...past) >= CAUSES.heatBackK;
}

/** `ahead`: what is foreseen at the film because of it, told with it and not beside it. */
export function heatCauses(zone: ZoneMoment, shown: Sign | undefined, ahead: Sign | undefined): Found {
  const place = { group: "heat", member: zone.zone };
  const heat = zone.watch?.heat ?? null;
  if (isUnjudged(zone) || heat === null) return NOTHING;
  const { airC } = zone.call.conditions;
  if (heat === "falls") {
    const atStake = filmAtStake(zone);
    const facts = {
      ...NO_FACTS,
      measured: airC,
      unit: "Cel",
      expectedAtMs: ahead?.facts.expectedAtMs ?? null,
      chance: ahead?.facts.chance ?? null,
    };
    const order = ahead === undefined ? 1000 : ahead.order;
    return {
      signs: [{ ...place, kind: "heat-lost", level: atStake ? "wake" : "tell", zones: [zone.zone], order, facts }],
      fine: [],
    };
  }
  const well = heat === "logged-off" || shown === undefined || isWarmAgain(zone);
  return { signs: [], fine: well ? [placeOf(place)] : [] };
}

export function windowCauses(zone: ZoneMoment, driveMin: number, shown: Sign | undefined): Found {
  const place = { group: `window/${zone.zone}`, member: zone.zone };
  if (isUnjudged(zone)) return NOTHING;
  const { call, pourH, chanceLost } = zone;
  const { state, closesAtMs } = call.window;
  const nowMs = call.atMs;
  const fine: Found = { signs: [], fine: [placeOf(place)] };
  const sign = (kind: Sign["kind"], level: Sign["level"], more: Partial<Sign["facts"]>): Found => ({
    signs: [{ ...place, kind, level, zones: [zone.zone], order: 0, facts: { ...NO_FACTS, ...more } }],
    fine: [],
  });
  if (call.film === null || call.nextCoat === null || call.pouring) return fine;
  if (closesAtMs !== null && closesAtMs <= nowMs)
    return state === "closed" || state === "lost" ? sign("window-closed", "list", { expectedAtMs: closesAtMs }) : fine;
  const latestStartMs = closesAtMs === null ? null : closesAtMs - pourH * HOUR_MS;
  const leftMin = latestStartMs === null ? Number.POSITIVE_INFINITY : (latestStartMs - nowMs) / MINUTE_MS;
  if (state === "open" && leftMin <= driveMin)
    return sign("window-closing", "tell", { expectedAtMs: closesAtMs, measured: Math.max(0, leftMin / 60), unit: "h" });
  const lost = state === "lost" || (chanceLost !== null && chanceLost >= CAUSES.lostChance);
  const wavers = shown !== undefined && (chanceLost === null || chanceLost > CAUSES.lostFineChance);
  if (closesAtMs !== null && (lost || wavers))
    return sign("window-unreachable", "tell", { expectedAtMs: closesAtMs, chance: chanceLost ?? 1 });
  return state === "not-yet" && chanceLost === null ? NOTHING : fine;
}

export function pourCauses(zone: ZoneMoment): Found {
  const { call } = zone;
  const stop = { group: `pour/${zone.zone}`, member: zone.zone };
  const opened = { group: `opened/${zone.zone}`, member: zone.zone };
  const signs: Sign[] = [];
  const fine: string[] = [];
  const limiting = call.rules.find(({ rule }) => rule === call.limiting);
  if (call.pouring && call.call !== "pour") {
    const facts = {
      ...NO_FACTS,
      expectedAtMs: call.atMs,
      measured: limiting?.measured ?? null,
      limit: limiting?.limit ?? null,
      unit: limiting?.unit === "C" ? "Cel" : (limiting?.unit ?? null),
      about: call.limiting,
    };
    signs.push({ ...stop, kind: "stop-pour", level: "wake", zones: [zone.zone], order: 0, facts });
  } else fine.push(placeOf(stop));
  if (isUnjudged(zone)) return { signs, fine };
  if (call.call === "pour" && !call.pouring) {
    const facts = { ...NO_FACTS, expectedAtMs: call.pour?.latestStartAtMs ?? null };
    // News for a floor that is being built up; a bare one has been waiting for nobody.
    const level = call.film === null ? "list" : "tell";
    signs.push({ ...opened, kind: "zone-opened", level, zones: [zone.zone], order: 0, facts });
  } else fine.push(placeOf(opened));
  return { signs, fine };
}

const median = (values: readonly number[]): number | null =>
  values.length === 0 ? null : ([...values].sort((a, b) => a - b)[Math.floor((values.length - 1) / 2)] as number);

/** Rise of the dew point over the half hour before its jump, K; null while too little is known. `stays`: lowest of the last minutes. */
export function dewJumpOf({ trail, call }: ZoneMoment): { readonly riseK: number; readonly staysK: number } | null {
  const nowMs = call.atMs;
  const within = (fromMin: number, toMin: number) =>
    trail.flatMap(({ atMs, dewPointC }) => {
      const agoMin = (nowMs - atMs) / MINUTE_MS;
      return dewPointC !== null && agoMin >= fromMin && agoMin < toMin ? [dewPointC] : [];
    });
  const lateMin = CAUSES.doorWithinMin + CAUSES.doorStaysMin;
  const before = median(within(lateMin, lateMin + 30));
  const late = within(0, CAUSES.doorStaysMin);
  const { dewPointC } = call.conditions;
  if (before === null || dewPointC === null || late.length < 2) return null;
  return { riseK: dewPointC - before, staysK: Math.min(...late) - before };
}

export function doorCauses(zone: ZoneMoment, nodes: readonly NodeMoment[], shown: Sign | undefined): Found {
  const place = { group: `door/${zone.zone}`, member: zone.zone };
  if (isUnjudged(zone)) return NOTHING;
  const nowMs = zone.call.atMs;
  const here = nodes.filter(({ zones, hasDoor }) => hasDoor && zones.includes(zone.zone));
  const open = here.find(
    ({ doorOpenMs }) => doorOpenMs !== null && nowMs - doorOpenMs >= CAUSES.doorOpenMin * MINUTE_MS,
  );
  const jump = dewJumpOf(zone);
  const level = filmAtStake(zone) ? "tell" : "list";
  const sign = (facts: Partial<Sign["facts"]>): Found => ({
    signs: [{ ...place, kind: "door-open", level, zones: [zone.zone], order: 0, facts: { ...NO_FACTS, ...facts } }],
    fine: [],
  });
  if (open !== undefined) return sign({ expectedAtMs: open.doorOpenMs, about: open.node });
  const wanted = shown === undefined ? CAUSES.doorRiseK : CAUSES.doorBackK;
  if (jump !== null && jump.riseK >= wanted && jump.staysK >= wanted)
    return sign({ expectedAtMs: shown?.facts.expectedAtMs ?? nowMs, measured: jump.riseK, unit: "K" });
  return jump === null ? NOTHING : { signs: [], fine: [placeOf(place)] };
}
