// Versions of a sheet, who confirmed it, and whether the figures of the paper agree with what is reckoned with.
import Type from "typebox";
import { insideFromTyped, unitsOfField, valueAt } from "#core/cure/sheet-units.ts";
import type { Fault } from "#contract/faults.ts";
import { Id, IsoTime, isoFromMs, msFromIso, Name } from "#contract/primitives.ts";
import { type SheetBody, SheetSchema, sheetFromBody } from "#contract/sheet.ts";
import type { SheetVersion } from "#core/cure/sheet-versions.ts";

const closed = { additionalProperties: false } as const;

/** A sheet as it was kept at one moment; a confirmation is a row of the same revision. */
export const SheetVersionSchema = Type.Object({ from: IsoTime, sheet: SheetSchema }, closed);
export type SheetVersionBody = Type.Static<typeof SheetVersionSchema>;

export function versionsFromBodies(bodies: readonly SheetVersionBody[]): SheetVersion[] {
  return bodies.map(({ from, sheet }) => ({ fromMs: msFromIso(from), sheet: sheetFromBody(sheet) }));
}

/** Versions for a night file: of these sheets, by `untilMs`; nothing where each has only the one that stands. */
export function versionsForFile(
  versions: readonly { readonly fromMs: number; readonly body: SheetBody }[],
  ids: ReadonlySet<string>,
  untilMs: number,
): { readonly sheetVersions?: SheetVersionBody[] } {
  const told = versions.filter(({ fromMs, body }) => ids.has(body.id) && fromMs <= untilMs);
  const several = told.some(({ body }, index) => told.findIndex((one) => one.body.id === body.id) !== index);
  return several ? { sheetVersions: told.map(({ fromMs, body }) => ({ from: isoFromMs(fromMs), sheet: body })) } : {};
}

export const SheetParams = Type.Object({ sheet: Id }, closed);
/** The revision that was held against the page: another one that came meanwhile is not confirmed with it. */
export const ConfirmSchema = Type.Object(
  { revision: Type.Integer({ minimum: 1 }), by: Type.Optional(Type.Union([Name, Type.Null()])) },
  closed,
);
export type ConfirmBody = Type.Static<typeof ConfirmSchema>;
export const SheetPhotoSchema = Type.Object({ id: Type.String({ pattern: "^[0-9a-f]{64}$" }) }, closed);
export const SheetPhotoParams = Type.Object({ photo: Type.String({ pattern: "^[0-9a-f]{64}$" }) }, closed);

/** Of a printed figure and the one that is reckoned with, no more than rounding may differ. */
const AGREES_WITHIN = 1e-6;

/** Figures of the paper that do not give the value beside them. */
export function paperFaults(sheet: SheetBody): Fault[] {
  return Object.entries(sheet.paper ?? {}).flatMap(([path, { value, unit }]) => {
    const field = `/paper/${path}`;
    const units = unitsOfField(path);
    const inside = valueAt(sheet, path);
    if (units === null || typeof inside !== "number") return [{ field, reason: "is beside no figure of this sheet" }];
    if (!units.includes(unit)) return [{ field: `${field}/unit`, reason: `must be one of ${units.join(", ")}` }];
    const told = insideFromTyped(Number(value.replace(",", ".")), unit, units);
    const agrees = Math.abs(told - inside) <= AGREES_WITHIN * Math.max(1, Math.abs(inside));
    return agrees ? [] : [{ field, reason: `${value} ${unit} is not ${inside} ${units[0]}` }];
  });
}

/** The numbers of a sheet without who saved or confirmed them: what makes it another sheet when it changes. */
export function contentOf({ saved: _saved, confirmed: _confirmed, ...content }: SheetBody): object {
  return content;
}
