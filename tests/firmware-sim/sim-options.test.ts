// The options of `npm run sim`: what they ask for, and what each refusal says.
import { describe, expect, it } from "vitest";
import { OptionError } from "../../firmware-sim/cli.ts";
import { demoOptions } from "../../firmware-sim/demo/options.ts";
import { simPlan } from "../../firmware-sim/sim-options.ts";

const NOW = Date.UTC(2026, 1, 3, 18);

describe("options of sim", () => {
  it("by themselves publish the boathouse of this minute to the usual broker", () => {
    const plan = simPlan([], NOW);
    if (plan.do !== "publish") throw new Error(plan.do);
    expect(plan.run).toMatchObject({ broker: { url: "mqtt://127.0.0.1:1883" }, pace: 1, backfillH: 0, hours: null });
    expect(plan.run.scenario).toMatchObject({ id: "heron-reach", openedAtMs: NOW, seed: 1 });
  });
  it("say where, how fast, how faulty and as which site", () => {
    const args = [
      "--url",
      "mqtts://broker.example:8883",
      "--username",
      "u",
      "--password",
      "p",
      "--site",
      "yard",
      "--scenario",
      "wet-sensor",
    ];
    const plan = simPlan(
      [
        ...args,
        "--fault",
        "drop=0.1",
        "--fault",
        "delay=60,skew=-5",
        "--pace",
        "60",
        "--hours",
        "2",
        "--from",
        "2026-01-05T07:00:00-05:00",
      ],
      NOW,
    );
    if (plan.do !== "publish") throw new Error(plan.do);
    expect(plan.run.broker).toEqual({ url: "mqtts://broker.example:8883", username: "u", password: "p" });
    expect(plan.run.faults).toEqual({ drop: 0.1, repeat: 0, reorder: 0, delay: 60, skew: -5 });
    expect(plan.run).toMatchObject({ pace: 60, hours: 2 });
    expect(plan.run.scenario.site.id).toBe("yard");
    expect(plan.run.scenario.openedAtMs).toBe(Date.UTC(2026, 0, 5, 12));
  });
  it("can list, help, or write a file instead", () => {
    expect(simPlan(["--list"], NOW)).toEqual({ do: "list" });
    expect(simPlan(["--help", "--list"], NOW)).toEqual({ do: "help" });
    expect(simPlan(["--out", "x.json"], NOW)).toMatchObject({ do: "write", file: "x.json" });
  });

  it.each([
    [["--colour", "red"], /'--colour'/],
    [["--url", "nowhere"], /--url takes an address such as mqtt:/],
    [["--url", "http://127.0.0.1"], /--url must begin with mqtt:/],
    [["--url", "mqtt://a:b@127.0.0.1"], /--url must not carry a name or password/],
    [["--seed", "x"], /--seed takes a whole number/],
    [["--pace", "0"], /--pace takes a number from 0.1/],
    [["--backfill", "99"], /--backfill takes a number from 0 to 54/],
    [["--from", "yesterday"], /--from takes a date and time with offset/],
    [["--fault", "drop=7"], /--fault: drop must be a share/],
    [["--scenario", "moon"], /--scenario: no scenario "moon"/],
    [["--site", "a/b"], /--site takes letters/],
  ])("refuses %j and names the option", (args, why) => {
    expect(() => simPlan(args, NOW)).toThrow(OptionError);
    expect(() => simPlan(args, NOW)).toThrow(why);
  });
});

describe("options of demo", () => {
  it("are a quiet evening on port 8080 by themselves", () => {
    expect(demoOptions([])).toEqual({
      help: false,
      port: 8080,
      mqttPort: 0,
      dataDir: null,
      seed: 1,
      pace: 1,
      once: false,
    });
  });
  it("run a time-lapse at 720 times, or at a pace of choice", () => {
    expect(demoOptions(["--fast"]).pace).toBe(720);
    expect(demoOptions(["--fast", "--pace", "60"]).pace).toBe(60);
  });
  it.each([
    [["--port", "99999"], /--port takes a whole number from 0 to 65535/],
    [["--pace", "0.5"], /--pace takes a number from 1/],
    [["--slow"], /'--slow'/],
    [["--data"], /--data/],
  ])("refuse %j and name the option", (args, why) => expect(() => demoOptions(args)).toThrow(why));
});
