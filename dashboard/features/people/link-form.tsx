// The form of a new link: for whom, as what, which site or zone, and until when.
import { useState } from "react";
import type { AccessBody, LinkWishBody } from "#contract/access.ts";
import { useAsked } from "../../data/use-asked.ts";
import { accessText } from "../../text/access.ts";
import { Choice } from "../../ui/choice.tsx";
import { Field } from "../../ui/field.tsx";
import { useVoice } from "../../ui/voice.tsx";

export type ZonesOf = (site: string) => Promise<readonly { readonly id: string; readonly name: string }[]>;

interface Props {
  readonly sites: AccessBody["sites"];
  readonly zonesOf: ZonesOf;
  readonly onMake: (wish: LinkWishBody) => Promise<boolean>;
}

const WHOLE = "";
const BLANK = { label: "", role: "client", zone: WHOLE, days: "30" } as const;

export function LinkForm({ sites, zonesOf, onMake }: Props) {
  const all = accessText(useVoice().text);
  const words = all.people;
  const [draft, setDraft] = useState<Record<"label" | "role" | "zone" | "days", string>>(BLANK);
  const [picked, setPicked] = useState<string | null>(null);
  const [faults, setFaults] = useState<{ readonly label?: string; readonly site?: string }>({});
  const site = picked ?? (sites.length === 1 ? (sites[0]?.id ?? null) : null);
  const zones = useAsked(async () => (site === null ? [] : await zonesOf(site)), site ?? "", "");
  const set = (part: Partial<typeof draft>) => setDraft({ ...draft, ...part });
  const make = async () => {
    const label = draft.label.trim();
    setFaults({
      ...(label === "" ? { label: words.links.needLabel } : {}),
      ...(site === null ? { site: words.pickOne } : {}),
    });
    if (label === "" || site === null) return;
    const made = await onMake({
      label,
      site,
      role: draft.role === "inspector" ? "inspector" : "client",
      zone: draft.zone === WHOLE ? null : draft.zone,
      days: draft.days === "none" ? null : Number(draft.days),
    });
    if (made) setDraft(BLANK);
  };
  return (
    <form
      className="entry-form"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        void make();
      }}
    >
      <Field
        label={words.links.label}
        type="text"
        value={draft.label}
        error={faults.label}
        onType={(label) => set({ label })}
      />
      <Choice
        label={words.role}
        options={{ client: all.roles.client, inspector: all.roles.inspector }}
        value={draft.role}
        onPick={(role) => set({ role })}
      />
      <p className="reach-help">{draft.role === "inspector" ? all.roleHelps.inspector : all.roleHelps.client}</p>
      {sites.length > 1 && (
        <Choice
          label={words.site}
          options={Object.fromEntries(sites.map((one) => [one.id, one.name]))}
          value={site ?? ""}
          error={faults.site}
          onPick={(id) => {
            setPicked(id);
            set({ zone: WHOLE });
          }}
        />
      )}
      {site !== null && (zones.value ?? []).length > 1 && (
        <Choice
          label={words.zone}
          options={{
            [WHOLE]: words.allZones,
            ...Object.fromEntries((zones.value ?? []).map((one) => [one.id, one.name])),
          }}
          value={draft.zone}
          onPick={(zone) => set({ zone })}
        />
      )}
      <Choice label={words.links.ends} options={words.links.days} value={draft.days} onPick={(days) => set({ days })} />
      <button type="submit" className="button button-main">
        {words.links.go}
      </button>
    </form>
  );
}
