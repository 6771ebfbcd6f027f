// A node: where, what it says, how far it is trusted and why, and what fails next.
import { useState } from "react";
import type { KnockStateBody } from "#contract/knock.ts";
import type { SensorBody } from "#contract/sensors.ts";
import { sensorsText } from "../../text/sensors.ts";
import { useVoice } from "../../ui/voice.tsx";
import { showDuration, showPercent } from "../../units/show.ts";
import { NodeActs } from "./node-acts.tsx";
import { Trend } from "./trend.tsx";
import { doubtWords, measureWords, showReading, stateOf, warningWords } from "./words.ts";

interface Props {
  readonly site: string;
  readonly sensor: SensorBody;
  readonly zones: readonly { readonly id: string; readonly name: string }[];
  readonly knocks: readonly KnockStateBody[];
  readonly plans: boolean;
  readonly who: string | null;
  readonly onDone: () => void;
}

/** Kinds of readings that tell of the floor; battery and radio stand apart. */
const OF_THE_FLOOR = /^(slab|air|rh|dew|door)/;

export function NodeCard({ site, sensor, zones, knocks, plans, who, onDone }: Props) {
  const { text, units, nowMs, clock } = useVoice();
  const words = sensorsText(text);
  const [open, setOpen] = useState(false);
  const { node, doubts, warnings, retiredAt, lastHeard } = sensor;
  const state = stateOf(sensor);
  const since = (iso: string) => clock.when(Date.parse(iso), nowMs);
  const zone = node.zone === null ? words.outdoors : (zones.find(({ id }) => id === node.zone)?.name ?? node.zone);
  const facts = [
    lastHeard === null ? words.never : words.heard(showDuration(nowMs - Date.parse(lastHeard))),
    words.every(showDuration(node.everyS * 1000)),
    ...(retiredAt === null ? [words.presence[sensor.presence]] : []),
    ...(sensor.heardShare === null || retiredAt !== null ? [] : [words.share(showPercent(sensor.heardShare * 100))]),
    sensor.passwordSince === null ? words.noPassword : words.hasPassword(since(sensor.passwordSince)),
  ];
  return (
    <li className={`sensor sensor-${state}`}>
      <div className="sensor-head">
        <h3>
          {node.id} <span>{zone}</span>
        </h3>
        {state !== "retired" && <b className="sensor-state">{words[state]}</b>}
      </div>
      <p className="sensor-facts">
        {facts.map((fact) => (
          <span key={fact}>{fact}</span>
        ))}
      </p>
      {retiredAt !== null && (
        <p>
          {words.retired(since(retiredAt))} {sensor.replacedBy !== null && words.replacedBy(sensor.replacedBy)}
        </p>
      )}
      {doubts.map(({ probe, kind, since: from }) => (
        <p key={`${probe} ${kind}`} className="sensor-bad">
          <b>{probe}</b>: {doubtWords(kind, words)}, {words.doubtSince(since(from))}
        </p>
      ))}
      {warnings.map((warning) => (
        <p key={warning.kind} className="sensor-warn">
          {warningWords(warning, words)}
        </p>
      ))}
      <dl className="sensor-values">
        {sensor.quantities
          .filter(({ quantity }) => OF_THE_FLOOR.test(quantity))
          .map(({ quantity, value, retired }) => (
            <div key={quantity} className={retired ? "sensor-gone" : undefined}>
              <dt>
                {measureWords(quantity, words)}
                {node.probes?.[quantity]?.place !== undefined && ` · ${node.probes[quantity].place}`}
              </dt>
              <dd>{showReading(quantity, value, units, words)}</dd>
            </div>
          ))}
        {(sensor.batteryPct ?? sensor.batteryV) !== null && (
          <div>
            <dt>{words.battery}</dt>
            <dd>
              {sensor.batteryPct === null
                ? showReading("battery.v", sensor.batteryV ?? 0, units, words)
                : showPercent(sensor.batteryPct)}
              <Trend label={`${words.battery}, ${words.days}`} days={sensor.batteryDays} range={[0, 100]} />
            </dd>
          </div>
        )}
        {sensor.rssiDbm !== null && (
          <div>
            <dt>{words.radio}</dt>
            <dd>
              {showReading("rssi", sensor.rssiDbm, units, words)}
              <Trend label={`${words.radio}, ${words.days}`} days={sensor.rssiDays} range={[-100, -40]} />
            </dd>
          </div>
        )}
      </dl>
      {plans && retiredAt === null && !open && (
        <button type="button" className="button sensor-more" aria-expanded={false} onClick={() => setOpen(true)}>
          {`${words.label}, ${words.move}, ${words.replace} …`}
        </button>
      )}
      {plans && retiredAt === null && open && (
        <NodeActs site={site} sensor={sensor} zones={zones} knocks={knocks} who={who} onDone={onDone} />
      )}
    </li>
  );
}
