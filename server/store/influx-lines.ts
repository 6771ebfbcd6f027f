// Readings and calls as lines of the InfluxDB line protocol. One point per series and time: writing it twice changes nothing.
import { Point } from "@influxdata/influxdb-client";
import { msFromIso } from "#contract/primitives.ts";
import type { OutCall } from "./outbox.ts";
import type { HeardReading } from "./ports.ts";

export const READING = "reading";
const CALL = "call";

function lineOf(point: Point): string {
  const line = point.toLineProtocol();
  if (line === undefined) throw new RangeError("a point without a field");
  return line;
}

/** Whole milliseconds; the time at which it was heard is a field, so that what a call knew can be told exactly. */
export function readingLine({ site, node, quantity, atMs, value, heardMs }: HeardReading): string {
  return lineOf(
    new Point(READING)
      .tag("site", site)
      .tag("node", node)
      .tag("quantity", quantity)
      .floatField("value", value)
      .intField("heard_ms", heardMs)
      .timestamp(String(atMs)),
  );
}

const SHOWN = {
  slabColdC: "slab_cold_c",
  slabHotC: "slab_hot_c",
  airC: "air_c",
  rhPct: "rh_pct",
  dewPointC: "dew_point_c",
  marginK: "margin_k",
} as const;

/** What is worth drawing of a call; the call itself, with its hash, stays in the journal of calls. */
export function callLine({ site, call }: OutCall): string {
  const point = new Point(CALL)
    .tag("site", site)
    .tag("zone", call.zone)
    .stringField("call", call.call)
    .stringField("limiting", call.limiting ?? "");
  for (const [key, field] of Object.entries(SHOWN)) {
    const value = call.conditions[key as keyof typeof SHOWN];
    if (value !== null) point.floatField(field, value);
  }
  return lineOf(point.timestamp(String(msFromIso(call.at))));
}
