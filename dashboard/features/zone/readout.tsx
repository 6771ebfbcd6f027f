// The numbers under the finger or the pointer on the chart.
import { zoneText } from "../../text/zone.ts";
import { plain, showPercent } from "../../units/show.ts";
import { degreeSign } from "../../units/typed.ts";
import { useVoice } from "../../ui/voice.tsx";
import type { ChartPoint } from "./chart-data.ts";

export function Readout({ point }: { readonly point: ChartPoint | null }) {
  const { text, clock, nowMs, units } = useVoice();
  if (point === null) return null;
  const words = zoneText(text);
  const degrees = (value: number | null) => (value === null ? null : `${plain(value)} ${degreeSign(units)}`);
  const slab = point.slab ?? point.slabAhead;
  const dew = point.dew ?? point.dewAhead;
  const lines: readonly (readonly [string, string | null])[] = [
    [words.slab, degrees(slab)],
    [words.dew, degrees(dew)],
    [words.numbers.margin, slab === null || dew === null ? null : degrees(slab - dew)],
    [words.air, degrees(point.air ?? point.airAhead)],
    [words.humidity, point.humidity === null ? null : showPercent(point.humidity)],
  ];
  return (
    <div className="readout">
      <b>{clock.when(point.atMs, nowMs)}</b>
      <dl>
        {lines
          .filter(([, value]) => value !== null)
          .map(([name, value]) => (
            <div key={name} className="readout-line">
              <dt>{name}</dt>
              <dd>{value}</dd>
            </div>
          ))}
      </dl>
    </div>
  );
}
