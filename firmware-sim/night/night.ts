// Makes a scenario of a recipe: the shed in the weather of its station, its node, its journal.
import type { EntryBody } from "#contract/journal.ts";
import type { NightFileBody } from "#contract/night-file.ts";
import { isoFromMs } from "#contract/primitives.ts";
import { hourlyWeather, type WeatherHour } from "../building/weather.ts";
import type { Scenario } from "../scenario/scenario.ts";
import { shed, shedNode, SHED_ZONE } from "../scenario/shed.ts";
import { localHourH } from "../scenario/timezone.ts";
import type { NightRecipe } from "./recipe.ts";
import { type Station, stationOf } from "./stations.ts";

export const HOUR_MS = 3_600_000;
/** Hours after 16:00 at which a night is judged: every two until ten in the morning. */
export const ASK_HOURS = [0, 2, 4, 6, 8, 10, 12, 14, 16, 18] as const;
const FEED_HOURS = 48;
const EVERY_S = 600;
const SETTLE_DAYS = 14;
const AREA_M2 = 80;
const POUR_M2_PER_H = 60;

/** 16:00 local of an evening; stations keep no summer time on the nights that are played. */
export function afternoonMs(station: Station, evening: string): number {
  const noonMs = Date.parse(`${evening}T12:00:00Z`);
  if (Number.isNaN(noonMs)) throw new RangeError(`"${evening}" is not a day`);
  const localH = localHourH(station.timezone, noonMs);
  return noonMs + (16 - localH) * HOUR_MS;
}

export function scenarioOf(recipe: NightRecipe, hours: readonly WeatherHour[], seed: number): Scenario {
  const station = stationOf(recipe.station);
  const openedAtMs = afternoonMs(station, recipe.evening);
  const at = (hoursFrom: number) => openedAtMs + Math.round(hoursFrom * 60) * 60_000;
  const { heat } = recipe;
  const settleMs = SETTLE_DAYS * 24 * HOUR_MS;
  const building = shed(
    {
      ...recipe.shed,
      doorSpans: (recipe.doorOpen ?? []).map(([fromH, toH]) => ({ fromMs: at(fromH), toMs: at(toH) })),
      heat:
        heat === null
          ? null
          : {
              powerKw: heat.powerKw,
              ...(heat.hysteresisK === undefined ? {} : { hysteresisK: heat.hysteresisK }),
              ...(heat.setBack === undefined ? {} : { setBack: heat.setBack }),
              ...(heat.unvented === undefined ? {} : { unvented: heat.unvented }),
              targets: heat.targets.map(([fromH, targetC]) => ({ fromMs: at(fromH), targetC })),
              ...(heat.fuel === undefined ? {} : { fuel: { kwh: heat.fuel.kwh, fromMs: at(heat.fuel.fromH) } }),
            },
    },
    station.altitudeM,
    openedAtMs - 16 * HOUR_MS,
  );
  const entries: { readonly atMs: number; readonly did: EntryBody["did"]; readonly rest: object }[] = [
    ...recipe.journal.map(([atH, did, rest]) => ({ atMs: at(atH), did, rest: rest ?? {} })),
    ...recipe.pours.map(([coat, fromH, toH]) => ({
      atMs: at(toH),
      did: "poured" as const,
      rest: { coat, from: isoFromMs(at(fromH)), to: isoFromMs(at(toH)) },
    })),
  ];
  entries.sort((a, b) => a.atMs - b.atMs);
  return {
    id: recipe.id,
    title: recipe.title,
    seed,
    openedAtMs,
    fromMs: openedAtMs - (recipe.pastH ?? 50) * HOUR_MS,
    settleMs,
    site: { id: "shed", name: "A shed (invented)", timezone: station.timezone, altitudeM: station.altitudeM },
    sheets: [...new Map(recipe.system.map((sheet) => [sheet.id, sheet])).values()],
    zones: [
      {
        id: SHED_ZONE,
        name: "Floor",
        areaM2: AREA_M2,
        pourM2PerH: POUR_M2_PER_H,
        system: recipe.system.map((sheet) => sheet.id),
        base: "porous",
      },
    ],
    nodes: [shedNode(EVERY_S, recipe.faults?.(at) ?? [])],
    building,
    weather: hourlyWeather(hours),
    journal: entries.map(
      ({ atMs, did, rest }) => ({ at: isoFromMs(atMs), zone: SHED_ZONE, did, ...rest }) as EntryBody,
    ),
    expect: [],
  };
}

/** What a weather feed told half an hour before 16:00, if the recipe has one: the hours that then came. */
export function feedOf(recipe: NightRecipe, hours: readonly WeatherHour[]): Pick<NightFileBody, "feed"> {
  if (recipe.feed === undefined) return {};
  const openedAtMs = afternoonMs(stationOf(recipe.station), recipe.evening);
  const ahead = hours.filter(({ atMs }) => atMs >= openedAtMs - HOUR_MS && atMs <= openedAtMs + FEED_HOURS * HOUR_MS);
  return {
    feed: [
      {
        fetchedAt: isoFromMs(openedAtMs - HOUR_MS / 2),
        hours: ahead.map(({ atMs, airC, dewPointC }) => ({ at: isoFromMs(atMs), airC, dewPointC })),
      },
    ],
  };
}
