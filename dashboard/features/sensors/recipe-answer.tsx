// What a pasted message would give by a recipe: readings in its own units, and what does not fit.
import type { RecipeTriedBody } from "#contract/recipe.ts";
import { sensorsText } from "../../text/sensors.ts";
import { useVoice } from "../../ui/voice.tsx";
import { showReading } from "./words.ts";

export function RecipeAnswer({ tried }: { readonly tried: RecipeTriedBody }) {
  const { text, units, clock, nowMs } = useVoice();
  const words = sensorsText(text);
  const { node, readings, faults, notes } = tried;
  return (
    <div className="recipe-answer" role="status">
      {readings.length === 0 ? <p>{words.givesNothing}</p> : <p>{words.gives(node ?? "?")}</p>}
      <dl className="sensor-values">
        {readings.map(({ quantity, value, at }) => (
          <div key={quantity}>
            <dt>
              {quantity} · {clock.when(Date.parse(at), nowMs)}
            </dt>
            <dd>{showReading(quantity, value, units, words)}</dd>
          </div>
        ))}
      </dl>
      {faults.length > 0 && (
        <div className="sensor-bad">
          <p>{words.faults}</p>
          <ul>
            {faults.map(({ field, reason }) => (
              <li key={`${field} ${reason}`}>
                <code>{field}</code> {reason}
              </li>
            ))}
          </ul>
        </div>
      )}
      {notes.map((note) => (
        <p key={note} className="field-help">
          {note}
        </p>
      ))}
    </div>
  );
}
