// The newest alarm in a bar over the page, until it is put away.
import { type AlarmBody, alarmFromBody } from "#contract/alarm.ts";
import type { BoardBody } from "#contract/board.ts";
import { sayAlarm } from "#core/alarm/say.ts";
import { useVoice } from "../../ui/voice.tsx";

interface Props {
  readonly alarm: AlarmBody;
  readonly board: BoardBody;
  readonly onDismiss: () => void;
}

export default function AlarmNotice({ alarm, board, onDismiss }: Props) {
  const { text, units, clock, nowMs } = useVoice();
  // What is answered, over, or stands in the list only, interrupts nobody.
  if (alarm.state !== "open" || alarm.level === "list") return null;
  const said = sayAlarm(alarmFromBody(alarm), {
    language: text.lang === "es" ? "es" : "en",
    units,
    zoneName: (id) => board.zones.find(({ zone }) => zone.id === id)?.zone.name ?? id,
    clock: (atMs) => clock.when(atMs, nowMs),
  });
  return (
    <div className="alarm">
      <p>
        <b>
          {text.app.alarm} {clock.when(Date.parse(alarm.changedAt), nowMs)}
        </b>{" "}
        {said.title}. {said.body}
      </p>
      <button type="button" onClick={onDismiss}>
        {text.app.dismiss}
      </button>
    </div>
  );
}
