// The moment of an entry, in whole seconds.
export const isoNow = (nowMs: number): string =>
  new Date(Math.floor(nowMs / 1000) * 1000).toISOString().replace(".000Z", "Z");
