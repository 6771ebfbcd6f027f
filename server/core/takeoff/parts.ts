// The parts of one batch: how much of each component goes into the pail.
import { demandPositive } from "#core/guard.ts";
import type { Material, MixPart } from "#core/takeoff/material.ts";

export interface PartAmount {
  readonly name: string;
  /** null where only a mass is known. */
  readonly volumeL: number | null;
  /** null where no density is known. */
  readonly massKg: number | null;
}

function fromVolume({ name, densityKgPerL }: MixPart, volumeL: number): PartAmount {
  return { name, volumeL, massKg: densityKgPerL === undefined ? null : volumeL * densityKgPerL };
}

/** kg/L of the mix: as printed, or of its parts where all densities are known. */
function mixedKgPerL({ densityKgPerL, mix }: Material): number | null {
  if (densityKgPerL !== undefined || mix === undefined) return densityKgPerL ?? null;
  let kg = 0;
  let litres = 0;
  for (const part of mix.parts) {
    if (part.densityKgPerL === undefined) return null;
    kg += part.share;
    litres += part.share / part.densityKgPerL;
  }
  return kg / litres;
}

/**
 * What goes into a batch of `volumeL`; null where the sheet prints no mix, or its parts by mass cannot be had from a volume.
 * Of whole kits: what the kits hold, where the sheet says it. Throws RangeError unless `volumeL` is above zero.
 */
export function partsOf(material: Material, volumeL: number, kits: number | null): readonly PartAmount[] | null {
  demandPositive("volumeL", volumeL);
  const { mix } = material;
  if (mix === undefined) return null;
  if (kits !== null && mix.parts.every((part) => part.kitL !== undefined)) {
    return mix.parts.map((part) => fromVolume(part, kits * (part.kitL as number)));
  }
  const sum = mix.parts.reduce((all, part) => all + part.share, 0);
  if (mix.by === "volume") return mix.parts.map((part) => fromVolume(part, (volumeL * part.share) / sum));
  const density = mixedKgPerL(material);
  if (density === null) return null;
  return mix.parts.map(({ name, share, densityKgPerL }) => {
    const massKg = (volumeL * density * share) / sum;
    return { name, massKg, volumeL: densityKgPerL === undefined ? null : massKg / densityKgPerL };
  });
}
