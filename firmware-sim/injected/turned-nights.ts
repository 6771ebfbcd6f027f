// Writes the nights whose call a fault turned, with and without the fault, as night files that can be judged again.
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { isoFromMs } from "#contract/primitives.ts";
import type { NightFileBody } from "#contract/night-file.ts";
import { nightFileOf } from "../scenario/night-file.ts";
import { SHED_ZONE } from "../scenario/shed.ts";
import { type StudyNight, yearsIn } from "../study/sample.ts";
import { casesOf, cleanNight, type InjectedCase } from "./cases.ts";
import type { NightOutcome } from "./outcome.ts";
import type { InjectedPlan } from "./run.ts";
import { turned } from "./summary.ts";
import { playTwins, type Twins } from "./twins.ts";

type Told = Pick<InjectedCase, "nodes" | "journal">;

function fileOf(night: StudyNight, twins: Twins, { nodes, journal }: Told, asksMs: readonly number[]): NightFileBody {
  const last = Math.max(...asksMs);
  const readings = twins.readingsOf(nodes).filter(({ heardMs }) => heardMs <= last);
  const body = nightFileOf(
    { ...night.scenario, nodes, journal: [...night.scenario.journal, ...journal] },
    readings,
    asksMs.map((atMs) => ({ atMs, zone: SHED_ZONE })),
  );
  if (night.feeds.length === 0) return body;
  const feed = night.feeds.map(({ fetchedMs, hours }) => ({
    fetchedAt: isoFromMs(fetchedMs),
    hours: hours.map(({ atMs, airC, dewPointC }) => ({ at: isoFromMs(atMs), airC, dewPointC })),
  }));
  return { ...body, feed };
}

/** Two files for each case with a turned call, at most `most` cases; returns their names. */
export function writeTurned(
  folder: string,
  plan: InjectedPlan,
  outcomes: readonly NightOutcome[],
  most: number,
): readonly string[] {
  const found = outcomes.flatMap(({ cases }) => cases.filter(({ moments }) => moments.some(turned))).slice(0, most);
  if (found.length === 0) return [];
  mkdirSync(folder, { recursive: true });
  const years = yearsIn(plan.weather);
  return found.flatMap(({ night: index, index: at, labels, moments }) => {
    const night = cleanNight(years, plan.seed, index);
    const each = casesOf(night, plan)[at];
    if (each === undefined) throw new RangeError(`night ${index} has no case ${at}`);
    const twins = playTwins(night, [each.nodes]);
    const asksMs = moments.filter(turned).map(({ askMs }) => askMs);
    const name = `night-${index}-${labels.join("+").replaceAll(" ", "-")}`;
    const without: Told = { nodes: night.scenario.nodes, journal: [] };
    return [[`${name}.json`, each] as const, [`${name}.without.json`, without] as const].map(([file, told]) => {
      const path = join(folder, file);
      writeFileSync(path, JSON.stringify(fileOf(night, twins, told, asksMs)));
      return path;
    });
  });
}
