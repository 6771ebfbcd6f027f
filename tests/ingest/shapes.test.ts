// A pack read by the bytes of an earlier one says exactly what it says when it is read by the law.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decode } from "../../server/ingest/decode.ts";
import type { Decoded, Message } from "../../server/ingest/message.ts";
import { createShapes, type Shapes } from "../../server/ingest/shapes.ts";

const TOPIC = "nightslab/v1/hall/node/bay-1/senml";
const NOW_MS = 1_790_000_000_000;
const messageOf = (text: string | Uint8Array, replayed = false): Message => ({
  topic: TOPIC,
  payload: typeof text === "string" ? new TextEncoder().encode(text) : text,
  replayed,
  from: "bay-1",
  node: { site: "hall", node: "bay-1" },
});
const plain = ({ excerpt, ...rest }: Decoded) => ({ ...rest, excerpt: excerpt() });
const read = (message: Message, shapes: Shapes | null) => plain(decode(message, NOW_MS, () => null, shapes));

/** Numbers as programs write them, and some that only a full reader of JSON takes. */
const simple = fc.double({ min: -60, max: 120, noNaN: true }).map((value) => value.toFixed(2));
const number = fc.oneof(
  fc.double({ noNaN: true, noDefaultInfinity: true }).map(String),
  simple,
  fc.double({ min: -60, max: 120, noNaN: true }).map(String),
  fc.integer().map(String),
  fc.constantFrom(
    "-0",
    "0",
    "0.0",
    "-0.5",
    "1e3",
    "1E-2",
    "4.50",
    "123456789012345",
    "1234567890123456",
    "0.1234567890123456",
  ),
  fc.constantFrom("01", "1.", ".5", "--1", "+1", "", "null", '"12"', "NaN", "1e999", "0x10", "1 2"),
);
const time = fc.oneof(
  fc.integer({ min: 1_789_000_000_000, max: NOW_MS }).map((ms) => String(ms / 1000)),
  fc.integer({ min: 1_789_000_000, max: 1_790_000_000 }).map((s) => `${s}.1234567`),
  number,
);
const space = fc.constantFrom("", "", "", " ", "\n", "\t ");
const quantity = fc.constantFrom("slab", "slab.2", "air", "rh", "dew", "battery", "door", "rssi", "mood");
const unit = fc.constantFrom("Cel", "%RH", "V", "%EL", "dBm", "F", "C\u00e9l", "C\\u0065l");

/** Text with holes for numbers: values (v) and times (t). */
type Part = string | { readonly hole: "v" | "t" };
const field = fc.oneof(
  { weight: 4, arbitrary: fc.constant<Part[]>(['"v":', { hole: "v" }]) },
  { weight: 1, arbitrary: fc.constant<Part[]>(['"t":', { hole: "v" }]) },
  { weight: 2, arbitrary: unit.map((text): Part[] => [`"u":"${text}"`]) },
  { weight: 1, arbitrary: unit.map((text): Part[] => [`"bu":"${text}"`]) },
  { weight: 1, arbitrary: fc.constant<Part[]>(['"bt":', { hole: "t" }]) },
  {
    weight: 1,
    arbitrary: fc.constantFrom<Part[][]>(
      ['"vb":true'],
      ['"vb":false'],
      ['"vs":"x"'],
      ['"s":', { hole: "v" }],
      ['"bv":', { hole: "v" }],
      ['"ut":60'],
      ['"bver":10'],
      ['"mood":', { hole: "v" }],
      ['"must_":1'],
      ['"up_":', { hole: "v" }],
    ),
  },
);
const joined = (parts: readonly Part[][], between: string): Part[] =>
  parts.flatMap((part, index) => (index === 0 ? part : [between, ...part]));
const record = fc
  .tuple(quantity, fc.array(field, { maxLength: 4 }), space)
  .map(([name, fields, gap]): Part[] => ["{", ...joined([[`"n":"${name}"`], ...fields], `${gap},`), "}"]);
/** As a node of the house sends it: learnt from, as long as its numbers are numbers. */
const FITS = { slab: "Cel", "slab.2": "Cel", air: "Cel", rh: "%RH", battery: "V", rssi: "dBm" } as const;
const usual = fc
  .array(fc.constantFrom(...Object.entries(FITS)), { maxLength: 5 })
  .map((all): Part[][] => all.map(([name, of]) => [`{"n":"${name}","u":"${of}","v":`, { hole: "v" }, "}"]));
