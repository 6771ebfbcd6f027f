// A hand reading beside a named probe.
import { useState } from "react";
import type { EntryBody } from "#contract/journal.ts";
import type { SensorBody } from "#contract/sensors.ts";
import { opinionsText } from "../../text/opinions.ts";
import { Choice } from "../../ui/choice.tsx";
import { Field } from "../../ui/field.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { cFromTyped, degreeSign, numberFromTyped } from "../../units/typed.ts";
import { isoNow } from "./iso-now.ts";

interface Props {
  readonly zone: string;
  readonly sensors: readonly SensorBody[];
  readonly onWrite: (entry: EntryBody) => void;
}

type Typed = Readonly<Record<"slab" | "air" | "rh" | "instrument", string>>;
const EMPTY: Typed = { slab: "", air: "", rh: "", instrument: "" };

export function HandForm({ zone, sensors, onWrite }: Props) {
  const { text, units, nowMs } = useVoice();
  const words = opinionsText(text);
  const probes = sensors.flatMap(({ node, quantities }) => {
    const own = quantities.filter(({ retired }) => !retired).map(({ quantity }) => quantity);
    const slab = own.filter((quantity) => quantity.startsWith("slab"));
    const shown = slab.length > 0 ? slab : own.includes("rh") ? ["air"] : [];
    return shown.map((quantity) => {
      const place = node.probes?.[quantity]?.place;
      return [`${node.id}/${quantity}`, `${node.id}/${quantity}${place === undefined ? "" : `, ${place}`}`] as const;
    });
  });
  const [open, setOpen] = useState(false);
  const [written, setWritten] = useState(false);
  const [probe, setProbe] = useState("");
  const [typed, setTyped] = useState<Typed>(EMPTY);
  const [tried, setTried] = useState(false);
  const chosen = probes.some(([name]) => name === probe) ? probe : (probes[0]?.[0] ?? "");
  const ofSlab = chosen.includes("/slab");
  const found = {
    slab: ofSlab ? cFromTyped(typed.slab, units) : null,
    air: cFromTyped(typed.air, units),
    rh: numberFromTyped(typed.rh),
  };
  const fits = (value: number | null, low: number, high: number) => value === null || (value >= low && value <= high);
  const faults = {
    slab: fits(found.slab, -60, 80) ? undefined : words.bad,
    air: fits(found.air, -60, 80) ? undefined : words.bad,
    rh: fits(found.rh, 0, 100) ? undefined : words.bad,
  };
  const none = Object.values(found).every((value) => value === null);
  if (probes.length === 0) return null;
  if (!open)
    return (
      <>
        {written && <p role="status">{words.written}</p>}
        <button type="button" className="button" onClick={() => setOpen(true)}>
          {words.measure}
        </button>
      </>
    );
  const save = () => {
    setTried(true);
    if (none || Object.values(faults).some((fault) => fault !== undefined)) return;
    onWrite({
      did: "measured",
      at: isoNow(nowMs),
      zone,
      probe: chosen,
      ...(found.slab === null ? {} : { slabC: found.slab }),
      ...(found.air === null ? {} : { airC: found.air }),
      ...(found.rh === null ? {} : { rhPct: found.rh }),
      ...(typed.instrument.trim() === "" ? {} : { instrument: typed.instrument.trim() }),
    });
    setTyped({ ...EMPTY, instrument: typed.instrument });
    setTried(false);
    setWritten(true);
    setOpen(false);
  };
  const number = (name: "slab" | "air" | "rh", label: string, unit: string) => (
    <Field
      label={label}
      unit={unit}
      value={typed[name]}
      error={tried ? faults[name] : undefined}
      onType={(value) => setTyped((before) => ({ ...before, [name]: value }))}
    />
  );
  return (
    <div className="sensor-form">
      <p className="field-help">{words.measureHelp}</p>
      <Choice label={words.beside} options={Object.fromEntries(probes)} value={chosen} onPick={setProbe} />
      {ofSlab && number("slab", words.slab, degreeSign(units))}
      {number("air", words.air, degreeSign(units))}
      {number("rh", words.humidity, "%")}
      <Field
        label={words.instrument}
        type="text"
        value={typed.instrument}
        onType={(instrument) => setTyped((before) => ({ ...before, instrument }))}
      />
      {tried && none && (
        <p className="field-error" role="alert">
          {words.need}
        </p>
      )}
      <div className="sensor-acts">
        <button type="button" className="button button-main" onClick={save}>
          {words.save}
        </button>
        <button type="button" className="button" onClick={() => setOpen(false)}>
          {words.cancel}
        </button>
      </div>
    </div>
  );
}
