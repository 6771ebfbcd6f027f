// A chip in its bag: how long still, what it reads, what it should, and writing it down.
import type { EntryBody } from "#contract/journal.ts";
import type { SensorBody } from "#contract/sensors.ts";
import type { ZoneOpinionsBody } from "#contract/second-opinion.ts";
import { SALT_RANGE_C, saltPointPct } from "#core/air/salt-points.ts";
import { LEAST_SOAK_H, SOAK_H } from "#core/zone/salt-check.ts";
import { opinionsText } from "../../text/opinions.ts";
import { useVoice } from "../../ui/voice.tsx";
import { showDuration, showTemperature } from "../../units/show.ts";
import { signedPct, tenthPct } from "./amounts.ts";
import { isoNow } from "./iso-now.ts";

interface Props {
  readonly zone: string;
  readonly bag: ZoneOpinionsBody["bagged"][number];
  readonly sensors: readonly SensorBody[];
  readonly onWrite: (entry: EntryBody) => void;
}

const HOUR_MS = 3_600_000;
/** An older read-out may be from before the bag had settled. */
const FRESH_MS = HOUR_MS / 2;

export function Soaking({ zone, bag: { probe, salt, since }, sensors, onWrite }: Props) {
  const { text, units, clock, nowMs } = useVoice();
  const words = opinionsText(text);
  const soakMs = Math.max(0, nowMs - Date.parse(since));
  const own = sensors.find(({ node }) => probe === `${node.id}/rh`)?.quantities ?? [];
  const said = (name: string) =>
    own.find(({ quantity, at }) => quantity === name && nowMs - Date.parse(at) <= FRESH_MS) ?? null;
  const [rh, air] = [said("rh"), said("air")];
  const ranges = air !== null && air.value >= SALT_RANGE_C.min && air.value <= SALT_RANGE_C.max;
  const readout = rh === null || air === null || !ranges ? null : { rh, air, pointPct: saltPointPct(salt, air.value) };
  const enough = soakMs >= LEAST_SOAK_H * HOUR_MS;
  const record = () => {
    if (readout === null) return;
    const soakH = Math.max(0.1, Math.round(soakMs / (HOUR_MS / 10)) / 10);
    const readPct = Math.min(100, Math.max(0, readout.rh.value));
    onWrite({ did: "salt-checked", at: isoNow(nowMs), zone, probe, salt, soakH, readPct, airC: readout.air.value });
  };
  return (
    <div className="soaking">
      <h5>
        {probe}, {words.salts[salt]}
      </h5>
      <progress max={SOAK_H * HOUR_MS} value={Math.min(soakMs, SOAK_H * HOUR_MS)} aria-label={words.salts[salt]} />
      <p>
        {words.soaking(clock.when(Date.parse(since), nowMs))}{" "}
        {soakMs >= SOAK_H * HOUR_MS ? words.ready : words.toGo(showDuration(SOAK_H * HOUR_MS - soakMs))}{" "}
        {!enough && words.least(showDuration(LEAST_SOAK_H * HOUR_MS - soakMs))}
      </p>
      {readout === null ? (
        <p>{words.noReading}</p>
      ) : (
        <p>
          {words.reads(
            tenthPct(readout.rh.value),
            showTemperature(readout.air.value, units),
            showDuration(nowMs - Date.parse(readout.rh.at)),
          )}{" "}
          {words.should(tenthPct(readout.pointPct))} <b>{signedPct(readout.rh.value - readout.pointPct)}</b>
        </p>
      )}
      <p className="field-help">{enough ? words.out : words.steps.silent}</p>
      <div className="sensor-acts">
        <button type="button" className="button button-main" disabled={!enough || readout === null} onClick={record}>
          {words.record}
        </button>
        <button
          type="button"
          className="button"
          onClick={() => onWrite({ did: "moved", at: isoNow(nowMs), zone, probe })}
        >
          {words.stop}
        </button>
      </div>
    </div>
  );
}
