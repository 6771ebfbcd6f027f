// The owner's page: people, links, signed-in devices, and who did what.
import { useEffect, useState } from "react";
import type { AccessBody } from "#contract/access.ts";
import { accessText } from "../../text/access.ts";
import { useVoice } from "../../ui/voice.tsx";
import { AuditList } from "./audit-list.tsx";
import type { ZonesOf } from "./link-form.tsx";
import { LinkList } from "./link-list.tsx";
import { PeopleList } from "./people-list.tsx";
import { SessionList } from "./session-list.tsx";
import "./people.css";

interface Props {
  /** The name of the owner who looks. */
  readonly own: string;
  readonly sites: AccessBody["sites"];
  readonly zonesOf: ZonesOf;
}

const PARTS = ["people", "links", "sessions", "audit"] as const;

export function PeoplePage({ own, sites, zonesOf }: Props) {
  const words = accessText(useVoice().text).people;
  const [part, setPart] = useState<(typeof PARTS)[number]>("people");
  useEffect(() => {
    document.title = `${words.title} · Nightslab`;
  }, [words]);
  return (
    <section className="people">
      <h1>{words.title}</h1>
      <div className="people-parts" role="group" aria-label={words.title}>
        {PARTS.map((one) => (
          <button
            key={one}
            type="button"
            className={one === part ? "button button-main" : "button"}
            aria-pressed={one === part}
            onClick={() => setPart(one)}
          >
            {words.tabs[one]}
          </button>
        ))}
      </div>
      {part === "people" && <PeopleList own={own} sites={sites} />}
      {part === "links" && <LinkList sites={sites} zonesOf={zonesOf} />}
      {part === "sessions" && <SessionList />}
      {part === "audit" && <AuditList />}
    </section>
  );
}
