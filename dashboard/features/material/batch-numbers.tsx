// The numbers on the pails: typed, or read from a picture, which goes into the journal beside them.
import { useEffect, useRef, useState } from "react";
import { shrunk } from "../../data/shrink.ts";
import { materialText } from "../../text/material.ts";
import { Field } from "../../ui/field.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { codeIn, codeReader } from "./read-code.ts";

export type Numbers = Readonly<Record<string, string>>;

interface Props {
  /** Names of the parts; one empty name where the sheet knows none. */
  readonly parts: readonly string[];
  readonly numbers: Numbers;
  readonly onType: (part: string, number: string) => void;
  /** Sends the picture and writes it down; rejects when it did not get there. */
  readonly onPhoto: (picture: Blob, note: string) => Promise<void>;
}

interface Shot {
  readonly part: string;
  readonly picture: ImageBitmap;
  readonly said: string;
  readonly sent: boolean | null;
}

const PREVIEW_PX = 320;

/** Drawn, not linked: the page loads no pictures but its server's. */
function Preview({ picture }: { readonly picture: ImageBitmap }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const heightPx = Math.round((PREVIEW_PX * picture.height) / picture.width);
  useEffect(() => {
    canvas.current?.getContext("2d")?.drawImage(picture, 0, 0, PREVIEW_PX, heightPx);
  }, [picture, heightPx]);
  return <canvas ref={canvas} className="batch-shot" width={PREVIEW_PX} height={heightPx} aria-hidden="true" />;
}

export function BatchNumbers({ parts, numbers, onType, onPhoto }: Props) {
  const { text } = useVoice();
  const words = materialText(text);
  const [shot, setShot] = useState<Shot | null>(null);
  const [reading, setReading] = useState(false);

  const take = async (part: string, file: File) => {
    setReading(true);
    try {
      const picture = await createImageBitmap(file);
      const Reader = codeReader();
      // A reader that fails on a picture has found nothing in it.
      const code = Reader === null ? null : await codeIn(picture, Reader).catch(() => null);
      if (code !== null) onType(part, code);
      const said = Reader === null ? words.noReader : code === null ? words.noCode : words.foundCode(code);
      const taken = { part, picture, said };
      setShot({ ...taken, sent: null });
      setReading(false);
      await onPhoto(await shrunk(file), [part, code ?? ""].filter((piece) => piece !== "").join(" "));
      setShot({ ...taken, sent: true });
    } catch {
      setReading(false);
      setShot((before) => (before === null ? null : { ...before, sent: false }));
    }
  };

  return (
    <fieldset className="batch-numbers">
      <legend>{words.numbers}</legend>
      <p className="field-help">{words.numbersHelp}</p>
      {parts.map((part) => (
        <div key={part}>
          <Field
            label={words.numberOf(part === "" ? words.anyPart : part)}
            type="text"
            value={numbers[part] ?? ""}
            onType={(number) => onType(part, number.slice(0, 200))}
          >
            <label className="button">
              <input
                type="file"
                className="batch-file"
                accept="image/jpeg,image/png,image/webp"
                capture="environment"
                aria-label={`${words.photograph}: ${part === "" ? words.anyPart : part}`}
                onChange={(event) => {
                  const file = event.target.files?.[0];
                  if (file !== undefined) void take(part, file);
                  event.target.value = "";
                }}
              />
              {words.photograph}
            </label>
          </Field>
          {shot?.part === part && <Preview picture={shot.picture} />}
          <p role="status" className="field-help">
            {reading ? words.reading : shot?.part === part ? shot.said : ""}{" "}
            {shot?.part === part && shot.sent !== null ? (shot.sent ? words.photoKept : words.photoAway) : ""}
          </p>
        </div>
      ))}
    </fieldset>
  );
}
