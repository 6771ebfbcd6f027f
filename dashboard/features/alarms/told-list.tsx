// What an alarm said to whom, way by way, and what became of it; failures first of all.
import type { AlarmBody } from "#contract/alarm.ts";
import type { DeliveryBody } from "#contract/notify.ts";
import { alarmsApi } from "../../data/alarms-api.ts";
import { useAsked } from "../../data/use-asked.ts";
import { alarmsText } from "../../text/alarms.ts";
import { useVoice } from "../../ui/voice.tsx";

const AGAIN_MS = 60_000;
const failed = ({ state }: DeliveryBody) => state === "failed" || state === "given-up";

export function ToldList({ alarm }: { readonly alarm: AlarmBody }) {
  const { text, clock, nowMs } = useVoice();
  const words = alarmsText(text);
  const reason = `${alarm.history.length} ${Math.floor(nowMs / AGAIN_MS)}`;
  const asked = useAsked(() => alarmsApi.deliveries(alarm.site, alarm.id), `${alarm.site} ${alarm.id}`, reason);
  const when = (iso: string) => clock.when(Date.parse(iso), nowMs);
  if (asked.value === null) return <p role="status">{asked.failed ? words.toldFailed : words.toldLoading}</p>;
  if (asked.value.length === 0) return <p>{words.toldNobody}</p>;
  const rows = [...asked.value.filter(failed), ...asked.value.filter((one) => !failed(one))];
  return (
    <ul className="told">
      {rows.map((one) => (
        <li key={one.id} className={failed(one) ? "told-failed" : undefined}>
          <span>
            <b>{one.name}</b> · {words.ways[one.wayKind]}
          </span>
          <span>
            {failed(one) && <b aria-hidden="true">× </b>}
            {words.deliveries[one.state]}{" "}
            {one.sentAt !== null
              ? when(one.sentAt)
              : one.waitsUntil !== null
                ? words.waitsUntil(when(one.waitsUntil), failed(one))
                : ""}
            {one.tries > 1 && ` · ${words.tries(one.tries)}`}
          </span>
          {one.lastError !== null && failed(one) && <small>{one.lastError}</small>}
        </li>
      ))}
    </ul>
  );
}
