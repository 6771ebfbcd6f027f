// From the state of a zone and its outlook to the facts that rules look at.
import { frostPointFromDewPointC } from "#core/air/dew-point.ts";
import { sheetDoubts } from "#core/cure/sheet-check.ts";
import type { Sheet } from "#core/cure/sheet.ts";
import { isConfirmed } from "#core/cure/sheet-versions.ts";
import type { Facts, SheetLimitsNow, Soon } from "#core/judge/facts.ts";
import type { Prospect } from "#core/judge/prospect.ts";
import type { Reach } from "#core/judge/reach.ts";
import { abradedMsOf, blushOf, dustOf } from "#core/judge/surface-work.ts";
import { goodMinOf, goodTimeOf } from "#core/judge/sustained.ts";
import type { Outlook } from "#core/outlook/outlook.ts";
import { weightedQuantile } from "#core/outlook/quantile.ts";
import { type Conditions, handConditions } from "#core/zone/conditions.ts";
import { fillerLeftH } from "#core/zone/filler.ts";
import type { ZoneRecord } from "#core/zone/record.ts";
import type { ZoneState } from "#core/zone/state.ts";

const HOUR_MS = 3_600_000;
const MINUTE_MS = 60_000;
/** A pour that was started and never closed is unknown floor after this. Common practice, no source. */
const POUR_LONGEST_H = 12;
/** Findings count from this moment on a bare slab: since ever. */
const EVER_MS = Number.NEGATIVE_INFINITY;

function sheetDoubt(record: ZoneRecord): string | null {
  const coats = [record.film?.sheet ?? null, ...record.system.slice((record.film?.coat ?? -1) + 1)];
  const judged = [...coats, ...record.fillings.map(({ sheet }) => sheet)].filter((sheet) => sheet !== null);
  for (const sheet of judged) {
    const doubt = sheetDoubts(sheet)[0];
    if (doubt !== undefined) return `${sheet.id}: ${doubt.field} ${doubt.reason}`;
  }
  const filler = coats.find((sheet) => sheet?.kind === "filler") ?? null;
  if (filler !== null) return `${filler.id}: kind is no coat`;
  const unread = judged.find((sheet) => !isConfirmed(sheet));
  return unread === undefined ? null : `${unread.id}: unconfirmed`;
}

function recordGap(record: ZoneRecord, nowMs: number): string | null {
  if (record.film !== null && record.film.sheet === null) return "film-unknown";
  if (record.nextCoat !== null && (record.system[record.nextCoat] ?? null) === null) return "sheet-unknown";
  if (record.pouring !== null && nowMs - record.pouring.atMs > POUR_LONGEST_H * HOUR_MS) return "pour-not-closed";
  if (record.film === null && record.abraded.length === 0) return "not-ground";
  return null;
}

/** The limits that govern now: the next coat's, with the film's margin limit while it is sensitive. */
export function limitsOf(state: ZoneState): SheetLimitsNow | null {
  const { record, film, sensitive } = state;
  const next = record.nextCoat === null ? null : (record.system[record.nextCoat] ?? null);
  const filmLimitK = film !== null && sensitive ? film.sheet.limits.dewMarginK : 0;
  // After the last coat its own limits go on.
  const sheet: Sheet | null = next ?? (record.nextCoat === null ? (film?.sheet ?? null) : null);
  if (sheet === null) return null;
  return { ...sheet.limits, dewMarginK: Math.max(sheet.limits.dewMarginK, filmLimitK) };
}

function latestPerSpot(record: ZoneRecord, method: "F2170" | "F1869"): number | null {
  const bySpot = new Map<string, number>();
  for (const test of record.tested) {
    const value = method === "F2170" ? test.rhPct : test.mverLb;
    if (test.method === method && value !== undefined) bySpot.set(test.spot ?? "", value);
  }
  return bySpot.size > 0 ? Math.max(...bySpot.values()) : null;
}

function soonOf(outlook: Outlook | null, { soon }: Reach): Soon | null {
  if (outlook === null) return null;
  const weights = outlook.members.map((member) => member.weight);
  const middle = (lows: Float64Array) => weightedQuantile(lows, weights, 0.5);
  return {
    slabColdC: middle(soon.slabColdC),
    slabHotC: -middle(soon.turnedSlabHotC),
    airMinC: middle(soon.airC),
    airMaxC: -middle(soon.turnedAirC),
    marginK: middle(soon.marginK),
  };
}

function handMarginOf(state: ZoneState): number | null {
  return state.hand === null ? null : handConditions(state.hand, state.log.altitudeM, state.moment.nowMs).marginK;
}

/** Age of the latest hand reading of the resin, and its value. */
function resinOf(
  record: ZoneRecord,
  nowMs: number,
): { readonly resinC: number | null; readonly resinAgeMin: number | null } {
  const last = record.measured.filter((entry) => entry.resinC !== undefined).at(-1);
  return last?.resinC === undefined
    ? { resinC: null, resinAgeMin: null }
    : { resinC: last.resinC, resinAgeMin: (nowMs - last.atMs) / MINUTE_MS };
}

function foundFilm(state: ZoneState): { readonly softMs: number | null; readonly hard: boolean } {
  const fromMs = state.film?.record.fromMs ?? Number.POSITIVE_INFINITY;
  const last = state.record.inspected.filter((entry) => entry.film !== undefined && entry.atMs >= fromMs).at(-1);
  return { softMs: last?.film === "soft" ? last.atMs : null, hard: last?.film === "hard" };
}

