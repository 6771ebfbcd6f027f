// A heater that burns in the room, by the journal: what is not known of it counts as burning.
import { describe, expect, it } from "vitest";
import { burningInside } from "#core/zone/flame.ts";

const on = (atMs: number, more: object = {}) => ({ on: true, atMs, ...more });
const off = (atMs: number) => ({ on: false, atMs });

describe("a heater that burns inside", () => {
  it.each([
    ["nothing is logged", [], 100, null],
    ["on, exhaust and fuel unknown", [on(10)], 100, 10],
    ["on, exhaust inside", [on(10, { vented: false, fuel: "propane" })], 100, 10],
    ["on, exhaust outside", [on(10, { vented: true, fuel: "diesel" })], 100, null],
    ["electric", [on(10, { fuel: "electric" })], 100, null],
    ["off again", [on(10), off(90)], 100, null],
    ["off only later", [on(10), off(101)], 100, 10],
    ["on later", [on(101)], 100, null],
    ["a plan that has run out", [on(10, { fromMs: 20, toMs: 100 })], 100, null],
    ["a plan that runs", [on(10, { fromMs: 20, toMs: 101 })], 100, 10],
    ["a plan that has not begun", [on(10, { fromMs: 120 })], 100, null],
    ["said again with its exhaust outside", [on(10), on(50, { vented: true })], 100, null],
    ["heard in another order", [off(90), on(10)], 100, null],
    ["two at the same moment: the later in the log", [off(90), on(90)], 100, 90],
  ] as const)("%s", (_name, heating, atMs, since) => {
    expect(burningInside([...heating], atMs)?.atMs ?? null).toBe(since);
  });
});
