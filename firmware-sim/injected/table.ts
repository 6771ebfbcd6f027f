// The injected faults as plain text: what they turned and cost, which were told and how soon, and alarms without a fault.
import { doubtsOf, INJECTED_KINDS } from "./faults.ts";
import type { CaseOutcome, NightOutcome, TwinMoment } from "./outcome.ts";
import {
  alarmFigures,
  alone,
  type CallFigures,
  callFigures,
  inPairs,
  toldFigures,
  turned,
  wasTold,
} from "./summary.ts";

const share = (part: number, whole: number) => (whole === 0 ? "-" : `${((100 * part) / whole).toFixed(1)} %`);
const row = (name: string, cells: readonly string[]) =>
  `  ${name.padEnd(28)}${cells.map((cell) => cell.padStart(11)).join("")}`;
const minuteOf = (atMs: number) => `${new Date(atMs).toISOString().slice(0, 16)}Z`;

function turnedLine(each: CaseOutcome, moment: TwinMoment): string {
  const { night, title, labels, on, index, fromMs, toMs } = each;
  const change =
    moment.marginK === null ? "" : `, margin ${moment.marginK >= 0 ? "+" : ""}${moment.marginK.toFixed(2)} K`;
  const truly =
    moment.hard.length > 0 ? moment.hard.join(", ") : moment.soft ? "soft false" : moment.fit ? "fit" : "not fit";
  return (
    `    night ${night} case ${index} (${title}) ${labels.join(" + ")} on ${on.join(", ")} ` +
    `${minuteOf(fromMs)} to ${minuteOf(toMs)}, ask ${minuteOf(moment.askMs)}: ` +
    `${moment.clean} (${moment.cleanLimiting ?? "-"}) became pour${change}; ` +
    `${wasTold(each, moment) ? "told" : "not told"}; truly ${truly}`
  );
}

const turnedLines = (cases: readonly CaseOutcome[]) =>
  cases.flatMap((each) => each.moments.filter(turned).map((moment) => turnedLine(each, moment)));

function callLines(name: string, cases: readonly CaseOutcome[], figures: CallFigures, goal: boolean): string[] {
  const both = (all: number, too: number) => (all === 0 ? "0" : `${all}, of which ${too} without the fault too`);
  const { moments, lost, comfortable, lostBlind, comfortableBlind, lostUnwatched, comfortableUnwatched } = figures;
  const { turnedHard, turnedSoft, lostSeen, comfortableSeen } = figures;
  return [
    `  ${name}: ${cases.length} nights with and without, ${moments} moments`,
    `    turned into pour     ${figures.turned}${goal ? "   goal 0" : ""}`,
    ...(figures.turned === 0
      ? []
      : [
          `      by a fault that was told ${figures.turnedTold}, by one that nothing told ${figures.turned - figures.turnedTold}`,
        ]),
    `      and truly failed   ${turnedHard}${goal ? "   goal 0" : ""}; crossed a limit by a little ${turnedSoft}`,
    `    comfortable lost     ${lost} of ${comfortable}, ${share(lost, comfortable)}`,
    `      nothing else could judge it   ${lostBlind} of ${comfortableBlind}`,
    `      it had gone unwatched         ${lostUnwatched} of ${comfortableUnwatched}`,
    `      others could all the time     ${lostSeen} of ${comfortableSeen}, ${share(lostSeen, comfortableSeen)}${goal ? "   goal <= 10 %" : ""}`,
    ...(figures.lostTo.length === 0
      ? []
      : [`        to ${figures.lostTo.map(([rule, count]) => `${rule} ${count}`).join(", ")}`]),
    `    pours ${figures.pours}: hard false ${both(figures.hard, figures.hardBoth)}; soft false ${both(figures.soft, figures.softBoth)}`,
    ...turnedLines(cases),
  ];
}

const of = (lost: number, all: number) => (all === 0 ? "-" : `${lost}/${all}`);

/** Doubts of the nights without a fault that a kind is told by. */
function alarmsOf(kinds: readonly string[], nights: readonly NightOutcome[]): number {
  const names = INJECTED_KINDS.filter((kind) => kinds.includes(kind)).flatMap(doubtsOf);
  return nights.flatMap(({ alarms }) => alarms).filter(({ kind }) => names.includes(kind)).length;
}

function kindLines(cases: readonly CaseOutcome[], nights: readonly NightOutcome[]): string[] {
  const labels = [...new Set(cases.map((each) => each.labels[0] ?? ""))].sort();
  const head = ["nights", "told", "by doubt", "median h", "alarms", "untold:", "no matter", "stricter", "hopeful"];
  return [
    row("each alone", [...head, "most K", "turned", "failed", "lost blind", "after gap", "seen", "soft"]),
    ...labels.map((label) => {
      const each = cases.filter(({ labels: [first] }) => first === label);
      const told = toldFigures(each);
      const calls = callFigures(each);
      return row(label, [
        String(told.cases),
        share(told.told, told.cases),
        String(told.byDoubt),
        told.told === 0 ? "-" : told.medianH.toFixed(2),
        String(
          alarmsOf(
            each.flatMap(({ kinds }) => kinds),
            nights,
          ),
        ),
        String(told.cases - told.told),
        String(told.nothing),
        String(told.stricter),
        String(told.hopeful),
        told.mostHopefulK.toFixed(1),
        String(calls.turned),
        String(calls.turnedHard),
        of(calls.lostBlind, calls.comfortableBlind),
        of(calls.lostUnwatched, calls.comfortableUnwatched),
        of(calls.lostSeen, calls.comfortableSeen),
        `${calls.soft - calls.softBoth}`,
      ]);
    }),
  ];
}

function alarmLines(nights: readonly NightOutcome[]): string[] {
  const { probeNights, byKind } = alarmFigures(nights);
  const of = (count: number) => (count === 0 ? "none" : `${count}, 1 in ${Math.round(probeNights / count)}`);
  const all = byKind.reduce((sum, [, count]) => sum + count, 0);
  return [
    `  doubts on the nights without a fault: ${of(all)} of ${probeNights} probe-nights   goal <= 1 in 200`,
    ...byKind.map(([kind, count]) => `    ${kind.padEnd(18)}${of(count)}`),
    ...nights
      .filter(({ alarms }) => alarms.length > 0)
      .slice(0, 20)
      .map(
        ({ night, alarms }) => `    night ${night}: ${alarms.map(({ probe, kind }) => `${probe} ${kind}`).join(", ")}`,
      ),
  ];
}

/** All of it in one table. */
export function injectedTable(title: string, nights: readonly NightOutcome[]): string {
  const [one, two] = [alone(nights), inPairs(nights)];
  const pairs = new Set(two.map(({ kinds }) => kinds.join("+"))).size;
  return [
    `${title}: ${nights.length} nights, ${one.length + two.length} faults injected, ${pairs} different pairs`,
    ...callLines("a fault alone", one, callFigures(one), true),
    ...callLines("two faults at once", two, callFigures(two), false),
    "",
    ...kindLines(one, nights),
    "",
    ...alarmLines(nights),
    "",
  ].join("\n");
}
