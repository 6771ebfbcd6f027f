// The gate before a step with solvent: somebody looks and gives their word; a burner that the journal knows of shuts it.
import { useId } from "react";
import { cautionText } from "../../text/caution.ts";
import { useVoice } from "../../ui/voice.tsx";
import "./caution.css";

interface Props {
  /** The coat carries solvent by its sheet: nobody chose it here. */
  readonly byCoat: boolean;
  readonly confirmed: boolean;
  /** Since when a heater burns in the room by the journal; null = none does. */
  readonly heaterSince: string | null;
  readonly error: string | undefined;
  readonly onConfirm: (confirmed: boolean) => void;
}

export function SolventGate({ byCoat, confirmed, heaterSince, error, onConfirm }: Props) {
  const words = cautionText(useVoice().text);
  const id = useId();
  return (
    <fieldset className="gate" aria-describedby={id}>
      <legend>{words.title}</legend>
      <p id={id}>
        {byCoat && <b>{words.coat} </b>}
        {words.why}
      </p>
      {heaterSince === null ? (
        <label className="check">
          <input
            type="checkbox"
            checked={confirmed}
            aria-invalid={error !== undefined}
            onChange={(event) => onConfirm(event.target.checked)}
          />
          <span>{words.confirm}</span>
        </label>
      ) : (
        <p className="gate-held" role="alert">
          <b>{words.held(heaterSince)}</b> {words.heldRest}
        </p>
      )}
      {/* The reason of a hold stands there already. */}
      {error !== undefined && heaterSince === null && (
        <p className="field-error" role="alert">
          {error}
        </p>
      )}
    </fieldset>
  );
}
