// Something that is shown once: an address that lets somebody in, to be copied and sent by the owner.
import { useEffect, useId, useRef, useState } from "react";
import { accessText } from "../../text/access.ts";
import { useVoice } from "../../ui/voice.tsx";

interface Props {
  readonly title: string;
  /** As the server gave it, from the root of this server. */
  readonly path: string;
  readonly ends: string;
  readonly onPutAway: () => void;
}

export function Once({ title, path, ends, onPutAway }: Props) {
  const words = accessText(useVoice().text).people;
  const address = new URL(path, globalThis.location.origin).href;
  const field = useRef<HTMLInputElement>(null);
  const [said, setSaid] = useState("");
  const id = useId();
  useEffect(() => field.current?.focus(), [path]);
  const copy = async () => {
    field.current?.select();
    try {
      await navigator.clipboard.writeText(address);
      setSaid(words.copied);
    } catch {
      // Browsers give the clipboard only to pages over https or of this very machine.
      setSaid(words.notCopied);
    }
  };
  return (
    <div className="once" role="group" aria-labelledby={id}>
      <h3 id={id}>
        {title} <small>{ends}</small>
      </h3>
      <p>{words.once}</p>
      <div className="once-row">
        <input
          ref={field}
          type="text"
          readOnly
          value={address}
          aria-labelledby={id}
          onFocus={(event) => event.target.select()}
        />
        <button type="button" className="button button-main" onClick={() => void copy()}>
          {words.copy}
        </button>
        <button type="button" className="button" onClick={onPutAway}>
          {words.put}
        </button>
      </div>
      <p role="status">{said}</p>
    </div>
  );
}
