// Two readable tables of a night: what the judge says at each ask, and what was truly so.
import { judgeZone } from "#core/judge/judge.ts";
import type { NightFile } from "#contract/night-file.ts";
import type { Scenario } from "../scenario/scenario.ts";
import { ASK_HOURS, HOUR_MS } from "./night.ts";
import { trueCourse, trueFilm, trueNight } from "./truth.ts";

function clockOf(timezone: string, atMs: number): string {
  return new Intl.DateTimeFormat("en-GB", {
    timeZone: timezone,
    weekday: "short",
    hour: "2-digit",
    minute: "2-digit",
    hourCycle: "h23",
  }).format(atMs);
}
const one = (value: number | null | undefined) =>
  value === null || value === undefined || !Number.isFinite(value) ? "-" : value.toFixed(1);

/** One line an ask: local time, call, limiting rule, next call, margin now, night ahead, window, earned. */
export function judgedLines(file: NightFile): readonly string[] {
  return file.ask.map(({ atMs, zone }) => {
    const { call } = judgeZone(file.log, zone, atMs);
    const { night, next, window, conditions } = call;
    const cells = [
      clockOf(file.log.timezone, atMs),
      call.call.padEnd(8),
      (call.limiting ?? "-").padEnd(14),
      `margin ${one(conditions.marginK).padStart(5)}`,
      `slab ${one(conditions.slabColdC).padStart(5)}`,
      `night ${night === null ? "-".padEnd(14) : `${one(night.lowestMarginK[1])} holds ${night.chanceHolds.toFixed(2)}`.padEnd(14)}`,
      `window ${window.state.padEnd(7)} ${window.earned === null ? "-" : window.earned.toFixed(2)}`,
      `next ${next === null ? "-" : `${next.call} ${clockOf(file.log.timezone, next.likelyMs)}`}`,
    ];
    return `  ${cells.join("  ")}`.trimEnd();
  });
}

/** One line an ask: what the floor, the film and the coming night truly were. */
export function trueLines(scenario: Scenario, zone: string): readonly string[] {
  const asks = ASK_HOURS.map((hours) => scenario.openedAtMs + hours * HOUR_MS);
  const course = trueCourse(scenario, zone, Math.max(...asks) + 37 * HOUR_MS);
  const plan = scenario.zones.find((each) => each.id === zone);
  if (plan === undefined) throw new RangeError(`no zone "${zone}" in ${scenario.id}`);
  return asks.map((atMs) => {
    const now = course.findLast((each) => each.atMs <= atMs);
    if (now === undefined) throw new RangeError(`${scenario.id} has no truth at its ask`);
    const film = trueFilm(scenario, course, zone, atMs);
    const sheet = scenario.sheets.find((each) => each.id === plan.system[film === null ? 0 : film.coat + 1]);
    const night = sheet === undefined ? null : trueNight(sheet, course, atMs, plan.areaM2 / plan.pourM2PerH);
    const filmCells =
      film === null
        ? "bare"
        : [
            `coat ${film.coat} earned ${film.recoatEarned.toFixed(2)} dew-safe ${Math.min(9.99, film.dewSafeEarned).toFixed(2)}`,
            film.closedAtMs === null ? "" : `closed ${clockOf(scenario.site.timezone, film.closedAtMs)}`,
            film.belowLimitMin === 0 ? "" : `below ${film.belowLimitMin} min`,
            film.dewedMin === 0 ? "" : `dewed ${film.dewedMin} min`,
          ]
            .filter((cell) => cell !== "")
            .join(" ");
    const cells = [
      clockOf(scenario.site.timezone, atMs),
      `margin ${one(now.marginK).padStart(5)}`,
      `slab ${one(now.coldC).padStart(5)}/${one(now.hotC)}`,
      `air ${one(now.airC).padStart(5)} ${now.rhPct.toFixed(0).padStart(3)} %`,
      night === null
        ? "last coat down"
        : `night ${night.holds ? "holds" : "FAILS"} ${one(night.lowestMarginK)} at ${clockOf(scenario.site.timezone, night.lowestAtMs)} in ${one(night.hours)} h`,
      filmCells,
    ];
    return `  ${cells.join("  ")}`;
  });
}
