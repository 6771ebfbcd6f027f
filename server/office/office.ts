// The office: hears what the servers of many sites say, keeps the last of it, and tells whoever looks. It says nothing to them.
import { type AboutBody, AboutSchema } from "#contract/about.ts";
import { type AlarmBody, AlarmSchema } from "#contract/alarm.ts";
import { type CallBody, CallSchema } from "#contract/call.ts";
import { type Checked, readerOf } from "#contract/faults.ts";
import type { OfficeBody, OfficeSiteBody } from "#contract/office.ts";
import { isoFromMs, msFromIso } from "#contract/primitives.ts";
import { type Topic, topicFrom } from "#contract/topics.ts";
import { HeardSite } from "./heard-site.ts";
import type { HeardRow, OfficeStore } from "./ports.ts";

/** Changes of a site go out together, and to the disk together, after this time. */
const TOGETHER_MS = 500;
/** Far above any call or list of alarms; whoever sends more is not a server of ours. */
const LARGEST_BYTES = 256 * 1024;

const readAbout = readerOf(AboutSchema);
const readCall = readerOf(CallSchema);
const readAlarm = readerOf(AlarmSchema);

export interface OfficeParts {
  readonly store: OfficeStore;
  readonly nowMs: () => number;
  /** Why nothing may be heard now; null while the broker answers. */
  readonly deaf: () => string | null;
  readonly changed: (site: OfficeSiteBody) => void;
  readonly gone: (site: string) => void;
  readonly count: (name: string) => void;
  readonly log: { warn(fields: object, message: string): void; error(fields: object, message: string): void };
}

export interface HeardMessage {
  readonly topic: string;
  readonly payload: Uint8Array;
  /** It may have waited at the broker. */
  readonly replayed: boolean;
}

export interface Office {
  take(message: HeardMessage): void;
  body(): OfficeBody;
  knows(site: string): boolean;
  siteNames(): readonly string[];
  /** Why what was heard is not on the disk; null while it is. */
  storeFailure(): string | null;
  close(): void;
}

type SiteTopic = Extract<Topic, { kind: "about" | "call" | "alarm" }>;
const idOf = (row: Pick<HeardRow, "kind" | "site" | "key">) => `${row.kind} ${row.site} ${row.key}`;

/** The message as JSON, held to its schema and to the topic it came by. */
function heardAs<T extends { readonly site: string }>(
  read: (value: unknown) => Checked<T>,
  text: string,
  fits: (body: T) => boolean,
): T | string {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
  const checked = read(value);
  if (!checked.ok) return checked.faults.map(({ field, reason }) => `${field} ${reason}`).join("; ");
  return fits(checked.value) ? checked.value : "speaks of another place than its topic";
}

