// Time of the judge: a call from scratch over the night files of the trade and on a long log, a late packet, and a look again.
import { caseFiles, casesFolder } from "../support/cases.ts";
import { startChild } from "./child.ts";
import { atMost, type Figure } from "./figure.ts";
import type { Looked, LooksWish, Timed } from "./judge-child.ts";
import type { Sizes } from "./sizes.ts";
import { median, quantile, rangeText, shown } from "./stats.ts";

interface Round {
  readonly looked: Looked;
  readonly nights: Timed;
  readonly long: Timed;
  readonly longKnown: Timed;
  readonly late: Timed;
  readonly lateKnown: Timed;
}

export interface Judging {
  /** Times everything once; the process stays, and with it what it has compiled. */
  round(): Promise<void>;
  figures(): Figure[];
  end(): Promise<void>;
}

/** So many times as many looks are not timed before the first round: what has just been started runs slower. */
const WARM_LOOKS = 4;
const LOG = "call of a zone, 54 h at one a minute, 3 probes";
const LATE = "judge, a late packet that rewrites 48 h";

/** Who shares the machine can only lengthen a time, and comes and goes: the round in which it was least is nearest to the truth. */
function figure(what: string, rounds: readonly Timed[], goalUs?: number, also = ""): Figure {
  const medians = rounds.map(({ timesUs }) => median(timesUs));
  const value = Math.min(...medians);
  const { timesUs, cpuUs, paceUs } = rounds[medians.indexOf(value)] as Timed;
  const [p90, p99] = [0.9, 0.99].map((share) => shown(quantile(timesUs, share)));
  const all = rounds.length < 2 ? "" : `; rounds ${rangeText(medians)}`;
  return {
    ...{ what, value, unit: "us", n: timesUs.length },
    spread: `p90 ${p90}, p99 ${p99}, mean computing time ${shown(cpuUs)}${also}${all}`,
    peer: { what: "fixed arithmetic in between", value: paceUs },
    ...(goalUs === undefined ? {} : { goal: atMost(goalUs) }),
  };
}

export async function startJudging({ judgePasses, longLogRuns: runs }: Sizes): Promise<Judging> {
  const child = await startChild("judge");
  const files = caseFiles.map((name) => casesFolder + name);
  const rounds: Round[] = [];
  const of = <T extends Timed>(key: keyof Round) => rounds.map((round) => round[key] as T);
  return {
    async round() {
      const minutes = Math.ceil(runs / 5);
      const looks: LooksWish = { minutes, warmMinutes: rounds.length === 0 ? WARM_LOOKS * minutes : 0 };
      const known = { runs, outdoors: true };
      const plain = { runs, outdoors: false };
      rounds.push({
        looked: await child.ask<Looked>("looks", looks),
        nights: await child.ask<Timed>("nights", { files, passes: judgePasses }),
        long: await child.ask<Timed>("long", plain),
        longKnown: await child.ask<Timed>("long", known),
        late: await child.ask<Timed>("late", plain),
        lateKnown: await child.ask<Timed>("late", known),
      });
    },
    figures() {
      const looked = of<Looked>("looked");
      const anew = looked.reduce((sum, one) => sum + one.anew, 0);
      return [
        figure("judge, a packet looked at again", looked, 50, `, judged anew ${anew}`),
        figure(`call of a zone, ${caseFiles.length} night files`, of("nights")),
        figure(LOG, of("long")),
        figure("call of a zone, the same with known outdoors", of("longKnown")),
        figure(LATE, of("late"), 20_000),
        figure("judge, the same with known outdoors", of("lateKnown"), 20_000),
      ];
    },
    end: () => child.end(),
  };
}
