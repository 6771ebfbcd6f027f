// One site as an office knows it: the last that it said, and what may be told of that.
import type { AboutBody } from "#contract/about.ts";
import type { AlarmBody } from "#contract/alarm.ts";
import type { CallBody } from "#contract/call.ts";
import type { OfficeSiteBody, OfficeZoneBody } from "#contract/office.ts";
import { isoFromMs, msFromIso } from "#contract/primitives.ts";

/** A word is missed before a site counts as silent, and one may be late. */
const WORDS_MISSED = 2.5;
const USUAL_EVERY_S = 60;

export interface HeardAbout {
  readonly body: AboutBody;
  /** When the office first heard it, its own clock. */
  readonly heardMs: number;
}

export interface HeardCall {
  /** null: it could not be read. */
  readonly call: CallBody | null;
  readonly heardMs: number;
}

export class HeardSite {
  about: HeardAbout | null = null;
  readonly calls = new Map<string, HeardCall>();
  readonly alarms = new Map<string, AlarmBody>();

  constructor(readonly id: string) {}

  isEmpty(): boolean {
    return this.about === null && this.calls.size === 0 && this.alarms.size === 0;
  }

  /** What the site says stands there stands; what was told since is newer. Gives the alarms that are over by that. */
  settleAlarms({ at, alarms, alarmCount }: AboutBody): string[] {
    for (const alarm of alarms) {
      const known = this.alarms.get(alarm.id);
      if (known === undefined || known.changedAt <= alarm.changedAt) this.alarms.set(alarm.id, alarm);
    }
    // A list that was cut short does not say which are over.
    if (alarmCount > alarms.length) return [];
    const standing = new Set(alarms.map(({ id }) => id));
    const over = [...this.alarms.values()].filter(
      ({ id, changedAt }) => !standing.has(id) && msFromIso(changedAt) <= msFromIso(at),
    );
    for (const { id } of over) this.alarms.delete(id);
    return over.map(({ id }) => id);
  }

  body(): OfficeSiteBody {
    const { about } = this;
    const alarms = [...this.alarms.values()];
    return {
      site: this.id,
      name: about?.body.name ?? this.id,
      timezone: about?.body.timezone ?? "UTC",
      publicUrl: about?.body.publicUrl ?? null,
      // A clock that runs ahead over there makes nothing younger.
      aliveAt: about === null ? null : isoFromMs(Math.min(msFromIso(about.body.at), about.heardMs)),
      oldAfterS: WORDS_MISSED * (about?.body.everyS ?? USUAL_EVERY_S),
      zones: this.zones(),
      alarms,
      alarmCount: Math.max(alarms.length, about?.body.alarmCount ?? 0),
    };
  }

  private zones(): OfficeZoneBody[] {
    if (this.about === null)
      return [...this.calls.keys()].sort().map((id) => this.zone(id, id, { call: null, callAt: null }));
    return this.about.body.zones.map((zone) => this.zone(zone.id, zone.name, zone));
  }

  private zone(
    id: string,
    name: string,
    told: { readonly call: CallBody["call"] | null; readonly callAt: string | null },
  ): OfficeZoneBody {
    const heard = this.calls.get(id) ?? null;
    const call = heard?.call ?? null;
    return {
      id,
      name,
      call: call === null ? null : { ...call, rules: call.rules.filter(({ rule }) => rule === call.limiting) },
      unread: heard !== null && call === null,
      behind: call !== null && told.callAt !== null && msFromIso(call.at) < msFromIso(told.callAt),
    };
  }
}
