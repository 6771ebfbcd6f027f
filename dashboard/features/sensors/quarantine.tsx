// What was refused: node, field, reason, how often and when last.
import type { SensorsBody } from "#contract/sensors.ts";
import { sensorsText } from "../../text/sensors.ts";
import { useVoice } from "../../ui/voice.tsx";

export function Quarantine({ lines }: { readonly lines: SensorsBody["quarantine"] }) {
  const { text, clock, nowMs } = useVoice();
  const words = sensorsText(text);
  if (lines.length === 0) return <p>{words.noneRefused}</p>;
  return (
    <ul className="refused">
      {lines.map(({ node, reason, field, excerpt, count, lastAt }) => (
        <li key={`${node} ${reason}`}>
          <p>
            <b>{node}</b> {words.reasons[reason] ?? reason}{" "}
            <span>{`${words.times(count)}, ${clock.when(Date.parse(lastAt), nowMs)}`}</span>
          </p>
          <p>
            <code>{field}</code>
          </p>
          {excerpt !== "" && (
            <p>
              <code className="refused-body">{excerpt}</code>
            </p>
          )}
        </li>
      ))}
    </ul>
  );
}
