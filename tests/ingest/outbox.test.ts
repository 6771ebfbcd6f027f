// The outbox to a broker elsewhere: the latest call per topic, every alarm, in order, once acknowledged.
import { describe, expect, it } from "vitest";
import { createOutbox, type Letter } from "../../server/ingest/outbox.ts";

const call = (zone: string, body: string): Letter => ({ topic: `zone/${zone}/call`, body, retain: true });
const alarm = (body: string): Letter => ({ topic: "alarm", body, retain: false });

function line() {
  const sent: string[] = [];
  const dropped: string[] = [];
  let up = false;
  const outbox = createOutbox(
    async ({ body }) => {
      await Promise.resolve();
      if (!up) throw new Error("not connected");
      sent.push(body);
    },
    ({ body }) => void dropped.push(body),
  );
  return { outbox, sent, dropped, connect: () => (up = true), cut: () => (up = false) };
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
});
