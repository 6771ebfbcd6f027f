// Packs of a node differ in their numbers alone: one that has the bytes of an earlier one around its numbers means what
// that one meant. Anything else goes the long way, which is the law; what was learnt from it is held against it.
import type { Reading } from "#contract/reading.ts";

export interface Known {
  readonly site: string;
  readonly node: string;
  readonly readings: readonly Reading[];
}

export interface Shapes {
  /** What the long way would give; null where it must be gone. */
  read(topic: string, payload: Uint8Array): Known | null;
  /** Learns from a pack that the long way read without refusing anything, all its times absolute. */
  learn(topic: string, payload: Uint8Array, known: Known): void;
}

/** One reading: where its numbers stand among those of the pack; -1 = it has none. */
interface Place {
  readonly quantity: string;
  readonly baseTime: number;
  readonly time: number;
  readonly value: number;
  /** Where no number gives it: a door. */
  readonly constant: number;
}

interface Shape {
  readonly site: string;
  readonly node: string;
  /** The bytes around the numbers, one after the other, and where each piece ends. */
  readonly bytes: Uint8Array;
  readonly ends: readonly number[];
  readonly places: readonly Place[];
}

/** A node sends now and then what it does not always send, such as its battery. */
const SHAPES_OF_A_TOPIC = 2;
/** At most some megabytes, however many nodes there are; then it is learnt anew. */
const MOST_TOPICS = 8000;
const LARGEST_BYTES = 512;
/** Below this a SenML time counts from now (RFC 8428 section 4.5.3). */
const RELATIVE_BELOW_S = 2 ** 28;
/** So many digits are a whole number without loss, and so is the power of ten: their quotient is rounded once, as it must be. */
const MOST_DIGITS = 15;
const POWERS = Array.from({ length: MOST_DIGITS + 1 }, (_, power) => 10 ** power);
const [QUOTE, MINUS, POINT, ZERO, BACKSLASH] = [0x22, 0x2d, 0x2e, 0x30, 0x5c];
const SPACES: readonly number[] = [0x20, 0x09, 0x0a, 0x0d];

interface Cursor {
  at: number;
}

/** The digits from `at` on; how many there are is what the cursor moved. */
function digitsAt(bytes: Uint8Array, cursor: Cursor, before: number): number {
  let value = before;
  let { at } = cursor;
  for (let digit = (bytes[at] as number) - ZERO; digit >= 0 && digit <= 9; digit = (bytes[++at] as number) - ZERO)
    value = value * 10 + digit;
  cursor.at = at;
  return value;
}

/** The number that stands there, as JSON has it; NaN where it has an exponent, or more digits than are read here. */
function numberAt(bytes: Uint8Array, cursor: Cursor): number {
  const isNegative = bytes[cursor.at] === MINUS;
  if (isNegative) cursor.at += 1;
  const begin = cursor.at;
  let value = digitsAt(bytes, cursor, 0);
  let digits = cursor.at - begin;
  if (digits === 0 || (digits > 1 && bytes[begin] === ZERO)) return Number.NaN;
  if (bytes[cursor.at] === POINT) {
    cursor.at += 1;
    const from = cursor.at;
    value = digitsAt(bytes, cursor, value);
    const places = cursor.at - from;
    digits += places;
    if (places === 0 || digits > MOST_DIGITS) return Number.NaN;
    value /= POWERS[places] as number;
  }
  if (digits > MOST_DIGITS) return Number.NaN;
  return isNegative ? -value : value;
}

/** Puts the numbers of a pack into `numbers`; false where it has other bytes around them, or one that is not read here. */
function fits({ bytes, ends }: Shape, payload: Uint8Array, numbers: Float64Array): boolean {
  const cursor: Cursor = { at: 0 };
  let piece = 0;
  for (let index = 0; index < ends.length; index++) {
    const end = ends[index] as number;
    for (; piece < end; piece++) if (payload[cursor.at++] !== bytes[piece]) return false;
    if (index === ends.length - 1) break;
    const number = numberAt(payload, cursor);
    if (Number.isNaN(number)) return false;
    numbers[index] = number;
  }
  return cursor.at === payload.length;
}

const numberOf = (numbers: Float64Array, place: number): number => (place === -1 ? 0 : (numbers[place] as number));

/** `numbers` is overwritten; it has room for one in each byte. */
function readBy(shape: Shape, payload: Uint8Array, numbers: Float64Array): Known | null {
  if (!fits(shape, payload, numbers)) return null;
  const { places, site, node } = shape;
  const readings = Array<Reading>(places.length);
  let before = RELATIVE_BELOW_S;
  for (let index = 0; index < places.length; index++) {
    const { quantity, baseTime, time, value, constant } = places[index] as Place;
    const atS = numberOf(numbers, baseTime) + numberOf(numbers, time);
    // What is out of its order is put into it the long way, and what is relative is looked at there.
    if (!(atS >= before)) return null;
    before = atS;
    const read = value === -1 ? constant : 0 + numberOf(numbers, value);
    readings[index] = { node, quantity, atMs: Math.round(atS * 1000), value: read };
  }
  return { site, node, readings };
}

