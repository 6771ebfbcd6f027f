// What could go wrong and by when: each rule that may fail, with the chance that it has failed by some hours from now.
import type { OutlookBody } from "#contract/outlook.ts";
import { aheadText } from "../../text/ahead.ts";
import { showChance } from "../../units/show.ts";
import { useVoice } from "../../ui/voice.tsx";
import { failingRows, HOURS, levelOf } from "./failing.ts";
import "./failing.css";

export function FailingTable({ outlook }: { readonly outlook: OutlookBody | null }) {
  const { text, clock, nowMs } = useVoice();
  const words = aheadText(text).failing;
  if (outlook === null) return null;
  const rows = failingRows(outlook, nowMs);
  const names = text.ruleNames as Readonly<Record<string, string>>;
  return (
    <section className="failing" aria-labelledby="failing-title">
      <h2 id="failing-title">{words.title}</h2>
      <p className="why-note">{rows.length === 0 ? words.nothing : words.help}</p>
      {rows.length > 0 && (
        <table>
          <thead>
            <tr>
              <th scope="col">
                <span className="hidden">{words.rule}</span>
              </th>
              {HOURS.map((hours) => (
                <th key={hours} scope="col" aria-label={words.by(hours)}>
                  {words.hours(hours)}
                  <small>{clock.when(nowMs + hours * 3_600_000, nowMs)}</small>
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map(({ rule, chances }) => (
              <tr key={rule}>
                <th scope="row">{names[rule] ?? rule}</th>
                {HOURS.map((hours, index) => {
                  const chance = chances[index] ?? null;
                  return (
                    <td key={hours} className={`failing-${levelOf(chance)}`}>
                      <span>{chance === null ? "–" : chance < 0.005 ? words.least : showChance(chance)}</span>
                    </td>
                  );
                })}
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  );
}
