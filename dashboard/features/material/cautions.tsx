// What can hurt somebody at the mixing place, beside the steps; it defers to those who rule.
import type { CoatTakeoffBody } from "#contract/takeoff.ts";
import { materialText } from "../../text/material.ts";
import { useVoice } from "../../ui/voice.tsx";

const ORDER = ["solvent", "isocyanate", "amine", "peroxide"] as const;

/** Those that stand on the card itself, above the step. */
export function briefOf(hazards: CoatTakeoffBody["hazards"]): readonly (typeof ORDER)[number][] {
  const named = ORDER.filter((one) => hazards.includes(one));
  return named.length === 0 ? ["amine"] : named;
}

/** Without a word from the sheet a pail is still a pail: skin and heat. */
export function MaterialCautions({ hazards }: { readonly hazards: CoatTakeoffBody["hazards"] }) {
  const { cautions } = materialText(useVoice().text);
  const shown = [...briefOf(hazards), "exotherm" as const, "defer" as const];
  return (
    <section className="material-cautions" aria-labelledby="cautions-title">
      <h2 id="cautions-title">{cautions.title}</h2>
      <ul>
        {shown.map((one) => (
          <li key={one}>{cautions[one]}</li>
        ))}
      </ul>
    </section>
  );
}
