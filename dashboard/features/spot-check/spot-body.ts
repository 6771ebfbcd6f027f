// Reads the spot check's form into the question for the server, or says what is wrong with each field. Pure.
import type { SpotCheckBody } from "#contract/board.ts";
import { fFromC } from "#core/units.ts";
import type { Dictionary } from "../../text/en.ts";
import { plain, type UnitSystem } from "../../units/show.ts";
import { cFromTyped, numberFromTyped } from "../../units/typed.ts";
import { spotText } from "../../text/spot.ts";

export interface SpotDraft {
  readonly slab: string;
  readonly air: string;
  readonly humidity: string;
  readonly sheet: string;
  readonly base: string;
}

export type SpotFaults = Partial<Record<keyof SpotDraft, string>>;
export type SpotMade =
  | { readonly ok: true; readonly body: SpotCheckBody }
  | { readonly ok: false; readonly faults: SpotFaults };

/** The ranges of the contract, °C and percent. */
const RANGES = { slab: [-40, 80], air: [-40, 60], humidity: [0, 100] } as const;

export function bodyOf(draft: SpotDraft, units: UnitSystem, text: Dictionary): SpotMade {
  const faults: SpotFaults = {};
  const read = (name: "slab" | "air" | "humidity"): number => {
    const value = name === "humidity" ? numberFromTyped(draft.humidity) : cFromTyped(draft[name], units);
    const [low, high] = RANGES[name];
    if (value === null || Number.isNaN(value)) faults[name] = spotText(text).need;
    else if (value < low || value > high) {
      const shown = (c: number) =>
        name === "humidity" ? `${plain(c)} %` : units === "us" ? `${plain(fFromC(c), 0)} °F` : `${plain(c)} °C`;
      faults[name] = spotText(text).range(shown(low), shown(high));
    }
    return value ?? Number.NaN;
  };
  const slabC = read("slab");
  const airC = read("air");
  const rhPct = read("humidity");
  if (draft.sheet === "") faults.sheet = spotText(text).pick;
  if (Object.keys(faults).length > 0) return { ok: false, faults };
  return {
    ok: true,
    body: { slabC, airC, rhPct, sheet: draft.sheet, base: draft.base === "sealed" ? "sealed" : "porous" },
  };
}

const FIELDS: Readonly<Record<string, keyof SpotDraft>> = {
  "/slabC": "slab",
  "/airC": "air",
  "/rhPct": "humidity",
  "/sheet": "sheet",
  "/base": "base",
};

/** The server's faults beside the fields they name. */
export function faultsFromServer(told: readonly { readonly field: string; readonly reason: string }[]): SpotFaults {
  const faults: SpotFaults = {};
  for (const { field, reason } of told) {
    const name = FIELDS[field];
    if (name !== undefined) faults[name] = reason;
  }
  return faults;
}
