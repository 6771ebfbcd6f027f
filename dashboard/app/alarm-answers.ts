// The one desk for answers to alarms of this page, made when alarms are first shown.
import { alarmsApi } from "../data/alarms-api.ts";
import { type AnswerDesk, answerDesk } from "../data/answers.ts";
import { writerOf } from "../data/session.ts";
import type { Services } from "./services.tsx";

const desks = new WeakMap<Services, AnswerDesk>();

export function answersOf(services: Services): AnswerDesk {
  const known = desks.get(services);
  if (known !== undefined) return known;
  const { keep, session, storeOf } = services;
  const made = answerDesk(keep, {
    send: ({ site, alarm, by, untilAt }) =>
      untilAt === null ? alarmsApi.acknowledge(site, alarm, by) : alarmsApi.snooze(site, alarm, by, untilAt),
    taken: ({ site }, alarm) => storeOf(site).takeAlarms([alarm], null),
    writer: () => writerOf(session.signal.get().access),
    sure: () => session.signal.get().sure,
    random: () => Math.random(),
    later: (run, ms) => void setTimeout(run, ms),
  });
  desks.set(services, made);
  let key = session.signal.get().key;
  session.signal.subscribe(() => {
    const now = session.signal.get().key;
    if (now !== key) made.forget();
    key = now;
    made.kick();
  });
  globalThis.addEventListener("online", () => made.kick());
  return made;
}
