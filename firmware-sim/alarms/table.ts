// The alarms of the study as plain text.
import type { AlarmNight } from "./night.ts";
import { alarmStudyFigures, announcedOf, type Announced, type wakeFigures } from "./summary.ts";

const share = (part: number, whole: number) => (whole === 0 ? "-" : `${((100 * part) / whole).toFixed(1)} %`);
const hours = (value: number) => (Number.isFinite(value) ? value.toFixed(1) : "-");

type Figures = ReturnType<typeof alarmStudyFigures>;

function leadLine(name: string, figures: Figures["dew"], goal: string): string {
  const { harms, announced, anHourBefore, leadH } = figures;
  return (
    `  ${name.padEnd(34)}${String(harms).padStart(5)} harms, announced ${share(announced, harms)}, ` +
    `an hour before ${share(anHourBefore, harms)}; lead h, 10-50-90 %: ` +
    `${hours(leadH.q10)} ${hours(leadH.q50)} ${hours(leadH.q90)}${goal}`
  );
}

function missedLine({ night, harm, leadH }: Announced): string {
  const lead = leadH === null ? "not announced" : `${leadH.toFixed(1)} h before`;
  const said = night.said
    .filter(({ step }) => step === "raised" || step === "worsened")
    .map(({ atMs, kind, level }) => `${new Date(atMs).toISOString().slice(11, 16)} ${kind} ${level}`);
  return (
    `    night ${night.night} (${night.title}) ${night.stage} heat ${night.heat} outdoors ${night.outdoor}` +
    `${night.fault === null ? "" : ` fault ${night.fault}`}: poured ${new Date(night.pour.fromMs).toISOString().slice(11, 16)}Z, ` +
    `${harm.what} ${new Date(harm.atMs).toISOString().slice(11, 16)}Z, ${lead}; said ${said.join(", ") || "nothing"}`
  );
}

const kinds = (counts: ReturnType<typeof wakeFigures>["wakesByKind"]) =>
  counts.length === 0 ? "none" : counts.map(([kind, count]) => `${kind} ${count}`).join(", ");

export function alarmTable(title: string, nights: readonly AlarmNight[]): string {
  const figures = alarmStudyFigures(nights);
  const { wakes } = figures;
  const late = announcedOf(nights, "dew").filter(({ leadH }) => leadH === null || leadH < 1);
  return [
    `${title}: ${figures.nights} nights watched, a coat laid in the afternoon of each by a crew that does not look at the night`,
    leadLine("dew on the film for 15 min", figures.dew, "   goal 100 % an hour before"),
    leadLine("margin below its limit for 15 min", figures.below, ""),
    leadLine("too cold to cure for an hour", figures.cold, ""),
    ...late.slice(0, 20).map(missedLine),
    `  quiet nights ${wakes.quiet}: undisturbed ${share(wakes.undisturbed, wakes.quiet)}, wakes a night ${wakes.aNight.toFixed(2)}, ` +
      `most ${wakes.most}, more than two in ${wakes.moreThanTwo}   goal <= 2 in each`,
    `    woken by: ${kinds(wakes.wakesByKind)}`,
    `    told by: ${kinds(wakes.toldByKind)}`,
    `  all nights: wakes a night ${figures.wakesANight.toFixed(2)}`,
    "",
  ].join("\n");
}
