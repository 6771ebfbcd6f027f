// A zip file as it grows: each file is packed and handed on before the next is made.
export interface ZipFile {
  readonly path: string;
  readonly chunks: Iterable<string | Uint8Array>;
}

/** So much is packed in one go: a millisecond or two. */
const PIECE_BYTES = 64 * 1024;

function* piecesOf(chunk: string | Uint8Array): Generator<Uint8Array> {
  const bytes = typeof chunk === "string" ? Buffer.from(chunk) : chunk;
  for (let from = 0; from < bytes.length; from += PIECE_BYTES) yield bytes.subarray(from, from + PIECE_BYTES);
}

const breath = () => new Promise<void>((resolve) => setImmediate(resolve));

export async function* zipOf(files: AsyncIterable<ZipFile>, madeAt: Date): AsyncGenerator<Uint8Array> {
  // Loaded for the first file: a server that starts packs none.
  const { Zip, ZipDeflate } = await import("fflate");
  const ready: Uint8Array[] = [];
  const failed: Error[] = [];
  const zip = new Zip((error, data) => {
    if (error !== null) failed.push(error);
    else ready.push(data);
  });
  for await (const { path, chunks } of files) {
    const entry = new ZipDeflate(path, { level: 6 });
    entry.mtime = madeAt;
    zip.add(entry);
    for (const chunk of chunks) {
      for (const piece of piecesOf(chunk)) {
        entry.push(piece, false);
        yield* ready.splice(0);
        await breath();
      }
    }
    entry.push(new Uint8Array(0), true);
    for (const error of failed) throw error;
    yield* ready.splice(0);
    await breath();
  }
  zip.end();
  yield* ready.splice(0);
}
