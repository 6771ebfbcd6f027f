// The site's own time as this device can know it: anchored to what the server last said, not to the device's clock.

/** What the server said its time was, and when (device clock) that was heard. */
export interface Anchor {
  readonly siteMs: number;
  readonly deviceMs: number;
  readonly pace: number;
}

/** The server is taken as silent when nothing came for this long; it beats every 15 s. */
export const SILENT_AFTER_MS = 40_000;

/** The site's time now. In a time-lapse nothing is known beyond the last beats, so its clock stops with the server. */
export function siteNow(anchor: Anchor, deviceNowMs: number): number {
  const passed = Math.max(0, deviceNowMs - anchor.deviceMs);
  return anchor.siteMs + (anchor.pace === 1 ? passed : Math.min(passed, SILENT_AFTER_MS) * anchor.pace);
}
