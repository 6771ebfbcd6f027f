// Takes a picture with the phone's camera, sends it, and writes into the journal what it is of.
import { useId, useRef, useState } from "react";
import type { EntryBody } from "#contract/journal.ts";
import { ApiFailure } from "../../data/api.ts";
import { NoRoom } from "../../data/photo-box.ts";
import { journalText } from "../../text/journal.ts";
import { recordText } from "../../text/record.ts";
import { Choice } from "../../ui/choice.tsx";
import { Field } from "../../ui/field.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { shrunk } from "../../data/shrink.ts";

interface Props {
  readonly zone: string;
  readonly by: string | null;
  /** Of the coat that is shown: a picture of a sheet is of this one. */
  readonly sheet: string | null;
  /** Writes it down with its picture; rejects where neither this device nor the server took that. */
  readonly onPhoto: (entry: PhotoEntry, picture: Blob) => Promise<void>;
}
export type PhotoEntry = Omit<Extract<EntryBody, { readonly did: "photographed" }>, "photo">;
type Of = "floor" | "sheet" | "probe" | "batch" | "test" | "finding";

export function PhotoForm({ zone, by, sheet, onPhoto }: Props) {
  const { text, nowMs } = useVoice();
  const words = recordText(text);
  const [of, setOf] = useState<Of>("floor");
  const [note, setNote] = useState("");
  const [file, setFile] = useState<File | null>(null);
  const [state, setState] = useState<"idle" | "sending" | "kept">("idle");
  const [fault, setFault] = useState<string | null>(null);
  const input = useRef<HTMLInputElement>(null);
  const id = useId();

  const send = async () => {
    if (file === null) return setFault(words.photoNeed);
    setState("sending");
    setFault(null);
    try {
      const said = note.trim();
      const entry: PhotoEntry = {
        did: "photographed",
        at: new Date(nowMs).toISOString(),
        zone,
        of,
        ...(of === "sheet" && sheet !== null ? { sheet } : {}),
        ...(said === "" ? {} : { note: said }),
        ...(by === null ? {} : { by }),
      };
      await onPhoto(entry, await shrunk(file));
      setState("kept");
      setFile(null);
      setNote("");
      if (input.current !== null) input.current.value = "";
    } catch (cause) {
      setState("idle");
      if (cause instanceof NoRoom) return setFault(words.photoNoRoom);
      setFault(cause instanceof ApiFailure && cause.kind === "refused" ? cause.message : words.photoUnread);
    }
  };

  return (
    <form
      className="record-photo"
      onSubmit={(event) => {
        event.preventDefault();
        void send();
      }}
    >
      <h3>{words.takePhoto}</h3>
      <p className="field-help">{words.photoHelp}</p>
      <div className="field">
        <label htmlFor={id}>{words.photoFile}</label>
        <input
          ref={input}
          id={id}
          type="file"
          accept="image/jpeg,image/png,image/webp"
          capture="environment"
          onChange={(event) => {
            setFile(event.target.files?.[0] ?? null);
            setState("idle");
            setFault(null);
          }}
        />
      </div>
      <Choice
        label={words.photoOf}
        options={journalText(text).photoOf}
        value={of}
        onPick={(value) => setOf(value as Of)}
      />
      <Field label={words.photoNote} type="text" value={note} onType={setNote} />
      {fault !== null && (
        <p className="field-error" role="alert">
          {fault}
        </p>
      )}
      <p role="status">{state === "kept" ? words.photoKept : state === "sending" ? words.photoSending : ""}</p>
      <button type="submit" className="button button-main" disabled={state === "sending"}>
        {words.photoSend}
      </button>
    </form>
  );
}
