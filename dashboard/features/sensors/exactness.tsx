// How exact a node's sensors are: three answers instead of three numbers.
import type { NodeBody } from "#contract/zone.ts";
import { sensorsText } from "../../text/sensors.ts";
import { Choice } from "../../ui/choice.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { showDifference, showPercent } from "../../units/show.ts";

/** Bounds that cheap sensors state, two sigma. Common practice, no source. */
export const EXACTNESS = {
  good: { slabK: 0.3, airK: 0.3, rhPct: 2 },
  usual: { slabK: 0.5, airK: 0.5, rhPct: 3 },
  rough: { slabK: 1, airK: 1, rhPct: 5 },
} as const satisfies Record<string, NodeBody["accuracy"]>;
export type Exactness = keyof typeof EXACTNESS;

interface Props {
  readonly value: Exactness;
  readonly onPick: (value: Exactness) => void;
}

export function ExactnessChoice({ value, onPick }: Props) {
  const { text, units } = useVoice();
  const words = sensorsText(text);
  const { slabK, airK, rhPct } = EXACTNESS[value];
  return (
    <div>
      <Choice
        label={words.exact}
        options={words.exactness}
        value={value}
        onPick={(picked) => onPick(picked as Exactness)}
      />
      <p className="field-help">
        {words.exactSays(showDifference(slabK, units), showDifference(airK, units), showPercent(rhPct))}
      </p>
    </div>
  );
}
