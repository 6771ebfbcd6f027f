// The fields of each form of the journal.
import type { ReactNode } from "react";
import type { SheetBody } from "#contract/sheet.ts";
import { cautionText } from "../../text/caution.ts";
import { journalText } from "../../text/journal.ts";
import { Choice } from "../../ui/choice.tsx";
import { Field } from "../../ui/field.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { degreeSign } from "../../units/typed.ts";
import { localInput, msFromLocalInput } from "../../units/local-input.ts";
import type { Act } from "./acts.ts";
import type { Draft, Faults } from "./entry-of.ts";

interface Props {
  readonly act: Act;
  readonly draft: Draft;
  readonly faults: Faults;
  readonly system: readonly string[];
  readonly sheets: readonly SheetBody[];
  readonly probes: readonly string[];
  /** What must be said where the exhaust stays inside, right below that choice. */
  readonly burner: ReactNode;
  readonly set: (name: string, value: string) => void;
}

const NUDGES_MIN = [-15, 15] as const;
/** ICRI 310.2R numbers its profiles from 1 to 10. */
const CSP = Object.fromEntries(Array.from({ length: 10 }, (_, index) => [String(index + 1), String(index + 1)]));

export function Fields({ act, draft, faults, system, sheets, probes, burner, set }: Props) {
  const { text, units, clock, placeOf } = useVoice();
  const words = journalText(text);
  const degrees = degreeSign(units);
  const pick = (name: string, label: string, options: Readonly<Record<string, string>>) => (
    <Choice
      label={label}
      options={options}
      value={draft[name] ?? ""}
      error={faults[name]}
      onPick={(value) => set(name, value)}
    />
  );
  const type = (name: string, label: string, unit?: string, kind: "number" | "text" = "number") => (
    <Field
      label={label}
      type={kind}
      {...(unit === undefined ? {} : { unit })}
      value={draft[name] ?? ""}
      error={faults[name]}
      onType={(value) => set(name, value)}
    />
  );
  const time = (name: string, label: string) => (
    <Field
      label={label}
      type="datetime-local"
      value={draft[name] ?? ""}
      error={faults[name]}
      onType={(value) => set(name, value)}
    >
      {NUDGES_MIN.map((minutes) => (
        <button
          key={minutes}
          type="button"
          className="button"
          onClick={() => {
            const atMs = msFromLocalInput(draft[name] ?? "", clock.timezone);
            if (!Number.isNaN(atMs)) set(name, localInput(atMs + minutes * 60_000, clock.timezone));
          }}
        >
          {minutes < 0 ? "−" : "+"}
          {Math.abs(minutes)} min
        </button>
      ))}
    </Field>
  );
  const coats = () => {
    const names = Object.fromEntries(
      system.map((sheet, index) => [
        String(index),
        words.coatName(index + 1, sheets.find((one) => one.id === sheet)?.name ?? sheet),
      ]),
    );
    return pick("coat", words.coat, names);
  };
  const fillers = () => {
    const known = sheets.filter(({ kind }) => kind === "filler").map(({ id, name }) => [id, name] as const);
    const byHours = draft["filler"] === undefined || draft["filler"] === "";
    return (
      <>
        {known.length > 0 && pick("filler", words.filler, { ...Object.fromEntries(known), "": words.fillerByHours })}
        {byHours || known.length === 0 ? (
          type("hardAfter", words.hardAfter, "h")
        ) : (
          <p className="field-help">{words.fillerEarns}</p>
        )}
      </>
    );
  };
  switch (act) {
    case "pouring":
      return coats();
    case "poured":
      return (
        <>
          {time("from", words.from)}
          {time("to", words.to)}
          {coats()}
          <label className="check">
            <input
              type="checkbox"
              checked={draft["broadcast"] === "full"}
              onChange={(event) => set("broadcast", event.target.checked ? "full" : "")}
            />
            <span>{words.broadcast}</span>
          </label>
          <Field
            label={words.batches}
            type="text"
            help={words.batchesHelp}
            value={draft["batches"] ?? ""}
            onType={(value) => set("batches", value)}
          />
          {type("people", words.people, undefined, "text")}
          {type("product", words.product, undefined, "text")}
        </>
      );
    case "abraded":
      return pick("how", words.how, words.ways);
    case "inspected":
      return (
        <>
          {pick("surface", words.surface, words.surfaces)}
          {pick("film", words.film, words.films)}
        </>
      );
    case "measured":
      return (
        <>
          {type("slab", words.slab, degrees)}
          {type("air", words.air, degrees)}
          {type("humidity", words.humidity, "%")}
          {type("resin", words.resin, degrees)}
          {type("instrument", words.instrument, undefined, "text")}
          {probes.length > 0 &&
            pick("probe", words.beside, {
              "": words.besideNone,
              ...Object.fromEntries(probes.map((probe) => [probe, `${probe}, ${placeOf(probe)}`])),
            })}
        </>
      );
    case "heatingOn":
      return (
        <>
          {pick("exhaust", words.exhaust, { vented: words.vented, unvented: words.unvented })}
          {draft["exhaust"] === "unvented" && draft["fuel"] !== "electric" && burner}
          {pick("fuel", words.fuel, words.fuels)}
          {type("power", words.power, units === "us" ? "1000 BTU/h" : "kW")}
        </>
      );
    case "held":
      return (
        <>
          {pick("why", words.why, Object.fromEntries(words.whys.map((why) => [why, why])))}
          {type("own", words.ownWords, undefined, "text")}
        </>
      );
    case "released":
      return type("own", words.ownWords, undefined, "text");
    case "forecast":
      return (
        <>
          {type("low", words.low, degrees)}
          {type("dew", words.dew, degrees)}
          {time("until", words.until)}
        </>
      );
    case "filled":
      return fillers();
    case "tested":
      return (
        <>
          {pick("method", words.method, words.methods)}
          {draft["method"] === "F1869" ? type("mver", words.mver) : type("rh", words.rh, "%")}
          {type("spot", words.spot, undefined, "text")}
        </>
      );
    case "profile":
      return (
        <>
          {pick("csp", words.csp, CSP)}
          {type("depth", words.depth, units === "us" ? "mil" : "µm")}
          {type("spot", words.spot, undefined, "text")}
        </>
      );
    case "adhesion":
      return (
        <>
          {type("strength", words.strength, units === "us" ? "psi" : "MPa")}
          {pick("pull", words.method, words.pulls)}
          {pick("failure", words.failure, words.failures)}
          {type("spot", words.spot, undefined, "text")}
        </>
      );
    case "ventilationOn":
      return type("how", words.ventHow, undefined, "text");
    case "overrode":
      return (
        <>
          {pick("call", words.overrideTo, text.words)}
          {type("own", words.why, undefined, "text")}
        </>
      );
    case "washed":
    case "cleaned":
      return pick("solvent", cautionText(text).with, cautionText(text)[act]);
    case "ventilationOff":
    case "heatingOff":
      return null;
  }
}
