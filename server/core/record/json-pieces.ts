// A large JSON value as text in pieces, so that whoever writes it out can let others go first in between.

const ITEMS = 1000;

function* listPieces(list: readonly unknown[]): Generator<string> {
  for (let from = 0; from < list.length; from += ITEMS) {
    const text = JSON.stringify(list.slice(from, from + ITEMS));
    yield (from === 0 ? "[" : ",") + text.slice(1, -1);
  }
  yield "]";
}

/** Together the text of `JSON.stringify(value)`; long lists of its first level come in parts. */
export function* jsonPieces(value: Readonly<Record<string, unknown>>): Generator<string> {
  let before = "{";
  for (const [key, part] of Object.entries(value)) {
    if (part === undefined) continue;
    yield `${before}${JSON.stringify(key)}:`;
    before = ",";
    if (Array.isArray(part) && part.length > ITEMS) yield* listPieces(part);
    else yield JSON.stringify(part);
  }
  yield before === "{" ? "{}" : "}";
}
