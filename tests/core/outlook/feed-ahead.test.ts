// Trust in a weather feed: each way in which it can be wrong, and what it is worth when it is right.
// The limits are common practice, no source; the nights here are made up.
import { describe, expect, it } from "vitest";
import { dewPointC, rhPctFromDewPoint } from "#core/air/dew-point.ts";
import { feedAhead, type FeedAhead } from "#core/outlook/feed-ahead.ts";
import { feedDoubtOf, type OutdoorHeard } from "#core/outlook/feed-doubt.ts";
import { PAST_STEPS, STEP_MS } from "#core/outlook/past.ts";
import { cFromF, fFromC } from "#core/units.ts";
import type { FeedFetch, FeedHour } from "#core/zone/site.ts";

const HOUR_MS = 3_600_000;
const NOW = Date.parse("2026-02-03T12:00:00Z");
const STEPS = 432;

/** Weather that has no day like the other, so that a shift can be told: a daily swing and a front every three days. */
function weather(atMs: number): FeedHour {
  const h = (atMs - NOW) / HOUR_MS;
  const airC = 5 + 5 * Math.cos((2 * Math.PI * (h - 2)) / 24) + 3 * Math.sin((2 * Math.PI * h) / 71);
  return { atMs, airC, dewPointC: airC - 4 - 1.5 * Math.sin((2 * Math.PI * h) / 50) };
}
interface Told {
  readonly backH?: number;
  readonly aheadH?: number;
  readonly agoH?: number;
  readonly recipe?: number;
  readonly of?: (hour: FeedHour) => Partial<FeedHour>;
}
function fetched({ backH = 0, aheadH = 48, agoH = 0, recipe, of = (hour) => hour }: Told = {}): FeedFetch {
  const atMs = NOW - agoH * HOUR_MS;
  const hours = Array.from({ length: backH + aheadH + 1 }, (_, index) => weather(atMs + (index - backH) * HOUR_MS));
  return {
    fetchedMs: atMs,
    ...(recipe === undefined ? {} : { recipe }),
    hours: hours.map((hour) => ({ ...hour, ...of(hour) })),
  };
}
function node(of: (hour: FeedHour) => Partial<FeedHour> = () => ({})): OutdoorHeard {
  const heard = Array.from({ length: PAST_STEPS + 1 }, (_, step) => weather(NOW - (PAST_STEPS - step) * STEP_MS));
  const told = heard.map((hour) => ({ ...hour, ...of(hour) }));
  return { airC: Float64Array.from(told, (h) => h.airC), dewPointC: Float64Array.from(told, (h) => h.dewPointC) };
}
const both = (f: (c: number) => number) => (hour: FeedHour) => ({ airC: f(hour.airC), dewPointC: f(hour.dewPointC) });
const off = (hours: number) => (hour: FeedHour) => ({ atMs: hour.atMs + hours * HOUR_MS });
/** The weather of other hours at these times. */
const late = (hours: number) => (hour: FeedHour) => ({ ...weather(hour.atMs - hours * HOUR_MS), atMs: hour.atMs });
const faultOf = (feeds: readonly FeedFetch[], outdoor: OutdoorHeard | null = null) =>
  feedDoubtOf(feeds, outdoor, NOW, NOW)?.fault ?? null;
function ahead(feeds: readonly FeedFetch[], outdoor: OutdoorHeard | null = null, nowMs = NOW): FeedAhead {
  const found = feedAhead(feeds, outdoor, nowMs, nowMs, STEPS);
  if (found === null) throw new Error("no feed");
  return found;
}

