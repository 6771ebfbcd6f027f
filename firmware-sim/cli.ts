// Options of the simulator's commands: read strictly, refused with the option's name and what it takes.
import { parseArgs } from "node:util";
import { msFromIso } from "#contract/primitives.ts";

/** Something in the command line that a person must change. */
export class OptionError extends Error {}

interface OptionShape {
  readonly type: "string" | "boolean";
  readonly default?: string | boolean | readonly string[];
  readonly multiple?: boolean;
}
type OptionValue<O extends OptionShape> = O["multiple"] extends true
  ? string[]
  : O["type"] extends "string"
    ? string
    : boolean;
/** Values of the options; those without a default may be absent. */
export type OptionValues<T extends Readonly<Record<string, OptionShape>>> = {
  [K in keyof T]: OptionValue<T[K]> | (T[K] extends { readonly default: unknown } ? never : undefined);
};

/** Reads the command line; whatever it does not know is refused by name. */
export function readOptions<const T extends Readonly<Record<string, OptionShape>>>(
  args: readonly string[],
  options: T,
): OptionValues<T> {
  try {
    const known = options as unknown as Record<string, { type: "string" | "boolean" }>;
    return parseArgs({ args: [...args], options: known, strict: true, allowPositionals: false })
      .values as OptionValues<T>;
  } catch (error) {
    throw new OptionError(error instanceof Error ? (error.message.split(". ")[0] ?? error.message) : String(error));
  }
}

export function numberOption(name: string, text: string, min: number, max: number, whole = false): number {
  const value = Number(text);
  if (text.trim() === "" || !(value >= min && value <= max) || (whole && !Number.isInteger(value))) {
    throw new OptionError(`--${name} takes a ${whole ? "whole " : ""}number from ${min} to ${max}, not "${text}"`);
  }
  return value;
}

/** A broker's address; only what an MQTT client can open. */
export function brokerOption(text: string): string {
  let url: URL;
  try {
    url = new URL(text);
  } catch {
    throw new OptionError(`--url takes an address such as mqtt://127.0.0.1:1883, not "${text}"`);
  }
  if (!["mqtt:", "mqtts:", "ws:", "wss:"].includes(url.protocol) || url.hostname === "") {
    throw new OptionError(`--url must begin with mqtt://, mqtts://, ws:// or wss:// and name a host, not "${text}"`);
  }
  if (url.username !== "" || url.password !== "") {
    throw new OptionError("--url must not carry a name or password; use --username and --password");
  }
  return text;
}

export function timeOption(name: string, text: string): number {
  const ms = msFromIso(text);
  if (Number.isNaN(ms))
    throw new OptionError(`--${name} takes a date and time with offset such as 2026-02-03T18:00:00Z, not "${text}"`);
  return ms;
}

const ID = /^[A-Za-z0-9][A-Za-z0-9_-]{0,63}$/;

export function idOption(name: string, text: string): string {
  if (!ID.test(text)) throw new OptionError(`--${name} takes letters, digits, - and _, not "${text}"`);
  return text;
}
