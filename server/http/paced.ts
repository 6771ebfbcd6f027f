// Text that is sent piece by piece: between two of them others are answered.
import { Readable } from "node:stream";

async function* inTurns(pieces: Iterable<string>): AsyncGenerator<string> {
  for (const piece of pieces) {
    yield piece;
    await new Promise<void>((resolve) => setImmediate(resolve));
  }
}

export function paced(pieces: Iterable<string>): Readable {
  return Readable.from(inTurns(pieces), { objectMode: false });
}
