// Composes what a strip says: the limiting reason or the window of work, and the next change.
import type { BoardZoneBody } from "#contract/board.ts";
import type { CallBody, RuleResultBody } from "#contract/call.ts";
import type { OutlookBody } from "#contract/outlook.ts";
import type { RuleUnit } from "#core/judge/call.ts";
import { showArea, showBoth, showChance, showDuration, type UnitSystem } from "../units/show.ts";
import type { Clock } from "./clock.ts";
import type { Dictionary } from "./en.ts";
import type { RuleFacts, Sentence } from "./facts.ts";

export interface Voice {
  readonly text: Dictionary;
  readonly clock: Clock;
  readonly units: UnitSystem;
  readonly nowMs: number;
  /** `node/quantity` to the place that people know; the name itself if it has none. */
  readonly placeOf: (probe: string) => string;
}

export interface StripWords {
  readonly lead: string;
  readonly rest: string;
  /** The next change with its clock time and how far off it is; empty when none is foreseen. */
  readonly next: string;
}

/** Without usable data the word stays WAIT, but its sign is broken. */
export function isBlind(call: Pick<CallBody, "call" | "limiting">): boolean {
  return call.call === "wait" && (call.limiting === "data-missing" || call.limiting === "data-stale");
}

/** The sheet that nobody has confirmed, of the film or a coat to come: its times are shown, and are no limit. */
export function unreadSheet(call: Pick<CallBody, "rules">): string | null {
  const said = call.rules.find(({ rule }) => rule === "sheet-invalid")?.detail ?? "";
  return /^(.+): unconfirmed$/.exec(said)?.[1] ?? null;
}

/** A film whose window will rather close before it is hard and poured over than not. */
export function isLosing(item: Pick<BoardZoneBody, "call" | "outlook">): boolean {
  const { call, nextCoat, window } = item.call;
  // Where the call asks for abrading already, the window is not being lost: it is.
  const running = call !== "abrade" && window.state !== "closed";
  return nextCoat !== null && running && (item.outlook?.film?.chanceLost ?? 0) >= 0.5;
}

const ms = (iso: string) => Date.parse(iso);

/** A kind of finding in words; what is wrong with a sheet comes as `sheet: field reason`. */
export function detailWords(detail: string, voice: Voice): string {
  const known = voice.text.details[detail];
  if (known !== undefined) return known;
  const [, sheet, path, reason] = /^([\w-]+): (\S+) (.+)$/.exec(detail) ?? [];
  if (sheet === undefined || path === undefined || reason === undefined) return detail;
  const field = path.split(".").at(-1) ?? path;
  return `${sheet}, ${voice.text.sheetFields[field] ?? field}: ${voice.text.details[reason] ?? reason}`;
}

export function factsOf(
  rule: RuleResultBody,
  item: Pick<BoardZoneBody, "call" | "marginLimitK" | "past">,
  voice: Voice,
): RuleFacts {
  const { call } = item;
  const unit = rule.unit as RuleUnit | null;
  const at = (iso: string | null) => (iso === null ? null : voice.clock.when(ms(iso), voice.nowMs));
  const before = [...item.past]
    .reverse()
    .find((stretch) => stretch.limiting === null || !stretch.limiting.startsWith("data-"));
  // What fits before the window closes comes as the finding's detail, m².
  const fitsM2 = rule.rule === "finish-late" && /^\d+$/.test(rule.detail ?? "") ? Number(rule.detail) : null;
  return {
    measured: rule.measured === null ? null : showBoth(rule.measured, unit, voice.units),
    limit: rule.limit === null ? null : showBoth(rule.limit, unit, voice.units),
    negative: (rule.measured ?? 0) < 0,
    size: rule.measured === null ? null : showBoth(Math.abs(rule.measured), unit, voice.units),
    place: rule.probe === null ? null : voice.placeOf(rule.probe),
    since: at(rule.since),
    ago: rule.since === null ? null : showDuration(voice.nowMs - ms(rule.since)),
    kind: rule.detail,
    detail: rule.detail === null ? null : detailWords(rule.detail, voice),
    opens: at(call.window.opensAt),
    closes: at(call.window.closesAt),
    steps: call.steps.length === 0 ? null : call.steps.map((step) => voice.text.steps[step]).join(", "),
    fits: fitsM2 === null ? null : showArea(fitsM2, voice.units),
    lastCall: before === undefined ? null : voice.text.words[before.call].toLowerCase(),
    nightHolds: call.night === null ? null : showChance(call.night.chanceHolds),
  };
}

export function nextWords(call: CallBody, voice: Voice): string {
  if (call.next === null) return "";
  const likelyMs = ms(call.next.likely);
  const inMs = likelyMs - voice.nowMs;
  return voice.text.next[call.next.call]({
    at: voice.clock.when(likelyMs, voice.nowMs),
    in: inMs < 60_000 ? voice.text.anyMinute : voice.text.inTime(showDuration(inMs)),
    chance: showChance(call.next.chance),
  });
}

