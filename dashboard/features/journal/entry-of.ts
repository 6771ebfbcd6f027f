// Turns what a person picked and typed into a journal entry, or says what is missing. Pure.
import type { EntryBody } from "#contract/journal.ts";
import { kWFromBtuPerH, mmFromMil, mpaFromPsi } from "#core/units.ts";
import type { Dictionary } from "../../text/en.ts";
import { cautionText } from "../../text/caution.ts";
import { journalText } from "../../text/journal.ts";
import type { UnitSystem } from "../../units/show.ts";
import { cFromTyped, numberFromTyped } from "../../units/typed.ts";
import { msFromLocalInput } from "../../units/local-input.ts";
import type { Act } from "./acts.ts";
import { spotText } from "../../text/spot.ts";

/** Fields of a form by name; empty text = not given. */
export type Draft = Readonly<Record<string, string>>;
export type Faults = Readonly<Record<string, string>>;

export interface Setting {
  readonly zone: string;
  readonly nowMs: number;
  readonly by: string;
  readonly units: UnitSystem;
  readonly timezone: string;
  readonly text: Dictionary;
  /** Whether this step brings solvent into the room, and since when a heater burns there by the journal, in words. */
  readonly solvent?: { readonly brought: boolean; readonly heaterSince: string | null };
}

export type Made = { readonly ok: true; readonly entry: EntryBody } | { readonly ok: false; readonly faults: Faults };

const MINUTE_MS = 60_000;
const iso = (atMs: number) => new Date(Math.round(atMs / 1000) * 1000).toISOString().replace(".000Z", "Z");
/** Largest values that can be meant, °C, % and so on; the server holds the same limits. */
const RANGES = {
  c: [-60, 80],
  pct: [0, 100],
  lb: [0, 200],
  h: [0.01, 10_000],
  kW: [0, 10_000],
  um: [1, 20_000],
  mpa: [0, 100],
} as const;

class Reader {
  readonly faults: Record<string, string> = {};
  constructor(
    readonly draft: Draft,
    readonly setting: Setting,
  ) {}

  text(name: string): string {
    return (this.draft[name] ?? "").trim();
  }

  #within(name: string, value: number | null, kind: keyof typeof RANGES): number | undefined {
    if (value === null) return undefined;
    const [low, high] = RANGES[kind];
    if (value >= low && value <= high) return value;
    const shown = kind === "c" && this.setting.units === "us" ? [low * 1.8 + 32, high * 1.8 + 32] : [low, high];
    this.faults[name] = Number.isNaN(value)
      ? spotText(this.setting.text).need
      : spotText(this.setting.text).range(String(shown[0]), String(shown[1]));
    return undefined;
  }

  number(name: string, kind: keyof typeof RANGES): number | undefined {
    return this.#within(name, numberFromTyped(this.draft[name] ?? ""), kind);
  }

  /** A number in the person's own system; `fromUs` makes SI of the other. Four digits are more than any gauge has. */
  measure(name: string, kind: keyof typeof RANGES, fromUs: (us: number) => number): number | undefined {
    const typed = numberFromTyped(this.draft[name] ?? "");
    const si = typed === null || this.setting.units === "si" ? typed : Number(fromUs(typed).toPrecision(4));
    return this.#within(name, si, kind);
  }

  degrees(name: string): number | undefined {
    return this.#within(name, cFromTyped(this.draft[name] ?? "", this.setting.units), "c");
  }

  needed<T>(name: string, value: T | undefined, fault: string): T | undefined {
    if (value === undefined || value === "") this.faults[name] ??= fault;
    return value === "" ? undefined : value;
  }

  time(name: string): number {
    const atMs = msFromLocalInput(this.text(name), this.setting.timezone);
    if (Number.isNaN(atMs)) this.faults[name] = journalText(this.setting.text).badTime;
    return atMs;
  }
}

/** Drops what was not given: an absent key is absent on the wire too. */
function given<T extends object>(value: T): T {
  return Object.fromEntries(Object.entries(value).filter(([, item]) => item !== undefined && item !== "")) as T;
}

const some = <T>(list: readonly T[]) => (list.length === 0 ? undefined : list);

function listFrom(text: string): string[] {
  return text
    .split(/[,;\n]/)
    .map((part) => part.trim())
    .filter((part) => part !== "");
}

/** "A: 26-0107, B: 25-1218": what stands before a colon names the part. */
export function batchesFrom(text: string): { part?: string; number: string }[] {
  return listFrom(text).flatMap((one) => {
    const [part = "", number] = one.split(/:(.*)/s).map((piece) => piece.trim());
    if (number === undefined) return [{ number: part }];
    if (number === "") return part === "" ? [] : [{ number: part }];
    return [part === "" ? { number } : { part, number }];
  });
}

/** Solvent needs somebody's word, and no flame that the journal knows of. The server holds the same. */
function solventPart(read: Reader): object {
  const { solvent, text } = read.setting;
  if (solvent?.brought !== true) return {};
  const words = cautionText(text);
  if (solvent.heaterSince !== null) read.faults["confirmed"] = words.held(solvent.heaterSince);
  else if (read.text("confirmed") !== "yes") read.faults["confirmed"] = words.need;
  return { solvent: true, confirmed: true };
}

