// The command that measures decisions against simulated truth: hundreds of sampled nights of real weather, judged and scored.
import { writeFileSync } from "node:fs";
import { parseArgs } from "node:util";
import { alarmStudy } from "./alarms/study.ts";
import { pairsANight } from "./injected/cases.ts";
import { injectedStudy } from "./injected/study.ts";
import { runStudy } from "./study/run.ts";
import { workersHere } from "./study/processes.ts";
import type { StudyMoment } from "./study/moment.ts";
import { comeBackFigures, nightFigures, pourFigures } from "./study/summary.ts";
import { tableOf } from "./study/table.ts";

const HELP = `Plays sampled nights of real weather over simulated floors, judges them, and scores the calls against what was truly so.
Then injects each fault of a node, alone and in pairs, and judges the same night with it and without; and lays a coat in
the afternoon as a crew would that does not look at the night, to see what alarms announce and whom they wake for nothing.

  npm run study
  npm run study -- --quick --by

  --nights N      nights in each of the two sets, sound and with faulty nodes (default 330)
  --seed S        whole number from which all is drawn (default 1)
  --faults        only the set with a faulty node in a third of its nights
  --sound         only the set without faults
  --injected      only the injected faults; --nights is then their number (default 200, quick 24)
  --alarms        only the alarms; --nights is then their number (default 330, quick 48)
  --asks N        moments judged for each injected fault (default 3)
  --night N       of the injected nights this one alone, with all its moments as JSON lines
  --turned DIR    night files of calls that an injected fault turned into pour, with the fault and without
  --by            also split by what is known outdoors, by heat, by stage and by fault
  --quick         48 nights in each set
  --json FILE     figures as JSON
  --moments FILE  one JSON line for each moment asked
  --weather DIR   weather series (default tests/reference/weather)
  --workers N     processes (default: one a processor); the outcome does not depend on it
  --help          this text

Exit code 0 whenever it ran: it measures, it does not judge.
`;

function wholeNumber(name: string, text: string, least: number): number {
  const value = Number(text);
  if (!Number.isInteger(value) || value < least)
    throw new RangeError(`--${name}: must be a whole number from ${least}`);
  return value;
}

const figuresOf = (moments: readonly StudyMoment[]) => ({
  moments: moments.length,
  comfortable: moments.filter(({ truth }) => truth.comfortable).length,
  fit: moments.filter(({ truth }) => truth.fit).length,
  ours: pourFigures(moments, "ours"),
  present: pourFigures(moments, "present"),
  yesterday: pourFigures(moments, "yesterday"),
  night: nightFigures(moments),
  comeBack: comeBackFigures(moments),
});

async function main(): Promise<void> {
  const { values } = parseArgs({
    options: {
      nights: { type: "string" },
      seed: { type: "string", default: "1" },
      faults: { type: "boolean", default: false },
      sound: { type: "boolean", default: false },
      injected: { type: "boolean", default: false },
      alarms: { type: "boolean", default: false },
      asks: { type: "string", default: "3" },
      night: { type: "string" },
      turned: { type: "string" },
      by: { type: "boolean", default: false },
      quick: { type: "boolean", default: false },
      json: { type: "string" },
      moments: { type: "string" },
      weather: { type: "string", default: "tests/reference/weather" },
      workers: { type: "string" },
      help: { type: "boolean", default: false },
    },
  });
  if (values.help) {
    process.stdout.write(HELP);
    return;
  }
  const nights = wholeNumber("nights", values.nights ?? (values.quick ? "48" : "330"), 1);
  const seed = wholeNumber("seed", values.seed, 0);
  const workers = values.workers === undefined ? workersHere() : wholeNumber("workers", values.workers, 0);
  const parts = values.injected || values.alarms;
  const sets = [
    ...(values.faults || parts ? [] : [{ name: "sound", faults: false }]),
    ...(values.sound || parts ? [] : [{ name: "faults in a third of nights", faults: true }]),
  ];
  if (sets.length === 0 && !parts) throw new RangeError("--faults and --sound leave nothing to run");
  const figures: Record<string, object> = {};
  const lines: string[] = [];
  for (const { name, faults } of sets) {
    const moments = await runStudy({ weather: values.weather, seed, nights, faults, workers }, (done) => {
      if (done % 10 === 0 || done === nights) process.stderr.write(`${name}: ${done} of ${nights} nights\n`);
    });
    process.stdout.write(`${tableOf(`seed ${seed}, ${name}`, moments, values.by)}\n`);
    figures[faults ? "faults" : "sound"] = figuresOf(moments);
    for (const moment of moments) lines.push(JSON.stringify({ set: faults ? "faults" : "sound", ...moment }));
  }
  if (values.injected || !(values.faults || values.sound || values.alarms)) {
    const injected = wholeNumber(
      "nights",
      (values.injected ? values.nights : undefined) ?? (values.quick ? "24" : "200"),
      1,
    );
    figures["injected"] = await injectedStudy({
      weather: values.weather,
      seed,
      nights: injected,
      asks: wholeNumber("asks", values.asks, 1),
      pairs: pairsANight(injected),
      workers,
      only: values.night === undefined ? null : wholeNumber("night", values.night, 0),
      turnedFolder: values.turned ?? null,
    });
  }
  if (values.alarms || !(values.faults || values.sound || values.injected)) {
    const asked = (values.alarms ? values.nights : undefined) ?? (values.quick ? "48" : "330");
    figures["alarms"] = await alarmStudy({
      weather: values.weather,
      seed,
      nights: wholeNumber("nights", asked, 1),
      faults: values.faults,
      workers,
      stepMin: 15,
    });
  }
  if (values.json !== undefined)
    writeFileSync(values.json, `${JSON.stringify({ seed, nights, ...figures }, null, 2)}\n`);
  if (values.moments !== undefined) writeFileSync(values.moments, `${lines.join("\n")}\n`);
}

try {
  await main();
} catch (error) {
  process.stderr.write(`study: ${error instanceof Error ? error.message : String(error)}\n`);
  process.exitCode = 2;
}
