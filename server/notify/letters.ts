// What is written to whom: the sentence of an alarm in the contact's language and units, and several in one letter.
import { type AlarmBody, alarmFromBody, type AlarmStepBody } from "#contract/alarm.ts";
import { msFromIso } from "#contract/primitives.ts";
import { sayAlarm } from "#core/alarm/say.ts";
import { escalationOf } from "#core/alarm/alarm.ts";
import { clockFor } from "./clock.ts";
import type { KeptContact, KeptDelivery, Language, Letter, Sentence, SiteFacts } from "./ports.ts";
import { wordsOf } from "./words.ts";

const MOST_LINES = 12;

/** Paths of the dashboard. */
export function openPath(site: string, alarm: AlarmBody | null): string {
  const [zone] = alarm?.zones ?? [];
  const page = zone === undefined ? "" : `/zone/${encodeURIComponent(zone)}`;
  return `/#/site/${encodeURIComponent(site)}${page}`;
}

/** What the step adds to the sentence. */
function stepNote(alarm: AlarmBody, step: AlarmStepBody, language: Language, clock: (atMs: number) => string): string {
  const words = wordsOf(language);
  switch (step.step) {
    case "acknowledged":
      return words.taken(step.by);
    case "snoozed":
      return words.snoozed(step.by, alarm.snoozedUntil === null ? null : clock(msFromIso(alarm.snoozedUntil)));
    case "escalated":
      return words.unanswered(escalationOf(alarmFromBody(alarm)));
    case "raised":
    case "worsened":
    case "woken":
    case "cleared":
      return "";
  }
}

export function alarmText(
  alarm: AlarmBody,
  step: AlarmStepBody,
  { language, units }: Pick<KeptContact, "language" | "units">,
  site: SiteFacts,
  nowMs: number,
): Sentence {
  const clock = clockFor(site.timezone, language, nowMs);
  const zoneName = (zone: string) => site.zones.find(({ id }) => id === zone)?.name ?? zone;
  const { title, body } = sayAlarm(alarmFromBody(alarm), { language, units, zoneName, clock });
  const note = stepNote(alarm, step, language, clock);
  return { title, body: [note, body, `(${site.name})`].filter((part) => part !== "").join(" ") };
}

/** The key of a delivery: the same step of an alarm goes to a contact by a way once. */
export function alarmKey(alarm: AlarmBody, step: AlarmStepBody, contact: string, way: string): string {
  return [alarm.site, alarm.id, `${step.step}@${msFromIso(step.at)}`, contact, way].join("/");
}

function threadOf({ kind, site, alarm, key }: KeptDelivery): string {
  if (alarm !== null) return `${site}/${alarm}`;
  return kind === "all-well" || kind === "test" ? `${site}/${kind}` : key;
}

/** The newest row of each alarm, in the order in which they came. */
function newestOfEach(rows: readonly KeptDelivery[]): KeptDelivery[] {
  const newest = new Map<string, KeptDelivery>();
  for (const row of rows) {
    newest.delete(threadOf(row));
    newest.set(threadOf(row), row);
  }
  return [...newest.values()];
}

/** `rows` go together, at least one; `acknowledge` is the path behind the button, for a single alarm that is open. */
export function letterOf(
  rows: readonly [KeptDelivery, ...KeptDelivery[]],
  { language }: Pick<KeptContact, "language">,
  siteName: string,
  acknowledge: (row: KeptDelivery) => string,
): Letter {
  const each = newestOfEach(rows);
  const row = each.at(-1) ?? rows[0];
  const { key, kind, level, site, step } = row;
  const one = { key, kind, level, site, step, language };
  if (each.length === 1) {
    const canAcknowledge = kind === "alarm" && row.about?.state === "open";
    return {
      ...{ ...one, thread: threadOf(row), title: row.title, body: row.body, open: openPath(site, row.about) },
      ...{ acknowledge: canAcknowledge ? acknowledge(row) : null, alarm: row.about },
    };
  }
  const words = wordsOf(language);
  const lines = each.slice(0, MOST_LINES).map(({ title }) => `- ${title}`);
  if (each.length > MOST_LINES) lines.push(words.andMore(each.length - MOST_LINES));
  return {
    ...{ ...one, thread: `${site}/several`, title: words.several(siteName, each.length), body: lines.join("\n") },
    ...{ open: openPath(site, null), acknowledge: null, alarm: null },
  };
}