function pourWords(call: CallBody, voice: Voice): Sentence {
  const at = (iso: string | null | undefined) =>
    iso === null || iso === undefined ? null : voice.clock.when(ms(iso), voice.nowMs);
  const { pour: words } = voice.text;
  // Before the pour the last moment to begin counts, during it how long the call stands.
  const limit = call.pouring ? call.validUntil : (call.pour?.latestStartAt ?? call.validUntil);
  const until = at(limit);
  const left = limit === null ? null : showDuration(ms(limit) - voice.nowMs);
  const closes = at(call.window.closesAt);
  const lastMix = at(call.pour?.lastMixAt);
  const finish = at(call.pour?.finishBy);
  return {
    lead:
      until === null || left === null
        ? words.open
        : call.pouring
          ? words.goOnUntil(until, left)
          : words.until(until, left),
    rest: [
      lastMix === null ? (finish === null ? "" : words.finish(finish)) : words.lastMix(lastMix, finish),
      closes === null ? "" : words.closes(closes),
    ]
      .filter((part) => part !== "")
      .join(" "),
  };
}

function finishedWords(call: CallBody, voice: Voice): Sentence {
  const { finished: words } = voice.text;
  const at = (iso: string) => voice.clock.when(ms(iso), voice.nowMs);
  const { walkOnAt = null, driveOnAt = null, estimated = false } = call.film ?? {};
  const walked = walkOnAt !== null && ms(walkOnAt) <= voice.nowMs;
  const lead = walkOnAt === null ? words.plain : walked ? words.walkSince(at(walkOnAt)) : words.walk(at(walkOnAt));
  const drive =
    driveOnAt === null
      ? ""
      : ms(driveOnAt) <= voice.nowMs
        ? words.driveSince(at(driveOnAt))
        : words.drive(at(driveOnAt));
  return { lead, rest: [drive, estimated ? words.estimated : ""].filter((part) => part !== "").join(" ") };
}

/** What stands beside the strip of a zone. */
export function stripWords(item: Pick<BoardZoneBody, "call" | "marginLimitK" | "past">, voice: Voice): StripWords {
  const { call } = item;
  const rule = call.rules.find((candidate) => candidate.rule === call.limiting);
  const next = nextWords(call, voice);
  if (rule !== undefined) {
    const said = voice.text.rules[rule.rule](factsOf(rule, item, voice));
    const joint = call.pouring && call.call === "wait" ? ` ${voice.text.pour.stopAtJoint}` : "";
    return { lead: said.lead, rest: `${said.rest}${joint}`.trim(), next };
  }
  if (call.call === "pour") return { ...pourWords(call, voice), next };
  if (call.call === "finished") return { ...finishedWords(call, voice), next };
  const steps = call.steps.map((step) => voice.text.steps[step]).join(", ");
  return { lead: steps === "" ? voice.text.noReason : voice.text.stepsFirst(steps), rest: "", next };
}

/** What the outlook was made from, with the age of the weather feed now. */
export function basisWords(outlook: OutlookBody, voice: Voice): string {
  const { text, nowMs } = voice;
  return outlook.basis
    .map((one) => {
      const name = text.board.bases[one] ?? one;
      if (one !== "feed" || outlook.feedAgeS === null) return name;
      return `${name} (${text.ago(showDuration(outlook.feedAgeS * 1000 + nowMs - ms(outlook.from)))})`;
    })
    .join(", ");
}

/** A foreseen time of a film, as "about 05:40"; null where it is not reached within the outlook. */
function filmTime(iso: string | null, voice: Voice): string | null {
  return iso === null ? null : voice.clock.when(ms(iso), voice.nowMs);
}

/** The window that will rather be lost than not, in one sentence; empty otherwise. */
export function losingWords(item: Pick<BoardZoneBody, "call" | "outlook">, voice: Voice): string {
  const film = item.outlook?.film ?? null;
  if (film === null || !isLosing(item)) return "";
  return voice.text.board.losing(
    filmTime(film.closes.likely ?? item.call.window.closesAt, voice),
    filmTime(film.opens.likely, voice),
    showChance(film.chanceLost),
  );
}

/** Limits that are near, but for the one that is the reason of the call already. */
export function nearWords(item: Pick<BoardZoneBody, "call">, voice: Voice): string[] {
  return item.call.rules
    .filter((rule) => rule.outcome === "caution" && rule.rule !== item.call.limiting)
    .map((rule) => {
      const unit = rule.unit as RuleUnit | null;
      const name = voice.text.ruleNames[rule.rule];
      if (rule.measured === null || rule.limit === null) return voice.text.nearBare(name);
      return voice.text.near(name, showBoth(rule.measured, unit, voice.units), showBoth(rule.limit, unit, voice.units));
    });
}
