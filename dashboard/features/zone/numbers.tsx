// The state of the floor in numbers, each with its unit in both systems.
import type { BoardZoneBody } from "#contract/board.ts";
import type { SheetBody } from "#contract/sheet.ts";
import type { RuleUnit } from "#core/judge/call.ts";
import { aheadText } from "../../text/ahead.ts";
import { zoneText } from "../../text/zone.ts";
import { showArea, showBoth, showChance, showDuration } from "../../units/show.ts";
import { showVolume } from "../../units/show-material.ts";
import { useVoice } from "../../ui/voice.tsx";

interface Props {
  readonly item: BoardZoneBody;
  readonly sheets: readonly SheetBody[];
}

export function Numbers({ item, sheets }: Props) {
  const { text, units, clock, nowMs } = useVoice();
  const words = zoneText(text).numbers;
  const { call, zone } = item;
  const { conditions, film, pour, window } = call;
  const number = (value: number | null, unit: RuleUnit) => (value === null ? null : showBoth(value, unit, units));
  const time = (iso: string | null | undefined) =>
    iso === null || iso === undefined ? null : clock.when(Date.parse(iso), nowMs);
  const sheetName = (id: string | undefined) =>
    id === undefined ? null : (sheets.find((sheet) => sheet.id === id)?.name ?? id);
  const uncertainty = number(conditions.marginUncertaintyK, "K");
  const margin = number(conditions.marginK, "K");
  const nextSheet = call.nextCoat === null ? null : sheetName(zone.system[call.nextCoat]);
  const estimated = film?.estimated === true ? ` (${zoneText(text).estimate})` : "";
  // The rule has hours where something was filled: left at the slab as cold as it is now.
  const filler = () => {
    const rule = call.rules.find((one) => one.rule === "filler-soft");
    if (rule === undefined || rule.limit === null) return null;
    if (rule.measured === null) return words.fillerStands;
    if (rule.measured <= 0) return words.fillerHard;
    const about = clock.when(Date.parse(call.at) + rule.measured * 3_600_000, nowMs);
    return `${about} (${text.inTime(showDuration(rule.measured * 3_600_000))})${rule.detail === "estimate" ? ` (${zoneText(text).estimate})` : ""}`;
  };
  const lines: readonly (readonly [string, string | null])[] = [
    [words.slabCold, number(conditions.slabColdC, "C")],
    [words.slabHot, number(conditions.slabHotC, "C")],
    [words.air, number(conditions.airC, "C")],
    [words.humidity, number(conditions.rhPct, "%RH")],
    [words.dew, number(conditions.dewPointC, "C")],
    [words.margin, margin === null || uncertainty === null ? margin : `${margin}, ${words.uncertainty} ${uncertainty}`],
    [words.slope, number(conditions.slabSlopeKPerH, "K/h")],
    [
      words.age,
      item.lastHeard === null ? text.board.neverHeard : text.ago(showDuration(nowMs - Date.parse(item.lastHeard))),
    ],
    [words.coat, film === null ? zoneText(text).bare : sheetName(film.sheet)],
    [words.next, nextSheet ?? zoneText(text).none],
    [
      words.earned,
      window.earned === null || call.nextCoat === null ? null : showBoth(window.earned, "1", units) + estimated,
    ],
    [words.pastDew, film === null ? null : time(film.dewSafeAt)],
    [words.filler, filler()],
    [words.walk, time(film?.walkOnAt)],
    [words.drive, time(film?.driveOnAt)],
    [words.night, call.night === null ? null : showChance(call.night.chanceHolds)],
    [words.batch, pour === null || pour.batchCapL === null ? null : showVolume(pour.batchCapL, units)],
    [words.area, showArea(zone.areaM2, units)],
  ];
  return (
    <section className="numbers" aria-label={zoneText(text).conditions}>
      <h2>{zoneText(text).conditions}</h2>
      <p className="why-note">{aheadText(text).helps.numbers}</p>
      <dl>
        {lines
          .filter(([, value]) => value !== null)
          .map(([name, value]) => (
            <div key={name}>
              <dt>{name}</dt>
              <dd>{value}</dd>
            </div>
          ))}
      </dl>
    </section>
  );
}
