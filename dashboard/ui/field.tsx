// A labelled input with its unit and, when something is wrong, the reason beside it.
import { type ReactNode, useId } from "react";

interface Props {
  readonly label: string;
  readonly value: string;
  readonly unit?: string;
  readonly type?: "number" | "text" | "datetime-local" | "password";
  /** What a password keeper or the browser may fill in. */
  readonly fill?: string;
  readonly help?: string;
  readonly error?: string | undefined;
  readonly onType: (value: string) => void;
  readonly children?: ReactNode;
}

export function Field({ label, value, unit, type = "number", fill = "off", help, error, onType, children }: Props) {
  const id = useId();
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <div className="field-row">
        <input
          id={id}
          // A number field drops a comma and hides what was typed; text with a number pad keeps it for the message.
          type={type === "number" ? "text" : type}
          inputMode={type === "number" ? "decimal" : undefined}
          autoComplete={fill}
          autoCapitalize={fill === "off" ? undefined : "none"}
          spellCheck={fill === "off" ? undefined : false}
          value={value}
          aria-invalid={error !== undefined}
          aria-describedby={error !== undefined ? `${id}-error` : help === undefined ? undefined : `${id}-help`}
          onChange={(event) => onType(event.target.value)}
        />
        {unit !== undefined && <span className="field-unit">{unit}</span>}
        {children}
      </div>
      {help !== undefined && (
        <p className="field-help" id={`${id}-help`}>
          {help}
        </p>
      )}
      {error !== undefined && (
        <p className="field-error" id={`${id}-error`} role="alert">
          {error}
        </p>
      )}
    </div>
  );
}