export function createOffice({ store, nowMs, deaf, changed, gone, count, log }: OfficeParts): Office {
  const sites = new Map<string, HeardSite>();
  const dirty = new Set<string>();
  const rows = new Map<string, HeardRow>();
  const dropped = new Map<string, Omit<HeardRow, "body" | "heardMs">>();
  let timer: NodeJS.Timeout | null = null;
  let failure: string | null = null;

  const siteOf = (id: string): HeardSite => {
    const site = sites.get(id) ?? new HeardSite(id);
    sites.set(id, site);
    return site;
  };
  const keep = (row: HeardRow) => {
    dropped.delete(idOf(row));
    rows.set(idOf(row), row);
  };
  const drop = (row: Omit<HeardRow, "body" | "heardMs">) => {
    rows.delete(idOf(row));
    dropped.set(idOf(row), row);
  };

  function flush(): void {
    timer = null;
    for (const id of dirty) {
      const site = sites.get(id);
      if (site === undefined) continue;
      if (site.isEmpty()) {
        sites.delete(id);
        gone(id);
      } else changed(site.body());
    }
    dirty.clear();
    try {
      store.keep([...rows.values()], [...dropped.values()]);
      rows.clear();
      dropped.clear();
      failure = null;
    } catch (error) {
      failure = error instanceof Error ? error.message : String(error);
      log.error({ err: error }, "what the office heard is not on the disk; asking again with the next");
    }
  }
  function touched(site: string): void {
    dirty.add(site);
    timer ??= setTimeout(flush, TOGETHER_MS);
  }

  function takeAbout(body: AboutBody, replayed: boolean): boolean {
    const site = siteOf(body.site);
    const before = site.about?.body.at ?? null;
    // The same again is no sign of life, and what waited somewhere does not undo what came after it.
    if (before === body.at || (replayed && before !== null && msFromIso(body.at) < msFromIso(before))) return false;
    site.about = { body, heardMs: nowMs() };
    keep({ kind: "about", site: body.site, key: "", body: JSON.stringify(body), heardMs: site.about.heardMs });
    for (const id of site.settleAlarms(body)) drop({ kind: "alarm", site: body.site, key: id });
    for (const alarm of site.alarms.values()) keepAlarm(alarm);
    return true;
  }
  function keepAlarm(alarm: AlarmBody): void {
    keep({ kind: "alarm", site: alarm.site, key: alarm.id, body: JSON.stringify(alarm), heardMs: nowMs() });
  }
  function takeCall(call: CallBody, replayed: boolean): void {
    const site = siteOf(call.site);
    const before = site.calls.get(call.zone)?.call?.at ?? null;
    if (replayed && before !== null && msFromIso(call.at) < msFromIso(before)) return;
    site.calls.set(call.zone, { call, heardMs: nowMs() });
    keep({ kind: "call", site: call.site, key: call.zone, body: JSON.stringify(call), heardMs: nowMs() });
  }
  function takeAlarm(alarm: AlarmBody): void {
    const site = siteOf(alarm.site);
    if (alarm.state === "cleared") {
      site.alarms.delete(alarm.id);
      drop({ kind: "alarm", site: alarm.site, key: alarm.id });
      return;
    }
    site.alarms.set(alarm.id, alarm);
    keepAlarm(alarm);
  }

  /** An empty message takes back what was kept at the broker. */
  function takenBack(topic: SiteTopic): void {
    const site = sites.get(topic.site);
    if (site === undefined || topic.kind === "alarm") return;
    if (topic.kind === "call") {
      site.calls.delete(topic.zone);
      drop({ kind: "call", site: topic.site, key: topic.zone });
      return;
    }
    site.about = null;
    drop({ kind: "about", site: topic.site, key: "" });
    for (const id of site.alarms.keys()) drop({ kind: "alarm", site: topic.site, key: id });
    site.alarms.clear();
  }

  function unread(topic: SiteTopic, why: string): void {
    count("officeUnread");
    log.warn({ site: topic.site, kind: topic.kind, why }, "what a site says cannot be read");
    // A call that nobody can read is none: the one before it does not stand any more.
    if (topic.kind !== "call") return;
    siteOf(topic.site).calls.set(topic.zone, { call: null, heardMs: nowMs() });
    keep({ kind: "call", site: topic.site, key: topic.zone, body: "", heardMs: nowMs() });
  }

  function read(topic: SiteTopic, payload: Uint8Array, replayed: boolean): void {
    const text = Buffer.from(payload).toString("utf8");
    if (payload.length > LARGEST_BYTES) return unread(topic, `${payload.length} bytes: too large`);
    if (topic.kind === "about") {
      const about = heardAs(readAbout, text, ({ site }) => site === topic.site);
      return typeof about === "string" ? unread(topic, about) : void takeAbout(about, replayed);
    }
    if (topic.kind === "alarm") {
      const alarm = heardAs(readAlarm, text, ({ site }) => site === topic.site);
      return typeof alarm === "string" ? unread(topic, alarm) : takeAlarm(alarm);
    }
    const call = heardAs(readCall, text, ({ site, zone }) => site === topic.site && zone === topic.zone);
    return typeof call === "string" ? unread(topic, call) : takeCall(call, replayed);
  }

  for (const { kind, site, key, body, heardMs } of store.all()) {
    const known = siteOf(site);
    if (kind === "about") {
      const about = heardAs(readAbout, body, () => true);
      if (typeof about !== "string") known.about = { body: about, heardMs };
    } else if (kind === "call") {
      const call = heardAs(readCall, body, () => true);
      known.calls.set(key, { call: typeof call === "string" ? null : call, heardMs });
    } else {
      const alarm = heardAs(readAlarm, body, () => true);
      if (typeof alarm !== "string") known.alarms.set(key, alarm);
    }
  }

  return {
    take({ topic: name, payload, replayed }) {
      const topic = topicFrom(name);
      if (topic === null || (topic.kind !== "about" && topic.kind !== "call" && topic.kind !== "alarm")) return;
      count("officeHeard");
      if (payload.length === 0) takenBack(topic);
      else read(topic, payload, replayed);
      if (sites.has(topic.site)) touched(topic.site);
    },
    body: () => ({
      at: isoFromMs(nowMs()),
      deaf: deaf(),
      sites: [...sites.values()].filter((site) => !site.isEmpty()).map((site) => site.body()),
    }),
    knows: (site) => sites.has(site),
    siteNames: () => [...sites.values()].flatMap(({ id, about }) => [id, about?.body.name ?? id]),
    storeFailure: () => failure,
    close() {
      if (timer === null) return;
      clearTimeout(timer);
      flush();
    },
  };
}
