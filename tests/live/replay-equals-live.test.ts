// Replay equals live: every call that was shown comes out again, word for word, from the night file of its zone.
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { bodyFromCall, type CallBody } from "#contract/call.ts";
import { type NightFileBody, readNightFile } from "#contract/night-file.ts";
import { isoFromMs } from "#contract/primitives.ts";
import { topicOf } from "#contract/topics.ts";
import { judgeToLook, judgeZone } from "../../server/core/judge/judge.ts";
import { spotCheck } from "../../server/core/judge/spot-check.ts";
import { openStore } from "../../server/store/store.ts";
import { counter, runApp, type RunningApp, until, valueOf } from "../support/running-app.ts";
import { NODE, OUTDOORS, SITE } from "../support/small-site.ts";

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;

/** A cold floor under a day that comes and goes; no two quantities share a value. */
function values(atMs: number) {
  const day = Math.cos(((atMs / HOUR - 14) / 24) * 2 * Math.PI);
  return { slab: 11.2 + 1.1 * day, air: 13.9 + 2.3 * day, rh: 57 - 6 * day, yard: 4.5 + 4 * day };
}

function records(node: string, times: readonly number[]): object[] {
  const round = (value: number) => Math.round(value * 100) / 100;
  return times.flatMap((atMs) => {
    const { slab, air, rh, yard } = values(atMs);
    const t = atMs / 1000;
    if (node === OUTDOORS.id)
      return [
        { n: `${node}/air`, u: "Cel", t, v: round(yard) },
        { n: `${node}/rh`, u: "%RH", t, v: round(rh + 20) },
      ];
    return [
      { n: `${node}/slab`, u: "Cel", t, v: round(slab) },
      { n: `${node}/air`, u: "Cel", t, v: round(air) },
      { n: `${node}/rh`, u: "%RH", t, v: round(rh) },
    ];
  });
}

describe("replay and live", () => {
  const judge = { judgeZone, judgeToLook, spotCheck };
  let running: RunningApp;
  beforeAll(async () => {
    running = await runApp({ judge });
  });
  afterAll(() => running.end());

  const exported = () =>
    JSON.parse(JSON.stringify(valueOf(running.app.desk.nightFile(SITE.id, "bay")))) as NightFileBody;
  /** The calls that a night file gives, as replay prints them. */
  const repeated = (file: NightFileBody): CallBody[] => {
    const read = readNightFile(file);
    if (!read.ok) expect.fail(JSON.stringify(read.faults));
    return read.value.ask.map(({ atMs, zone }) => bodyFromCall(judgeZone(read.value.log, zone, atMs).call));
  };
  const send = (node: string, times: readonly number[]) =>
    running.send(records(node, times), { topic: topicOf({ kind: "senml", site: SITE.id, node }) });
  const judgedAfter = async (work: () => Promise<unknown>) => {
    const judged = counter(running, "judged");
    await work();
    await until(() => counter(running, "judged") > judged);
  };
  const said = (body: object, agoMs = 0) =>
    running.app.desk.addEntry(
      SITE.id,
      { at: isoFromMs(Math.round(running.nowMs() - agoMs)), zone: "bay", ...body } as never,
      "Ida",
    );

  it("agree on every call, with packets late, repeated and out of order, and entries heard late", async () => {
    const startMs = Math.round(running.nowMs());
    // Two and a half days that the nodes had in their buffers.
    for (const node of [NODE.id, OUTDOORS.id]) {
      for (let hour = 60; hour > 0; hour -= 6) {
        await send(
          node,
          Array.from({ length: 36 }, (_, index) => startMs - hour * HOUR + index * 10 * MINUTE),
        );
      }
    }
    valueOf(await said({ did: "abraded", how: "ground" }, 5 * HOUR));
    valueOf(await said({ did: "cleaned" }, 4 * HOUR));
    valueOf(await said({ did: "forecast", zone: null, lowC: 3, dewPointC: 1, until: isoFromMs(startMs + 18 * HOUR) }));

    const held: number[] = [];
    for (let step = 1; step <= 26; step++) {
      running.moveClock(5 * MINUTE);
      const atMs = Math.round(running.nowMs());
      // Every third packet waits in the node, and comes with the one after the next, newest first.
      if (step % 3 === 0) held.push(atMs);
      else await judgedAfter(() => send(NODE.id, [atMs, ...held.splice(0).reverse()]));
      if (step % 6 === 0) await send(OUTDOORS.id, [atMs]);
      if (step === 8) valueOf(await said({ did: "pouring", coat: 0 }, 2 * MINUTE));
      // Entered by hand an hour after it was done.
      if (step === 20)
        valueOf(
          await said(
            { did: "poured", coat: 0, from: isoFromMs(atMs - 70 * MINUTE), to: isoFromMs(atMs - 55 * MINUTE) },
            55 * MINUTE,
          ),
        );
      if (step === 23) valueOf(await said({ did: "held", why: "ceiling drips" }));
      if (step === 25) valueOf(await said({ did: "released" }));
    }
    // Packets within a minute are looked at, and the call that they overturn is made by a judging.
    const looked = counter(running, "looked");
    for (let step = 1; step <= 4; step++) {
      running.moveClock(10_000);
      const turns = counter(running, "looked") + counter(running, "judged");
      await send(NODE.id, [Math.round(running.nowMs())]);
      await until(() => counter(running, "looked") + counter(running, "judged") > turns);
    }
    expect(counter(running, "looked") - looked).toBeGreaterThanOrEqual(3);
    running.moveClock(10_000);
    const bitter = Math.round(running.nowMs());
    await judgedAfter(() =>
      running.send([{ n: `${NODE.id}/slab`, u: "Cel", t: bitter / 1000, v: 4.5 }], {
        topic: topicOf({ kind: "senml", site: SITE.id, node: NODE.id }),
      }),
    );
    const file = exported();
    await running.stop();
    // As they were written when they were shown.
    const store = openStore(running.data);
    // What was shown while the site was still being set up was made from another record.
    const shown = store.calls.since(SITE.id, "bay", 0).filter(({ at }) => at >= (file.ask[0]?.at ?? ""));
    store.close();
    expect(shown.length).toBeGreaterThanOrEqual(10);
    expect(new Set(shown.map(({ limiting }) => limiting)).size).toBeGreaterThanOrEqual(3);
    expect(repeated(file).slice(0, shown.length)).toEqual(shown);
    for (const [index, call] of repeated(file).entries()) {
      expect(file.expect?.[index]).toMatchObject({ call: call.call, limiting: [call.limiting], steps: call.steps });
    }

    // What a server has read back from its store says the same.
    running = await runApp({ data: running.data, empty: true, judge, atMs: Math.round(running.nowMs()) });
    expect(repeated(exported()).slice(0, shown.length)).toEqual(shown);
    console.log(
      `${shown.length} calls repeated: ${[...new Set(shown.map(({ call, limiting }) => `${call} ${limiting}`))].join(", ")}`,
    );
  }, 120_000);
});
