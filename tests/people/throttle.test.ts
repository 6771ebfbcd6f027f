// Waiting between tries: it grows, it is bounded, and nobody can lock another person's own device out.
import { expect, it } from "vitest";
import { createHashing } from "../../server/people/hashing.ts";
import { createThrottle } from "../../server/people/throttle.ts";

const S = 1000;
function stage() {
  let nowMs = 0;
  const throttle = createThrottle(() => nowMs, "salt");
  const pass = (s: number) => {
    nowMs += s * S;
  };
  return { throttle, pass };
}
const from = (address: string, name: string | null = "ada", device: string | null = null) => ({
  name,
  address,
  device,
});

it("one name from one place: three tries, then 1, 2, 4 ... 300 s", () => {
  const { throttle, pass } = stage();
  const waits: number[] = [];
  for (let n = 0; n < 14; n += 1) {
    expect(throttle.begin(from("192.0.2.1"))).toBe(0);
    const waitMs = throttle.begin(from("192.0.2.1"));
    if (waitMs === 0) continue;
    waits.push(waitMs / S);
    pass(waitMs / S);
  }
  expect(waits.slice(0, 5)).toEqual([1, 2, 4, 8, 16]);
  expect(waits.at(-1)).toBe(300);
});

it("forgets after an hour of quiet, and when it is passed", () => {
  const { throttle, pass } = stage();
  for (let n = 0; n < 3; n += 1) throttle.begin(from("192.0.2.1"));
  expect(throttle.begin(from("192.0.2.1"))).toBeGreaterThan(0);
  pass(3600);
  expect(throttle.begin(from("192.0.2.1"))).toBe(0);
  throttle.begin(from("192.0.2.1"));
  throttle.passed(from("192.0.2.1"));
  for (let n = 0; n < 3; n += 1) expect(throttle.begin(from("192.0.2.1"))).toBe(0);
});

it("many names from one place wait too, and an IPv6 place is its /64", () => {
  const { throttle } = stage();
  const waits = Array.from({ length: 30 }, (_, n) => throttle.begin(from(`2001:db8:0:7::${n + 1}`, `name-${n}`)));
  expect(waits.slice(0, 12).every((waitMs) => waitMs === 0)).toBe(true);
  expect(waits.at(-1)).toBeGreaterThan(0);
  expect(throttle.begin(from("2001:db8:0:8::1", "ada"))).toBe(0);
});

it("a flood against one name from many places stops strangers, and not a device that has been here before", () => {
  const { throttle, pass } = stage();
  let refused = 0;
  for (let n = 0; n < 5000; n += 1) {
    if (throttle.begin(from(`198.51.${n >> 8}.${n & 255}`)) > 0) refused += 1;
    pass(0.1);
  }
  // ASVS 4.0.3, 2.2.1: no more than 100 failed attempts an hour on one account.
  expect(5000 - refused).toBeLessThanOrEqual(100);
  expect(throttle.begin(from("203.0.113.9"))).toBeGreaterThan(0);
  expect(throttle.begin(from("203.0.113.9", "ada", "phone"))).toBe(0);
  // Nor is anybody else locked out, nor a code from the box.
  expect([throttle.begin(from("203.0.113.9", "jo")), throttle.begin(from("203.0.113.8", null))]).toEqual([0, 0]);
});

it("a device that has been here before waits for its own slips", () => {
  const { throttle } = stage();
  for (let n = 0; n < 3; n += 1) throttle.begin(from("203.0.113.9", "ada", "phone"));
  expect(throttle.begin(from("203.0.113.9", "ada", "phone"))).toBe(S);
});

it("hashing stays within its budget: strangers cannot spend what known devices need, nor the machine", async () => {
  let steadyMs = 0;
  const hashing = createHashing(() => steadyMs, { perS: 2, burst: 3 });
  const tries = await Promise.all(Array.from({ length: 10 }, () => hashing.verify(null, "guess", "stranger")));
  expect(tries.filter((one) => one === "busy")).toHaveLength(7);
  expect(await hashing.verify(null, "guess", "known")).toBe(false);
  steadyMs += 500;
  expect(await hashing.verify(null, "guess", "stranger")).toBe(false);
  expect(await hashing.verify(null, "guess", "stranger")).toBe("busy");
});

it("an unknown name costs the same work as a known one", async () => {
  const against: string[] = [];
  const hashing = createHashing(
    () => 0,
    { perS: 1, burst: 100 },
    async (kept) => {
      against.push(kept);
      return true;
    },
  );
  const kept = await hashing.hash("seven otters under a jetty");
  expect([await hashing.verify(null, "guess", "stranger"), await hashing.verify(kept, "guess", "stranger")]).toEqual([
    false,
    true,
  ]);
  // OWASP Password Storage Cheat Sheet: argon2id with 19 MiB, two passes, one lane.
  for (const one of against) expect(one).toMatch(/^\$argon2id\$v=19\$m=19456,t=2,p=1\$/);
  expect(against).toHaveLength(2);
});

it("one password is one, however a keyboard composes its letters", async () => {
  const hashing = createHashing(() => 0);
  const kept = await hashing.hash("caf\u00e9 at the jetty");
  expect(await hashing.verify(kept, "cafe\u0301 at the jetty", "known")).toBe(true);
  expect(await hashing.verify(kept, "cafe at the jetty", "known")).toBe(false);
});
