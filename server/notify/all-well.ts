// The message at the hour that a contact picked: that no alarm is open, or which, and each zone in one line.
import { msFromIso } from "#contract/primitives.ts";
import { fDifferenceFromK } from "#core/units.ts";
import { clockFor } from "./clock.ts";
import { alarmText } from "./letters.ts";
import type { AlarmBody, KeptContact, NewDelivery, Sentence, SiteFacts, Units, Way } from "./ports.ts";
import { minuteOf, wallClock } from "./quiet.ts";
import { caresFor } from "./whom.ts";
import { wordsOf } from "./words.ts";

/** A server that was away at that hour says it within this time of it, or not on that day. */
const LATE_MIN = 120;
const MOST_ZONES = 20;

function differenceText(k: number, units: Units): string {
  const [us, si] = [`${fDifferenceFromK(k).toFixed(1)} °F`, `${k.toFixed(1)} °C`].map((text) => text.replace("-", "−"));
  return units === "us" ? `${us} (${si})` : `${si} (${us})`;
}

export interface AllWellFacts {
  readonly site: SiteFacts;
  readonly open: readonly AlarmBody[];
  readonly serverWell: boolean;
  readonly nowMs: number;
}

export function allWellText(
  contact: Pick<KeptContact, "language" | "units" | "sites">,
  { site, open, serverWell, nowMs }: AllWellFacts,
): Sentence {
  const words = wordsOf(contact.language);
  const clock = clockFor(site.timezone, contact.language, nowMs);
  const cared = open.filter(({ zones, level }) => level !== "list" && caresFor(contact, site.id, zones));
  const said = cared.map((alarm) => {
    const step = alarm.history.at(-1);
    return step === undefined ? "" : `- ${alarmText(alarm, { ...step, step: "raised" }, contact, site, nowMs).title}`;
  });
  const zones = site.zones.filter(({ id }) => caresFor(contact, site.id, [id]));
  const lines = zones.slice(0, MOST_ZONES).map(({ name, call }) => {
    const margin = call?.conditions.marginK ?? null;
    const lowest = call?.night?.lowestMarginK[1] ?? null;
    const lowestAt = call?.night?.lowestAt ?? null;
    return words.zone({
      name,
      call: call?.call ?? null,
      margin: margin === null ? null : differenceText(margin, contact.units),
      lowest: lowest === null ? null : differenceText(lowest, contact.units),
      lowestAt: lowestAt === null ? null : clock(msFromIso(lowestAt)),
    });
  });
  if (zones.length === 0) lines.push(words.noZones);
  if (zones.length > MOST_ZONES) lines.push(words.andMore(zones.length - MOST_ZONES));
  return {
    title: cared.length === 0 ? words.allWell(site.name) : words.notAllWell(site.name, cared.length),
    body: [...(serverWell ? [] : [words.serverTroubled]), ...said, ...lines].join("\n"),
  };
}

/** The day for which the message is due now, as the site's wall says it; null outside of its hour. */
export function allWellDay(allWellAt: string | null, timezone: string, nowMs: number): string | null {
  if (allWellAt === null) return null;
  const { day, minute } = wallClock(timezone)(nowMs);
  const late = minute - minuteOf(allWellAt);
  return late >= 0 && late < LATE_MIN ? day : null;
}

/** One row a day and site for each way that carries what is told. */
export function allWellRows(contact: KeptContact, ways: readonly Way[], facts: AllWellFacts): NewDelivery[] {
  const { site, nowMs } = facts;
  const day = allWellDay(contact.allWellAt, site.timezone, nowMs);
  if (day === null || (contact.sites !== null && !contact.sites.some((one) => one.site === site.id))) return [];
  const telling = ways.filter(({ levels }) => levels.includes("tell"));
  if (telling.length === 0) return [];
  const text = allWellText(contact, facts);
  return telling.map(({ id }) => ({
    key: `all-well/${site.id}/${day}/${contact.id}/${id}`,
    ...{ kind: "all-well", site: site.id, alarm: null, step: day, level: "tell", contact: contact.id, way: id },
    ...{ madeMs: nowMs, notBeforeMs: nowMs, ...text, about: null },
  }));
}
