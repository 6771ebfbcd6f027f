// An alarm in words that can be read on a lock screen: which zone, what, by when, what to do.
import type { Alarm } from "#core/alarm/alarm.ts";
import type { AlarmSentence, AlarmWords } from "#core/alarm/words.ts";
import { alarmWordsEn } from "#core/alarm/words-en.ts";
import { alarmWordsEs } from "#core/alarm/words-es.ts";
import { fDifferenceFromK, fFromC } from "#core/units.ts";

export interface AlarmVoice {
  readonly language: "en" | "es";
  readonly units: "us" | "si";
  /** The name of a zone; its id where it has none. */
  zoneName(zone: string): string;
  /** Local clock time, with the day where it is not today. */
  clock(atMs: number): string;
}

export const TITLE_LONGEST = 120;
export const BODY_LONGEST = 240;
const NAME_LONGEST = 40;

const WORDS: Readonly<Record<AlarmVoice["language"], AlarmWords>> = { en: alarmWordsEn, es: alarmWordsEs };

function cut(text: string, longest: number): string {
  const letters = [...text];
  return letters.length <= longest
    ? text
    : `${letters
        .slice(0, longest - 1)
        .join("")
        .trimEnd()}…`;
}

/** Never a minus sign before nothing: -0.04 is 0.0. */
function fixed(value: number, digits: number): string {
  const text = value.toFixed(digits);
  return Number(text) === 0 ? (0).toFixed(digits) : text.replace("-", "−");
}

function both(us: string, si: string, units: AlarmVoice["units"]): string {
  return units === "us" ? `${us} (${si})` : `${si} (${us})`;
}

/** A number of an alarm as a person reads it; a difference of temperatures is never a bare kelvin. */
function valueIn(value: number | null, unit: string | null, units: AlarmVoice["units"]): string | null {
  if (value === null) return null;
  if (unit === "K") return both(`${fixed(fDifferenceFromK(value), 1)} °F`, `${fixed(value, 1)} °C`, units);
  if (unit === "Cel") return both(`${fixed(fFromC(value), 0)} °F`, `${fixed(value, 1)} °C`, units);
  if (unit === "%" || unit === "%RH") return `${fixed(value, 0)} %`;
  if (unit === "h") return `${fixed(value, 1)} h`;
  if (unit === null || unit === "1") return fixed(value, 1);
  return `${fixed(value, 1)} ${unit}`;
}

/** The sentence of an alarm as it stands: `alarm.state` says whether it is over. */
export function sayAlarm(alarm: Pick<Alarm, "kind" | "state" | "zones" | "facts">, voice: AlarmVoice): AlarmSentence {
  const words = WORDS[voice.language];
  const { facts, zones } = alarm;
  const [worst] = zones;
  const name = worst === undefined ? null : cut(voice.zoneName(worst), NAME_LONGEST);
  const said = words.kinds[alarm.kind]({
    where: name === null ? null : zones.length > 1 ? words.more(name, zones.length - 1) : name,
    at: facts.expectedAtMs === null ? null : voice.clock(facts.expectedAtMs),
    // A chance is said in steps that it deserves.
    chance: facts.chance === null ? null : `${Math.round(facts.chance * 20) * 5} %`,
    measured: valueIn(facts.measured, facts.unit, voice.units),
    limit: valueIn(facts.limit, facts.unit, voice.units),
    about: facts.about === null ? null : cut(facts.about, 60),
    hours: facts.unit === "h" && facts.measured !== null ? words.hours(facts.measured) : null,
  });
  const title = alarm.state === "cleared" ? words.cleared(said.title) : said.title;
  return { title: cut(title, TITLE_LONGEST), body: cut(said.body, BODY_LONGEST) };
}
