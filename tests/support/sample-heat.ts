// The made-up site's answer to what heat would do: more power is sooner warm, 25 kW saves the boiler room. All numbers invented.
import type { HeatChoiceBody, HeatPlanBody, HeatQuestionBody } from "#contract/heat-plan.ts";
import { plots } from "./sample-night.ts";
import { H, iso, NIGHT_AT } from "./sample-plot.ts";

const STEPS = 73;
const STEP_H = 0.5;
const round = (value: number) => Math.round(value * 100) / 100;
const hours = Array.from({ length: STEPS }, (_, index) => index * STEP_H);

interface Run {
  readonly plan: HeatChoiceBody["plan"];
  readonly fromH: number | null;
  readonly toH: number | null;
}

export function sampleHeatPlan(
  zone: string,
  question: HeatQuestionBody,
  at = Date.parse(NIGHT_AT),
): HeatPlanBody | null {
  const plot = plots(at).find((one) => one.id === zone);
  if (plot === undefined || plot.ahead === null) return null;
  const { kW, fuel, vented } = question.heater;
  const fromH = question.from === undefined ? 6 : (Date.parse(question.from) - at) / H;
  const fan = (likelyH: number, wideH: number) => ({
    earliest: iso(at + (likelyH - wideH) * H),
    likely: iso(at + likelyH * H),
    latest: iso(at + (likelyH + wideH) * H),
    chance: 1,
  });
  const racing = zone === "boiler";
  const choice = ({ plan, fromH: onH, toH: offH }: Run): HeatChoiceBody => {
    const ranH = (h: number) => (onH === null ? 0 : Math.max(0, Math.min(h, offH ?? h) - onH));
    const cold = (h: number) => 11.4 - 1.6 * Math.sin((h / 26) * Math.PI);
    const lift = Math.max(0, question.targetC - 11) * Math.min(1, kW / 60);
    const slab = (h: number) => {
      const fallen = offH === null || h <= offH ? 1 : Math.exp(-(h - offH) / 8);
      return cold(h) + lift * (1 - Math.exp(-ranH(h) / 7)) * fallen;
    };
    const wet = vented || fuel === "electric" ? 0 : 2.2;
    const dew = (h: number) => 5.8 - 0.5 * Math.sin(h / 5) + wet * (1 - Math.exp(-ranH(h) / 2));
    const slabs = hours.map((h) => round(slab(h)));
    const dews = hours.map((h) => round(dew(h)));
    const margins = hours.map((_, index) => round((slabs[index] as number) - (dews[index] as number)));
    const lowest = Math.min(...margins);
    const reaches = slabs.findIndex((c) => onH !== null && c >= question.targetC);
    const sooner = onH === null ? 0 : Math.min(3.4, (kW / 25) * 2.3) * Math.exp(-onH / 6);
    const chanceLost = racing ? round(Math.min(0.95, Math.max(0.03, 0.83 - 0.35 * sooner))) : 0.08;
    const kWh = kW * 0.6 * ranH(36);
    const burns = fuel !== "electric" && fuel !== "other";
    return {
      plan,
      from: onH === null ? null : iso(at + onH * H),
      to: onH === null || offH === null ? null : iso(at + offH * H),
      targetC: onH === null ? null : question.targetC,
      airReachesTargetAt: onH === null ? null : iso(at + (onH + 1.5) * H),
      slabReachesTargetAt: reaches < 0 ? null : iso(at + (hours[reaches] ?? 0) * H),
      slabAfterC: [4, 8, 12, 24].map((h) => ({ hours: h, slabC: round(slab(h)) })),
      highestSlabC: Math.max(...slabs),
      lowestMarginK: [round(lowest - 0.9), lowest, round(lowest + 0.8)],
      lowestMarginAt: iso(at + (hours[margins.indexOf(lowest)] ?? 0) * H),
      film: racing
        ? {
            opens: fan(6.2 - sooner, 1),
            closes: fan(4.2 - 0.05 * sooner, 0.5),
            dewSafe: fan(5.3 - sooner, 0.8),
            walkOn: fan(8.8 - sooner, 1.4),
            chanceLost,
          }
        : null,
      pour:
        chanceLost > 0.5
          ? null
          : {
              earliest: iso(at + (5.1 - sooner) * H),
              likely: iso(at + (6.2 - sooner) * H),
              latestStartAt: racing ? iso(at + 3.1 * H) : null,
              chance: round(1 - chanceLost),
            },
      callNow: plot.call,
      savesWindow: racing && onH !== null && chanceLost < 0.1,
      heatKWh: Math.round(kWh),
      fuel:
        onH === null || !burns
          ? null
          : { kg: round(kWh * 0.078), litres: fuel === "natural-gas" ? null : round(kWh * 0.15) },
      waterKg: wet === 0 ? 0 : round(kWh * 0.12),
      course: {
        from: iso(at),
        stepS: STEP_H * 3600,
        slabColdC: slabs,
        airC: slabs.map((c) => round(c + 3)),
        dewPointC: dews,
        marginK: margins,
      },
    };
  };
  const choices = [
    choice({ plan: "no-heat", fromH: null, toH: null }),
    choice({ plan: "heat-now", fromH: 0, toH: null }),
    choice({ plan: "heat-from", fromH, toH: null }),
    choice({ plan: "heat-then-coast", fromH: 0, toH: 9 }),
  ];
  const saving = choices
    .map((one, index) => ({ one, index }))
    .filter(({ one }) => one.savesWindow)
    .sort((a, b) => a.one.heatKWh - b.one.heatKWh)[0];
  return {
    at: iso(at),
    building: {
      basis: question.building === undefined ? "rough" : "stated",
      lossWPerK: 412,
      airChangesPerH: 0.6,
      floorM2: 382,
      heightM: 5,
    },
    choices,
    saveWindow: {
      answer: racing ? (saving === undefined ? "no" : "yes") : plot.more.film ? "holds-without-heat" : "no-film",
      choice: saving?.index ?? null,
      abrading: racing ? { areaM2: plot.areaM2, personHours: [4.1, 7.4] } : null,
    },
    cautions: [
      ...(vented || fuel === "electric" ? [] : (["unvented-fumes", "water-into-air"] as const)),
      ...(fuel === "electric" ? (["electric-circuits"] as const) : (["carbon-monoxide", "fresh-air"] as const)),
      "clearances",
      "flame-and-solvent",
    ],
  };
}
