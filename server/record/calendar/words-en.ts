// English: calendars.
import type { CalendarWords } from "./words-form.ts";

const SLOW = "By the slow side of the outlook, from the hours that the sheet prints. No promise.";

export const calendarWordsEn: CalendarWords = {
  locale: "en-US",
  title: (site) => `${site}: floor hours`,
  summary: {
    opens: (zone, coat) => `${zone}: window opens for coat ${coat}`,
    closes: (zone, coat) => `${zone}: window closes for coat ${coat}`,
    "start-by": (zone, coat) => `${zone}: last start for coat ${coat}`,
    back: (zone, coat) => `${zone}: come back to pour coat ${coat}`,
    abrade: (zone, coat) => `${zone}: come back to abrade for coat ${coat}`,
    "walk-on": (zone) => `${zone}: walk on, not before`,
    traffic: (zone) => `${zone}: traffic, not before`,
    water: (zone) => `${zone}: past dew and water, not before`,
  },
  notBefore: (when) => `Not before ${when}.`,
  by: (when) => `By ${when}.`,
  chance: (share) => `Chance ${share}.`,
  advice: {
    opens: "The film is hard enough then, as foreseen.",
    closes: "After that it has to be abraded first.",
    "start-by": "Begun later, the last square metre is not down in time.",
    back: "As foreseen now. The call of that hour decides.",
    abrade: "As foreseen now. The call of that hour decides.",
    "walk-on": SLOW,
    traffic: SLOW,
    water: SLOW,
  },
  look: "Look at the board before you drive.",
};
