// Time of one call from scratch: over the night files of the trade, and on a log of 54 hours at one reading a minute.
import { caseFiles, casesFolder } from "../support/cases.ts";
import { startChild } from "./child.ts";
import type { Figure } from "./figure.ts";
import type { Timed } from "./judge-child.ts";
import type { Sizes } from "./sizes.ts";
import { median, quantile, shown } from "./stats.ts";

function figure(what: string, { timesUs, cpuUs }: Timed): Figure {
  const [p90, p99] = [0.9, 0.99].map((share) => shown(quantile(timesUs, share)));
  const spread = `p90 ${p90}, p99 ${p99}, mean computing time ${shown(cpuUs)}`;
  return { what, value: median(timesUs), unit: "us", n: timesUs.length, spread, peer: null };
}

export async function measureJudge({ judgePasses, longLogRuns }: Sizes): Promise<Figure[]> {
  const child = await startChild("judge");
  try {
    const files = caseFiles.map((name) => casesFolder + name);
    const nights = await child.ask<Timed>("nights", { files, passes: judgePasses });
    const long = await child.ask<Timed>("long", longLogRuns);
    return [
      figure(`call of a zone, ${caseFiles.length} night files`, nights),
      figure("call of a zone, 54 h at one a minute, 3 probes", long),
    ];
  } finally {
    await child.end();
  }
}
