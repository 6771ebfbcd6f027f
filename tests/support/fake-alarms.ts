// A desk of alarms in memory: one that stands, one that is over.
import { type AlarmBody, alarmFromBody, bodyFromAlarm } from "#contract/alarm.ts";
import { fail } from "#contract/faults.ts";
import { type AlarmAnswer, answerAlarm, type AlarmsState, standingAlarms } from "#core/alarm/machine.ts";
import type { AlarmDesk } from "../../server/http/alarms-port.ts";
import type { Answer, Refusal } from "../../server/http/answer.ts";
import { sampleAlarm } from "./sample-alarms.ts";
import { SAMPLE_AT_MS } from "./sample-site.ts";

const refuse = (refusal: Refusal["refusal"], field: string, reason: string): Refusal => ({
  ...fail(field, reason),
  refusal,
});
const good = <T>(value: T): Answer<T> => ({ ok: true, value });

export function fakeAlarmDesk(noSite: (site: string) => Refusal | null): AlarmDesk {
  const alarm = alarmFromBody(sampleAlarm());
  const over = sampleAlarm({
    id: "a0",
    state: "cleared",
    raisedAt: "2026-02-02T11:40:00Z",
    clearedAt: "2026-02-02T13:40:00Z",
  });
  let state: AlarmsState = {
    places: {},
    standing: { dew: { alarm, toldStep: 0, toldLevel: "wake", toldMembers: ["slip#0"], toldMs: alarm.raisedAtMs } },
  };
  const all = (): AlarmBody[] => [...standingAlarms(state).map(bodyFromAlarm), over];
  const answered = (site: string, id: string, answer: AlarmAnswer): Answer<AlarmBody> => {
    const missing = noSite(site);
    if (missing !== null) return missing;
    if (!all().some((each) => each.id === id)) return refuse("missing", "/alarm", `no alarm "${id}"`);
    const after = answerAlarm(state, id, answer, SAMPLE_AT_MS);
    if (after === null) return refuse("conflict", "/alarm", "is over");
    state = after.state;
    return good(all().find((each) => each.id === id) as AlarmBody);
  };
  return {
    alarms: (site, { state: of, limit }) =>
      noSite(site) ??
      good({
        alarms: all()
          .filter((each) => of === null || each.state === of)
          .slice(0, limit),
        before: null,
      }),
    acknowledgeAlarm: (site, id, by) => answered(site, id, { did: "acknowledge", by }),
    snoozeAlarm: (site, id, by, untilMs) => answered(site, id, { did: "snooze", by, untilMs }),
  };
}
