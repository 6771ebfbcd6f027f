// What all trials share: a folder, a clock, packs for the length of the trial, and the account at its end.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { closingCalls } from "./closing.ts";
import { createFleet, type Fleet } from "./fleet.ts";
import { type Packs, packsFor } from "./floor.ts";
import { type Kept, readKept } from "./kept.ts";
import { setUpFloor, startTrialServer, TrialClock, type TrialServer } from "./server.ts";

export interface Sizes {
  readonly short: boolean;
  readonly seed: number;
  /** The server as it is built, instead of its sources. */
  readonly built: boolean;
  /** Packs of each node up to the end of the flow: the same for every trial, so that all can be compared. */
  readonly packs: number;
  readonly perS: number;
  readonly kills: number;
  readonly hostile: number;
  readonly crowd: number;
  /** Zones whose calls of the last hours are made again. */
  readonly pastOf: number;
}

export const FULL: Omit<Sizes, "seed" | "built"> = {
  ...{ short: false, packs: 2400, perS: 500, kills: 50, hostile: 1_000_000, crowd: 10_000, pastOf: 3 },
};
export const SHORT: Omit<Sizes, "seed" | "built"> = {
  ...{ short: true, packs: 180, perS: 500, kills: 3, hostile: 5000, crowd: 300, pastOf: 1 },
};

export interface Account extends Kept {
  readonly calls: readonly string[];
  readonly acknowledged: number;
  readonly repeated: number;
  /** What happened, in a few words. */
  readonly said: string;
}

export interface Stage {
  readonly data: string;
  readonly folder: string;
  readonly packs: Packs;
  readonly fleet: Fleet;
  readonly clock: TrialClock;
  readonly sizes: Sizes;
  start(settings?: Readonly<Record<string, string>>): Promise<TrialServer>;
  /** What the trial has started besides the server, and ends with it, whatever comes. */
  atEnd(work: () => Promise<void>): void;
  /** Sends all packs of the flow that are not acknowledged, again and again until they are; gives up with the words given. */
  sendAll(url: string, what: string): Promise<void>;
}

/** The trial itself: gives the server that runs at its end, the broker's address, and what happened. */
export type Play = (stage: Stage) => Promise<{ server: TrialServer; mqttUrl: string; said: string }>;

const ATTEMPTS = 40;

/** `data`: where the data folder is to be; beside the other files of the trial unless given. */
export async function runTrial(
  sizes: Sizes,
  play: Play,
  dataIn: (folder: string) => string = (folder) => join(folder, "data"),
): Promise<Account> {
  const folder = mkdtempSync(join(tmpdir(), "nightslab-chaos-"));
  const packs = packsFor(sizes.packs);
  const clock = new TrialClock();
  const fleet = createFleet(packs);
  const data = dataIn(folder);
  const servers: TrialServer[] = [];
  const ends: (() => Promise<void>)[] = [];
  try {
    const played = await play({
      ...{ data, folder, packs, fleet, clock, sizes },
      atEnd: (work) => void ends.unshift(work),
      async start(settings = {}) {
        const server = await startTrialServer(data, clock.nowMs(), sizes.built, settings);
        if (servers.length === 0) await setUpFloor(server.api, packs);
        servers.push(server);
        return server;
      },
      async sendAll(url, what) {
        for (let attempt = 0; attempt < ATTEMPTS; attempt++) if (await fleet.send(url, packs.count, null)) return;
        throw new Error(`not all packs were taken: ${what}`);
      },
    });
    const calls = await closingCalls(played.server, played.mqttUrl, fleet, packs, sizes.pastOf);
    await played.server.stop();
    const kept = readKept(data, packs, packs.count + packs.closing);
    return { ...kept, calls, acknowledged: fleet.acknowledged, repeated: fleet.repeated, said: played.said };
  } finally {
    for (const server of servers) await server.kill();
    for (const end of ends) await end();
    rmSync(folder, { recursive: true, force: true });
  }
}
