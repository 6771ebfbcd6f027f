// The store of alarms.
import type { AlarmBody, AlarmState, AlarmStepBody } from "#contract/alarm.ts";

export interface AlarmPageWish {
  /** null = any. */
  readonly state: AlarmState | null;
  /** Raised at this time or later; null = ever. */
  readonly fromMs: number | null;
  /** Older than the last of the page before; null for the first page. */
  readonly before: { readonly raisedMs: number; readonly id: string } | null;
  readonly limit: number;
}

export interface AlarmStore {
  /** The machine of a site as it was kept; null before the first time. */
  machine(site: string): unknown;
  /** Keeps the machine and what came of it, or nothing of both. */
  keep(
    site: string,
    atMs: number,
    machine: object,
    events: readonly { readonly alarm: AlarmBody; readonly step: AlarmStepBody }[],
  ): void;
  /** Newest first. */
  page(site: string, wish: AlarmPageWish): AlarmBody[];
  find(site: string, id: string): AlarmBody | null;
}
