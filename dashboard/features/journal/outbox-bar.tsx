// What was just written, with a minute to take it back; what still waits for the server; what it refused.
import { useEffect, useState } from "react";
import { journalText } from "../../text/journal.ts";
import { type Outbox, PICTURE_LOST } from "../../data/outbox.ts";
import { useSignal } from "../../data/use-signal.ts";
import { useVoice } from "../../ui/voice.tsx";
import "./outbox-bar.css";

const UNDO_MS = 60_000;
/** A send that is answered at once needs no word about waiting. */
const PATIENCE_MS = 2500;

export default function OutboxBar({
  outbox,
  siteNowIso,
}: {
  readonly outbox: Outbox;
  readonly siteNowIso: () => string;
}) {
  const { text } = useVoice();
  const words = journalText(text);
  const { waiting, refused, last, unkept } = useSignal(outbox.signal);
  const [slow, setSlow] = useState(false);
  useEffect(() => {
    if (last === null) return;
    const timer = setTimeout(outbox.forgetLast, Math.max(0, last.writtenMs + UNDO_MS - Date.now()));
    return () => clearTimeout(timer);
  }, [last, outbox]);
  useEffect(() => {
    setSlow(false);
    if (waiting.length === 0) return;
    const timer = setTimeout(() => setSlow(true), PATIENCE_MS);
    return () => clearTimeout(timer);
  }, [waiting.length]);
  return (
    <div className="outbox">
      {refused.map((item) => (
        <div key={item.entry.id} className="outbox-line outbox-refused">
          <p>
            {words.did[item.entry.did]}:{" "}
            {words.refused(item.barred ? text.app.barred : item.why === PICTURE_LOST ? words.pictureLost : item.why)}
          </p>
          <button type="button" onClick={() => outbox.putAwayRefused(item.entry.id)}>
            {words.putAway}
          </button>
        </div>
      ))}
      {waiting.length > 0 && slow && (
        <div className="outbox-line">
          <p>{words.waiting(waiting.length)}</p>
        </div>
      )}
      {waiting.length > 0 && unkept && (
        <div className="outbox-line outbox-refused">
          <p>{words.unkept}</p>
        </div>
      )}
      {last !== null && (
        <div className="outbox-line">
          <p>{words.written(words.did[last.entry.did])}</p>
          <button type="button" onClick={() => outbox.undo(siteNowIso())}>
            {words.undo}
          </button>
        </div>
      )}
    </div>
  );
}
