// Reads a payload by its recipe: readings of one node, or each fault with its place.
import { cFromF, ZERO_C_IN_K } from "#core/units.ts";
import type { Fault } from "#contract/faults.ts";
import { valueAt } from "#contract/json-pointer.ts";
import { msFromIso } from "#contract/primitives.ts";
import { quantityKind, type Reading } from "#contract/reading.ts";
import type { RecipeBody, RecipeValue } from "#contract/recipe.ts";
import { filterMatches } from "#contract/topic-filter.ts";

export interface RecipeRead {
  /** null when the message does not say. */
  readonly node: string | null;
  readonly readings: readonly Reading[];
  readonly faults: readonly Fault[];
  readonly notes: readonly string[];
}

const NUMBER = /^[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d+)?$/;
const ID = /^[A-Za-z0-9][A-Za-z0-9_-]{0,63}$/;
/** Years 2000 to 2100. */
const TIMES_MS = { from: Date.UTC(2000, 0), to: Date.UTC(2100, 0) } as const;

type Found<T> = { readonly value: T } | { readonly fault: Fault };
const fault = (field: string, reason: string) => ({ fault: { field: field === "" ? "/" : field, reason } });

function nodeIn({ node }: RecipeBody, topic: string, body: unknown): Found<string> {
  if (node.fixed !== undefined) return { value: node.fixed };
  const field = node.at ?? `topic level ${node.level ?? 0}`;
  const said = node.at === undefined ? topic.split("/")[(node.level ?? 0) - 1] : valueAt(body, node.at);
  if (said === undefined || said === "") return fault(field, "is not there: it names the node");
  const name = typeof said === "string" || typeof said === "number" ? String(said) : null;
  if (name === null) return fault(field, "is not a name");
  if (node.names === undefined)
    return ID.test(name)
      ? { value: name }
      : fault(field, `"${name.slice(0, 60)}" cannot be the id of a node: name one for it`);
  const known = Object.hasOwn(node.names, name) ? node.names[name] : undefined;
  return known === undefined ? fault(field, `"${name.slice(0, 60)}" has no node in this recipe`) : { value: known };
}

/** `arrivedMs`: null when the message may have waited somewhere. */
function timeIn({ time }: RecipeBody, body: unknown, arrivedMs: number | null): Found<number> {
  if (time === undefined)
    return arrivedMs === null
      ? fault("/", "was kept or sent again, and the recipe names no time")
      : { value: arrivedMs };
  const said = valueAt(body, time.at);
  if (said === undefined) return fault(time.at, "is not there: it is the time");
  const atMs =
    time.as === "iso"
      ? typeof said === "string"
        ? msFromIso(said)
        : Number.NaN
      : typeof said === "number"
        ? said * (time.as === "epoch-s" ? 1000 : 1)
        : Number.NaN;
  if (Number.isNaN(atMs))
    return fault(time.at, time.as === "iso" ? "is not an ISO 8601 time with its offset" : "is not a number");
  if (atMs < TIMES_MS.from || atMs > TIMES_MS.to)
    return fault(time.at, "is not a time of this century: seconds and milliseconds may be mixed up");
  return { value: Math.round(atMs) };
}

/** Where a value stands; `undefined` when it is not there. */
function placeOf(value: RecipeValue, body: unknown): Found<{ readonly field: string; readonly said: unknown }> {
  const { list, at } = value;
  if (list === undefined) return { value: { field: at, said: valueAt(body, at) } };
  const items = valueAt(body, list.at);
  if (items === undefined) return { value: { field: list.at, said: undefined } };
  if (!Array.isArray(items)) return fault(list.at, "is not a list");
  const fits = (items as unknown[]).flatMap((item, index) => (valueAt(item, list.where) === list.is ? [index] : []));
  if (fits.length > 1)
    return fault(list.at, `has ${fits.length} items in which ${list.where} is ${JSON.stringify(list.is)}`);
  const [index] = fits;
  return {
    value: {
      field: index === undefined ? list.at : `${list.at}/${index}${at}`,
      said: index === undefined ? undefined : valueAt((items as unknown[])[index], at),
    },
  };
}

function numberIn(value: RecipeValue, field: string, said: unknown): Found<number> {
  if (typeof said === "number" && value.text !== true) return { value: said };
  if (typeof said === "string" && value.text === true)
    return NUMBER.test(said.trim())
      ? { value: Number(said.trim()) }
      : fault(field, `"${said.slice(0, 40)}" is not a number`);
  if (typeof said === "string") return fault(field, "is text: the recipe must say so");
  return fault(field, value.text === true ? "is not text" : "is not a number");
}

/** The number in the unit of a reading: °C, percent, V, dBm. */
function inOurUnit(unit: RecipeValue["unit"], number: number): number {
  switch (unit) {
    case "F":
      return cFromF(number);
    case "K":
      return number - ZERO_C_IN_K;
    case "share":
      return number * 100;
    case "mV":
      return number / 1000;
    default:
      return number;
  }
}

function doorIn(value: RecipeValue, field: string, said: unknown): Found<number> {
  const yes = said === true || said === 1;
  if (!yes && said !== false && said !== 0) return fault(field, "is not true or false, 1 or 0");
  return { value: yes === (value.unit === "open") ? 1 : 0 };
}

/** Takes away digits that only the conversion has made: 0.1 of a thousandth. */
const tidy = (number: number) => Math.round(number * 1e6) / 1e6 + 0;

/** The message must match the recipe's topic; `body` is its parsed JSON. */
export function readByRecipe(recipe: RecipeBody, topic: string, body: unknown, arrivedMs: number | null): RecipeRead {
  const faults: Fault[] = [];
  const notes: string[] = [];
  if (!filterMatches(recipe.topic, topic))
    return { node: null, readings: [], faults: [{ field: "topic", reason: `does not match ${recipe.topic}` }], notes };
  const node = nodeIn(recipe, topic, body);
  const time = timeIn(recipe, body, arrivedMs);
  for (const one of [node, time]) if ("fault" in one) faults.push(one.fault);
  if ("fault" in node || "fault" in time)
    return { node: "value" in node ? node.value : null, readings: [], faults, notes };
  const readings: Reading[] = [];
  for (const value of recipe.values) {
    const place = placeOf(value, body);
    if ("fault" in place) {
      faults.push(place.fault);
      continue;
    }
    const { field, said } = place.value;
    if (said === undefined || said === null) {
      if (value.optional === true) notes.push(`${value.quantity}: not in this message`);
      else faults.push(fault(field, `is not there: ${value.quantity} was expected`).fault);
      continue;
    }
    const isDoor = quantityKind(value.quantity) === "door";
    const number = isDoor ? doorIn(value, field, said) : numberIn(value, field, said);
    if ("fault" in number) faults.push(number.fault);
    else if (!isDoor && number.value === recipe.missing)
      notes.push(`${value.quantity}: ${number.value} stands for missing`);
    else {
      const kept = isDoor ? number.value : tidy(inOurUnit(value.unit, number.value * (value.scale ?? 1)));
      const volts = value.quantity === "battery" && (value.unit === "V" || value.unit === "mV");
      readings.push({
        node: node.value,
        quantity: volts ? "battery.v" : value.quantity,
        atMs: time.value,
        value: kept,
      });
    }
  }
  if (readings.length === 0 && faults.length === 0)
    faults.push({ field: "/", reason: "holds none of the recipe's values" });
  return { node: node.value, readings, faults, notes };
}