const pack = fc
  .tuple(fc.oneof(fc.array(record, { maxLength: 4 }), usual), space)
  .map(([records, gap]): Part[] => [
    ...['[{"bn":"bay-1/","bt":', { hole: "t" } as const, ',"bu":"Cel","n":"slab","v":', { hole: "v" } as const, "}"],
    ...records.flatMap((one): Part[] => [`,${gap}`, ...one]),
    "]",
  ]);
const filled = (parts: readonly Part[], values: readonly string[], times: readonly string[]): string => {
  let holes = 0;
  return parts
    .map((part) => {
      if (typeof part === "string") return part;
      const of = part.hole === "v" ? values : times;
      return of[holes++ % of.length] as string;
    })
    .join("");
};
const lastDays = fc.integer({ min: 1_789_000_000_000, max: NOW_MS }).map((ms) => String(ms / 1000));
const filling = fc.oneof(
  fc.tuple(fc.array(simple, { minLength: 1, maxLength: 7 }), fc.array(lastDays, { minLength: 1, maxLength: 1 })),
  fc.tuple(fc.array(number, { minLength: 1, maxLength: 7 }), fc.array(time, { minLength: 1, maxLength: 3 })),
);
const texts = fc
  .tuple(pack, fc.array(filling, { minLength: 2, maxLength: 5 }))
  .map(([parts, fillings]) => fillings.map(([values, times]) => filled(parts, values, times)));

/** Counts how often the short way answered. */
function counted(): { readonly shapes: Shapes; short(): number } {
  const inner = createShapes();
  let count = 0;
  const shapes: Shapes = {
    ...inner,
    read(topic, payload) {
      const known = inner.read(topic, payload);
      if (known !== null) count += 1;
      return known;
    },
  };
  return { shapes, short: () => count };
}

describe("what an earlier pack taught", () => {
  it("never changes what a pack says, whatever stands in its numbers", () => {
    let short = 0;
    fc.assert(
      fc.property(texts, fc.boolean(), (packs, replayed) => {
        const known = counted();
        for (const text of packs) {
          const message = messageOf(text, replayed);
          expect(read(message, known.shapes)).toStrictEqual(read(message, null));
        }
        short += known.short();
      }),
      { numRuns: 3000 },
    );
    expect(short).toBeGreaterThan(300);
  });

  it("never changes it where bytes are wrong, missing or too many", () => {
    const good = '[{"bn":"bay-1/","bt":1789990000.5,"bu":"Cel","n":"slab","v":12.25},{"n":"rh","u":"%RH","v":54}]';
    const bytes = new TextEncoder().encode(good);
    fc.assert(
      fc.property(fc.nat(bytes.length), fc.uint8Array({ maxLength: 3 }), fc.nat(3), (at, put, drop) => {
        const shapes = createShapes();
        read(messageOf(good), shapes);
        const other = Uint8Array.from([...bytes.subarray(0, at), ...put, ...bytes.subarray(at + drop)]);
        const message = messageOf(other);
        expect(read(message, shapes)).toStrictEqual(read(message, null));
      }),
      { numRuns: 3000 },
    );
  });

  it("reads the packs of a node that sends its battery now and then, all but the first of each kind", () => {
    const { shapes, short } = counted();
    const at = (index: number) =>
      `[{"bn":"bay-1/","bt":${1_789_990_000 + 60 * index},"bu":"Cel","n":"slab","v":${12 + index / 100}}${
        index % 5 === 0 ? `,{"n":"battery","u":"%EL","v":${90 - index}}` : ""
      },{"n":"door","vb":true}]`;
    for (let index = 0; index < 20; index++) {
      const message = messageOf(at(index));
      expect(read(message, shapes)).toStrictEqual(read(message, null));
    }
    expect(short()).toBe(18);
  });

  it("asks the long way for times relative to now, and for those out of order", () => {
    const { shapes, short } = counted();
    const at = (bt: string, t: string) =>
      messageOf(`[{"bn":"bay-1/","bt":${bt},"bu":"Cel","n":"slab","v":12},{"n":"air","t":${t},"v":14}]`);
    for (const message of [at("1789990000", "1"), at("1789990060", "-30"), at("-5", "0"), at("1789990060", "2")])
      expect(read(message, shapes)).toStrictEqual(read(message, null));
    expect(short()).toBe(1);
  });
});
