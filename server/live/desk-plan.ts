// The desk's plan: what outlines are drawn on, and what an outline makes of its zone.
import type { Fault } from "#contract/faults.ts";
import { outlineFaults, type PlanBody } from "#contract/plan.ts";
import type { ZoneBody } from "#contract/zone.ts";
import { areaM2 } from "#core/plan/polygon.ts";
import { type Answer, good, refuse } from "./answer.ts";
import { type Office, siteOf } from "./office.ts";

/** A zone whose area nobody typed has that of its outline, to a hundredth of a square metre. */
export function zoneAsDrawn(zone: ZoneBody): ZoneBody {
  if (zone.outline === undefined || zone.areaTyped === true) return zone;
  return { ...zone, areaM2: Math.round(areaM2(zone.outline) * 100) / 100 };
}

export function zoneOutlineFaults({ outline, areaTyped }: ZoneBody, at = ""): Fault[] {
  const stray =
    areaTyped === true && outline === undefined
      ? [{ field: `${at}/areaTyped`, reason: "says nothing without an outline" }]
      : [];
  return [...outlineFaults(outline, `${at}/outline`), ...stray];
}

export function createPlanDesk(office: Office) {
  const { store, moments, photos } = office;
  return {
    /** Null before anything was drawn. */
    plan(siteId: string): Answer<PlanBody | null> {
      const found = siteOf(office, siteId);
      return found.ok ? good(store.records.plan(siteId)) : found;
    },

    putPlan(siteId: string, body: PlanBody): Answer<PlanBody> {
      const found = siteOf(office, siteId);
      if (!found.ok) return found;
      const { picture } = body;
      if (picture !== null) {
        const kept = photos.store.list(siteId).find(({ id }) => id === picture.photo);
        if (kept === undefined) return refuse("invalid", "/picture/photo", "is no picture of this site");
        for (const side of ["widthPx", "heightPx"] as const)
          if (kept[side] !== picture[side])
            return refuse("invalid", `/picture/${side}`, `is not that of the picture: ${kept[side]}`);
      }
      store.together(() => store.records.putPlan(siteId, body, moments.heard()));
      return good(body);
    },
  };
}
