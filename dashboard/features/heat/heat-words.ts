// What the answer says: the direct one to the question, and the numbers of each way to heat. Pure.
import type { HeatChoiceBody, HeatPlanBody } from "#contract/heat-plan.ts";
import type { HeatText } from "../../text/en-heat.ts";
import { heatText } from "../../text/heat.ts";
import type { Voice } from "../../text/sentence.ts";
import { plain, showArea, showChance, showDifference, showDuration, showTemperature } from "../../units/show.ts";
import { showEnergy, showFuel, showLoss, showWater } from "../../units/show-heat.ts";

const atOf = (voice: Voice) => (iso: string) => voice.clock.when(Date.parse(iso), voice.nowMs);

export function planName(choice: HeatChoiceBody, voice: Voice): string {
  const words = heatText(voice.text);
  const name = words.plans[choice.plan];
  return choice.from === null ? name : `${name}, ${runWords(choice, voice)}`;
}

export function runWords(choice: HeatChoiceBody, voice: Voice): string {
  const words = heatText(voice.text);
  const at = atOf(voice);
  if (choice.from === null) return words.off;
  return words.runs(at(choice.from), choice.to === null ? null : at(choice.to));
}

function costOf(choice: HeatChoiceBody, voice: Voice): string {
  const energy = showEnergy(choice.heatKWh, voice.units);
  return choice.fuel === null ? energy : `${energy}, ${showFuel(choice.fuel.kg, choice.fuel.litres, voice.units)}`;
}

/** The answer to "can I save this window?" in one sentence. */
export function answerWords(plan: HeatPlanBody, voice: Voice): string {
  const words = heatText(voice.text).answer;
  const { saveWindow, choices } = plan;
  const lost = (choice: HeatChoiceBody | undefined) => showChance(choice?.film?.chanceLost ?? 0);
  const cold = choices.find((choice) => choice.plan === "no-heat");
  switch (saveWindow.answer) {
    case "no-film":
    case "not-closing":
      return words[saveWindow.answer];
    case "holds-without-heat":
      return words["holds-without-heat"](lost(cold));
    case "yes": {
      const chosen = saveWindow.choice === null ? undefined : choices[saveWindow.choice];
      if (chosen === undefined) return words.no(null, null);
      const name = planName(chosen, voice);
      return words.yes(name.charAt(0).toLowerCase() + name.slice(1), lost(cold), lost(chosen), costOf(chosen, voice));
    }
    case "no": {
      const { abrading } = saveWindow;
      if (abrading === null) return words.no(null, null);
      const [low, high] = abrading.personHours.map((hours) => plain(hours, hours < 10 ? 1 : 0));
      return words.no(showArea(abrading.areaM2, voice.units), heatText(voice.text).personHours(low ?? "", high ?? ""));
    }
  }
}

export interface ChoiceRow {
  readonly row: keyof HeatText["rows"];
  readonly said: string;
  /** A second, smaller line; empty where there is nothing to add. */
  readonly more: string;
}

/** The numbers of one way to heat, always the same rows in the same order. */
export function choiceRows(choice: HeatChoiceBody, voice: Voice): ChoiceRow[] {
  const words = heatText(voice.text);
  const { units, nowMs, text } = voice;
  const at = atOf(voice);
  const away = (iso: string) => {
    const inMs = Date.parse(iso) - nowMs;
    return inMs < 60_000 ? "" : text.inTime(showDuration(inMs));
  };
  const row = (name: ChoiceRow["row"], said: string, more = ""): ChoiceRow => ({ row: name, said, more });
  const moment = (name: ChoiceRow["row"], iso: string | null | undefined) =>
    iso === null || iso === undefined ? row(name, words.notReached) : row(name, at(iso), away(iso));
  const { film, pour, fuel } = choice;
  const [worstK, middleK] = choice.lowestMarginK;
  return [
    choice.slabReachesTargetAt === null
      ? row("slab", words.highest(showTemperature(choice.highestSlabC, units)))
      : row("slab", at(choice.slabReachesTargetAt), away(choice.slabReachesTargetAt)),
    ...(film === null
      ? []
      : [
          moment("opens", film.opens?.likely),
          moment("closes", film.closes?.likely),
          row("lost", showChance(film.chanceLost), choice.savesWindow ? words.saves : ""),
        ]),
    pour === null
      ? row("pour", words.noPour)
      : row(
          "pour",
          words.pourAt(at(pour.likely), showChance(pour.chance)),
          pour.latestStartAt === null ? away(pour.likely) : words.startBy(at(pour.latestStartAt)),
        ),
    row(
      "lowest",
      `${showDifference(middleK, units)}, ${at(choice.lowestMarginAt)}`,
      words.worst(showDifference(worstK, units)),
    ),
    row("energy", choice.heatKWh <= 0 ? words.none : showEnergy(choice.heatKWh, units)),
    row(
      "fuel",
      choice.heatKWh <= 0 ? words.none : fuel === null ? words.socket : showFuel(fuel.kg, fuel.litres, units),
    ),
    row("water", choice.waterKg < 0.05 ? words.none : showWater(choice.waterKg, units)),
  ];
}

export function buildingWords(plan: HeatPlanBody, voice: Voice): string {
  const words = heatText(voice.text);
  const { basis, lossWPerK, airChangesPerH } = plan.building;
  return `${words.buildingSays[basis]} ${words.loss(showLoss(lossWPerK, voice.units), plain(airChangesPerH, 2))}`;
}
