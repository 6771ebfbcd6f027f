// Alarms of all sites in one list, the loudest first. They are answered at the site itself.
import type { OfficeSiteBody } from "#contract/office.ts";
import { ALARM_LEVELS } from "#core/alarm/kinds.ts";
import { sayAlarm } from "#core/alarm/say.ts";
import { alarmsText } from "../../text/alarms.ts";
import { clockOf } from "../../text/clock.ts";
import { officeText } from "../../text/office.ts";
import type { Voice } from "../../text/sentence.ts";

/** Drawn at once; a hundred sites may have hundreds. */
const SHOWN = 60;

export function OfficeAlarms({ sites, voice }: { readonly sites: readonly OfficeSiteBody[]; readonly voice: Voice }) {
  const { text, units, nowMs } = voice;
  const words = officeText(text);
  const levels = alarmsText(text).levels;
  const all = sites
    .flatMap((site) => site.alarms.map((alarm) => ({ site, alarm })))
    .sort((a, b) => {
      const asks = Number(b.alarm.state === "open") - Number(a.alarm.state === "open");
      const louder = ALARM_LEVELS.indexOf(b.alarm.level) - ALARM_LEVELS.indexOf(a.alarm.level);
      return asks || louder || b.alarm.changedAt.localeCompare(a.alarm.changedAt);
    });
  const unseen = sites.reduce((sum, { alarmCount, alarms }) => sum + alarmCount - alarms.length, 0);
  const more = Math.max(0, all.length - SHOWN) + unseen;
  return (
    <details className="office-alarms">
      <summary>
        {words.alarms} <b>{all.length + unseen}</b>
      </summary>
      {all.length === 0 && <p className="office-dim">{words.alarmsNone}</p>}
      <ul>
        {all.slice(0, SHOWN).map(({ site, alarm }) => {
          const clock = clockOf(site.timezone, text, voice.clock.hours);
          const { expectedAt, ...facts } = alarm.facts;
          const said = sayAlarm(
            { ...alarm, facts: { ...facts, expectedAtMs: expectedAt === null ? null : Date.parse(expectedAt) } },
            {
              language: text.lang === "es" ? "es" : "en",
              units,
              zoneName: (id) => site.zones.find((zone) => zone.id === id)?.name ?? id,
              clock: (atMs) => clock.when(atMs, nowMs),
            },
          );
          return (
            <li key={`${site.site} ${alarm.id}`} className={`office-alarm office-alarm-${alarm.level}`}>
              <p>
                <b>{levels[alarm.level]}</b> · {site.name} · {clock.when(Date.parse(alarm.changedAt), nowMs)}
                {alarm.state !== "open" && ` · ${words.answered}`}
              </p>
              <p>
                <b>{said.title}.</b> {said.body}
              </p>
            </li>
          );
        })}
      </ul>
      {more > 0 && <p className="office-dim">{words.alarmsMore(more)}</p>}
    </details>
  );
}
