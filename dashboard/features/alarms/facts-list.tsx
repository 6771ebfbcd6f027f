// The facts behind an alarm: what was measured, its limit, what is foreseen and how sure that is, where.
import type { AlarmBody } from "#contract/alarm.ts";
import type { BoardBody } from "#contract/board.ts";
import { alarmsText } from "../../text/alarms.ts";
import { plain, showBoth, showChance, type UnitSystem } from "../../units/show.ts";
import { useVoice } from "../../ui/voice.tsx";
import { zoneNameOf } from "./said.ts";

function shown(value: number | null, unit: string | null, units: UnitSystem): string | null {
  if (value === null) return null;
  if (unit === "K" || unit === "h") return showBoth(value, unit, units);
  if (unit === "Cel") return showBoth(value, "C", units);
  if (unit === "%" || unit === "%RH") return showBoth(value, "%RH", units);
  return unit === null || unit === "1" ? plain(value, 2) : `${plain(value, 2)} ${unit}`;
}

interface Props {
  readonly alarm: AlarmBody;
  readonly board: BoardBody;
  readonly zoneHref: (zone: string) => string;
}

export function FactsList({ alarm, board, zoneHref }: Props) {
  const { text, units, clock, nowMs, placeOf } = useVoice();
  const words = alarmsText(text).facts;
  const { facts } = alarm;
  const when = (iso: string | null) => (iso === null ? null : clock.when(Date.parse(iso), nowMs));
  // A chance in the steps of the sentence above it.
  const rows: readonly (readonly [string, string | null])[] = [
    [words.raised, when(alarm.raisedAt)],
    [words.changed, alarm.changedAt === alarm.raisedAt ? null : when(alarm.changedAt)],
    [words.cleared, when(alarm.clearedAt)],
    [words.measured, shown(facts.measured, facts.unit, units)],
    [words.limit, shown(facts.limit, facts.unit, units)],
    [words.expected, when(facts.expectedAt)],
    [words.chance, facts.chance === null ? null : showChance(Math.round(facts.chance * 20) / 20)],
    [words.about, facts.about === null ? null : placeOf(facts.about)],
  ];
  return (
    <dl className="alarm-facts">
      {rows.map(([name, value]) =>
        value === null ? null : (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ),
      )}
      <div>
        <dt>{words.zones}</dt>
        <dd>
          {alarm.zones.length === 0
            ? words.server
            : alarm.zones.map((zone) => (
                <a key={zone} className="alarm-zone" href={zoneHref(zone)}>
                  {zoneNameOf(board, zone)}
                </a>
              ))}
        </dd>
      </div>
    </dl>
  );
}
