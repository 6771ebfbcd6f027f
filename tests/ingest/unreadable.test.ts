// A message that breaks the reading of it costs itself only: it stays unanswered, and the line that brought it lives.
import { expect, it } from "vitest";
import { createPipeline, type Ports } from "../../server/pipeline.ts";

type Landed = { site: string; node: string; stored: unknown[]; same: number; refused: { reason: string }[] };

it("rejects, and never throws at whoever read the line", async () => {
  const landed: string[] = [];
  const ports: Partial<Ports<string, string, string, Landed>> = {
    wallMs: () => 0,
    moments: { now: () => 0, judged: () => 0 },
    count: () => undefined,
    decode(message) {
      if (message === "broken") throw new RangeError("cannot read that");
      return message;
    },
    accept: (decoded) => decoded,
    land: async (accepted) => void landed.push(accepted),
  };
  const { take } = createPipeline(ports as Ports<string, string, string, Landed>);
  const broken = take("broken");
  await expect(broken).rejects.toThrow("cannot read that");
  await take("whole");
  expect(landed).toEqual(["whole"]);
});
