// Everything that tells people, over a store of its own, with a clock in the test's hands.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect } from "vitest";
import type { AlarmBody, AlarmStepBody } from "#contract/alarm.ts";
import type { ContactWish } from "#contract/notify.ts";
import { notifyKeys } from "../../server/notify/keys.ts";
import { createNotify, type NotifyDesk, type NotifyParts } from "../../server/notify/notify.ts";
import { type EmbeddedStore, openStore } from "../../server/store/store.ts";
import { NIGHT_MS, sampleAlarm } from "./sample-alarm.ts";

export interface House {
  desk: NotifyDesk;
  store: EmbeddedStore;
  /** Alarms as they stand, by id. */
  readonly standing: Map<string, AlarmBody>;
  readonly failures: string[];
  nowMs: number;
  add(wish?: Partial<ContactWish>): string;
  /** The machine hands on a step; the last of the history. */
  tell(history: readonly AlarmStepBody[], wish?: Partial<AlarmBody>): Promise<AlarmBody>;
  /** Lets this much time pass and whatever is due go. */
  later(ms: number): Promise<void>;
  /** Ends as a killed process does, and starts anew on the same folder. */
  restart(): void;
  end(): Promise<void>;
}

export const SITES: ReturnType<NotifyParts["sites"]> = [
  {
    id: "boathouse",
    name: "Boathouse",
    timezone: "America/Chicago",
    zones: [
      { id: "slip", name: "Slip", call: null },
      { id: "loft", name: "Loft", call: null },
    ],
  },
];

export const WISH: ContactWish = {
  ...{ name: "Ada Ruiz", language: "en", units: "us", sites: null, quiet: { from: "21:00", to: "06:00" } },
  ...{ allWellAt: null, mail: null, pushLevels: ["wake", "tell"], webhook: null },
};

export function openHouse(wish: Partial<NotifyParts> = {}): House {
  const folder = mkdtempSync(join(tmpdir(), "nightslab-house-"));
  const standing = new Map<string, AlarmBody>();
  const failures: string[] = [];
  const start = () => {
    const store = openStore(folder);
    const desk = createNotify({
      store: store.notify,
      keys: notifyKeys(folder),
      mail: null,
      publicUrl: "https://floor.example",
      now: () => house.nowMs,
      book: {
        open: () => [...standing.values()].filter(({ state }) => state !== "cleared"),
        find: (_site, id) => standing.get(id) ?? null,
        acknowledge(_site, id, by) {
          const alarm = standing.get(id);
          if (alarm === undefined || alarm.state === "cleared") return false;
          standing.set(id, { ...alarm, state: "acknowledged", acknowledgedBy: by });
          return true;
        },
      },
      sites: () => SITES,
      person: () => null,
      serverWell: () => true,
      pushAddress: () => true,
      failed: (what, error) => void failures.push(`${what}: ${String(error)}`),
      ...wish,
    });
    return { store, desk };
  };
  const house = { nowMs: NIGHT_MS, standing, failures } as House;
  Object.assign(house, start(), {
    add(wanted: Partial<ContactWish> = {}) {
      const made = house.desk.addContact({ ...WISH, ...wanted });
      if (!made.ok) expect.fail(JSON.stringify(made.faults));
      return made.value.id;
    },
    async tell(history: readonly AlarmStepBody[], of: Partial<AlarmBody> = {}) {
      const alarm = sampleAlarm(history, of);
      standing.set(alarm.id, alarm);
      const step = history.at(-1);
      if (step !== undefined) house.desk.tell("boathouse", alarm, step);
      await house.desk.idle();
      return alarm;
    },
    async later(ms: number) {
      house.nowMs += ms;
      house.desk.tick();
      await house.desk.idle();
    },
    restart() {
      house.store.close();
      Object.assign(house, start());
    },
    async end() {
      await house.desk.close();
      house.store.close();
      rmSync(folder, { recursive: true });
      expect(failures).toEqual([]);
    },
  });
  return house;
}