/** What the conditions say; a judging and a look at it take them from here. */
export function conditionFacts(conditions: Conditions) {
  return {
    frostPointC: conditions.dewPointC === null ? null : frostPointFromDewPointC(conditions.dewPointC),
    slabColdC: conditions.slabColdC,
    slabHotC: conditions.slabHotC,
    coldProbe: conditions.coldProbe,
    hotProbe: conditions.hotProbe,
    airMinC: conditions.airMinC,
    airMaxC: conditions.airMaxC,
    rhMinPct: conditions.rhMinPct,
    rhMaxPct: conditions.rhMaxPct,
    waterGPerKg: conditions.waterGPerKg,
    waterMaxGPerKg: conditions.waterMaxGPerKg,
    dewPointC: conditions.dewPointC,
    marginK: conditions.marginK,
    marginUncertaintyK: conditions.marginUncertaintyK,
    slopeKPerH: conditions.slopeKPerH,
    slopeProbe: conditions.slopeProbe,
  } satisfies Partial<Facts>;
}

/** All facts of a zone at the moment of its state. */
export function factsOf(state: ZoneState, outlook: Outlook | null, prospect: Prospect): Facts {
  const { record, film, exposure, conditions, water } = state;
  const { nowMs } = state.moment;
  const limits = limitsOf(state);
  const found = foundFilm(state);
  const blush = film === null || exposure === null ? null : blushOf(record, film, exposure);
  const dust = dustOf(record, film?.record.toMs ?? EVER_MS);
  const abradedMs = abradedMsOf(record, film);
  const laid = state.probes.slab.filter((probe) => probe.retiredMs > nowMs);
  const everHeard = laid.filter((probe) => probe.track.atMs.length > 0);
  const neverHeard = laid.find((probe) => probe.track.atMs.length === 0);
  const live = state.slabVoices > 0 && state.airVoices > 0 && state.unknownVote === null;
  return {
    nowMs,
    pouring: record.pouring !== null,
    finished: record.film !== null && record.nextCoat === null,
    slabProbes: everHeard.length,
    airChips: state.probes.chips.filter((chip) => chip.retiredMs > nowMs && chip.dewPoint.atMs.length > 0).length,
    slabVoices: state.slabVoices,
    airVoices: state.airVoices,
    slabAgeMin: state.slabAgeMs === null ? null : state.slabAgeMs / MINUTE_MS,
    airAgeMin: state.airAgeMs === null ? null : state.airAgeMs / MINUTE_MS,
    staleAfterMin: state.staleAfterMs / MINUTE_MS,
    handStandsIn: !live && state.hand !== null,
    unknownVote: state.unknownVote ?? neverHeard?.name ?? null,
    doubts: state.trust.doubts,
    sheetDoubt: sheetDoubt(record),
    recordGap: recordGap(record, nowMs),
    heldSinceMs: record.held?.atMs ?? null,
    fillerHardInH: state.filler === null ? null : fillerLeftH(state.filler, conditions.slabColdC, nowMs),
    fillerEstimated: state.filler?.earning.some(({ estimated }) => estimated) ?? false,
    film: film !== null,
    recoatEarned: film?.recoat.share ?? null,
    recoatEstimated: film?.recoat.estimated ?? false,
    foundSoftMs: found.softMs,
    foundHard: found.hard,
    sensitive: state.sensitive,
    closedSinceMs: film?.closing.closesMs ?? null,
    abradedH: abradedMs === null ? null : (nowMs - abradedMs) / HOUR_MS,
    dewMin: exposure?.dewMin ?? null,
    blushSteps: blush?.steps ?? null,
    blushSinceMs: blush?.sinceMs ?? null,
    foundGreasy: blush?.found ?? false,
    belowMin: exposure?.belowMin ?? null,
    gapMin: exposure?.gapMin ?? null,
    inspectSinceMs: exposure === null ? null : (exposure.lastBelowMs ?? exposure.gapEndMs),
    dustSinceMs: dust.sinceMs,
    foundDusty: dust.found,
    waterLeftGPerM2: water.gPerM2,
    foundDamp: water.foundDamp,
    dampSinceMs: water.sinceMs,
    limits,
    ...conditionFacts(conditions),
    porous: record.porous,
    slabRhPct: latestPerSpot(record, "F2170"),
    slabMverLb: latestPerSpot(record, "F1869"),
    ...resinOf(record, nowMs),
    handMarginK: handMarginOf(state),
    sustainedMin: limits === null ? null : goodMinOf(goodTimeOf(state.line, limits, state.log.altitudeM, nowMs)),
    soon: soonOf(outlook, prospect.reach),
    finishInH: record.nextCoat === null ? null : prospect.finishInH,
    closesInH: prospect.effectiveClosesMs === null ? null : (prospect.effectiveClosesMs - nowMs) / HOUR_MS,
    fitsM2: record.nextCoat === null ? null : prospect.fitsM2,
    night:
      prospect.night === null
        ? null
        : {
            chanceHolds: prospect.night.chanceHolds,
            chanceMargin: prospect.night.chanceMargin,
            chanceSlab: prospect.night.chanceSlab,
            lowestMarginK: prospect.night.lowestMarginK[0],
            lowestSlabC: prospect.night.lowestSlabC,
            lowestAtMs: prospect.night.lowestAtMs,
          },
    nightHours: prospect.nightHours,
  };
}
