// Who is told of a step of an alarm, by which ways, and not before when. Pure.
import type { AlarmBody, AlarmStepBody } from "#contract/alarm.ts";
import { type Quiet, quietUntil } from "./quiet.ts";

export type SentLevel = "wake" | "tell";

export interface ReachWay {
  readonly id: string;
  readonly levels: readonly SentLevel[];
  /** It did not work when it was last tried. */
  readonly failing: boolean;
}

/** A contact as far as it matters here. */
export interface Reach {
  readonly id: string;
  readonly name: string;
  readonly sites: readonly { readonly site: string; readonly zones: readonly string[] | null }[] | null;
  readonly quiet: Quiet | null;
  readonly ways: readonly ReachWay[];
}

export interface Wanted {
  readonly contact: string;
  readonly way: string;
  readonly level: SentLevel;
  readonly notBeforeMs: number;
}

export interface Circumstances {
  /** Ids of contacts, first to be woken first. */
  readonly order: readonly string[];
  readonly timezone: string;
  /** Contacts that were told of this alarm before. */
  readonly told: ReadonlySet<string>;
  readonly nowMs: number;
}

const AFTERWARDS: readonly AlarmStepBody["step"][] = ["acknowledged", "snoozed", "cleared"];

export function caresFor({ sites }: Pick<Reach, "sites">, site: string, zones: readonly string[]): boolean {
  if (sites === null) return true;
  return sites.some(
    (one) =>
      one.site === site &&
      (one.zones === null || zones.length === 0 || zones.some((zone) => one.zones?.includes(zone))),
  );
}

/** How often the alarm was repeated since it was raised, got worse or woke up. */
function escalation({ history }: Pick<AlarmBody, "history">): number {
  let times = 0;
  for (const { step } of history) times = step === "escalated" ? times + 1 : 0;
  return times;
}

const carrying = ({ ways }: Reach, level: SentLevel) => ways.filter(({ levels }) => levels.includes(level));

/** The ways to wake somebody; where all of them fail, the others too. */
function wakingWays(contact: Reach): readonly ReachWay[] {
  const chosen = carrying(contact, "wake");
  return chosen.some(({ failing }) => !failing) ? chosen : contact.ways;
}

/** The first of the order who can be reached, and one more for each time that nobody answered. */
function onCallNow(order: readonly Reach[], times: number): Reach[] {
  const woken: Reach[] = [];
  let reached = 0;
  for (const contact of order) {
    if (reached > times) break;
    woken.push(contact);
    if (wakingWays(contact).some(({ failing }) => !failing)) reached += 1;
  }
  return woken;
}

/**
 * Whom to wake. Where an order stands it decides; without one everybody who cares is woken. Nobody to wake by a way that
 * was chosen for it: then by whatever way there is, and at last whoever has a way at all.
 */
function toWake(alarm: AlarmBody, contacts: readonly Reach[], order: readonly string[]): Reach[] {
  const caring = contacts.filter((contact) => caresFor(contact, alarm.site, alarm.zones));
  const wakeable = (among: readonly Reach[]) => among.filter((contact) => carrying(contact, "wake").length > 0);
  const inOrder = order.flatMap((id) => caring.find((contact) => contact.id === id) ?? []);
  const onCall = onCallNow(wakeable(inOrder), escalation(alarm));
  if (onCall.length > 0) return onCall;
  const chosen = wakeable(caring);
  if (chosen.length > 0) return chosen;
  const any = (among: readonly Reach[]) => among.filter(({ ways }) => ways.length > 0);
  const reachable = any(inOrder).slice(0, 1 + escalation(alarm));
  if (reachable.length > 0) return reachable;
  return any(caring).length > 0 ? any(caring) : any(contacts);
}

/** `contacts`: all who may know of the site. Each contact and way stands in the answer once at most. */
export function whom(
  alarm: AlarmBody,
  step: AlarmStepBody,
  contacts: readonly Reach[],
  { order, timezone, told, nowMs }: Circumstances,
): readonly Wanted[] {
  if (step.level === "list") return [];
  const telling = (contact: Reach): Wanted[] =>
    carrying(contact, "tell").map(({ id }) => ({
      contact: contact.id,
      way: id,
      level: "tell",
      notBeforeMs: quietUntil(contact.quiet, timezone, nowMs) ?? nowMs,
    }));
  if (AFTERWARDS.includes(step.step)) {
    return contacts.filter(({ id, name }) => told.has(id) && name !== step.by).flatMap(telling);
  }
  const caring = contacts.filter((contact) => caresFor(contact, alarm.site, alarm.zones));
  if (step.level === "tell") return caring.flatMap(telling);
  const woken = toWake(alarm, contacts, order);
  const waking = woken.flatMap((contact) =>
    wakingWays(contact).map(({ id }): Wanted => ({ contact: contact.id, way: id, level: "wake", notBeforeMs: nowMs })),
  );
  // Who is not on call learns of it without being woken, and is not told of every repeat.
  const others = caring.filter(({ id }) => !woken.some((contact) => contact.id === id));
  return step.step === "escalated" ? waking : [...waking, ...others.flatMap(telling)];
}
