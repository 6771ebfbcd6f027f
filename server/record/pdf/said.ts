// One line for a journal entry: everything that it says, in both systems.
import type { EntryBody } from "#contract/journal.ts";
import type { Batch } from "#core/zone/journal.ts";
import { msOf, type Setting } from "./setting.ts";

type Said = readonly (string | undefined)[];

const numbers = (batches: readonly Batch[] = []) =>
  batches.map(({ part, number }) => (part === undefined ? number : `${part} ${number}`)).join(", ");

/** Parts that were not said fall out. */
export function saidOf(entry: EntryBody, { words, clock, figures }: Setting): string {
  const { labels, said } = words;
  const word = (key: string | undefined) => (key === undefined ? undefined : (said[key] ?? key));
  const named = (name: string, value: number | undefined, show: (value: number) => string) =>
    value === undefined ? undefined : `${name} ${show(value)}`;
  const span = (from: string | undefined, to: string | undefined) =>
    from !== undefined && to !== undefined
      ? clock.span(msOf(from), msOf(to), words.to)
      : from !== undefined
        ? `${labels.from.toLowerCase()} ${clock.stamp(msOf(from))}`
        : to !== undefined
          ? `${words.until} ${clock.stamp(msOf(to))}`
          : undefined;
  const solvent = (brought: boolean | undefined) => (brought === true ? word("solvent") : undefined);
  const parts = (): Said => {
    switch (entry.did) {
      case "poured":
        return [
          `${words.chart.pour(entry.coat + 1)}: ${span(entry.from, entry.to) ?? ""}`,
          word(entry.broadcast),
          entry.product,
          numbers(entry.batches),
          (entry.people ?? []).join(", "),
        ];
      case "pouring":
        return [words.chart.pour(entry.coat + 1), solvent(entry.solvent)];
      case "mixed":
        return [
          words.chart.pour(entry.coat + 1),
          `#${entry.batch}`,
          entry.volumeL === undefined ? undefined : figures.volume(entry.volumeL),
          numbers(entry.batches),
        ];
      case "abraded":
        return [entry.how];
      case "inspected":
        return [word(entry.surface), word(entry.film)];
      case "measured":
        return [
          named(labels.slab, entry.slabC, figures.temperature),
          named(labels.air, entry.airC, figures.temperature),
          named(labels.humidity, entry.rhPct, figures.percent),
          named(labels.resin, entry.resinC, figures.temperature),
          entry.instrument,
          entry.calibratedOn === undefined ? undefined : `${labels.calibrated} ${entry.calibratedOn}`,
          entry.probe,
        ];
      case "salt-bagged":
        return [entry.probe, word(entry.salt)];
      case "salt-checked":
        return [
          entry.probe,
          word(entry.salt),
          figures.hours(entry.soakH),
          `${labels.humidity} ${figures.percent(entry.readPct)}`,
          `${labels.air} ${figures.temperature(entry.airC)}`,
        ];
      case "tested":
        return [
          `ASTM ${entry.method}`,
          entry.rhPct === undefined ? undefined : figures.measure(entry.rhPct, "%RH"),
          entry.mverLb === undefined ? undefined : figures.measure(entry.mverLb, "lb"),
          entry.spot,
        ];
      case "profile":
        return [
          entry.csp === undefined ? undefined : `CSP ${entry.csp}`,
          entry.profileUm === undefined ? undefined : figures.depth(entry.profileUm),
          entry.how,
          entry.spot,
        ];
      case "adhesion":
        return [
          entry.how === "other" ? undefined : entry.how,
          figures.strength(entry.mpa),
          word(entry.failure),
          entry.spot,
        ];
      case "photographed":
        return [word(entry.of), entry.sheet, entry.probe, entry.note, `${entry.photo.slice(0, 8)}…`];
      case "ventilated":
        return [entry.on ? said["on"] : said["off"], entry.how];
      case "filled":
        return [
          entry.sheet,
          entry.hardAfterH === undefined ? undefined : `${said["hardAfter"]} ${figures.hours(entry.hardAfterH)}`,
        ];
      case "coat-added":
        return [entry.sheet];
      case "forecast":
        return [
          `${said["low"]} ${figures.temperature(entry.lowC)}`,
          `${labels.dewPoint} ${figures.temperature(entry.dewPointC)}`,
          `${words.until} ${clock.stamp(msOf(entry.until))}`,
        ];
      case "heating":
        return [
          entry.on ? said["on"] : said["off"],
          word(entry.fuel),
          entry.kW === undefined ? undefined : figures.power(entry.kW),
          entry.vented === undefined ? undefined : entry.vented ? labels.vented : labels.unvented,
          span(entry.from, entry.to),
          entry.targetC === undefined ? undefined : figures.temperature(entry.targetC),
        ];
      case "overrode":
        return [words.calls[entry.call]];
      case "split":
        return [entry.into.map(({ id, areaM2 }) => `${id} ${figures.area(areaM2)}`).join(", ")];
      case "moved":
        return [entry.probe, entry.place];
      case "retired":
      case "trusted":
        return [entry.probe];
      case "undone":
        return [entry.undoes];
      case "washed":
      case "cleaned":
        return [solvent(entry.solvent)];
      case "held":
      case "released":
        return [];
    }
  };
  const { why, undoes } = entry;
  const replaces = undoes !== undefined && entry.did !== "undone" ? [`-> ${undoes}`] : [];
  return [...parts(), ...replaces, why].filter((part) => part !== undefined && part !== "").join(" · ");
}