describe("an honest feed", () => {
  it("is given on steps of ten minutes until its end", () => {
    const feed = ahead([fetched()]);
    expect(feed.fault).toBeNull();
    expect(feed.airC).toHaveLength(STEPS);
    expect(feed.airC[0]).toBeCloseTo(weather(NOW).airC, 9);
    const [from, to] = [weather(NOW).airC, weather(NOW + HOUR_MS).airC];
    expect(feed.airC[3]).toBeCloseTo((from + to) / 2, 9);
    expect(feed.endsMs).toBe(NOW + 48 * HOUR_MS);
    expect(feed.dewPointC[288]).toBeCloseTo(weather(NOW + 48 * HOUR_MS).dewPointC, 9);
    expect(feed.dewPointC[289]).toBeNaN();
  });
  it("may be given in any order and twice", () => {
    const { fetchedMs, hours } = fetched({ backH: 12 });
    const mixed = [...hours].reverse().concat(hours.map((hour) => ({ ...hour, airC: 40 })));
    // Of doubles the first one given stands.
    expect(ahead([{ fetchedMs, hours: mixed }])).toEqual(ahead([{ fetchedMs, hours }]));
  });
  it("stays usable with hours that are no numbers", () => {
    const holes = fetched({ of: ({ atMs }) => (atMs === NOW + 9 * HOUR_MS ? { airC: Number.NaN } : {}) });
    const feed = ahead([holes]);
    expect(feed.fault).toBeNull();
    expect(Number.isNaN(feed.airC[54] as number)).toBe(false);
  });
  it("without a node is believed a little less, and less with every hour after the third", () => {
    const at = (hours: number) => ahead([fetched({ agoH: hours })]).spreadScale;
    expect(at(0)).toBe(1.25);
    expect(at(3)).toBe(1.25);
    expect(at(6)).toBeGreaterThan(at(3));
    expect(at(12)).toBeCloseTo(2.5, 9);
    expect(ahead([fetched({ agoH: 6 })]).ageS).toBe(6 * 3600);
  });
  it("is believed as usual where the node agrees", () => {
    const feed = ahead([fetched({ backH: 48 })], node());
    expect(feed).toMatchObject({ fault: null, airOffsetK: 0, dewOffsetK: 0 });
    expect(feed.spreadScale).toBe(1);
  });
  it("learns the offset of the place, which fades from 12 to 24 h", () => {
    const feed = ahead(
      [fetched({ backH: 48 })],
      node(({ airC, dewPointC: dew }) => ({ airC: airC - 2, dewPointC: dew - 1 })),
    );
    expect(feed.fault).toBeNull();
    expect(feed.airOffsetK).toBeCloseTo((-2 * 49) / 52, 9);
    const addedK = (hours: number) => (feed.airC[6 * hours] as number) - weather(NOW + hours * HOUR_MS).airC;
    expect(addedK(12)).toBeCloseTo(feed.airOffsetK, 9);
    expect(addedK(18)).toBeCloseTo(feed.airOffsetK / 2, 9);
    expect(addedK(24)).toBeCloseTo(0, 9);
    expect(feed.dewPointC.every((dew, step) => Number.isNaN(dew) || dew <= (feed.airC[step] as number))).toBe(true);
  });
  it("that misses by 3 K now and then is spread wider", () => {
    const noisy = node(({ atMs, airC }) => ({ airC: airC + 3 * Math.sign(Math.sin(atMs / HOUR_MS)) }));
    const feed = ahead([fetched({ backH: 48 })], noisy);
    expect(feed.fault).toBeNull();
    expect(feed.spreadScale).toBeGreaterThan(1.6);
  });
  it("is measured by what its earlier fetches said of hours that have passed", () => {
    const earlier = [36, 24, 12].map((agoH) => fetched({ agoH }));
    const feed = ahead(
      [fetched(), ...earlier],
      node(({ airC }) => ({ airC: airC + 1.5 })),
    );
    expect(feed.fault).toBeNull();
    expect(feed.airOffsetK).toBeCloseTo((1.5 * 37) / 40, 9);
  });
});

