// Pick one of a few: big buttons instead of a list, so that nothing has to be typed or scrolled.
import { useId } from "react";

interface Props {
  readonly label: string;
  readonly options: Readonly<Record<string, string>>;
  readonly value: string;
  readonly error?: string | undefined;
  readonly onPick: (value: string) => void;
}

export function Choice({ label, options, value, error, onPick }: Props) {
  const id = useId();
  return (
    <fieldset className="choice" aria-describedby={error === undefined ? undefined : `${id}-error`}>
      <legend>{label}</legend>
      <div className="choice-options">
        {Object.entries(options).map(([key, name]) => (
          <label key={key} className="choice-option">
            <input type="radio" name={id} checked={value === key} onChange={() => onPick(key)} />
            <span>{name}</span>
          </label>
        ))}
      </div>
      {error !== undefined && (
        <p className="field-error" id={`${id}-error`} role="alert">
          {error}
        </p>
      )}
    </fieldset>
  );
}
