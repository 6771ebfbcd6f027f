// Links that let an inspector or a client look: those that stand, and the form for another one.
import { useState } from "react";
import type { AccessBody, LinkMadeBody } from "#contract/access.ts";
import { accessApi } from "../../data/access-api.ts";
import { accessText } from "../../text/access.ts";
import { useVoice } from "../../ui/voice.tsx";
import { LinkForm, type ZonesOf } from "./link-form.tsx";
import { Once } from "./once.tsx";
import { SureButton } from "./sure-button.tsx";
import { useList } from "./use-list.ts";

interface Props {
  readonly sites: AccessBody["sites"];
  readonly zonesOf: ZonesOf;
}

export function LinkList({ sites, zonesOf }: Props) {
  const { text, clock, nowMs } = useVoice();
  const all = accessText(text);
  const words = all.people;
  const links = useList("links", accessApi.links);
  const [made, setMade] = useState<LinkMadeBody | null>(null);
  const until = (iso: string | null) =>
    iso === null ? words.withoutEnd : words.until(clock.when(Date.parse(iso), nowMs));
  return (
    <>
      <h2>{words.links.title}</h2>
      <p className="people-help">{words.links.help}</p>
      {made !== null && (
        <Once
          title={`${words.links.made}: ${made.label}`}
          path={made.path}
          ends={until(made.expiresAt)}
          onPutAway={() => setMade(null)}
        />
      )}
      <p role="status">{links.said}</p>
      {links.items?.length === 0 && <p>{words.links.none}</p>}
      <ul className="entries">
        {(links.items ?? []).map((link) => (
          <li key={link.id}>
            <div className="entry">
              <p>
                <b>{link.label}</b>
                <small>
                  {[
                    all.roles[link.role],
                    sites.find((site) => site.id === link.site)?.name ?? link.site,
                    ...(link.zone === null ? [] : [all.oneZone(link.zone)]),
                    until(link.expiresAt),
                    link.seenAt === null ? words.neverSeen : words.seen(clock.when(Date.parse(link.seenAt), nowMs)),
                  ].join(" · ")}
                </small>
              </p>
              <div className="entry-acts">
                <SureButton
                  label={words.links.withdraw}
                  of={link.label}
                  warning={words.links.withdrawSure}
                  onSure={() => {
                    if (made?.id === link.id) setMade(null);
                    void links.run(() => accessApi.withdraw(link.id));
                  }}
                />
              </div>
            </div>
          </li>
        ))}
      </ul>
      <h2>{words.links.newOne}</h2>
      <LinkForm
        sites={sites}
        zonesOf={zonesOf}
        onMake={(wish) => links.run(async () => setMade(await accessApi.makeLink(wish)))}
      />
    </>
  );
}
