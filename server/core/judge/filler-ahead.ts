// When crack filler gets hard in each future that the outlook knows.
import { hardCurve } from "#core/cure/curve.ts";
import { type RateTable, rateAt, rateTable } from "#core/cure/rate-table.ts";
import type { Outlook, OutlookMember } from "#core/outlook/outlook.ts";
import type { FillerState } from "#core/zone/filler.ts";

const HOUR_MS = 3_600_000;

interface Left {
  readonly share: number;
  readonly rates: RateTable;
}

export interface FillerAhead {
  /** When all filler is hard in a member, epoch ms; Infinity if not within the outlook. */
  hardMs(member: OutlookMember): number;
}

export function fillerAhead(filler: FillerState | null, outlook: Outlook): FillerAhead {
  if (filler === null) return { hardMs: () => Number.NEGATIVE_INFINITY };
  if (filler.unknownSheet) return { hardMs: () => Number.POSITIVE_INFINITY };
  const typedMs = filler.typedHardMs ?? Number.NEGATIVE_INFINITY;
  const soft: Left[] = filler.earning
    .filter(({ share }) => share < 1)
    .map(({ sheet, share }) => ({ share, rates: rateTable(hardCurve(sheet)) }));
  return { hardMs: (member) => Math.max(typedMs, ...soft.map((left) => hardIn(left, member, outlook))) };
}

function hardIn({ share, rates }: Left, { slabColdC }: OutlookMember, { fromMs, stepMs, steps }: Outlook): number {
  let earned = share;
  for (let step = 1; step < steps; step++) {
    const before = rateAt(rates, slabColdC[step - 1] as number);
    const after = rateAt(rates, slabColdC[step] as number);
    earned += ((before + after) / 2) * (stepMs / HOUR_MS);
    if (earned >= 1) return fromMs + step * stepMs;
  }
  return Number.POSITIVE_INFINITY;
}
