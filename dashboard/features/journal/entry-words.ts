// One line for a journal entry.
import type { EntryBody } from "#contract/journal.ts";
import { psiFromMpa } from "#core/units.ts";
import type { Voice } from "../../text/sentence.ts";
import { cautionText } from "../../text/caution.ts";
import { journalText } from "../../text/journal.ts";
import { showVolume } from "../../units/show-material.ts";
import { showBoth, showPercent } from "../../units/show.ts";

export function entryWords(entry: EntryBody, voice: Voice): string {
  const { text, clock, units, nowMs } = voice;
  const words = journalText(text);
  const when = (at: string) => clock.when(Date.parse(at), nowMs);
  const degrees = (label: string, c: number | undefined) =>
    c === undefined ? [] : [`${label} ${showBoth(c, "C", units)}`];
  const percent = (label: string, pct: number | undefined) =>
    pct === undefined ? [] : [`${label} ${showPercent(pct)}`];
  const solvent = (brought: boolean | undefined) => (brought === true ? [cautionText(text).said] : []);
  const name = words.did[entry.did];
  const more = (): readonly string[] => {
    switch (entry.did) {
      case "poured":
        return [
          `${words.coat} ${entry.coat + 1}`,
          `${when(entry.from)} – ${when(entry.to)}`,
          ...(entry.broadcast === undefined ? [] : [words[entry.broadcast]]),
          ...(entry.product === undefined ? [] : [entry.product]),
          ...(entry.batches ?? []).map(({ part, number }) => (part === undefined ? number : `${part} ${number}`)),
        ];
      case "pouring":
        return [`${words.coat} ${entry.coat + 1}`, ...solvent(entry.solvent)];
      case "mixed":
        return [
          `${words.coat} ${entry.coat + 1}`,
          `#${entry.batch}`,
          ...(entry.volumeL === undefined ? [] : [showVolume(entry.volumeL, units)]),
          ...(entry.batches ?? []).map(({ part, number }) => (part === undefined ? number : `${part} ${number}`)),
        ];
      case "abraded":
        return entry.how === undefined
          ? []
          : [(words.ways as Readonly<Record<string, string>>)[entry.how] ?? entry.how];
      case "inspected":
        return [
          ...(entry.surface === undefined ? [] : [words.surfaces[entry.surface]]),
          ...(entry.film === undefined ? [] : [`${words.film}: ${words.films[entry.film]}`]),
        ];
      case "measured":
        return [
          ...degrees(words.slab, entry.slabC),
          ...degrees(words.air, entry.airC),
          ...percent(words.humidity, entry.rhPct),
          ...degrees(words.resin, entry.resinC),
          ...(entry.probe === undefined ? [] : [entry.probe]),
        ];
      case "salt-bagged":
        return [entry.probe, words.salts[entry.salt]];
      case "salt-checked":
        return [entry.probe, words.salts[entry.salt], showBoth(entry.soakH, "h", units), showPercent(entry.readPct)];
      case "tested":
        return [
          words.methods[entry.method],
          ...percent("", entry.rhPct),
          ...(entry.mverLb === undefined ? [] : [showBoth(entry.mverLb, "lb", units)]),
        ];
      case "profile":
        return [
          ...(entry.csp === undefined ? [] : [`CSP ${entry.csp}`]),
          ...(entry.profileUm === undefined ? [] : [`${entry.profileUm} µm`]),
          ...(entry.spot === undefined ? [] : [entry.spot]),
        ];
      case "adhesion":
        return [
          `${entry.mpa} MPa (${Math.round(psiFromMpa(entry.mpa))} psi)`,
          ...(entry.failure === undefined ? [] : [words.failures[entry.failure]]),
          ...(entry.spot === undefined ? [] : [entry.spot]),
        ];
      case "photographed":
        return [
          ...(entry.of === undefined ? [] : [words.photoOf[entry.of]]),
          ...(entry.note === undefined ? [] : [entry.note]),
        ];
      case "ventilated":
        return [entry.on ? words.heatingOn : words.heatingOff];
      case "filled":
        return [
          ...(entry.sheet === undefined ? [] : [entry.sheet]),
          ...(entry.hardAfterH === undefined ? [] : [showBoth(entry.hardAfterH, "h", units)]),
        ];
      case "coat-added":
        return [entry.sheet];
      case "forecast":
        return [...degrees(words.low, entry.lowC), ...degrees(words.dew, entry.dewPointC)];
      case "heating":
        return [
          entry.on ? words.heatingOn : words.heatingOff,
          ...(entry.fuel === undefined ? [] : [words.fuels[entry.fuel]]),
          ...(entry.vented === undefined ? [] : [entry.vented ? words.vented : words.unvented]),
        ];
      case "held":
      case "released":
        return entry.why === undefined ? [] : [entry.why];
      case "overrode":
        return [text.words[entry.call], entry.why];
      case "moved":
      case "retired":
      case "trusted":
        return [entry.probe];
      case "split":
        return entry.into.map((part) => part.name ?? part.id);
      case "washed":
      case "cleaned":
        return solvent(entry.solvent);
      case "undone":
        return [];
    }
  };
  const said = more()
    .filter((part) => part.trim() !== "")
    .map((part) => part.trim());
  return said.length === 0 ? name : `${name}: ${said.join(", ")}`;
}
