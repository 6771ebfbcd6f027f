// A doubt about a weather feed as a sentence for people.
import type { FeedDoubtBody } from "#contract/feed.ts";
import type { FeedDoubt } from "#core/outlook/feed-doubt.ts";

const WITH = { node: "the outdoor node", earlier: "what it said itself before", itself: "weather" } as const;

function sentence({ fault, against, measured, limit, unit }: FeedDoubt): string {
  const size = `${measured.toFixed(1)} ${unit}`;
  switch (fault) {
    case "stale":
      return `The last good fetch is ${measured.toFixed(0)} h old; after ${limit} h it is not used.`;
    case "ends":
      return `It reaches ${measured.toFixed(1)} h ahead; less than ${limit} h say too little of the night.`;
    case "jumps":
      return `It jumps by ${size} between neighbouring hours; weather hardly ever does so by more than ${limit.toFixed(0)} K.`;
    case "unit":
      return against === "itself"
        ? `A value of ${size} is no weather: look at the units of the recipe.`
        : `It differs from ${WITH[against]} by ${size} and would fit in another unit: look at the units of the recipe.`;
    case "time-zone": {
      const clock = against === "node" ? ", or at the clock of the outdoor node" : "";
      const way = measured > 0 ? "late" : "early";
      return `It would fit ${WITH[against]} if it were not ${Math.abs(measured)} h ${way}: look at the time zone of the recipe${clock}.`;
    }
    case "disagrees":
      return `It differs from ${WITH[against]} by ${size}; up to ${limit} K would be believed.`;
  }
}

export function doubtBody(doubt: FeedDoubt | null): FeedDoubtBody | null {
  return doubt === null ? null : { ...doubt, reason: sentence(doubt) };
}
