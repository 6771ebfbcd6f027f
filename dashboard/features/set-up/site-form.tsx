// What a site is: name, time zone as the browser proposes it, height above the sea, and how long the crew drives.
import { useId, useState } from "react";
import type { SiteBody } from "#contract/zone.ts";
import { setUpText } from "../../text/set-up.ts";
import { Field } from "../../ui/field.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { lengthSign, mFromTyped, showLength } from "../../units/lengths.ts";
import { plain } from "../../units/show.ts";
import { numberFromTyped } from "../../units/typed.ts";
import { ftFromM } from "#core/units.ts";

export type SiteWords = Omit<SiteBody, "id"> & { readonly name: string };

interface Props {
  readonly site: SiteBody | null;
  readonly submit: string;
  readonly busy: boolean;
  readonly onSubmit: (words: SiteWords) => void;
}

const LOWEST_M = -500;
const HIGHEST_M = 6000;

function zones(chosen: string): readonly string[] {
  const known = Intl.supportedValuesOf("timeZone");
  return known.includes(chosen) ? known : [chosen, ...known];
}

export function SiteForm({ site, submit, busy, onSubmit }: Props) {
  const { text, units } = useVoice();
  const words = setUpText(text);
  const zoneId = useId();
  const [name, setName] = useState(site?.name ?? "");
  const [timezone, setTimezone] = useState(() => site?.timezone ?? Intl.DateTimeFormat().resolvedOptions().timeZone);
  const whole = (m: number) => plain(units === "us" ? ftFromM(m) : m, 0);
  const [altitude, setAltitude] = useState(() => whole(site?.altitudeM ?? 0));
  const [drive, setDrive] = useState(site?.driveMin === undefined ? "" : plain(site.driveMin, 0));
  const [faults, setFaults] = useState<Partial<Record<"name" | "altitude" | "drive", string>>>({});
  const send = () => {
    const altitudeM = mFromTyped(altitude === "" ? "0" : altitude, units);
    const driveMin = numberFromTyped(drive);
    const found = {
      ...(name.trim() === "" ? { name: words.nameNeeded } : {}),
      ...(altitudeM !== null && altitudeM >= LOWEST_M && altitudeM <= HIGHEST_M
        ? {}
        : { altitude: words.altitudeRange(showLength(LOWEST_M, units), showLength(HIGHEST_M, units)) }),
      ...(driveMin === null || (driveMin >= 0 && driveMin <= 1440) ? {} : { drive: words.driveRange }),
    };
    setFaults(found);
    if (Object.keys(found).length > 0 || altitudeM === null) return;
    onSubmit({
      ...{ name: name.trim(), timezone, altitudeM: Math.round(altitudeM * 10) / 10 },
      ...(driveMin === null ? {} : { driveMin }),
    });
  };
  return (
    <form
      className="set-up-form"
      onSubmit={(event) => {
        event.preventDefault();
        send();
      }}
    >
      <Field label={words.name} type="text" value={name} error={faults.name} onType={setName} />
      <div className="field">
        <label htmlFor={zoneId}>{words.timezone}</label>
        <div className="field-row">
          <select id={zoneId} value={timezone} onChange={(event) => setTimezone(event.target.value)}>
            {zones(timezone).map((zone) => (
              <option key={zone}>{zone}</option>
            ))}
          </select>
        </div>
        <p className="field-help">{words.timezoneHelp}</p>
      </div>
      <Field
        label={words.altitude}
        unit={lengthSign(units)}
        value={altitude}
        help={words.altitudeHelp}
        error={faults.altitude}
        onType={setAltitude}
      />
      <Field
        label={words.drive}
        unit="min"
        value={drive}
        help={words.driveHelp}
        error={faults.drive}
        onType={setDrive}
      />
      <button type="submit" className="button button-main" disabled={busy}>
        {submit}
      </button>
    </form>
  );
}
