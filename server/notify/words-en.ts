// English: telling people.
import type { NotifyWords } from "./words-form.ts";

const CALLS = { pour: "pour", wait: "wait", abrade: "abrade", finished: "finished" } as const;

export const wordsEn: NotifyWords = {
  taken: (by) => (by === null ? "Somebody has it." : `${by} has it.`),
  snoozed: (by, until) => `${by ?? "Somebody"} put it off${until === null ? "" : ` until ${until}`}.`,
  unanswered: (times) => (times === 1 ? "Nobody has answered." : `Nobody has answered, ${times} times.`),
  several: (site, count) => `${site}: ${count} things to know`,
  andMore: (count) => `and ${count} more`,
  allWell: (site) => `${site}: no alarm is open`,
  notAllWell: (site, open) => `${site}: ${open === 1 ? "one alarm is open" : `${open} alarms are open`}`,
  serverTroubled: "The server itself has a fault: see its health page.",
  zone({ name, call, margin, lowest, lowestAt }) {
    const word = call === null ? "no call yet" : CALLS[call];
    const now = margin === null ? "margin not known" : `margin ${margin}`;
    const ahead = lowest === null ? "" : `, least foreseen ${lowest}${lowestAt === null ? "" : ` at ${lowestAt}`}`;
    return `${name}: ${word}, ${now}${ahead}`;
  },
  noZones: "No zone is set up.",
  test: {
    title: "Nightslab: a test",
    body: (name) => `This is how an alarm reaches ${name}. Nothing is wrong, and nothing has to be done.`,
  },
  gone: {
    title: "Nightslab: a device rings no more",
    body: (device) => `${device} takes no more messages from here. Open Nightslab on it and let it ring again.`,
  },
  openLink: "Look at it:",
  acknowledgeLink: "I have it (asks once more, works for 12 hours):",
  footer:
    "Limits are those entered from the sheet. The product's own sheets, local code and licensed practice come first.",
};
