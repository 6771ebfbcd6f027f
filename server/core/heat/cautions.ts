// What must be said with every heat plan. Safety sheet, local code, the heater's own manual and licensed practice rule.
import type { Heater } from "#core/heat/heater.ts";
import type { HeatCaution } from "#core/heat/question.ts";
import type { ZoneState } from "#core/zone/state.ts";

/** Cautions of a heater over this floor, the gravest first. What is not known of a fuel is taken as burning. */
export function cautionsOf(state: ZoneState, heater: Heater): readonly HeatCaution[] {
  const burns = heater.fuel !== "electric";
  const unvented = burns && !heater.vented;
  const cautions: [HeatCaution, boolean][] = [
    ["carbon-monoxide", burns],
    ["unvented-fumes", unvented],
    ["fresh-air", unvented],
    // Solvent of a fresh film, of wiping before the next coat or of a solvent coat finds any flame or glowing wire.
    ["flame-and-solvent", burns || state.film !== null || state.record.pouring !== null],
    ["clearances", true],
    ["refuel-cold", burns && heater.fuel !== "natural-gas"],
    ["electric-circuits", !burns],
    ["fumes-film", unvented],
    ["water-into-air", unvented],
    ["rising-slab", state.record.porous],
  ];
  return cautions.flatMap(([caution, holds]) => (holds ? [caution] : []));
}
