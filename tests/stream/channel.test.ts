// The numbered changes of a site, and what of them is given to somebody who comes back.
import { expect, it } from "vitest";
import { sampleAlarm } from "../support/sample-alarms.ts";
import { createChannel } from "../../server/stream/channel.ts";
import { sequenceOf } from "../../server/stream/frame.ts";

function published(changes: number, keep: number) {
  const channel = createChannel("run-7", keep);
  for (let change = 1; change <= changes; change += 1)
    channel.publish("alarm", "slip", sampleAlarm({ id: `a${change}` }));
  return channel;
}
const sequences = (channel: ReturnType<typeof createChannel>, id: string) =>
  channel.since(id)?.map((frame) => frame.sequence) ?? null;

it("gives what followed, as long as all of it is kept", () => {
  const channel = published(10, 4);
  expect(sequences(channel, "run-7-8")).toEqual([9, 10]);
  expect(sequences(channel, "run-7-10")).toEqual([]);
  expect(sequences(channel, "run-7-6")).toEqual([7, 8, 9, 10]);
  expect(sequences(channel, "run-7-5")).toBeNull();
});

it("gives nothing for a number that was never told, another run, or no id at all", () => {
  const channel = published(10, 4);
  for (const id of ["run-7-11", "run-8-9", "run-79", "run-7-", "run-7--9", "run-7-9x", "9", ""])
    expect(sequences(channel, id), id).toBeNull();
});

it("a channel that has told nothing yet resumes from its beginning", () => {
  expect(sequences(published(0, 4), "run-7-0")).toEqual([]);
});

it("reads ids of runs that have dashes of their own", () => {
  expect(sequenceOf("a-1", "a-1-22")).toBe(22);
  expect(sequenceOf("a", "a-1-22")).toBeNull();
});
