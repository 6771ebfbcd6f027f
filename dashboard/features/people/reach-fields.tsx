// Which role, and which sites: for an invitation and for a person. An owner is bound to no site.
import type { AccessBody, Role } from "#contract/access.ts";
import { accessText } from "../../text/access.ts";
import { Choice } from "../../ui/choice.tsx";
import { useVoice } from "../../ui/voice.tsx";

export interface Reach {
  readonly role: Role;
  /** null = every site. */
  readonly sites: readonly string[] | null;
}

interface Props {
  readonly reach: Reach;
  readonly sites: AccessBody["sites"];
  readonly error: string | undefined;
  readonly onChange: (reach: Reach) => void;
}

/** What is wrong with it, in words; undefined when nothing is. */
export function reachFault({ sites }: Reach, pickSite: string): string | undefined {
  return sites?.length === 0 ? pickSite : undefined;
}

export function ReachFields({ reach, sites, error, onChange }: Props) {
  const all = accessText(useVoice().text);
  const words = all.people;
  const chosen = reach.sites ?? [];
  const toggle = (id: string) =>
    onChange({ ...reach, sites: chosen.includes(id) ? chosen.filter((one) => one !== id) : [...chosen, id] });
  return (
    <>
      <Choice
        label={words.role}
        options={all.roles}
        value={reach.role}
        onPick={(picked) => {
          const role = picked as Role;
          onChange({ role, sites: role === "owner" ? null : reach.sites });
        }}
      />
      <p className="reach-help">{all.roleHelps[reach.role]}</p>
      {reach.role !== "owner" && (
        <fieldset className="choice">
          <legend>{words.sites}</legend>
          <label className="check">
            <input
              type="checkbox"
              checked={reach.sites === null}
              onChange={(event) => onChange({ ...reach, sites: event.target.checked ? null : [] })}
            />
            <span>{words.everySite}</span>
          </label>
          {reach.sites !== null &&
            sites.map((site) => (
              <label key={site.id} className="check">
                <input type="checkbox" checked={chosen.includes(site.id)} onChange={() => toggle(site.id)} />
                <span>{site.name}</span>
              </label>
            ))}
          {error !== undefined && (
            <p className="field-error" role="alert">
              {error}
            </p>
          )}
        </fieldset>
      )}
    </>
  );
}
