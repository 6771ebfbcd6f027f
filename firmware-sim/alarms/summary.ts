// From nights of alarms to figures: what was announced and how long before, and what quiet nights were disturbed by.
import type { AlarmKind } from "#core/alarm/kinds.ts";
import { quantileOf } from "../study/scores.ts";
import type { Harm } from "./harm.ts";
import type { AlarmNight, Said } from "./night.ts";

const HOUR_MS = 3_600_000;
/** The server hears of a film when its pour is over: of what comes in the next hour and a half nobody can be told an hour before. */
const YOUNG_MS = 1.5 * HOUR_MS;

const ABOUT: Readonly<Record<Harm["what"], readonly AlarmKind[]>> = {
  dew: ["margin-ahead", "margin-below", "condensing", "heat-lost", "data-lost"],
  below: ["margin-ahead", "margin-below", "condensing", "heat-lost", "data-lost"],
  cold: ["cold-ahead", "cold-now", "heat-lost", "data-lost"],
};

const isNews = ({ step, level }: Said) => (step === "raised" || step === "worsened") && level !== "list";
const isWake = (said: Said) => isNews(said) && said.level === "wake";

export interface Announced {
  readonly night: AlarmNight;
  readonly harm: Harm;
  /** Hours from the first word of it to the harm; null if there was none. */
  readonly leadH: number | null;
}

export function announcedOf(nights: readonly AlarmNight[], what: Harm["what"]): readonly Announced[] {
  return nights.flatMap((night) =>
    night.harms
      .filter((harm) => harm.what === what && harm.atMs - night.pour.toMs >= YOUNG_MS)
      .map((harm) => {
        const first = night.said.find(
          (said) => isNews(said) && ABOUT[what].includes(said.kind) && said.atMs >= night.pour.fromMs,
        );
        const leadH = first === undefined || first.atMs > harm.atMs ? null : (harm.atMs - first.atMs) / HOUR_MS;
        return { night, harm, leadH };
      }),
  );
}

export function leadFigures(announced: readonly Announced[]) {
  const leads = announced.flatMap(({ leadH }) => leadH ?? []);
  return {
    harms: announced.length,
    announced: leads.length,
    anHourBefore: leads.filter((leadH) => leadH >= 1).length,
    leadH: { q10: quantileOf(leads, 0.1), q50: quantileOf(leads, 0.5), q90: quantileOf(leads, 0.9) },
  };
}

const countBy = (said: readonly Said[]) => {
  const kinds = new Map<AlarmKind, number>();
  for (const { kind } of said) kinds.set(kind, (kinds.get(kind) ?? 0) + 1);
  return [...kinds].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1));
};

export function wakeFigures(nights: readonly AlarmNight[]) {
  const quiet = nights.filter((night) => night.quiet && night.fault === null);
  // What was said before the pour was said of the film below.
  const since = ({ said, pour }: AlarmNight) => said.filter(({ atMs }) => atMs >= pour.fromMs);
  const wakes = quiet.map((night) => since(night).filter(isWake).length);
  return {
    quiet: quiet.length,
    undisturbed: wakes.filter((count) => count === 0).length,
    aNight: quiet.length === 0 ? 0 : wakes.reduce((sum, count) => sum + count, 0) / quiet.length,
    most: Math.max(0, ...wakes),
    moreThanTwo: wakes.filter((count) => count > 2).length,
    wakesByKind: countBy(quiet.flatMap((night) => since(night).filter(isWake))),
    toldByKind: countBy(quiet.flatMap((night) => since(night).filter((each) => isNews(each) && !isWake(each)))),
  };
}

export function alarmStudyFigures(nights: readonly AlarmNight[]) {
  return {
    nights: nights.length,
    dew: leadFigures(announcedOf(nights, "dew")),
    below: leadFigures(announcedOf(nights, "below")),
    cold: leadFigures(announcedOf(nights, "cold")),
    wakes: wakeFigures(nights),
    wakesANight:
      nights.length === 0 ? 0 : nights.reduce((sum, { said }) => sum + said.filter(isWake).length, 0) / nights.length,
  };
}