describe("what had been heard", () => {
  it("is none without a fetch, and none before the first", () => {
    expect(feedAhead([], null, NOW, NOW, STEPS)).toBeNull();
    expect(feedAhead([fetched()], null, NOW, NOW - 1, STEPS)).toBeNull();
  });
  it("is none after a fetch without hours: the feed was taken away", () => {
    expect(
      feedAhead([fetched({ agoH: 1 }), { fetchedMs: NOW, recipe: 2, hours: [] }], null, NOW, NOW, STEPS),
    ).toBeNull();
  });
  it("knows nothing of fetches that came later, even when it is looked at later", () => {
    const later = fetched({ agoH: -2, of: both((c) => c + 9) });
    expect(feedAhead([fetched(), later], null, NOW, NOW + 9 * HOUR_MS, STEPS)).toEqual(ahead([fetched()]));
  });
});

describe("faults of the fetch itself", () => {
  it("stale: more than 12 h ago", () => {
    expect(faultOf([fetched({ agoH: 12 })])).toBeNull();
    expect(faultOf([fetched({ agoH: 12.01 })])).toBe("stale");
  });
  it("ends: covers less than six hours from now", () => {
    expect(faultOf([fetched({ aheadH: 6 })])).toBeNull();
    expect(faultOf([fetched({ aheadH: 5 })])).toBe("ends");
    expect(faultOf([fetched({ of: off(2) })])).toBe("ends");
  });
  it("ends at a hole of more than six hours", () => {
    const { fetchedMs, hours } = fetched();
    const without = (from: number, to: number) => ({ fetchedMs, hours: hours.filter((_, h) => h < from || h > to) });
    expect(ahead([without(8, 12)]).endsMs).toBe(NOW + 48 * HOUR_MS);
    const holed = ahead([without(8, 13)]);
    expect(holed.endsMs).toBe(NOW + 7 * HOUR_MS);
    expect(holed.airC[90]).toBeNaN();
    expect(faultOf([without(2, 9)])).toBe("ends");
  });
  it("jumps: more than 12 K in an hour", () => {
    const jumping = (k: number) =>
      fetched({ of: ({ atMs, airC }) => (atMs > NOW + 5 * HOUR_MS ? { airC: airC + k } : {}) });
    expect(faultOf([jumping(10)])).toBeNull();
    expect(faultOf([jumping(16)])).toBe("jumps");
  });
  it("unit: no weather is like that", () => {
    expect(faultOf([fetched({ of: both((c) => c + 273.15) })])).toBe("unit");
    expect(faultOf([fetched({ of: ({ atMs }) => (atMs === NOW + 3 * HOUR_MS ? { airC: -999 } : {}) })])).toBe("unit");
    expect(faultOf([fetched({ of: ({ airC }) => ({ dewPointC: airC + 1.1 }) })])).toBe("unit");
    expect(faultOf([fetched({ of: ({ airC }) => ({ dewPointC: airC + 0.9 }) })])).toBeNull();
  });
});

