// What must be said of a heater that burns inside, in the words of the heat plan.
import { heatText } from "../../text/heat.ts";
import { useVoice } from "../../ui/voice.tsx";

const SAID = ["carbon-monoxide", "unvented-fumes", "fresh-air", "fumes-film", "flame-and-solvent"] as const;

export default function BurnerInside() {
  const { cautions } = heatText(useVoice().text);
  return (
    <div className="caution" role="status">
      <ul>
        {SAID.map((one) => (
          <li key={one}>{cautions[one]}</li>
        ))}
      </ul>
    </div>
  );
}
