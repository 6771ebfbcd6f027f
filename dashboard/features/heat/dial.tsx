// A number by slider or by typing: the slider for gloves, the field for what stands on the heater's plate.
import { useEffect, useId, useState } from "react";
import { numberFromTyped } from "../../units/typed.ts";
import { plain } from "../../units/show.ts";

interface Props {
  readonly label: string;
  readonly unit: string;
  readonly value: number;
  /** The stops of the slider, rising; typing may lie between. */
  readonly stops: readonly number[];
  readonly low: number;
  readonly high: number;
  readonly fault: string;
  readonly onPick: (value: number) => void;
}

/** The stop nearest to a value. */
export function nearestStop(stops: readonly number[], value: number): number {
  return stops.reduce(
    (best, stop, index) => (Math.abs(stop - value) < Math.abs((stops[best] ?? 0) - value) ? index : best),
    0,
  );
}

export function Dial({ label, unit, value, stops, low, high, fault, onPick }: Props) {
  const id = useId();
  const shown = plain(value).replace("−", "-");
  const [typed, setTyped] = useState(shown);
  const read = numberFromTyped(typed);
  const wrong = read === null || !(read >= low && read <= high);
  // A change from elsewhere (the slider, other units) replaces the text; one that the text itself made does not.
  useEffect(() => {
    setTyped((before) => {
      const number = numberFromTyped(before);
      return number !== null && Math.abs(number - value) < 0.05 ? before : shown;
    });
  }, [value, shown]);
  return (
    <div className="dial field">
      <label htmlFor={id}>{label}</label>
      <div className="field-row">
        <input
          type="range"
          className="dial-range"
          aria-label={label}
          aria-valuetext={`${shown} ${unit}`}
          min={0}
          max={stops.length - 1}
          step={1}
          value={nearestStop(stops, value)}
          onChange={(event) => onPick(stops[Number(event.target.value)] ?? value)}
        />
        <input
          id={id}
          type="text"
          inputMode="decimal"
          autoComplete="off"
          className="dial-typed"
          value={typed}
          aria-invalid={wrong}
          aria-describedby={wrong ? `${id}-error` : undefined}
          onChange={(event) => {
            setTyped(event.target.value);
            const next = numberFromTyped(event.target.value);
            if (next !== null && next >= low && next <= high) onPick(next);
          }}
        />
        <span className="field-unit">{unit}</span>
      </div>
      {wrong && (
        <p className="field-error" id={`${id}-error`} role="alert">
          {fault}
        </p>
      )}
    </div>
  );
}
