// The study as plain text: each figure beside the plain rules and beside the goal it is measured against.
import type { StudyMoment } from "./moment.ts";
import {
  type Blocker,
  blockers,
  type Caller,
  CALLERS,
  comeBackFigures,
  nightFigures,
  pourFigures,
  pours,
} from "./summary.ts";
import { quantileOf } from "./scores.ts";

const NAMES: Record<Caller, string> = { ours: "nightslab", present: "present only", yesterday: "yesterday" };
const share = (part: number, whole: number) => (whole === 0 ? "-" : `${((100 * part) / whole).toFixed(1)} %`);
const pct = (value: number) => (Number.isFinite(value) ? `${(100 * value).toFixed(1)} %` : "-");
const num = (value: number, digits: number) => (Number.isFinite(value) ? value.toFixed(digits) : "-");
const row = (name: string, cells: readonly string[], goal = "") =>
  `  ${name.padEnd(34)}${cells.map((cell) => cell.padStart(15)).join("")}${goal === "" ? "" : `   goal ${goal}`}`;

function pourLines(moments: readonly StudyMoment[]): string[] {
  const comfortable = moments.filter(({ truth }) => truth.comfortable).length;
  const fit = moments.filter(({ truth }) => truth.fit).length;
  const of = CALLERS.map((caller) => pourFigures(moments, caller));
  const cells = (say: (figures: (typeof of)[number]) => string) => of.map(say);
  return [
    row(
      "",
      CALLERS.map((caller) => NAMES[caller]),
    ),
    row(
      "pours called",
      cells((each) => String(each.pours)),
    ),
    row(
      "hard false pours",
      cells((each) => String(each.hard)),
      "0",
    ),
    row(
      "soft false pours",
      cells((each) => `${each.soft} ${share(each.soft, each.pours)}`),
      "<= 2 %",
    ),
    row(
      `comfortable (${comfortable}) missed`,
      cells((each) => `${each.comfortableMissed} ${share(each.comfortableMissed, comfortable)}`),
      "<= 4 %",
    ),
    row(
      `fit (${fit}) called pour`,
      cells((each) => `${each.fitCalled} ${share(each.fitCalled, fit)}`),
      ">= 88 %",
    ),
  ];
}

function blockerLines(title: string, found: readonly Blocker[]): string[] {
  if (found.length === 0) return [];
  return [
    `  ${title}: rule, limiting, stopping at all`,
    ...found
      .slice(0, 14)
      .map(
        ({ rule, limiting, stops }) =>
          `    ${rule.padEnd(18)}${String(limiting).padStart(6)}${String(stops).padStart(6)}`,
      ),
  ];
}

function hardLines(moments: readonly StudyMoment[]): string[] {
  const hard = moments.filter((moment) => pours(moment, "ours") && moment.truth.hard.length > 0);
  return hard.map(
    (moment) =>
      `    night ${moment.night} (${moment.title}) ask ${new Date(moment.askMs).toISOString().slice(0, 16)}Z ` +
      `${moment.stage} ${moment.floor} heat ${moment.heat}${moment.heatLogged ? " logged" : ""} outdoors ${moment.outdoor}` +
      `${moment.fault === null ? "" : ` fault ${moment.fault}`}: ${moment.truth.hard.join(", ")}; ` +
      `told ${num(moment.chanceHolds ?? Number.NaN, 2)}, lowest ${moment.lowestMarginK?.map((each) => each.toFixed(1)).join("/") ?? "-"} truly ${moment.truth.lowestMarginK.toFixed(1)}`,
  );
}

function problemLines(moments: readonly StudyMoment[]): string[] {
  const failed = moments.filter(({ problem }) => problem !== null);
  const first = failed[0];
  if (first === undefined) return [];
  const at = `night ${first.night} ask ${new Date(first.askMs).toISOString().slice(0, 16)}Z`;
  return [`  judging failed at ${failed.length} moments, first ${at}: ${first.problem ?? ""}`];
}

