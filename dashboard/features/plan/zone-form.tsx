// What a zone is beside its outline: name, area, how fast it is poured, the ground, and its coats in their order.
import type { SheetBody } from "#contract/sheet.ts";
import type { ZoneBody } from "#contract/zone.ts";
import { areaM2, type Outline, outlineFault } from "#core/plan/polygon.ts";
import type { Dictionary } from "../../text/en.ts";
import { planText } from "../../text/plan.ts";
import { Choice } from "../../ui/choice.tsx";
import { Field } from "../../ui/field.tsx";
import { OrderedList } from "../../ui/ordered-list.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { areaNumber, areaSign, m2FromTyped } from "../../units/lengths.ts";
import { showArea, type UnitSystem } from "../../units/show.ts";

export interface ZoneDraft {
  readonly name: string;
  /** As typed; null = that of the outline counts. */
  readonly area: string | null;
  readonly rate: string;
  readonly base: ZoneBody["base"];
  readonly system: readonly string[];
}

/** What a crew of three covers with rollers, m2 an hour. Common practice, no source. */
const USUAL_M2_PER_H = 60;

export function draftOf(zone: ZoneBody | null, name: string, system: readonly string[], units: UnitSystem): ZoneDraft {
  const typed = zone !== null && (zone.areaTyped === true || zone.outline === undefined);
  return {
    name: zone?.name ?? name,
    area: typed ? areaNumber(zone.areaM2, units) : null,
    rate: areaNumber(zone?.pourM2PerH ?? USUAL_M2_PER_H, units),
    base: zone?.base ?? "porous",
    system: zone?.system ?? system,
  };
}

export type ZoneFaults = Partial<Record<"name" | "area" | "rate" | "system" | "outline", string>>;

/** The body to send, or what is wrong with which field. An outline of no corners is none: the area is then typed. */
export function zoneFrom(
  draft: ZoneDraft,
  outline: Outline,
  text: Dictionary,
  units: UnitSystem,
): { readonly body: Omit<ZoneBody, "id"> } | { readonly faults: ZoneFaults } {
  const words = planText(text);
  const faults: { -readonly [F in keyof ZoneFaults]: ZoneFaults[F] } = {};
  const name = draft.name.trim();
  if (name === "") faults.name = words.faults.name;
  const fault = outline.length === 0 ? null : outlineFault(outline);
  if (fault !== null) faults.outline = words.faults[fault];
  const typed = draft.area === null ? null : m2FromTyped(draft.area, units);
  const measured = outline.length === 0 || fault !== null ? null : areaM2(outline);
  const area = draft.area === null ? measured : typed;
  if (fault === null && (area === null || !(area > 0 && area <= 1e6)))
    faults.area = draft.area === null ? words.faults.noArea : words.faults.area;
  const rate = m2FromTyped(draft.rate, units);
  if (rate === null || !(rate > 0 && rate <= 1e5)) faults.rate = words.faults.rate;
  if (draft.system.length === 0) faults.system = words.faults.system;
  if (area === null || rate === null || Object.keys(faults).length > 0) return { faults };
  return {
    body: {
      name,
      areaM2: area,
      pourM2PerH: rate,
      base: draft.base,
      system: [...draft.system],
      ...(outline.length === 0
        ? {}
        : { outline: outline.map((point) => ({ ...point })), areaTyped: draft.area !== null }),
    },
  };
}

interface Props {
  readonly draft: ZoneDraft;
  readonly outline: Outline;
  readonly sheets: readonly SheetBody[];
  readonly faults: ZoneFaults;
  readonly onChange: (draft: ZoneDraft) => void;
}

export function ZoneForm({ draft, outline, sheets, faults, onChange }: Props) {
  const { text, units } = useVoice();
  const words = planText(text);
  const measured = outline.length >= 3 && outlineFault(outline) === null ? areaM2(outline) : null;
  const set = (change: Partial<ZoneDraft>) => onChange({ ...draft, ...change });
  return (
    <>
      <Field label={words.name} type="text" value={draft.name} error={faults.name} onType={(name) => set({ name })} />
      <Field
        label={words.area}
        unit={areaSign(units)}
        value={draft.area ?? (measured === null ? "" : areaNumber(measured, units))}
        help={
          measured === null
            ? words.areaNone
            : draft.area === null
              ? words.areaDrawn
              : words.areaTyped(showArea(measured, units))
        }
        error={faults.area}
        onType={(area) => set({ area: area.trim() === "" && measured !== null ? null : area })}
      >
        {draft.area !== null && measured !== null && (
          <button type="button" className="button" onClick={() => set({ area: null })}>
            {words.areaTake}
          </button>
        )}
      </Field>
      <Field
        label={words.rate}
        unit={`${areaSign(units)}/h`}
        value={draft.rate}
        help={words.rateHelp}
        error={faults.rate}
        onType={(rate) => set({ rate })}
      />
      <Choice
        label={words.base}
        options={words.bases}
        value={draft.base}
        onPick={(base) => set({ base: base as ZoneBody["base"] })}
      />
      <OrderedList
        label={words.system}
        value={draft.system}
        options={Object.fromEntries(sheets.map(({ id, name }) => [id, name]))}
        words={words.coats}
        error={faults.system}
        onChange={(system) => set({ system })}
      />
    </>
  );
}