function partOf(act: Act, read: Reader): object {
  const { text } = read.setting;
  const words = journalText(text);
  switch (act) {
    case "pouring":
      return { did: "pouring", coat: Number(read.text("coat")), ...solventPart(read) };
    case "poured": {
      const fromMs = read.time("from");
      const toMs = read.time("to");
      if (toMs < fromMs) read.faults["to"] = words.finishedBefore;
      const broadcast = read.text("broadcast") === "full" ? "full" : undefined;
      return Object.keys(read.faults).length > 0
        ? {}
        : given({
            did: "poured",
            coat: Number(read.text("coat")),
            from: iso(fromMs),
            to: iso(toMs),
            broadcast,
            product: read.text("product"),
            batches: some(batchesFrom(read.text("batches"))),
            people: some(listFrom(read.text("people"))),
          });
    }
    case "abraded":
      return given({ did: "abraded", how: read.text("how") });
    case "washed":
    case "cleaned":
      return { did: act, ...solventPart(read) };
    case "inspected": {
      if (read.text("surface") === "" && read.text("film") === "") read.faults["surface"] = words.lookNeed;
      return given({ did: "inspected", surface: read.text("surface"), film: read.text("film") });
    }
    case "measured": {
      const found = given({
        slabC: read.degrees("slab"),
        airC: read.degrees("air"),
        rhPct: read.number("humidity", "pct"),
        resinC: read.degrees("resin"),
      });
      if (Object.keys(found).length === 0) read.faults["slab"] ??= words.need;
      return given({ did: "measured", ...found, instrument: read.text("instrument"), probe: read.text("probe") });
    }
    case "heatingOn": {
      const power = read.number("power", "kW");
      const kW =
        power === undefined || read.setting.units === "si" ? power : Math.round(kWFromBtuPerH(power * 1000) * 10) / 10;
      const vented = read.text("exhaust") === "" ? undefined : read.text("exhaust") === "vented";
      return given({ did: "heating", on: true, vented, fuel: read.text("fuel"), kW });
    }
    case "heatingOff":
      return { did: "heating", on: false };
    case "held":
      return { did: "held", why: read.needed("why", read.text("own") || read.text("why"), words.whyNeed) };
    case "released":
      return given({ did: "released", why: read.text("own") });
    case "forecast": {
      const lowC = read.needed("low", read.degrees("low"), spotText(text).need);
      const dewPointC = read.needed("dew", read.degrees("dew"), spotText(text).need);
      const untilMs = read.time("until");
      return Number.isNaN(untilMs) ? {} : { did: "forecast", lowC, dewPointC, until: iso(untilMs) };
    }
    case "filled":
      if (read.text("filler") !== "") return { did: "filled", sheet: read.text("filler") };
      return {
        did: "filled",
        hardAfterH: read.needed("hardAfter", read.number("hardAfter", "h"), spotText(text).need),
      };
    case "tested": {
      const method = read.text("method") === "F1869" ? "F1869" : "F2170";
      const found =
        method === "F2170"
          ? { rhPct: read.needed("rh", read.number("rh", "pct"), spotText(text).need) }
          : { mverLb: read.needed("mver", read.number("mver", "lb"), spotText(text).need) };
      return given({ did: "tested", method, ...found, spot: read.text("spot") });
    }
    case "profile": {
      const depth = read.measure("depth", "um", (mil) => mmFromMil(mil) * 1000);
      const csp = read.text("csp") === "" ? undefined : Number(read.text("csp"));
      if (csp === undefined && depth === undefined) read.faults["csp"] ??= words.lookNeed;
      return given({ did: "profile", csp, profileUm: depth, spot: read.text("spot") });
    }
    case "adhesion": {
      const mpa = read.needed("strength", read.measure("strength", "mpa", mpaFromPsi), spotText(text).need);
      return given({
        did: "adhesion",
        mpa,
        how: read.text("pull") || "other",
        failure: read.text("failure"),
        spot: read.text("spot"),
      });
    }
    case "ventilationOn":
      return given({ did: "ventilated", on: true, how: read.text("how") });
    case "ventilationOff":
      return { did: "ventilated", on: false };
    case "overrode":
      return {
        did: "overrode",
        call: read.needed("call", read.text("call"), words.lookNeed),
        why: read.needed("own", read.text("own"), words.whyNeed),
      };
  }
}

/** When it was done, by the minutes that were picked. */
export function doneAtMs(draft: Draft, nowMs: number): number {
  return nowMs - Number(draft["ago"] || "0") * MINUTE_MS;
}

/** Heat and weather are of the whole site; all else is of the zone. */
const SITE_WIDE: readonly Act[] = ["heatingOn", "heatingOff", "forecast"];

export function entryOf(act: Act, draft: Draft, setting: Setting): Made {
  const read = new Reader(draft, setting);
  const part = partOf(act, read);
  if (Object.keys(read.faults).length > 0) return { ok: false, faults: read.faults };
  const atMs = act === "poured" ? setting.nowMs : doneAtMs(draft, setting.nowMs);
  const zone = SITE_WIDE.includes(act) ? null : setting.zone;
  const by = setting.by.trim();
  return { ok: true, entry: { ...part, at: iso(atMs), zone, ...(by === "" ? {} : { by }) } as EntryBody };
}
