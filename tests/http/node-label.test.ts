// The label of a node, read by a reader of codes as a phone would: what the new device needs, and no secret unasked.
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import sharp from "sharp";
import { expect, it } from "vitest";
import { labelSvg, type NodeLabel } from "../../server/http/node-label.ts";

const LABEL: NodeLabel = {
  site: "boathouse",
  siteName: "Boathouse & slip <north>",
  node: "hall-coldest",
  device: "hall-coldest",
  zoneName: 'Hall "A"',
  probes: [
    { quantity: "slab", place: "coldest edge, by the river door" },
    { quantity: "air", place: null },
    { quantity: "rh", place: null },
  ],
  broker: "mqtts://floor.example:8883",
};

/** What zbarimg reads from the label as it is printed at 300 dots an inch. */
async function read(svg: string): Promise<unknown> {
  const folder = mkdtempSync(join(tmpdir(), "nightslab-label-"));
  try {
    const path = join(folder, "label.png");
    writeFileSync(path, await sharp(Buffer.from(svg), { density: 300 }).png().toBuffer());
    return JSON.parse(execFileSync("zbarimg", ["--quiet", "--nodbus", "--raw", path], { encoding: "utf8" }));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

it("holds broker, site and node, and no password unless it was asked for", async () => {
  expect(await read(labelSvg(LABEL, null))).toEqual({
    broker: "mqtts://floor.example:8883",
    site: "boathouse",
    node: "hall-coldest",
  });
});

it("holds the password where a person asked for it, and says so in words", async () => {
  const svg = labelSvg(LABEL, "kRq7-Wv0_xP3nB8sT1yZ");
  expect(await read(svg)).toMatchObject({ node: "hall-coldest", password: "kRq7-Wv0_xP3nB8sT1yZ" });
  expect(svg).toContain("holds a password");
});

it("names the device that the node speaks as, and is still read with long names", async () => {
  const long = {
    ...LABEL,
    site: "b".repeat(64),
    device: "d".repeat(64),
    node: "n".repeat(64),
    siteName: "ñandú ".repeat(20),
  };
  expect(await read(labelSvg(long, "p".repeat(43)))).toMatchObject({ site: "b".repeat(64), node: "d".repeat(64) });
});
