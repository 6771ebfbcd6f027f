// The clock of a node: an oscillator that drifts, set now and then from the network. It knows when it does not know.

/**
 * Uptime in ms by the node's own oscillator, and what it has learnt of the time of day. A stamp for an uptime is drawn
 * through the last two settings, so that a long time without network does not smear the times of what waits in the buffer.
 */
export class NodeClock {
  private readonly settings: { readonly uptimeMs: number; readonly utcMs: number }[] = [];

  /** `driftPpm`: the oscillator's error; `skewMs`: the network's clock is wrong by this (a fault of the site, not of the node). */
  constructor(
    private readonly bootMs: number,
    private readonly driftPpm: number,
    private readonly skewMs = 0,
  ) {}

  uptimeMs(trueMs: number): number {
    return (trueMs - this.bootMs) * (1 + this.driftPpm / 1e6);
  }

  /** Sets the clock from the network. */
  set(trueMs: number): void {
    this.settings.push({ uptimeMs: this.uptimeMs(trueMs), utcMs: trueMs + this.skewMs });
    if (this.settings.length > 2) this.settings.shift();
  }

  isSet(): boolean {
    return this.settings.length > 0;
  }

  /** Time of day at an uptime, epoch ms; null while the clock was never set: no time is better than a wrong one. */
  utcMs(uptimeMs: number): number | null {
    const last = this.settings.at(-1);
    if (last === undefined) return null;
    const before = this.settings.length > 1 ? this.settings[0] : undefined;
    const spanMs = before === undefined ? 0 : last.uptimeMs - before.uptimeMs;
    // Settings an hour apart or more tell the oscillator's pace; nearer ones would only tell the jitter.
    const pace = before !== undefined && spanMs >= 3_600_000 ? (last.utcMs - before.utcMs) / spanMs : 1;
    return last.utcMs + (uptimeMs - last.uptimeMs) * pace;
  }
}
