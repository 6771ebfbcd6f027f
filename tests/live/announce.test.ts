// Alarms: raised when something turns bad, not while it stays bad, in words that name the place.
import { beforeEach, describe, expect, it } from "vitest";
import type { CallBody } from "#contract/call.ts";
import { type Announcer, createAnnouncer } from "../../server/live/announce.ts";
import type { Sites } from "../../server/live/sites.ts";
import { NODE, NOON_MS, ZONE } from "../support/small-site.ts";

const sites = { get: () => ({ zone: () => ZONE, record: { nodes: [NODE] } }) } as unknown as Sites;
const zone = { site: "dock", zone: "bay" };
const call = (more: object): CallBody =>
  ({
    call: "wait",
    limiting: "night-dew",
    pouring: false,
    film: null,
    rules: [],
    conditions: { marginK: 1.26 },
    ...more,
  }) as unknown as CallBody;

let told: string[];
let published: { topic: string; body: object; retain: boolean }[];
let announcer: Announcer;
beforeEach(() => {
  told = [];
  published = [];
  announcer = createAnnouncer({
    sites,
    now: () => NOON_MS,
    stream: { publish: (_site, _event, _key, { kind, text }) => void told.push(`${kind}: ${text}`) },
    mqtt: {
      publish: (topic, body, retain) => void published.push({ topic, body: JSON.parse(body) as object, retain }),
    },
    count: () => undefined,
  });
});

describe("alarms", () => {
  const fresh = { dewSensitive: true };
  const dew = (rule: string) => [{ rule, outcome: "stop" }];

  it("say when dew comes near a fresh film, once", () => {
    const fine = call({ film: fresh, rules: [{ rule: "dew-margin", outcome: "pass" }] });
    const bad = call({ film: fresh, rules: dew("dew-margin") });
    announcer.call(zone, fine, bad);
    announcer.call(zone, bad, call({ film: fresh, rules: dew("condensing") }));
    expect(told).toEqual(["film-dew: Bay: the fresh film cannot bear dew, and the margin is 1.3 K (dew-margin)."]);
    expect(published).toMatchObject([
      {
        topic: "nightslab/v1/dock/alarm",
        retain: false,
        body: { site: "dock", zone: "bay", kind: "film-dew", at: "2026-02-03T12:00:00Z" },
      },
    ]);
  });

  it("say it again after it was fine in between", () => {
    const bad = call({ film: fresh, rules: dew("condensing") });
    announcer.call(zone, null, bad);
    announcer.call(zone, bad, call({ film: fresh }));
    announcer.call(zone, call({ film: fresh }), bad);
    expect(told).toHaveLength(2);
  });

  it("leave a film that has cured alone, and a floor without one", () => {
    announcer.call(zone, null, call({ film: { dewSensitive: false }, rules: dew("condensing") }));
    announcer.call(zone, null, call({ rules: dew("condensing") }));
    expect(told).toEqual([]);
  });

  it("stop a pour that is under way, and say nothing of one that has ended", () => {
    const pouring = call({ call: "pour", limiting: null, pouring: true });
    announcer.call(zone, pouring, call({ pouring: false }));
    expect(told).toEqual([]);
    announcer.call(zone, pouring, call({ pouring: true, limiting: "slab-cold" }));
    expect(told).toEqual(["stop-pour: Bay: stop at the next joint, the call is wait (slab-cold)."]);
  });

  it("tell of a node that goes, not of one that was never there", () => {
    announcer.presence("dock", NODE.id, "unknown", "offline");
    announcer.presence("dock", NODE.id, "offline", "offline");
    announcer.presence("dock", NODE.id, "offline", "online");
    expect(told).toEqual([]);
    announcer.presence("dock", NODE.id, "online", "offline");
    expect(told).toEqual([`node-offline: Node ${NODE.id} has gone offline.`]);
  });
});