function nightLines(moments: readonly StudyMoment[]): string[] {
  const figures = nightFigures(moments);
  if (figures.cases === 0) return ["  no moment with a night"];
  return [
    `  ${figures.cases} moments with a night; ${pct(figures.holds)} of the nights held`,
    row("Brier score", [num(figures.brier, 4), num(figures.brierPresent, 4), num(figures.brierYesterday, 4)]),
    row("Brier, mean of the two plain rules", ["", num(figures.brierBoth, 4)]),
    row("better than that mean by", [pct(figures.improvement)], ">= 25 %"),
    row("skill against the nights' own rate", [pct(figures.skillClimate)]),
    row("10-90 % interval holds the lowest", [`${pct(figures.coverage.share)}`], "75-88 %"),
    row("  lowest below it, above it", [pct(figures.below), pct(figures.above)]),
    row("  mean width, K", [num(figures.widthK, 2)], "<= 2.5"),
    row("  mean interval score, K", [num(figures.scoreK, 2)]),
    "  chance told    cases    told    seen",
    ...figures.reliability
      .filter(({ count }) => count > 0)
      .map(
        ({ from, to, count, told, seen }) =>
          `    ${from.toFixed(1)}-${to.toFixed(1)} ${String(count).padStart(10)}${told.toFixed(2).padStart(8)}${seen.toFixed(2).padStart(8)}` +
          (count >= 20 && Math.abs(told - seen) > 0.1 ? "   more than 0.1 apart" : ""),
      ),
  ];
}

function comeBackLines(moments: readonly StudyMoment[]): string[] {
  const figures = comeBackFigures(moments);
  return [
    row(
      `come-backs (${figures.cases}) announced`,
      [`${figures.told} ${share(figures.told, figures.cases)}`],
      ">= 85 %",
    ),
    row("|likely - truth|, median, min", [num(figures.medianMin, 0)], "<= 30"),
    row("  likely - truth, median, min", [num(figures.medianLateMin, 0)]),
    row("within 90 min", [pct(figures.near)], ">= 80 %"),
    row("earliest not after truth", [pct(figures.earliestHolds)], ">= 90 %"),
    ...blockerLines("not announced", figures.untold),
  ];
}

function groupLines(title: string, moments: readonly StudyMoment[], key: (moment: StudyMoment) => string): string[] {
  const names = [...new Set(moments.map(key))].sort();
  const head = ["pours", "hard", "soft", "comf. missed", "fit called", "better by", "coverage", "width", "announced"];
  return [
    `  by ${title.padEnd(16)}${head.map((cell) => cell.padStart(15)).join("")}`,
    ...names.map((name) => {
      const part = moments.filter((moment) => key(moment) === name);
      const ours = pourFigures(part, "ours");
      const night = nightFigures(part);
      const back = comeBackFigures(part);
      const fit = part.filter(({ truth }) => truth.fit).length;
      const comfortable = part.filter(({ truth }) => truth.comfortable).length;
      const cells = [
        String(ours.pours),
        String(ours.hard),
        share(ours.soft, ours.pours),
        `${ours.comfortableMissed}/${comfortable} ${share(ours.comfortableMissed, comfortable)}`,
        `${share(ours.fitCalled, fit)}`,
        pct(night.improvement),
        pct(night.coverage.share),
        num(night.widthK, 2),
        `${share(back.told, back.cases)}`,
      ];
      return `     ${name.padEnd(16)}${cells.map((cell) => cell.padStart(15)).join("")}`;
    }),
  ];
}

/** One table of one set of nights. `by`: split it by what was known outdoors, by heat, by stage and by fault. */
export function tableOf(title: string, moments: readonly StudyMoment[], by: boolean): string {
  const nights = new Set(moments.map(({ night }) => night)).size;
  const tookMs = moments.map((moment) => moment.tookMs);
  const faulty = moments.some(({ fault }) => fault !== null);
  const sound = moments.filter(({ faultAtWork }) => !faultAtWork);
  const soundComfortable = sound.filter(({ truth }) => truth.comfortable);
  const soundMissed = soundComfortable.filter(({ call }) => call !== "pour").length;
  return [
    `${title}: ${nights} nights, ${moments.length} moments`,
    ...pourLines(moments),
    ...(faulty
      ? [
          row(`  no fault at work (${soundComfortable.length}) missed`, [
            `${soundMissed} ${share(soundMissed, soundComfortable.length)}`,
          ]),
        ]
      : []),
    ...hardLines(moments),
    ...problemLines(moments),
    ...blockerLines("comfortable and not called", blockers(moments.filter(({ truth }) => truth.comfortable))),
    ...blockerLines("fit and not called", blockers(moments.filter(({ truth }) => truth.fit))),
    "",
    ...nightLines(moments),
    "",
    ...comeBackLines(moments),
    "",
    row("a call takes, ms: median, 95 %", [num(quantileOf(tookMs, 0.5), 1), num(quantileOf(tookMs, 0.95), 1)]),
    ...(by
      ? [
          "",
          ...groupLines("outdoors", moments, ({ outdoor }) => outdoor),
          ...groupLines("heat", moments, ({ heat, heatLogged }) => `${heat}${heatLogged ? " logged" : ""}`),
          ...groupLines("stage", moments, ({ stage }) => stage),
          ...(faulty ? groupLines("fault", moments, ({ fault }) => fault ?? "none") : []),
        ]
      : []),
    "",
  ].join("\n");
}
