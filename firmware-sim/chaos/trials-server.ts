// Trials of the server itself: left alone, killed again and again, without room on the disk, with a clock that is stepped.
import { spawnSync } from "node:child_process";
import { appendFileSync, mkdirSync, rmSync, statfsSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { uniform } from "../random.ts";
import { NODES } from "./floor.ts";
import { sleep, until } from "./program.ts";
import type { Play } from "./trial.ts";

const HOUR_MS = 3_600_000;
const MEGABYTE = 1024 * 1024;

export const undisturbed: Play = async ({ start, sendAll }) => {
  const server = await start();
  await sendAll(server.mqttUrl, "nothing was done to them");
  return { server, mqttUrl: server.mqttUrl, said: "nothing" };
};

/** SIGKILL at moments drawn from the seed, in the middle of the flow; the nodes send again what was not acknowledged. */
export const killed: Play = async ({ start, fleet, packs, sizes, sendAll }) => {
  let server = await start();
  let kills = 0;
  const [least, most] = sizes.short ? [150, 500] : [150, 900];
  while (kills < sizes.kills) {
    const dead = server.ended;
    const afterMs = least + (most - least) * uniform(sizes.seed, "kill", kills);
    const target = server;
    let timer: NodeJS.Timeout | null = null;
    const kill = () => (timer = setTimeout(() => void target.kill(), afterMs));
    const all = await fleet.send(server.mqttUrl, packs.count, sizes.perS, undefined, kill);
    if (timer !== null) clearTimeout(timer);
    if (all) break;
    await server.kill();
    await dead;
    kills += 1;
    server = await start();
  }
  await sendAll(server.mqttUrl, "after the kills");
  const said = `killed ${kills} times under ${sizes.perS} packs/s`;
  if (kills < sizes.kills) throw new Error(`${said}: the flow was over before ${sizes.kills} kills`);
  return { server, mqttUrl: server.mqttUrl, said };
};

/** Where a small disk of its own can be had: it takes root. */
export const smallDisk = (folder: string): string => join(folder, "disk/data");

const DISK_MB = 48;
const ROOM_LEFT_MB = { full: 1, short: 0.05 } as const;

/** The server writes meanwhile: what it takes first is not there for the filler. */
function fillUp(disk: string, file: string, leftBytes: number): void {
  const piece = Buffer.alloc(32 * 1024);
  writeFileSync(file, "");
  try {
    for (;;) {
      const { bavail, bsize } = statfsSync(disk);
      if (bavail * bsize <= leftBytes) return;
      appendFileSync(file, piece);
    }
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "ENOSPC") throw error;
  }
}

/** A disk of 48 MB in memory, filled by a foreign file in the middle of the flow, and emptied again. */
export const diskFull: Play = async ({ start, fleet, packs, folder, sizes, atEnd, sendAll }) => {
  const disk = join(folder, "disk");
  mkdirSync(disk);
  const mounted = spawnSync("mount", ["-t", "tmpfs", "-o", `size=${DISK_MB}m`, "none", disk], { encoding: "utf8" });
  if (mounted.status !== 0) throw new Error(`a small disk takes root: ${mounted.stderr.trim()}`);
  atEnd(async () => void spawnSync("umount", ["-l", disk]));
  const server = await start();
  const third = Math.ceil(packs.count / 3);
  await until(
    () => fleet.send(server.mqttUrl, third, null),
    120_000,
    () => "the first third was not taken",
  );
  const filler = join(disk, "filler");
  fillUp(disk, filler, ROOM_LEFT_MB[sizes.short ? "short" : "full"] * MEGABYTE);
  const beforeFull = fleet.acknowledged;
  const untilMs = performance.now() + (sizes.short ? 4000 : 20_000);
  let refused = false;
  while (performance.now() < untilMs) {
    await fleet.send(server.mqttUrl, packs.count, null, () => performance.now() > untilMs);
    refused ||= (await server.health()).parts["store"]?.state === "down";
    if (refused && performance.now() > untilMs - 1000) break;
    await sleep(200);
  }
  const whileFull = fleet.acknowledged - beforeFull;
  rmSync(filler);
  await sendAll(server.mqttUrl, "after there was room again");
  const told = refused ? "said so on its health page" : "never came to its end";
  return {
    ...{ server, mqttUrl: server.mqttUrl },
    said: `disk of ${DISK_MB} MB filled (tmpfs): ${told}; ${whileFull} packs were still taken, the rest when there was room`,
  };
};

/** Two hours on, back, two hours back, and right again; nodes repeat their last hours, as firmware that buffers does. */
export const clockStepped: Play = async ({ start, fleet, packs, clock, sendAll }) => {
  const server = await start();
  const part = (share: number) => Math.ceil(packs.count * share);
  const go = async (share: number) =>
    until(
      () => fleet.send(server.mqttUrl, part(share), null),
      120_000,
      () => `not taken up to ${share}`,
    );
  await go(0.25);
  server.setClock(clock.nowMs() + 2 * HOUR_MS);
  await go(0.5);
  server.setClock(clock.nowMs());
  await go(0.75);
  server.setClock(clock.nowMs() - 2 * HOUR_MS);
  await go(1);
  server.setClock(clock.nowMs());
  const { counters } = await server.health();
  const refused = counters["quarantined.clock"] ?? 0;
  // What a server two hours behind takes for the future, it refuses: only a repeat brings it back.
  const again = Math.ceil((2.2 * HOUR_MS) / packs.stepMs);
  fleet.repeat(Math.min(again, packs.count));
  await sendAll(server.mqttUrl, "after the clock was right again");
  return {
    ...{ server, mqttUrl: server.mqttUrl },
    said: `clock 2 h on and back, 2 h back and on; ${refused} readings refused as of the future, healed by repeats of ${again * NODES} packs`,
  };
};
