// A file from this device: chosen, or dropped on the button; read as text and handed on.
import { useId, useState } from "react";
import { setUpText } from "../../text/set-up.ts";
import { useVoice } from "../../ui/voice.tsx";

interface Props {
  readonly label: string;
  readonly busy: boolean;
  readonly onText: (content: string) => void;
}

export function FileDrop({ label, busy, onText }: Props) {
  const { text } = useVoice();
  const words = setUpText(text);
  const id = useId();
  const [over, setOver] = useState(false);
  const [wrong, setWrong] = useState(false);
  const take = async (file: File | undefined) => {
    if (file === undefined || busy) return;
    const content = await file.text();
    try {
      JSON.parse(content);
    } catch {
      setWrong(true);
      return;
    }
    setWrong(false);
    onText(content);
  };
  return (
    <div>
      <input
        id={id}
        className="hidden"
        type="file"
        accept=".json,application/json"
        disabled={busy}
        onChange={(event) => {
          const file = event.target.files?.[0];
          event.target.value = "";
          void take(file);
        }}
      />
      <label
        htmlFor={id}
        className={`button set-up-drop${over ? " set-up-over" : ""}`}
        onDragOver={(event) => {
          event.preventDefault();
          setOver(true);
        }}
        onDragLeave={() => setOver(false)}
        onDrop={(event) => {
          event.preventDefault();
          setOver(false);
          void take(event.dataTransfer.files[0]);
        }}
      >
        <b>{label}</b>
        <span>{words.dropFile}</span>
      </label>
      {wrong && (
        <p className="field-error" role="alert">
          {words.notJson}
        </p>
      )}
    </div>
  );
}
