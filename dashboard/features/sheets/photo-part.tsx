// Pictures of the page, taken with the phone that types it.
import { useId, useState } from "react";
import { ApiFailure } from "../../data/api.ts";
import { sheetsApi } from "../../data/sheets-api.ts";
import { shrunk } from "../../data/shrink.ts";
import type { SheetsText } from "../../text/en-sheets.ts";

export function Pages({ photos, words }: { readonly photos: readonly string[]; readonly words: SheetsText }) {
  return (
    <ul className="sheet-pages">
      {photos.map((photo, index) => (
        <li key={photo}>
          <a href={sheetsApi.photoHref(photo)} target="_blank" rel="noreferrer">
            <img src={sheetsApi.smallPhotoHref(photo)} alt={words.pageOf(index + 1)} loading="lazy" />
          </a>
        </li>
      ))}
    </ul>
  );
}

interface Props {
  readonly photos: readonly string[];
  readonly words: SheetsText;
  readonly onKept: (photo: string) => void;
}

export function PhotoPart({ photos, words, onKept }: Props) {
  const id = useId();
  const [sending, setSending] = useState(false);
  const [fault, setFault] = useState<string | null>(null);
  const send = async (file: File) => {
    setSending(true);
    setFault(null);
    try {
      onKept((await sheetsApi.sendPhoto(await shrunk(file))).id);
    } catch (cause) {
      setFault(cause instanceof ApiFailure && cause.kind === "refused" ? cause.message : words.photoAway);
    } finally {
      setSending(false);
    }
  };
  return (
    <section className="sheet-part">
      <h2>{words.sections.page}</h2>
      <Pages photos={photos} words={words} />
      <div className="field">
        <label htmlFor={id}>{words.photo}</label>
        <input
          id={id}
          type="file"
          accept="image/jpeg,image/png,image/webp"
          capture="environment"
          disabled={sending}
          onChange={(event) => {
            const file = event.target.files?.[0];
            event.target.value = "";
            if (file !== undefined) void send(file);
          }}
        />
        <p className="field-help">{words.photoHelp}</p>
      </div>
      <p role="status">{sending ? words.photoSending : ""}</p>
      {fault !== null && (
        <p className="field-error" role="alert">
          {fault}
        </p>
      )}
    </section>
  );
}
