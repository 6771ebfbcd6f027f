// Tampering with an exported job: whatever is changed, dropped, reordered or cut off, the first broken link is named.
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { zipSync } from "fflate";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { bodyFromCall } from "#contract/call.ts";
import { waitAfterError } from "../../server/pipeline-changes.ts";
import { chainNow, sha256 } from "../../server/record/heads-now.ts";
import { chainFiles } from "../../server/record/job-export.ts";
import { openStore } from "../../server/store/store.ts";
import { verify } from "../../server/verify.ts";
import { NOON_MS, SITE } from "../support/small-site.ts";

const DAY = 86_400_000;
const MINUTE = 60_000;

describe("verify", () => {
  let root: string;
  let made: string;
  let lastHead: string;
  let copies = 0;

  beforeAll(async () => {
    root = mkdtempSync(join(tmpdir(), "nightslab-verify-"));
    made = join(root, "made");
    const store = openStore(join(root, "data"));
    store.records.putSite(SITE, NOON_MS);
    for (let day = 0; day < 3; day++) {
      const fromMs = NOON_MS + day * DAY;
      for (let step = 0; step < 4; step++) {
        const atMs = fromMs + step * MINUTE;
        const reading = (quantity: string, value: number) => ({
          site: SITE.id,
          node: "bay-1",
          quantity,
          atMs,
          value,
          heardMs: atMs + 400,
        });
        store.readings.append([
          reading("slab", 11.25 + step / 10),
          reading("rh", 61 - step),
          reading("air", -0.0625 * (step + 1)),
        ]);
        store.journal.append(SITE.id, {
          id: `e-${day}-${step}`,
          zone: "bay",
          by: "Ida",
          atMs,
          heardMs: atMs + 900,
          did: "held",
          why: `step ${step}`,
        });
        store.calls.append(SITE.id, bodyFromCall(waitAfterError(SITE.id, "bay", atMs, false).call));
      }
    }
    const nowMs = NOON_MS + 2 * DAY + 30 * MINUTE;
    await store.heads.closeDays(nowMs, () => false);
    const chain = await chainNow(store.heads, SITE.id, nowMs);
    lastHead = chain.heads.at(-1)?.head ?? "";
    for (const { path, chunks } of chainFiles(store.heads, SITE.id, chain)) put(made, path, [...chunks].join(""));
    const picture = "not really a picture";
    put(made, `photos/${sha256(picture)}.jpg`, picture);
    store.close();
  });
  afterAll(() => rmSync(root, { recursive: true, force: true }));

  const put = (folder: string, path: string, text: string) => {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
  };
  /** A copy in which one file is another one; what the command says of it, and its exit code. */
  const after = (path: string, change: (text: string) => string) => {
    const folder = join(root, `copy-${copies++}`);
    cpSync(made, folder, { recursive: true });
    const before = readFileSync(join(folder, path), "utf8");
    const text = change(before);
    expect(text).not.toBe(before);
    put(folder, path, text);
    return told(folder);
  };
  const told = (...args: string[]) => {
    const lines: string[] = [];
    const code = verify(args, (line) => lines.push(line));
    return { code, said: lines.join("\n") };
  };
  const lines = (text: string, change: (all: string[]) => void, end = "\n") => {
    const all = text.split(end);
    change(all);
    return all.join(end);
  };

  it("finds nothing in what was not touched, as a folder and as a zip file", () => {
    expect(told(made)).toEqual({
      code: 0,
      said: expect.stringContaining("3 days, 12 entries, 12 calls, 36 readings, 1 pictures"),
    });
    const names = ["chain/journal.ndjson", "chain/calls.ndjson", "chain/heads.json"];
    const days = ["2026-02-03", "2026-02-04", "2026-02-05"].map((day) => `chain/readings/${day}.csv`);
    const packed = zipSync(
      Object.fromEntries([...names, ...days].map((path) => [path, readFileSync(join(made, path))])),
    );
    writeFileSync(join(root, "job.zip"), packed);
    expect(told(join(root, "job.zip")).code).toBe(0);
    expect(told(made, "--head", lastHead).code).toBe(0);
    expect(told(made, "--head", "ab".repeat(32))).toMatchObject({
      code: 1,
      said: expect.stringContaining("not in this chain"),
    });
  });

  const journal = "chain/journal.ndjson";
  const calls = "chain/calls.ndjson";
  const readings = "chain/readings/2026-02-04.csv";
  const heads = "chain/heads.json";
  const cases: [what: string, path: string, change: (text: string) => string, said: RegExp][] = [
    [
      "one byte of an entry",
      journal,
      (text) => text.replace('"step 2"', '"step 7"'),
      /2026-02-03 journal line 3 \(e-0-2\): is not what was hashed\n {2}expected [0-9a-f]{64}\n {2}found {4}[0-9a-f]{64}$/,
    ],
    [
      "one byte of an entry's hash",
      journal,
      (text) => text.replace(/("hash":")(.)/, (_, key: string, hex: string) => `${key}${hex === "0" ? "1" : "0"}`),
      /2026-02-03 journal line 1 \(e-0-0\): is not what was hashed/,
    ],
    [
      "who said it",
      journal,
      (text) => lines(text, (all) => (all[6] = (all[6] ?? "").replace("Ida", "Ada"))),
      /2026-02-04 journal line 7 \(e-1-2\)/,
    ],
    [
      "an entry dropped",
      journal,
      (text) => lines(text, (all) => all.splice(5, 1)),
      /2026-02-04 journal line 6 \(e-1-2\): does not follow the link before it/,
    ],
    [
      "two entries exchanged",
      journal,
      (text) => lines(text, (all) => all.splice(1, 2, all[2] ?? "", all[1] ?? "")),
      /2026-02-03 journal line 2 \(e-0-2\): does not follow/,
    ],
    [
      "the last entry dropped",
      journal,
      (text) => lines(text, (all) => all.splice(11, 1)),
      /2026-02-05 head line 3 \(journal\): its journal is not what stands in this day/,
    ],
    ["an entry cut off", journal, (text) => text.slice(0, -40), /2026-02-05 journal line 12: the line is no link/],
    [
      "one byte of a call",
      calls,
      (text) => lines(text, (all) => (all[4] = (all[4] ?? "").replace('"call":"wait"', '"call":"pour"'))),
      /2026-02-04 call line 5 \(bay 2026-02-04T12:00:00Z\): is not what was hashed/,
    ],
    [
      "a call dropped",
      calls,
      (text) => lines(text, (all) => all.splice(0, 1)),
      /2026-02-03 call line 1 \(bay 2026-02-03T12:01:00Z\): does not follow/,
    ],
    [
      "one digit of a reading",
      readings,
      (text) => text.replace("11.35", "11.36"),
      /2026-02-04 readings \(bay-1\/slab\): a reading is not what was hashed/,
    ],
    [
      "when a reading was heard",
      readings,
      (text) => text.replace(/00400\r/, "00401\r"),
      /2026-02-04 readings \(bay-1\/air\): a reading is not what was hashed/,
    ],
    [
      "a reading dropped",
      readings,
      (text) => lines(text, (all) => all.splice(6, 1), "\r\n"),
      /2026-02-04 readings \(bay-1\/rh\): readings are missing or too many\n {2}expected 4 readings\n {2}found {4}3/,
    ],
    [
      "two readings exchanged",
      readings,
      (text) => lines(text, (all) => all.splice(1, 2, all[2] ?? "", all[1] ?? ""), "\r\n"),
      /2026-02-04 readings line 3 \(bay-1\/air\): does not come after the reading before it/,
    ],
    [
      "a number written another way",
      readings,
      (text) => text.replace("11.35", "11.350"),
      /readings line \d+ \(bay-1\/slab\): the value is not written as it is hashed/,
    ],
    [
      "readings cut off",
      readings,
      (text) => text.slice(0, text.indexOf("rh")),
      /2026-02-04 readings line 6: the line is no reading/,
    ],
    [
      "a series added",
      readings,
      (text) => `${text}bay-9,slab,1770206400000,9,1770206400400\r\n`,
      /2026-02-04 readings \(bay-9\/slab\): no such series was kept/,
    ],
    [
      "one byte of a head",
      heads,
      (text) => text.replace(/("head": ")(.)/, (_, key: string, hex: string) => `${key}${hex === "0" ? "1" : "0"}`),
      /2026-02-03 head line 1 \(head\): its head is not what stands in this day/,
    ],
    [
      "a digest in a head",
      heads,
      (text) => text.replace(/("digest": ")(.)/, (_, key: string, hex: string) => `${key}${hex === "0" ? "1" : "0"}`),
      /2026-02-03 readings \(bay-1\/air\): a reading is not what was hashed/,
    ],
    [
      "a count in a head",
      heads,
      (text) => text.replace('"entries": 4', '"entries": 5'),
      /2026-02-03 head line 1 \(entries\): its entries is not what stands/,
    ],
    [
      "a head dropped",
      heads,
      (text) => JSON.stringify((JSON.parse(text) as unknown[]).toSpliced(1, 1)),
      /2026-02-05 head line 2: does not follow the head before it/,
    ],
    [
      "the last head dropped",
      heads,
      (text) => JSON.stringify((JSON.parse(text) as unknown[]).slice(0, 2)),
      /2026-02-05 journal line 9: no head vouches for its day/,
    ],
    ["heads that are none", heads, () => "{", /file \(chain\/heads.json\)/],
  ];
  it.each(cases)("names %s", (_, path, change, said) => {
    const answer = after(path, change);
    expect(answer.said).toMatch(said);
    expect(answer.code).toBe(1);
  });

  it("names a picture that is another one, and a day whose readings are gone", () => {
    expect(after(`photos/${sha256("not really a picture")}.jpg`, (text) => `${text}!`).said).toMatch(
      /photo \(photos\/.*\): is not the picture of its name/,
    );
    const folder = join(root, `copy-${copies++}`);
    cpSync(made, folder, { recursive: true });
    rmSync(join(folder, readings));
    expect(told(folder)).toMatchObject({
      code: 1,
      said: expect.stringMatching(/2026-02-04 readings .*: is missing\n {2}expected 12 readings/),
    });
  });

  it("says what it cannot read", () => {
    writeFileSync(join(root, "cut.zip"), readFileSync(join(root, "job.zip")).subarray(0, 400));
    expect(told(join(root, "cut.zip")).code).toBe(2);
    expect(told(join(root, "nowhere.zip"))).toMatchObject({ code: 2, said: expect.stringContaining("cannot be read") });
    expect(told().code).toBe(2);
    expect(told("--help").code).toBe(0);
  });
});
