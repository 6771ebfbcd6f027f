// What others wrote on this device and could not send: it waits for them, and goes under nobody else's name.
import type { Outbox } from "../data/outbox.ts";
import { useSignal } from "../data/use-signal.ts";
import { accessText } from "../text/access.ts";
import { useVoice } from "../ui/voice.tsx";

interface Props {
  readonly outbox: Outbox;
  /** Somebody is signed in who writes, and may take over what carries no name. */
  readonly writes: boolean;
}

export default function HeldBar({ outbox, writes }: Props) {
  const { text } = useVoice();
  const words = accessText(text);
  const { held } = useSignal(outbox.signal);
  const writers = [...new Set(held.map((item) => item.writer))];
  return (
    <div role="status">
      {writers.map((writer) => {
        const theirs = held.filter((item) => item.writer === writer);
        return (
          <div key={writer ?? ""} className="held">
            <p>{writer === null ? words.heldNobody(theirs.length) : words.held(theirs.length, writer)}</p>
            {writer === null && writes && (
              <p>
                <button type="button" className="button" onClick={outbox.adopt}>
                  {words.adopt}
                </button>{" "}
                <button
                  type="button"
                  className="button"
                  onClick={() => theirs.forEach((item) => outbox.putAwayHeld(item.entry.id))}
                >
                  {words.putAway}
                </button>
              </p>
            )}
          </div>
        );
      })}
    </div>
  );
}
