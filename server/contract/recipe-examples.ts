// Five recipes for shapes that sensors commonly send, each with a message: a start for one's own.
import type { RecipeBody } from "#contract/recipe.ts";

export interface RecipeExample {
  readonly shape: "flat" | "nested" | "channels" | "text" | "scaled";
  readonly recipe: RecipeBody;
  readonly topic: string;
  readonly payload: string;
}

export const RECIPE_EXAMPLES: readonly RecipeExample[] = [
  {
    shape: "flat",
    recipe: {
      id: "flat",
      topic: "floor/+/state",
      node: { level: 2 },
      time: { at: "/ts", as: "epoch-s" },
      values: [
        { quantity: "slab", at: "/floor_c", unit: "C" },
        { quantity: "air", at: "/air_c", unit: "C" },
        { quantity: "rh", at: "/rh", unit: "percent" },
        { quantity: "battery", at: "/bat", unit: "percent", optional: true },
      ],
      missing: -127,
    },
    topic: "floor/corner/state",
    payload: '{"ts":1769774400,"floor_c":11.4,"air_c":13.8,"rh":58.5,"bat":87}',
  },
  {
    shape: "nested",
    recipe: {
      id: "nested",
      topic: "bridge/up/#",
      node: { at: "/device/serial", names: { "0012A7": "north-wall" } },
      gateway: "bridge",
      time: { at: "/received", as: "iso" },
      values: [
        { quantity: "air", at: "/decoded/climate/temperature", unit: "C" },
        { quantity: "rh", at: "/decoded/climate/humidity", unit: "percent" },
        { quantity: "battery", at: "/decoded/power/mv", unit: "mV", optional: true },
        { quantity: "rssi", at: "/radio/rssi", unit: "dBm", optional: true },
      ],
    },
    topic: "bridge/up/0012A7",
    payload:
      '{"received":"2026-01-30T12:00:00Z","device":{"serial":"0012A7"},"radio":{"rssi":-97},"decoded":{"climate":{"temperature":12.9,"humidity":61},"power":{"mv":3580}}}',
  },
  {
    shape: "channels",
    recipe: {
      id: "channels",
      topic: "logger/+",
      node: { level: 2 },
      time: { at: "/t", as: "epoch-ms" },
      values: [
        { quantity: "slab", at: "/value", unit: "C", list: { at: "/channels", where: "/ch", is: 1 } },
        { quantity: "slab.2", at: "/value", unit: "C", list: { at: "/channels", where: "/ch", is: 2 } },
        { quantity: "air", at: "/value", unit: "C", list: { at: "/channels", where: "/ch", is: 5 } },
      ],
    },
    topic: "logger/bay",
    payload:
      '{"t":1769774400000,"channels":[{"ch":5,"value":14.2},{"ch":1,"value":12.1},{"ch":2,"value":10.9},{"ch":7,"value":3}]}',
  },
  {
    shape: "text",
    recipe: {
      id: "text",
      topic: "plug/+/sensor",
      node: { level: 2 },
      values: [
        { quantity: "air", at: "/temperature", unit: "C", text: true },
        { quantity: "rh", at: "/humidity", unit: "percent", text: true },
        { quantity: "door", at: "/contact", unit: "shut", optional: true },
      ],
    },
    topic: "plug/slip-door/sensor",
    payload: '{"temperature":"14.62","humidity":"57.3","contact":false}',
  },
  {
    shape: "scaled",
    recipe: {
      id: "scaled",
      topic: "meter/+/raw",
      node: { level: 2 },
      time: { at: "/time", as: "epoch-s" },
      values: [
        { quantity: "slab", at: "/s1", unit: "F", scale: 0.1 },
        { quantity: "air", at: "/s2", unit: "F", scale: 0.1 },
        { quantity: "rh", at: "/h", unit: "percent", scale: 0.1 },
      ],
    },
    topic: "meter/slip/raw",
    payload: '{"time":1769774400,"s1":536,"s2":572,"h":585}',
  },
];