describe("against an outdoor node", () => {
  const told = (of: Told["of"] & object) => [fetched({ backH: 48, of })];
  it("unit: °F read as °C, °C read as °F, for both or one of them", () => {
    expect(faultOf(told(both(fFromC)), node())).toBe("unit");
    expect(faultOf(told(both(cFromF)), node())).toBe("unit");
    expect(
      faultOf(
        told(({ dewPointC: dew }) => ({ dewPointC: cFromF(dew) })),
        node(),
      ),
    ).toBe("unit");
  });
  it("unit: air in °F beside a humidity, and a humidity read a hundredfold too small", () => {
    const humidity = ({ airC, dewPointC: dew }: FeedHour) => rhPctFromDewPoint(airC, dew);
    expect(
      faultOf(
        told((h) => ({ airC: cFromF(h.airC), dewPointC: dewPointC(cFromF(h.airC), humidity(h)) })),
        node(),
      ),
    ).toBe("unit");
    expect(
      faultOf(
        told((h) => ({ dewPointC: dewPointC(h.airC, humidity(h) / 100) })),
        node(),
      ),
    ).toBe("unit");
  });
  it("unit: even when the feed begins now and has no past", () => {
    expect(faultOf([fetched({ of: both((c) => fFromC(c)) })], node())).toBe("unit");
  });
  it.each([-14, -9, -5, 4, 6, 11, 14])("time-zone: %i h off", (hours) => {
    expect(feedDoubtOf(told(late(hours)), node(), NOW, NOW)).toMatchObject({ fault: "time-zone", measured: hours });
  });
  it("time-zone, as the better guess, when it is the clock of the node that is off", () => {
    expect(
      faultOf(
        told(() => ({})),
        node(late(7)),
      ),
    ).toBe("time-zone");
  });
  it("disagrees: other weather by more than 4 K", () => {
    const other = told(({ atMs }) => ({ airC: 9 + 6 * Math.sin(atMs / HOUR_MS / 3), dewPointC: 0 }));
    expect(faultOf(other, node())).toBe("disagrees");
  });
  it("is not doubted for a node that the sun warms at noon", () => {
    const sunny = node(({ atMs, airC }) => {
      const hour = new Date(atMs).getUTCHours();
      return hour >= 9 && hour <= 15 ? { airC: airC + 12 } : {};
    });
    const feed = ahead(
      told(() => ({})),
      sunny,
    );
    expect(feed.fault).toBeNull();
    expect(feed.airOffsetK).toBeCloseTo(0, 9);
  });
  it("a node that says nothing is no node", () => {
    const silent = node(() => ({ airC: Number.NaN, dewPointC: Number.NaN }));
    expect(ahead([fetched()], silent)).toMatchObject({ fault: null, spreadScale: 1.25 });
  });
});

describe("against its own earlier fetches", () => {
  const before = [1, 2, 3, 30].map((agoH) => fetched({ agoH, aheadH: 72 }));
  it("goes on as it was", () => expect(faultOf([fetched(), ...before])).toBeNull());
  it("unit: all at once in °F", () => {
    expect(feedDoubtOf([fetched({ of: both(fFromC) }), ...before], null, NOW, NOW)).toMatchObject({
      fault: "unit",
    });
  });
  it("unit: still, after it has said so for some hours", () => {
    const since = [0, 1, 2, 3, 4, 5].map((agoH) => fetched({ agoH, of: both(fFromC) }));
    expect(faultOf([...since, fetched({ agoH: 20, aheadH: 72 })])).toBe("unit");
  });
  it.each([-5, 1, 2])("time-zone: all at once %i h off", (hours) => {
    expect(feedDoubtOf([fetched({ of: late(hours) }), ...before], null, NOW, NOW)).toMatchObject({
      fault: "time-zone",
      measured: hours,
    });
  });
  it("disagrees: other weather than an hour ago", () => {
    expect(faultOf([fetched({ of: ({ airC }) => ({ airC: airC + 7 }) }), ...before])).toBe("disagrees");
  });
  it("may change its mind by a few kelvin", () => {
    const warmer = fetched({ of: ({ atMs, airC }) => ({ airC: airC + Math.min(3, (atMs - NOW) / HOUR_MS / 8) }) });
    expect(faultOf([warmer, ...before])).toBeNull();
  });
  it("what another recipe read is no measure: a unit put right is right at once", () => {
    const wrong = [1, 2, 3].map((agoH) => fetched({ agoH, recipe: 1, of: both(fFromC) }));
    expect(faultOf([fetched({ recipe: 2 }), ...wrong])).toBeNull();
    expect(faultOf([fetched({ recipe: 1 }), ...wrong])).toBe("unit");
  });
  it("a node that agrees outranks them", () => {
    const wrong = [1, 2, 3].map((agoH) => fetched({ agoH, of: both(fFromC) }));
    expect(faultOf([fetched({ backH: 24 }), ...wrong], node())).toBeNull();
  });
});
