// The heater, its thermostat, the later start and the building.
import { cFromF, fFromC } from "#core/units.ts";
import { heatText } from "../../text/heat.ts";
import { journalText } from "../../text/journal.ts";
import { plain, showDuration } from "../../units/show.ts";
import { kWFromPower, powerFromKW, powerUnit } from "../../units/show-heat.ts";
import { degreeSign } from "../../units/typed.ts";
import { Choice } from "../../ui/choice.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { Dial } from "./dial.tsx";
import { BUILDINGS, FUELS, type HeatDraft, laterMs, RANGES } from "./heat-form.ts";

interface Props {
  readonly draft: HeatDraft;
  readonly onChange: (change: Partial<HeatDraft>) => void;
}

const POWERS = {
  us: [10, 20, 35, 50, 75, 100, 125, 150, 175, 200, 250, 300, 350, 400, 500, 600, 800, 1000, 1500, 2000],
  si: [2, 4, 6, 10, 15, 20, 25, 30, 40, 50, 60, 80, 100, 125, 150, 175, 200, 300, 400, 600],
} as const;
const round = (value: number, digits: number) => Math.round(value * 10 ** digits) / 10 ** digits;

export function HeaterForm({ draft, onChange }: Props) {
  const { text, units, clock, nowMs } = useVoice();
  const words = heatText(text);
  const journal = journalText(text);
  const us = units === "us";
  const power = (kW: number) => round(powerFromKW(kW, units), us ? 0 : 1);
  const degrees = (c: number) => round(us ? fFromC(c) : c, 1);
  const [lowC, highC] = RANGES.targetC;
  const targets = us
    ? Array.from({ length: 55 }, (_, index) => 41 + index)
    : Array.from({ length: 61 }, (_, index) => lowC + index / 2);
  const starts = Array.from({ length: 47 }, (_, index) => 1 + index / 2);
  const laterAt = laterMs(draft, nowMs);
  return (
    <form className="heat-form" aria-label={words.heater} noValidate onSubmit={(event) => event.preventDefault()}>
      <Dial
        label={words.power}
        unit={powerUnit(units)}
        value={power(draft.kW)}
        stops={POWERS[units]}
        low={power(RANGES.kW[0])}
        high={power(RANGES.kW[1])}
        fault={words.range(plain(power(RANGES.kW[0])), plain(power(RANGES.kW[1])))}
        onPick={(value) => onChange({ kW: round(kWFromPower(value, units), 3) })}
      />
      <Dial
        label={words.target}
        unit={degreeSign(units)}
        value={degrees(draft.targetC)}
        stops={targets}
        low={degrees(lowC)}
        high={degrees(highC)}
        fault={words.range(plain(degrees(lowC)), plain(degrees(highC)))}
        onPick={(value) => onChange({ targetC: round(us ? cFromF(value) : value, 2) })}
      />
      <label className="dial field">
        <span className="dial-label">{words.from}</span>
        <span className="field-row">
          <input
            type="range"
            className="dial-range"
            min={0}
            max={starts.length - 1}
            step={1}
            value={Math.round((draft.afterH - 1) * 2)}
            aria-valuetext={clock.when(laterAt, nowMs)}
            onChange={(event) => onChange({ afterH: starts[Number(event.target.value)] ?? draft.afterH })}
          />
          <output className="dial-out">
            {words.fromAt(clock.when(laterAt, nowMs), text.inTime(showDuration(draft.afterH * 3_600_000)))}
          </output>
        </span>
      </label>
      <Choice
        label={journal.fuel}
        options={Object.fromEntries(FUELS.map((fuel) => [fuel, journal.fuels[fuel]]))}
        value={draft.fuel}
        onPick={(fuel) => onChange({ fuel: fuel as HeatDraft["fuel"] })}
      />
      {draft.fuel !== "electric" && (
        <Choice
          label={journal.exhaust}
          options={{ vented: journal.vented, unvented: journal.unvented }}
          value={draft.vented ? "vented" : "unvented"}
          onPick={(exhaust) => onChange({ vented: exhaust === "vented" })}
        />
      )}
      <Choice
        label={words.building}
        options={Object.fromEntries(BUILDINGS.map((building) => [building, words.buildings[building]]))}
        value={draft.building}
        onPick={(building) => onChange({ building: building as HeatDraft["building"] })}
      />
    </form>
  );
}
