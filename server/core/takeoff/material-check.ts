// Nonsense in the material of a sheet, found before anybody buys or mixes by it. No call depends on these doubts.
import type { SheetDoubt } from "#core/cure/sheet-check.ts";
import type { Material, Mix, PotLifeRow } from "#core/takeoff/material.ts";

/** What can be wrong, in words for the border; screens have their own. */
export const MATERIAL_REASONS = [
  "a rate and a film: the use is one of the two",
  "volume solids without a dry film",
  "no kit to split",
  "is not what its parts hold together",
  "is not in the ratio of the mix",
  "two parts of one name",
  "a mass and a volume: the test was of one of the two",
  "two rows at one temperature",
  "longer when hotter",
  "is missing: what ends the life of a mix decides how big it may be",
  "people without what they lay in an hour",
] as const;
export type MaterialReason = (typeof MATERIAL_REASONS)[number];

export interface MaterialDoubt extends SheetDoubt {
  readonly reason: MaterialReason;
}

const doubt = (field: string, reason: MaterialReason): MaterialDoubt => ({ field, reason });

/** A kit and what it holds of its parts agree within this share: printed figures are rounded. Common practice, no source. */
const KIT_SLACK = 0.05;

function coverDoubts({ wetLPerM2, dryFilmUm, solidsPct }: Material): MaterialDoubt[] {
  const doubts: MaterialDoubt[] = [];
  if (wetLPerM2 !== undefined && dryFilmUm !== undefined)
    doubts.push(doubt("material.dryFilmUm", "a rate and a film: the use is one of the two"));
  if (solidsPct !== undefined && dryFilmUm === undefined)
    doubts.push(doubt("material.solidsPct", "volume solids without a dry film"));
  return doubts;
}

function kitDoubts({ kitL, splitKits, mix }: Material): MaterialDoubt[] {
  if (kitL === undefined) {
    return splitKits === undefined ? [] : [doubt("material.splitKits", "no kit to split")];
  }
  const held = mix?.parts.map((part) => part.kitL).filter((volumeL) => volumeL !== undefined) ?? [];
  if (held.length === 0 || held.length < (mix?.parts.length ?? 0)) return [];
  const sumL = held.reduce((sum, volumeL) => sum + volumeL, 0);
  return Math.abs(sumL - kitL) > KIT_SLACK * kitL
    ? [doubt("material.kitL", "is not what its parts hold together")]
    : [];
}

/** Parts of a kit stand in the ratio of the mix. */
function ratioDoubts(mix: Mix): MaterialDoubt[] {
  const [first] = mix.parts;
  if (first?.kitL === undefined) return [];
  // Parts by mass become parts by volume only with both densities.
  const volumeOf = (part: Mix["parts"][number]) =>
    mix.by === "volume" ? part.share : part.densityKgPerL === undefined ? null : part.share / part.densityKgPerL;
  const base = volumeOf(first);
  return mix.parts.flatMap((part, index) => {
    const volume = volumeOf(part);
    if (base === null || volume === null || part.kitL === undefined || first.kitL === undefined) return [];
    const asked = (first.kitL * volume) / base;
    return Math.abs(part.kitL - asked) > KIT_SLACK * asked
      ? [doubt(`material.mix.parts[${index}].kitL`, "is not in the ratio of the mix")]
      : [];
  });
}

function mixDoubts(mix: Mix | undefined): MaterialDoubt[] {
  if (mix === undefined) return [];
  const names = mix.parts.map((part) => part.name);
  const twice = names.findIndex((name, index) => names.indexOf(name) !== index);
  return [
    ...(twice < 0 ? [] : [doubt(`material.mix.parts[${twice}].name`, "two parts of one name")]),
    ...ratioDoubts(mix),
  ];
}

function potLifeDoubts(rows: readonly PotLifeRow[]): MaterialDoubt[] {
  const doubts: MaterialDoubt[] = [];
  for (const [index, row] of rows.entries()) {
    const at = `material.potLife[${index}]`;
    if (row.massKg !== undefined && row.volumeL !== undefined)
      doubts.push(doubt(`${at}.massKg`, "a mass and a volume: the test was of one of the two"));
    if (rows.findIndex((other) => other.resinC === row.resinC) < index)
      doubts.push(doubt(`${at}.resinC`, "two rows at one temperature"));
    if (rows.some((other) => other.resinC < row.resinC && other.min < row.min))
      doubts.push(doubt(`${at}.min`, "longer when hotter"));
  }
  return doubts;
}

/** Everything that keeps the material from being reckoned with; empty when it can be used. */
export function materialDoubts(material: Material): MaterialDoubt[] {
  const { potLife, potClass, people, placeM2PerH } = material;
  return [
    ...coverDoubts(material),
    ...mixDoubts(material.mix),
    ...kitDoubts(material),
    ...potLifeDoubts(potLife ?? []),
    ...(potLife !== undefined && potLife.length > 0 && potClass === undefined
      ? [doubt("material.potClass", "is missing: what ends the life of a mix decides how big it may be")]
      : []),
    ...(people !== undefined && placeM2PerH === undefined
      ? [doubt("material.people", "people without what they lay in an hour")]
      : []),
  ];
}
