// A button for what cannot be taken back: the first tap asks, the second does it.
import { type ReactNode, useEffect, useRef, useState } from "react";
import { accessText } from "../../text/access.ts";
import { useVoice } from "../../ui/voice.tsx";

interface Props {
  readonly label: string;
  /** Read out instead of the label, where many rows have the same button. */
  readonly of: string;
  readonly warning?: ReactNode;
  readonly onSure: () => void;
}

export function SureButton({ label, of, warning, onSure }: Props) {
  const words = accessText(useVoice().text).people;
  const [asks, setAsks] = useState(false);
  const yes = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    if (asks) yes.current?.focus();
  }, [asks]);
  if (!asks)
    return (
      <button type="button" className="button" aria-label={`${label}: ${of}`} onClick={() => setAsks(true)}>
        {label}
      </button>
    );
  return (
    <span className="sure" role="group" aria-label={`${words.sure} ${label}: ${of}`}>
      {warning !== undefined && <span className="sure-warning">{warning}</span>}
      <button
        type="button"
        className="button button-main"
        ref={yes}
        onClick={() => {
          setAsks(false);
          onSure();
        }}
      >
        {words.sure} {label}
      </button>
      <button type="button" className="button" onClick={() => setAsks(false)}>
        {words.keep}
      </button>
    </span>
  );
}
