// Salt checks of each chip: the newest in words, all of them as a drift curve.
import type { SensorBody } from "#contract/sensors.ts";
import type { SaltCheckBody } from "#contract/second-opinion.ts";
import { REPLACE_FROM_PCT } from "#core/zone/salt-check.ts";
import { opinionsText } from "../../text/opinions.ts";
import { useVoice } from "../../ui/voice.tsx";
import { showDuration } from "../../units/show.ts";
import { signedK, signedPct, tenthPct } from "./amounts.ts";
import { Drift } from "./drift.tsx";

interface Props {
  readonly checks: readonly SaltCheckBody[];
  readonly sensors: readonly SensorBody[];
}

export function SaltList({ checks, sensors }: Props) {
  const { text, units, clock, nowMs } = useVoice();
  const words = opinionsText(text);
  if (checks.length === 0) return <p>{words.noSalt}</p>;
  const probes = [...new Set(checks.map(({ probe }) => probe))];
  return (
    <ul className="opinion-list">
      {probes.map((probe) => {
        const own = checks.filter((one) => one.probe === probe);
        const statedPct = sensors.find(({ node }) => probe.startsWith(`${node.id}/`))?.node.accuracy.rhPct ?? null;
        const newest = own.filter((one) => own.find(({ salt }) => salt === one.salt) === one);
        const worstPct = Math.max(0, ...newest.filter(({ valid }) => valid).map(({ errorPct }) => Math.abs(errorPct)));
        return (
          <li key={probe}>
            <h5>{probe}</h5>
            {newest.map(({ entry, salt, at, by, readPct, pointPct, errorPct, dewK, soakH, valid }) => (
              <p key={entry} className="opinion">
                <b>{words.checked(tenthPct(readPct), tenthPct(pointPct), signedPct(errorPct))}</b>{" "}
                {dewK !== null && <span>{words.means(signedK(dewK, units))}</span>}{" "}
                <span>
                  {words.salts[salt]}; {words.soak(showDuration(soakH * 3_600_000))}
                  {!valid && `, ${words.short}`};{" "}
                  {[...(by === null ? [] : [by]), clock.when(Date.parse(at), nowMs)].join(", ")}
                </span>
              </p>
            ))}
            {worstPct > REPLACE_FROM_PCT && <p className="sensor-bad">{words.replace}</p>}
            {statedPct !== null && worstPct > statedPct && <p className="sensor-warn">{words.wide}</p>}
            <Drift label={`${probe}: ${words.drift}`} checks={own.filter(({ valid }) => valid)} statedPct={statedPct} />
          </li>
        );
      })}
    </ul>
  );
}
