// The page of the night in sentences. Pure.
import { type AlarmBody, alarmFromBody } from "#contract/alarm.ts";
import type { BoardBody } from "#contract/board.ts";
import type { OnCallBody } from "#contract/notify.ts";
import { sayAlarm } from "#core/alarm/say.ts";
import { type Voice, stripWords } from "../../text/sentence.ts";
import { tonightText } from "../../text/tonight.ts";
import { showBoth, showChance, showDuration, showPercent } from "../../units/show.ts";
import type { Change, Work, ZoneNight } from "./morning.ts";
import type { NodeWatch, Risk, ZoneTodo } from "./tonight.ts";

const whenOf = (atMs: number | null, { clock, nowMs }: Voice) => (atMs === null ? null : clock.when(atMs, nowMs));

export function riskWords(risk: Risk, voice: Voice): string {
  const unit = risk.kind === "cold" ? "C" : "K";
  const show = (value: number | null) => (value === null ? null : showBoth(value, unit, voice.units));
  const negative = risk.kind !== "cold" && (risk.worst ?? 0) < 0;
  return tonightText(voice.text).risks[risk.kind]({
    negative,
    chance: risk.chance === null ? null : showChance(risk.chance),
    at: whenOf(risk.atMs, voice),
    // Below the dew point the words say so, and the number is how far.
    worst: show(negative ? Math.abs(risk.worst ?? 0) : risk.worst),
    limit: show(risk.limit),
  });
}

export function todoWords({ kind, item, atMs, finishMs }: ZoneTodo, voice: Voice): string {
  const { text } = voice;
  const steps = item.call.steps.map((step) => text.steps[step]).join(", ");
  const more = kind === "steps" ? (steps === "" ? text.steps.abrade : steps) : stripWords(item, voice).lead;
  return tonightText(text).todos[kind](whenOf(atMs, voice), whenOf(finishMs, voice), more);
}

export function probeWords(watch: NodeWatch, voice: Voice): string {
  const words = tonightText(voice.text);
  return [
    ...(watch.silent ? [words.silent(watch.id, whenOf(watch.silentSinceMs, voice))] : []),
    ...(watch.batteryPct === null ? [] : [words.battery(watch.id, showPercent(watch.batteryPct))]),
  ].join(" ");
}

export function onCallWords(onCall: OnCallBody | null, voice: Voice): string {
  const words = tonightText(voice.text);
  if (onCall === null) return words.onCallUnknown;
  if (onCall.order.length > 0)
    return `${words.onCall}: ${onCall.order.map(({ name }) => name).join(words.onCallThen)}.`;
  return onCall.others.length > 0 ? words.onCallNobody : words.onCallNobodyAtAll;
}

export function changeWords({ atMs, from, to, limiting, hindsight }: Change, voice: Voice): string {
  const words = tonightText(voice.text);
  const { text } = voice;
  const said = words.change(voice.clock.time(atMs), text.words[from], text.words[to]);
  const why = limiting === null ? "" : `, ${text.ruleNames[limiting]}`;
  return `${said}${why}${hindsight ? ` (${words.hindsight})` : ""}`;
}

export function nightWords({ dewMin, nearMin, coldMin, gapMin }: ZoneNight, voice: Voice): string {
  const words = tonightText(voice.text);
  const time = (minutes: number) => showDuration(minutes * 60_000);
  return [
    ...(dewMin > 0 ? [words.dew(time(dewMin))] : []),
    ...(nearMin > 0 ? [words.near(time(nearMin))] : []),
    ...(coldMin > 0 ? [words.cold(time(coldMin))] : []),
    ...(gapMin > 0 ? [words.gap(time(gapMin))] : []),
  ].join("; ");
}

export const workWords = ({ why, atMs }: Work, voice: Voice): string =>
  tonightText(voice.text).why[why](whenOf(atMs, voice));

export function alarmWords(alarm: AlarmBody, board: BoardBody, { text, units, clock, nowMs }: Voice): string {
  const { title } = sayAlarm(alarmFromBody(alarm), {
    language: text.lang === "es" ? "es" : "en",
    units,
    zoneName: (id) => board.zones.find(({ zone }) => zone.id === id)?.zone.name ?? id,
    clock: (atMs) => clock.when(atMs, nowMs),
  });
  return `${clock.time(Date.parse(alarm.raisedAt))}: ${title}`;
}