type Label = "bn" | "bu" | "n" | "u" | "bt" | "t" | "v" | "vb";
const isLabel = (text: string): text is Label => ["bn", "bu", "n", "u", "bt", "t", "v", "vb"].includes(text);

/** Where the numbers of each record stand, and the pieces around them; null for a pack that holds anything unusual. */
function takenApart(payload: Uint8Array) {
  const text = String.fromCharCode(...payload);
  const cursor: Cursor = { at: 0 };
  const kept: number[] = [];
  const ends: number[] = [];
  const records: Partial<Record<Label, number>>[] = [];
  let from = 0;
  let numbers = 0;
  const space = () => {
    while (SPACES.includes(payload[cursor.at] as number)) cursor.at += 1;
  };
  const takes = (word: string): boolean => {
    space();
    if (!text.startsWith(word, cursor.at)) return false;
    cursor.at += word.length;
    return true;
  };
  const string = (): string | null => {
    space();
    if (payload[cursor.at] !== QUOTE) return null;
    const begin = cursor.at + 1;
    for (let at = begin; at < payload.length; at++) {
      const byte = payload[at] as number;
      if (byte === QUOTE) {
        cursor.at = at + 1;
        return text.slice(begin, at);
      }
      if (byte === BACKSLASH || byte < 0x20 || byte > 0x7e) return null;
    }
    return null;
  };
  const piece = (end: number) => {
    kept.push(...payload.subarray(from, end));
    ends.push(kept.length);
    from = cursor.at;
  };
  /** The place of a number among all of them; -1 for another value, null where the value does not fit its label. */
  const valueOf = (label: Label): number | null => {
    if (label === "vb") return takes("true") || takes("false") ? -1 : null;
    if (label === "bn" || label === "bu" || label === "n" || label === "u") return string() === null ? null : -1;
    space();
    const begin = cursor.at;
    if (Number.isNaN(numberAt(payload, cursor))) return null;
    piece(begin);
    return numbers++;
  };
  if (!takes("[")) return null;
  do {
    if (!takes("{")) return null;
    const record: Partial<Record<Label, number>> = {};
    do {
      const label = string();
      if (label === null || !isLabel(label) || label in record || !takes(":")) return null;
      const value = valueOf(label);
      if (value === null) return null;
      record[label] = value;
    } while (takes(","));
    if (!takes("}")) return null;
    records.push(record);
  } while (takes(","));
  if (!takes("]")) return null;
  space();
  if (cursor.at !== payload.length) return null;
  piece(payload.length);
  return { bytes: Uint8Array.from(kept), ends, records };
}

/** Null where it does not give back exactly what the long way gave. */
function shapeOf(payload: Uint8Array, { site, node, readings }: Known, numbers: Float64Array): Shape | null {
  const parts = takenApart(payload);
  if (parts === null) return null;
  let baseTime = -1;
  const places: Place[] = [];
  for (const record of parts.records) {
    baseTime = record.bt ?? baseTime;
    if (record.v === undefined && record.vb === undefined) continue;
    const reading = readings[places.length];
    if (reading === undefined) return null;
    const { quantity, value: constant } = reading;
    places.push({ quantity, baseTime, time: record.t ?? -1, value: record.v ?? -1, constant });
  }
  const shape: Shape = { site, node, bytes: parts.bytes, ends: parts.ends, places };
  const again = readBy(shape, payload, numbers)?.readings ?? [];
  const isSame =
    again.length === readings.length &&
    again.every((one, index) => {
      const wanted = readings[index] as Reading;
      return (
        one.node === wanted.node &&
        one.quantity === wanted.quantity &&
        Object.is(one.atMs, wanted.atMs) &&
        Object.is(one.value, wanted.value)
      );
    });
  return isSame ? shape : null;
}

export function createShapes(): Shapes {
  const byTopic = new Map<string, readonly Shape[]>();
  /** No shape has more of them than it had bytes. */
  const numbers = new Float64Array(LARGEST_BYTES);
  return {
    read(topic, payload) {
      for (const shape of byTopic.get(topic) ?? []) {
        const known = readBy(shape, payload, numbers);
        if (known !== null) return known;
      }
      return null;
    },
    learn(topic, payload, known) {
      if (payload.length > LARGEST_BYTES || known.readings.length === 0) return;
      const shape = shapeOf(payload, known, numbers);
      if (shape === null) return;
      const others = byTopic.get(topic) ?? [];
      if (others.length === 0 && byTopic.size >= MOST_TOPICS) byTopic.clear();
      byTopic.set(topic, [shape, ...others].slice(0, SHAPES_OF_A_TOPIC));
    },
  };
}
