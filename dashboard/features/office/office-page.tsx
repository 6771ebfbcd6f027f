// The board of an office: every site that it hears, worst first, by call if wished, and the alarms of all.
import { useState } from "react";
import type { OfficeSiteBody } from "#contract/office.ts";
import { officeText } from "../../text/office.ts";
import type { Voice } from "../../text/sentence.ts";
import { OfficeAlarms } from "./office-alarms.tsx";
import { OfficeSite } from "./office-site.tsx";
import { countsOf, placed, type Standing, STANDINGS } from "./order.ts";
import "./office.css";

interface Props {
  readonly sites: readonly OfficeSiteBody[];
  /** Moves on by the half minute: every move draws all sites anew. */
  readonly voice: Voice;
  /** The office does not answer. */
  readonly away: boolean;
  /** The office hears nobody. */
  readonly deaf: boolean;
}

export function OfficePage({ sites, voice, away, deaf }: Props) {
  const { text, nowMs } = voice;
  const words = officeText(text);
  const [only, setOnly] = useState<Standing | null>(null);
  const counts = countsOf(sites, nowMs);
  const shown = placed(sites, only, nowMs);
  const nameOf = (one: Standing) => (one === "unknown" ? words.unknown : text.words[one]);
  return (
    <section className="office">
      <h1>{words.title}</h1>
      <p className="office-dim">
        {words.counts(
          sites.length,
          sites.reduce((sum, { zones }) => sum + zones.length, 0),
        )}{" "}
        · {words.lead}
      </p>
      <div role="status">
        {away && <p className="office-silent">{words.away}</p>}
        {!away && deaf && <p className="office-silent">{words.deaf}</p>}
      </div>
      {sites.length === 0 ? (
        <p className="empty">{words.none}</p>
      ) : (
        <>
          <fieldset className="office-filter">
            <legend className="hidden">{words.show}</legend>
            <button type="button" className="button" aria-pressed={only === null} onClick={() => setOnly(null)}>
              {words.all}
            </button>
            {STANDINGS.map((one) => (
              <button
                key={one}
                type="button"
                className={`button office-${one}`}
                aria-pressed={only === one}
                onClick={() => setOnly(only === one ? null : one)}
              >
                {nameOf(one)} <b>{counts[one]}</b>
              </button>
            ))}
          </fieldset>
          <OfficeAlarms sites={sites} voice={voice} />
          {shown.length === 0 && <p className="empty">{words.nothing}</p>}
          <ul className="office-sites">
            {shown.map((one) => (
              <OfficeSite key={one.site.site} placed={one} voice={voice} old={away} />
            ))}
          </ul>
        </>
      )}
    </section>
  );
}
