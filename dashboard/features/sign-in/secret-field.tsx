// A password with a button that shows it: thumbs in gloves mistype, and nobody looks over a shoulder at five in the morning.
import { useState } from "react";
import { accessText } from "../../text/access.ts";
import { Field } from "../../ui/field.tsx";
import { useVoice } from "../../ui/voice.tsx";

interface Props {
  readonly label: string;
  readonly value: string;
  readonly fill: "current-password" | "new-password";
  readonly error: string | undefined;
  readonly onType: (value: string) => void;
}

export function SecretField({ label, value, fill, error, onType }: Props) {
  const words = accessText(useVoice().text).form;
  const [shown, setShown] = useState(false);
  return (
    <Field
      label={label}
      type={shown ? "text" : "password"}
      fill={fill}
      value={value}
      error={error}
      onType={onType}
      {...(fill === "new-password" ? { help: words.passwordHelp(12) } : {})}
    >
      <button
        type="button"
        className="button secret-show"
        aria-pressed={shown}
        aria-label={words.shown}
        onClick={() => setShown(!shown)}
      >
        {shown ? words.hide : words.show}
      </button>
    </Field>
  );
}
