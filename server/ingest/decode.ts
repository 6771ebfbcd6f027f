// Decode: a message becomes readings or a presence; whatever cannot be read is refused with field and reason.
import { type Reading, readingFromRecord } from "#contract/reading.ts";
import type { RecipeBody } from "#contract/recipe.ts";
import { readByRecipe } from "#contract/recipe-reading.ts";
import { type ResolvedRecord, resolveSenml } from "#contract/senml.ts";
import { topicFrom } from "#contract/topics.ts";
import type { Decoded, Message, Refused } from "./message.ts";
import type { Known, Shapes } from "./shapes.ts";
import { UNTIMED_LABELS, untimedIn } from "./untimed.ts";

export const LARGEST_PAYLOAD_BYTES = 64 * 1024;
/** Finds the recipe for a topic; `site` null = of any site. */
export type RecipeFor = (
  topic: string,
  site: string | null,
) => { readonly site: string; readonly recipe: RecipeBody } | null;

const EXCERPT_CHARACTERS = 200;
/** Below this a SenML time counts from now (RFC 8428 section 4.5.3). */
const RELATIVE_BELOW_S = 2 ** 28;
const NOBODY = "(none)";

/** Without a stream a decoder keeps nothing from one text to the next; making one takes longer than a pack. */
const LENIENT = new TextDecoder();
const STRICT = new TextDecoder("utf-8", { fatal: true });

function excerptOf(payload: Uint8Array): string {
  const text = LENIENT.decode(payload.subarray(0, EXCERPT_CHARACTERS * 4));
  return text.replace(/[\u0000-\u001f\u007f\ufffd]/g, "·").slice(0, EXCERPT_CHARACTERS);
}

function jsonOf(payload: Uint8Array): { readonly value: unknown } | null {
  try {
    return { value: JSON.parse(STRICT.decode(payload)) as unknown };
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
  const pack = resolveSenml(json.value, nowMs / 1000, UNTIMED_LABELS);
  if (!pack.ok) {
    for (const { field, reason } of pack.faults) refuse("not SenML", `${field}: ${reason}`);
    return [];
  }
  const untimed = untimedIn(json.value, pack.value);
  if (untimed !== null) {
    if (!untimed.ok) for (const { field, reason } of untimed.faults) refuse("not SenML", `${field}: ${reason}`);
    else {
      const { boot, fromUpS, toUpS, readings } = untimed.value;
      refuse("time unknown", `start ${boot}, ${fromUpS} to ${toUpS} s after it: ${readings} readings`);
    }
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
  const readings: Reading[] = [];
  for (const record of pack.value) {
    const reading = readingFromRecord(record);
    if (!reading.ok) {
      for (const { field, reason } of reading.faults) refuse("not a reading", `${field}: ${reason}`);
    } else if (reading.value.node !== node) {
      refuse("name of another node", `/${record.index}/n: ${reading.value.node.slice(0, 80)}`);
    } else readings.push(named(reading.value, record));
  }
  return readings;
}

/** A message of a sensor that already exists, read by the recipe for its topic. */
function readOther(message: Message, nowMs: number, recipeFor: RecipeFor): Decoded | null {
  const found = recipeFor(message.topic, message.node?.site ?? null);
  if (found === null) return null;
  const { site, recipe } = found;
  const excerpt = () => excerptOf(message.payload);
  const said = (
    node: string | null,
    readings: readonly Reading[],
    refused: readonly (readonly [string, string])[],
  ): Decoded => ({
    site,
    node: node ?? NOBODY,
    from: message.from,
    proved: (message.node ?? null) !== null,
    gateway: recipe.gateway ?? null,
    excerpt,
    readings,
    presence: null,
    refused: refused.map(([reason, field]) => ({ site, node: node ?? NOBODY, reason, field, excerpt: excerpt() })),
  });
  if (message.payload.length > LARGEST_PAYLOAD_BYTES)
    return said(null, [], [["too large", `${message.payload.length} bytes, at most ${LARGEST_PAYLOAD_BYTES}`]]);
  const json = jsonOf(message.payload);
  if (json === null) return said(null, [], [["not JSON", "/"]]);
  const { node, readings, faults } = readByRecipe(recipe, message.topic, json.value, message.replayed ? null : nowMs);
  // One field that is wrong does not take the others with it: each value names itself.
  return said(
    node,
    readings,
    faults.map(({ field, reason }) => [`recipe ${recipe.id}`, `${field}: ${reason}`] as const),
  );
}

/** What was learnt of earlier packs read it. */
function decodedBy({ site, node, readings }: Known, { from, node: proved, payload }: Message): Decoded {
  return {
    site,
    node,
    from,
    proved: (proved ?? null) !== null,
    gateway: null,
    excerpt: () => excerptOf(payload),
    readings,
    presence: null,
    refused: [],
  };
}

/** Reads one message by its topic. `nowMs` is what relative times count from. `shapes` makes it faster, and nothing else. */
export function decode(
  message: Message,
  nowMs: number,
  recipeFor: RecipeFor = () => null,
  shapes: Shapes | null = null,
): Decoded {
  const known = shapes?.read(message.topic, message.payload) ?? null;
  if (known !== null) return decodedBy(known, message);
  const topic = topicFrom(message.topic);
  const other = topic === null ? readOther(message, nowMs, recipeFor) : null;
  if (other !== null) return other;
  const excerpt = () => excerptOf(message.payload);
  const site = topic?.site ?? NOBODY;
  const node = topic !== null && "node" in topic ? topic.node : NOBODY;
  const refused: Refused[] = [];
  const refuse = (reason: string, field: string) =>
    void refused.push({ site, node, reason, field, excerpt: excerpt() });
  const said = (readings: readonly Reading[], presence: Decoded["presence"] = null): Decoded => ({
    site,
    node,
    from: message.from,
    proved: (message.node ?? null) !== null,
    gateway: null,
    excerpt,
    readings,
    presence,
    refused,
  });
  if (topic === null || topic.kind === "call" || topic.kind === "alarm" || topic.kind === "knock") {
    refuse("wrong topic", message.topic.slice(0, EXCERPT_CHARACTERS));
    return said([]);
  }
  if (message.payload.length > LARGEST_PAYLOAD_BYTES) {
    refuse("too large", `${message.payload.length} bytes, at most ${LARGEST_PAYLOAD_BYTES}`);
    return said([]);
  }
  if (topic.kind === "senml") {
    const readings = readPack(message, topic.node, nowMs, refuse);
    if (refused.length === 0) shapes?.learn(message.topic, message.payload, { site, node, readings });
    return said(readings);
  }
  const presence = excerpt();
  if (presence === "online" || presence === "offline") return said([], presence);
  refuse("not a presence", "must be online or offline");
  return said([]);
}
