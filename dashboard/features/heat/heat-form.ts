// What a person sets about a heater, the question that it makes, and the journal entry of a plan. Pure.
import type { HeatChoiceBody, HeatQuestionBody } from "#contract/heat-plan.ts";
import type { EntryBody } from "#contract/journal.ts";

export const FUELS = ["propane", "natural-gas", "kerosene", "diesel", "electric", "other"] as const;
export const BUILDINGS = ["known", "tight", "loose", "open"] as const;
type Fuel = (typeof FUELS)[number];
type Building = (typeof BUILDINGS)[number];

export interface HeatDraft {
  readonly kW: number;
  readonly fuel: Fuel;
  readonly vented: boolean;
  readonly targetC: number;
  /** For the later start: hours from now. */
  readonly afterH: number;
  readonly building: Building;
}

const HOUR_MS = 3_600_000;
const QUARTER_MS = 900_000;
/** Limits of the contract, and of what is worth asking. */
export const RANGES = { kW: [1, 1000], targetC: [5, 35], afterH: [1, 24] } as const;
/** A common indirect heater; 18 °C is what many sheets ask of the room. Common practice, no source. */
const FIRST: HeatDraft = { kW: 40, fuel: "propane", vented: true, targetC: 18, afterH: 6, building: "known" };

/** What was kept on the device; read leniently, field by field. */
export function draftFrom(kept: unknown): HeatDraft {
  const raw = (typeof kept === "object" && kept !== null ? kept : {}) as Record<string, unknown>;
  const within = (name: keyof typeof RANGES) => {
    const value = raw[name];
    const [low, high] = RANGES[name];
    return typeof value === "number" && value >= low && value <= high ? value : FIRST[name];
  };
  return {
    kW: within("kW"),
    targetC: within("targetC"),
    afterH: within("afterH"),
    fuel: FUELS.find((one) => one === raw["fuel"]) ?? FIRST.fuel,
    vented: typeof raw["vented"] === "boolean" ? raw["vented"] : FIRST.vented,
    building: BUILDINGS.find((one) => one === raw["building"]) ?? FIRST.building,
  };
}

const iso = (atMs: number) => new Date(Math.round(atMs / 1000) * 1000).toISOString().replace(".000Z", "Z");

/** The later start, on a quarter of an hour. */
export const laterMs = (draft: HeatDraft, nowMs: number) =>
  Math.round((nowMs + draft.afterH * HOUR_MS) / QUARTER_MS) * QUARTER_MS;

export function questionOf(draft: HeatDraft, nowMs: number): HeatQuestionBody {
  return {
    // An electric heater has no fumes to lead anywhere.
    heater: { kW: draft.kW, fuel: draft.fuel, vented: draft.vented || draft.fuel === "electric" },
    targetC: draft.targetC,
    from: iso(laterMs(draft, nowMs)),
    ...(draft.building === "known" ? {} : { building: { class: draft.building } }),
  };
}

/** The journal entry that tells the outlook of a plan; null for a choice without heat. Heat is of the whole site. */
export function entryOf(choice: HeatChoiceBody, draft: HeatDraft, nowMs: number, by: string): EntryBody | null {
  if (choice.from === null) return null;
  return {
    did: "heating",
    on: true,
    at: iso(nowMs),
    zone: null,
    kW: draft.kW,
    fuel: draft.fuel,
    vented: draft.vented || draft.fuel === "electric",
    targetC: choice.targetC ?? draft.targetC,
    from: choice.from,
    ...(choice.to === null ? {} : { to: choice.to }),
    ...(by.trim() === "" ? {} : { by: by.trim() }),
  };
}
