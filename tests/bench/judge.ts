// Time of the judge: a call from scratch over the night files of the trade and on a long log, a late packet, and a look again.
import { caseFiles, casesFolder } from "../support/cases.ts";
import { startChild } from "./child.ts";
import { atMost, type Figure } from "./figure.ts";
import type { Looked, Timed } from "./judge-child.ts";
import type { Sizes } from "./sizes.ts";
import { median, quantile, shown } from "./stats.ts";

function figure(what: string, { timesUs, cpuUs, paceUs }: Timed, goalUs?: number, also = ""): Figure {
  const [p90, p99] = [0.9, 0.99].map((share) => shown(quantile(timesUs, share)));
  const spread = `p90 ${p90}, p99 ${p99}, mean computing time ${shown(cpuUs)}${also}`;
  const peer = { what: "fixed arithmetic in between", value: paceUs };
  const goal = goalUs === undefined ? {} : { goal: atMost(goalUs) };
  return { what, value: median(timesUs), unit: "us", n: timesUs.length, spread, peer, ...goal };
}

export async function measureJudge({ judgePasses, longLogRuns: runs }: Sizes): Promise<Figure[]> {
  const child = await startChild("judge");
  try {
    const files = caseFiles.map((name) => casesFolder + name);
    const looked = await child.ask<Looked>("looks", Math.ceil(runs / 5));
    const nights = await child.ask<Timed>("nights", { files, passes: judgePasses });
    const [plain, known] = [
      { runs, outdoors: false },
      { runs, outdoors: true },
    ];
    return [
      figure("judge, a packet looked at again", looked, 50, `, judged anew ${looked.anew}`),
      figure(`call of a zone, ${caseFiles.length} night files`, nights),
      figure("call of a zone, 54 h at one a minute, 3 probes", await child.ask<Timed>("long", plain)),
      figure("call of a zone, the same with known outdoors", await child.ask<Timed>("long", known)),
      figure("judge, a late packet that rewrites 48 h", await child.ask<Timed>("late", plain), 20_000),
      figure("judge, the same with known outdoors", await child.ask<Timed>("late", known), 20_000),
    ];
  } finally {
    await child.end();
  }
}
