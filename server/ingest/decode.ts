// Decode: a message becomes readings or a presence; whatever cannot be read is refused with field and reason.
import { type Reading, readingFromRecord } from "#contract/reading.ts";
import { type ResolvedRecord, resolveSenml } from "#contract/senml.ts";
import { topicFrom } from "#contract/topics.ts";
import type { Decoded, Message, Refused } from "./message.ts";

export const LARGEST_PAYLOAD_BYTES = 64 * 1024;
const EXCERPT_CHARACTERS = 200;
/** Below this a SenML time counts from now (RFC 8428 section 4.5.3). */
const RELATIVE_BELOW_S = 2 ** 28;
const NOBODY = "(none)";

function excerptOf(payload: Uint8Array): string {
  const text = new TextDecoder().decode(payload.subarray(0, EXCERPT_CHARACTERS * 4));
  return text.replace(/[\u0000-\u001f\u007f\ufffd]/g, "·").slice(0, EXCERPT_CHARACTERS);
}

function jsonOf(payload: Uint8Array): { readonly value: unknown } | null {
  try {
    return { value: JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(payload)) as unknown };
  } catch {
    return null;
  }
}

/** Volts and percent are two things: only percent keeps the plain name. */
function named(reading: Reading, record: ResolvedRecord): Reading {
  return reading.quantity === "battery" && record.u === "V" ? { ...reading, quantity: "battery.v" } : reading;
}

function readPack(
  message: Message,
  node: string,
  nowMs: number,
  refuse: (reason: string, field: string) => void,
): Reading[] {
  const json = jsonOf(message.payload);
  if (json === null) {
    refuse("not JSON", "/");
    return [];
  }
  const pack = resolveSenml(json.value, nowMs / 1000);
  if (!pack.ok) {
    for (const { field, reason } of pack.faults) refuse("not SenML", `${field}: ${reason}`);
    return [];
  }
  if (message.replayed) {
    // Counted from zero, times relative to now stay small.
    const fromZero = resolveSenml(json.value, 0);
    const relative = fromZero.ok && fromZero.value.find((record) => record.t < RELATIVE_BELOW_S);
    if (relative) {
      refuse("relative time in a message that was kept or sent again", `/${relative.index}/t`);
      return [];
    }
  }
  return pack.value.flatMap((record) => {
    const reading = readingFromRecord(record);
    if (!reading.ok) {
      for (const { field, reason } of reading.faults) refuse("not a reading", `${field}: ${reason}`);
      return [];
    }
    if (reading.value.node !== node) {
      refuse("name of another node", `/${record.index}/n: ${reading.value.node.slice(0, 80)}`);
      return [];
    }
    return [named(reading.value, record)];
  });
}

/** Reads one message by its topic. `nowMs` is what relative times count from. */
export function decode(message: Message, nowMs: number): Decoded {
  const topic = topicFrom(message.topic);
  const excerpt = excerptOf(message.payload);
  const site = topic?.site ?? NOBODY;
  const node = topic !== null && "node" in topic ? topic.node : NOBODY;
  const refused: Refused[] = [];
  const refuse = (reason: string, field: string) => void refused.push({ site, node, reason, field, excerpt });
  const said = (readings: readonly Reading[], presence: Decoded["presence"] = null): Decoded => ({
    site,
    node,
    from: message.from,
    excerpt,
    readings,
    presence,
    refused,
  });
  if (topic === null || topic.kind === "call" || topic.kind === "alarm") {
    refuse("wrong topic", message.topic.slice(0, EXCERPT_CHARACTERS));
    return said([]);
  }
  if (message.payload.length > LARGEST_PAYLOAD_BYTES) {
    refuse("too large", `${message.payload.length} bytes, at most ${LARGEST_PAYLOAD_BYTES}`);
    return said([]);
  }
  if (topic.kind === "senml") return said(readPack(message, topic.node, nowMs, refuse));
  if (excerpt === "online" || excerpt === "offline") return said([], excerpt);
  refuse("not a presence", "must be online or offline");
  return said([]);
}
