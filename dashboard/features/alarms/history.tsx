// Alarms that are over, newest first, by kind and zone, page by page.
import { useEffect, useState } from "react";
import type { AlarmBody, AlarmKind } from "#contract/alarm.ts";
import type { BoardBody } from "#contract/board.ts";
import { type AlarmPage, alarmsApi } from "../../data/alarms-api.ts";
import { useAct } from "../../data/use-act.ts";
import { useAsked } from "../../data/use-asked.ts";
import { alarmsText } from "../../text/alarms.ts";
import { useVoice } from "../../ui/voice.tsx";
import { AlarmMore } from "./alarm-card.tsx";
import { LevelSign } from "./level-sign.tsx";
import { saidOf } from "./said.ts";

interface Props {
  readonly site: string;
  readonly board: BoardBody;
  /** Changes when one more may be over. */
  readonly reason: string;
  readonly zoneHref: (zone: string) => string;
}

const ALL = "";

export function AlarmHistory({ site, board, reason, zoneHref }: Props) {
  const voice = useVoice();
  const { text, clock, nowMs } = voice;
  const words = alarmsText(text);
  const asked = useAsked(() => alarmsApi.over(site, null), site, reason);
  const [older, setOlder] = useState<AlarmPage | null>(null);
  const act = useAct();
  const [kind, setKind] = useState<AlarmKind | typeof ALL>(ALL);
  const [zone, setZone] = useState(ALL);
  // A newer first page moves the pages behind it.
  useEffect(() => setOlder(null), [asked.value]);
  const first = asked.value;
  if (first === null) return <p role="status">{asked.failed ? text.app.failed : text.app.loading}</p>;
  const all: readonly AlarmBody[] = [...first.alarms, ...(older?.alarms ?? [])];
  const before = older === null ? first.before : older.before;
  const kinds = [...new Set(all.map((one) => one.kind))].sort((a, b) => words.kinds[a].localeCompare(words.kinds[b]));
  const shown = all.filter((one) => (kind === ALL || one.kind === kind) && (zone === ALL || one.zones.includes(zone)));
  const more = async () => {
    const next = await act.run(() => alarmsApi.over(site, before));
    if (next !== null)
      setOlder({ alarms: [...(older?.alarms ?? []), ...next.value.alarms], before: next.value.before });
  };
  if (all.length === 0) return <p>{words.noneOver}</p>;
  return (
    <>
      <div className="alarm-filter">
        <label>
          {words.filterKind}
          <select value={kind} onChange={({ target }) => setKind(kinds.find((one) => one === target.value) ?? ALL)}>
            <option value={ALL}>{words.any}</option>
            {kinds.map((one) => (
              <option key={one} value={one}>
                {words.kinds[one]}
              </option>
            ))}
          </select>
        </label>
        <label>
          {words.filterZone}
          <select value={zone} onChange={({ target }) => setZone(target.value)}>
            <option value={ALL}>{words.any}</option>
            {board.zones.map(({ zone: { id, name } }) => (
              <option key={id} value={id}>
                {name}
              </option>
            ))}
          </select>
        </label>
      </div>
      <ul className="alarm-history">
        {shown.map((alarm) => (
          <li key={alarm.id} className={`edge-${alarm.level}`}>
            <p className="alarm-card-top">
              <LevelSign level={alarm.level} sizePx={20} />
              <time dateTime={alarm.raisedAt}>{clock.when(Date.parse(alarm.raisedAt), nowMs)}</time>
            </p>
            <p>{saidOf(alarm, board, voice).title}</p>
            <AlarmMore alarm={alarm} board={board} zoneHref={zoneHref} />
          </li>
        ))}
      </ul>
      {before !== null && (
        <button type="button" className="button" disabled={act.busy} onClick={() => void more()}>
          {words.older}
        </button>
      )}
      <p role="status">{act.failed}</p>
    </>
  );
}
