// English: alarms.
import type { AlarmSentence, AlarmWords } from "#core/alarm/words.ts";

const say = (title: string, ...body: (string | null)[]): AlarmSentence => ({
  title,
  body: body.filter((part) => part !== null && part !== "").join(" "),
});
const named = (where: string | null, what: string): string => (where === null ? what : `${where}: ${what}`);
const at = (time: string | null): string => (time === null ? "" : ` at ${time}`);
const since = (time: string | null): string => (time === null ? "" : ` since ${time}`);
const by = (time: string | null): string => (time === null ? "" : ` by about ${time}`);
const chance = (share: string | null): string => (share === null ? "" : ` Chance ${share}.`);
const of = (about: string | null): string => (about === null ? "" : ` ${about}`);

export const alarmWordsEn: AlarmWords = {
  cleared: (title) => `Over: ${title}`,
  more: (name, others) => `${name} and ${others} more`,
  hours: (h) =>
    h < 1 ? `${Math.round(h * 60)} min` : `${Math.floor(h)} h ${String(Math.floor((h % 1) * 60)).padStart(2, "0")}`,
  kinds: {
    "margin-ahead": ({ where, at: time, chance: share, measured, limit }) =>
      say(
        named(where, `dew threatens the film${by(time)}`),
        measured === null
          ? null
          : `Slab foreseen ${measured} above dew point, limit ${limit ?? "unknown"}.${chance(share)}`,
        "Warm the slab or dry the air before then.",
      ),
    "margin-below": ({ where, measured, limit }) =>
      say(
        named(where, "film too close to dew now"),
        measured === null ? null : `Slab ${measured} above dew point, limit ${limit ?? "unknown"}.`,
        "Warm the slab, dry the air, shut the doors. Look at the film before the next coat.",
      ),
    condensing: ({ where, at: time, measured }) =>
      say(
        named(where, "dew on the fresh film now"),
        `At or below the dew point${since(time)}${measured === null ? "" : `; margin ${measured}`}.`,
        "Warm the slab and dry the air. Fifteen minutes of it ask for washing or abrading.",
      ),
    "cold-ahead": ({ where, at: time, chance: share, measured, limit }) =>
      say(
        named(where, `slab too cold to cure${by(time)}`),
        measured === null ? null : `Slab foreseen at ${measured}, least ${limit ?? "unknown"}.${chance(share)}`,
        "The film stops curing below it. Bring heat before then.",
      ),
    "cold-now": ({ where, at: time, measured, limit }) =>
      say(
        named(where, "slab too cold, the film does not cure"),
        measured === null ? null : `Slab ${measured}, least ${limit ?? "unknown"}${since(time)}.`,
        "It earns no cure until the slab is warmer. Bring heat.",
      ),
    "heat-lost": ({ where, at: time, chance: share, measured }) =>
      say(
        named(where, "the heat has gone off"),
        `Air falls as the building does without heat${measured === null ? "" : `, now ${measured}`}.`,
        time === null ? null : `Film foreseen past its limit${by(time)}.${chance(share)}`,
        "Look at heater, fuel and breaker.",
      ),
    "window-unreachable": ({ where, at: time, chance: share }) =>
      say(
        named(where, `window may be lost, it closes${at(time)}`),
        `The zone is not likely to be fit for the next coat before then.${chance(share)}`,
        "Change heat or plan, or plan to abrade.",
      ),
    "window-closing": ({ where, at: time, hours }) =>
      say(
        named(where, `window closes${at(time)}`),
        `Start within ${hours ?? "the hour"} so that the last square is down in time.`,
        "After that it must be abraded first.",
      ),
    "window-closed": ({ where, at: time }) =>
      say(named(where, `window closed${at(time)}`), "Abrade and clean before the next coat."),
    "stop-pour": ({ where, about, measured, limit }) =>
      say(
        named(where, "stop at the next joint"),
        `The call no longer says pour${about === null ? "" : ` (${about})`}.`,
        measured === null || limit === null ? null : `${measured}, limit ${limit}.`,
      ),
    "zone-opened": ({ where, at: time }) =>
      say(
        named(where, "can be poured"),
        "Limits entered from the sheet are met, and the night is foreseen to hold.",
        time === null ? null : `Latest start ${time}.`,
      ),
    "door-open": ({ where, at: time, measured, about }) =>
      say(
        named(where, "a door seems to stand open"),
        about === null
          ? `Dew point rose by ${measured ?? "a jump"}${since(time)} and stays there.`
          : `${about} reports it open${since(time)}.`,
        "Shut it: damp air reaches the film.",
      ),
    "node-silent": ({ where, at: time, about }) =>
      say(
        named(where, `not heard from${of(about)}`),
        `Last heard${at(time)}.`,
        "Look at battery, radio and access point. Its slab probes keep their vote at their worst.",
      ),
    "battery-low": ({ where, at: time, measured, about }) =>
      say(
        named(where, `battery of${of(about)} at ${measured ?? "a low level"}`),
        time === null ? null : `As it goes it is empty by ${time}.`,
        "Change it before the night.",
      ),
    "probe-doubt": ({ where, at: time, about }) =>
      say(
        named(where, `probe in doubt:${of(about)}`),
        `In doubt${since(time)}.`,
        "Measure by hand, and look at the probe.",
      ),
    "data-lost": ({ where, at: time, about }) =>
      say(
        named(where, "film cures, and nobody knows in what"),
        `No trusted readings${since(time)}${about === null ? "" : ` (${about})`}.`,
        "Bring the node back, or measure slab, air and humidity by hand.",
      ),
    "broker-down": ({ at: time }) =>
      say(
        "No node can be heard",
        `The broker is down${since(time)}.`,
        "Look at the server; until then nobody knows the floors.",
      ),
    "store-failing": ({ at: time }) =>
      say(
        "The server cannot store",
        `The store fails${since(time)}.`,
        "Look at disk and server. Nodes keep their readings as long as they can.",
      ),
    "disk-full": ({ measured }) =>
      say(
        `The server's disk is nearly full`,
        `${measured ?? "Little"} is left.`,
        "Make room: without it nothing more is recorded.",
      ),
    "judge-failing": ({ where, at: time }) =>
      say(
        named(where, "cannot be judged"),
        `Judging fails${since(time)}; the call is wait until it works.`,
        "The server's health page says why.",
      ),
    "server-away": ({ at: time, hours }) =>
      say(
        `The server was away for ${hours ?? "a while"}`,
        `Nothing was watched${at(time) === "" ? "" : ` from ${time} on`}.`,
        "Look at films that were curing then.",
      ),
    "channel-failing": ({ at: time, about }) =>
      say(
        "Alarms do not get through",
        `${about ?? "A way of telling"} fails${since(time)}.`,
        "Look at its address and password.",
      ),
    test: ({ where }) => say(named(where, "test alarm"), "Somebody pressed the test button. Nothing is wrong."),
  },
};
