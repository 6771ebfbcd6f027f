// The outbox to a broker elsewhere: the latest call per topic, every alarm, in order, once acknowledged.
import { describe, expect, it } from "vitest";
import { createOutbox, type Letter, NotAllowed } from "../../server/ingest/outbox.ts";

const call = (zone: string, body: string): Letter => ({ topic: `zone/${zone}/call`, body, retain: true });
const alarm = (body: string): Letter => ({ topic: "alarm", body, retain: false });

function line() {
  const sent: string[] = [];
  const dropped: string[] = [];
  let up = false;
  let steadyMs = 0;
  const refused = new Set<string>();
  const outbox = createOutbox(
    async ({ topic, body }) => {
      await Promise.resolve();
      if (!up) throw new Error("not connected");
      if (refused.has(topic)) throw new NotAllowed("not authorized");
      sent.push(body);
    },
    ({ body }) => void dropped.push(body),
    () => steadyMs,
  );
  const wait = (ms: number) => (steadyMs += ms);
  return { outbox, sent, dropped, refused, wait, connect: () => (up = true), cut: () => (up = false) };
}

describe("the outbox", () => {
  it("keeps the latest of a retained topic and every other message while the line is down", async () => {
    const { outbox, sent, connect } = line();
    for (const letter of [call("bay", "wait"), alarm("one"), call("bay", "pour"), alarm("two"), call("ramp", "abrade")])
      outbox.put(letter);
    await outbox.flush();
    expect(sent).toEqual([]);
    expect(outbox.waiting()).toBe(4);
    connect();
    await Promise.all([outbox.flush(), outbox.flush()]);
    expect(sent).toEqual(["one", "two", "pour", "abrade"]);
    expect(outbox.waiting()).toBe(0);
  });

  it("sends what came while it was sending", async () => {
    const { outbox, sent, connect } = line();
    connect();
    outbox.put(call("bay", "wait"));
    const under = outbox.flush();
    outbox.put(call("bay", "pour"));
    await under;
    await outbox.flush();
    expect(sent.at(-1)).toBe("pour");
    expect(outbox.waiting()).toBe(0);
  });

  it("tells a broker that came back what stands, once more", async () => {
    const { outbox, sent, connect } = line();
    connect();
    outbox.put(call("bay", "pour"));
    outbox.put(alarm("one"));
    await outbox.flush();
    outbox.again();
    await outbox.flush();
    expect(sent).toEqual(["one", "pour", "pour"]);
  });

  it("holds a thousand passing messages and says which it had to drop", () => {
    const { outbox, dropped } = line();
    for (let index = 0; index < 1003; index++) outbox.put(alarm(String(index)));
    expect(outbox.waiting()).toBe(1000);
    expect(dropped).toEqual(["0", "1", "2"]);
  });

  it("lets a topic that may not be written stand in nobody's way, and tries it again later", async () => {
    const { outbox, sent, dropped, refused, wait, connect } = line();
    connect();
    refused.add("alarm").add("zone/bay/call");
    for (const letter of [alarm("one"), call("bay", "pour"), call("ramp", "wait"), alarm("two")]) outbox.put(letter);
    await outbox.flush();
    expect(sent).toEqual(["wait"]);
    expect(dropped).toEqual(["one", "two", "pour"]);
    expect(outbox.barred()).toEqual(["alarm", "zone/bay/call"]);
    expect(outbox.waiting()).toBe(0);
    outbox.again();
    outbox.put(alarm("three"));
    expect(outbox.waiting()).toBe(1);
    await outbox.flush();
    expect(sent).toEqual(["wait", "wait"]);
    // Somebody has mended the list of the broker.
    refused.clear();
    wait(600_000);
    expect(outbox.barred()).toEqual([]);
    outbox.put(alarm("four"));
    await outbox.flush();
    expect(sent.slice(2)).toEqual(["four", "pour"]);
  });

  it("takes a line that is cut three times in a row after one topic for a no", () => {
    const { outbox } = line();
    for (const topic of ["siren", "siren", "alarm", "siren", "siren"]) outbox.cutAfter(topic);
    expect(outbox.barred()).toEqual([]);
    outbox.cutAfter("siren");
    expect(outbox.barred()).toEqual(["siren"]);
  });
});
