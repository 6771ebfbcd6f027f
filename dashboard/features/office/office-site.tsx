// One site on the board of an office: its name, how long ago it was heard, and its zones.
import { memo } from "react";
import type { OfficeZoneBody } from "#contract/office.ts";
import { clockOf } from "../../text/clock.ts";
import { officeText } from "../../text/office.ts";
import { stripWords, type Voice } from "../../text/sentence.ts";
import { CallWord } from "../../ui/call-word.tsx";
import { showDuration } from "../../units/show.ts";
import { type Placed, standingOf } from "./order.ts";

interface Props {
  readonly placed: Placed;
  readonly voice: Voice;
  /** The office itself is silent. */
  readonly old: boolean;
}

/** Of another site only what changed is drawn anew: there may be a hundred. */
export const OfficeSite = memo(SiteCard, (before, after) => {
  const same = before.placed.site === after.placed.site && before.placed.silent === after.placed.silent;
  const zones = before.placed.zones.map(({ id }) => id).join() === after.placed.zones.map(({ id }) => id).join();
  return same && zones && before.voice === after.voice && before.old === after.old;
});

function SiteCard({ placed: { site, silent, zones }, voice, old }: Props) {
  const { text, nowMs } = voice;
  const words = officeText(text);
  const there: Voice = { ...voice, clock: clockOf(site.timezone, text, voice.clock.hours) };
  const age = site.aliveAt === null ? null : showDuration(nowMs - Date.parse(site.aliveAt));
  return (
    <li className={silent || old ? "office-site office-old" : "office-site"}>
      <div className="office-head">
        <h2>
          {site.publicUrl === null ? (
            site.name
          ) : (
            <a href={site.publicUrl} target="_blank" rel="noreferrer" aria-label={words.open(site.name)}>
              {site.name} <span aria-hidden="true">↗</span>
            </a>
          )}
        </h2>
        <p>
          {!silent && age !== null && `${words.heard(age)} · `}
          {words.localTime(there.clock.time(nowMs))}
          {site.alarmCount > 0 && <b className="office-bell"> · {words.alarmCount(site.alarmCount)}</b>}
        </p>
        {silent && <p className="office-silent">{age === null ? words.never : words.silent(age)}</p>}
      </div>
      <ul className="office-zones">
        {zones.map((zone) => (
          <ZoneLine key={zone.id} zone={zone} silent={silent || old} voice={there} />
        ))}
      </ul>
    </li>
  );
}

function ZoneLine({
  zone,
  silent,
  voice,
}: {
  readonly zone: OfficeZoneBody;
  readonly silent: boolean;
  readonly voice: Voice;
}) {
  const words = officeText(voice.text);
  const { call } = zone;
  const unknown = standingOf(zone, silent) === "unknown";
  if (call === null)
    return (
      <li className="office-zone">
        <h3>{zone.name}</h3>
        <CallWord call={{ call: "wait", limiting: "data-missing" }} old={true} />
        <p>{zone.unread ? words.unread : words.noCall}</p>
      </li>
    );
  const said = stripWords({ call, marginLimitK: null, past: [] }, voice);
  const when = (iso: string) => voice.clock.when(Date.parse(iso), voice.nowMs);
  return (
    <li className="office-zone">
      <h3>{zone.name}</h3>
      <CallWord call={call} old={unknown} />
      <div className="office-why">
        {zone.behind && <p className="office-silent">{words.behind}</p>}
        <p>
          <b>{said.lead}</b> {said.rest}
        </p>
        {said.next !== "" && !unknown && <p>{said.next}</p>}
        <p className="office-dim">
          {words.saidAt(when(call.at))}
          {call.call !== "pour" && call.validUntil !== null && !unknown && ` · ${words.until(when(call.validUntil))}`}
        </p>
      </div>
    </li>
  );
}
