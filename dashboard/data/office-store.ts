// The sites of an office as this device knows them: streamed, and aged when the office is silent.
import type { OfficeAnswerBody, OfficeBody, OfficeSiteBody } from "#contract/office.ts";
import { ask } from "./api.ts";
import { eventReader } from "./event-lines.ts";
import { backoffMs } from "./backoff.ts";
import { type Signal, signalOf } from "./signal.ts";
import { type Anchor, SILENT_AFTER_MS } from "./site-clock.ts";
import type { StreamPorts } from "./stream.ts";

export interface OfficeState {
  /** `none`: the server is no office. `away`: silent or gone, what is shown is old. */
  readonly link: "waiting" | "live" | "away" | "none";
  readonly sites: readonly OfficeSiteBody[] | null;
  readonly anchor: Anchor | null;
  /** Why the office itself may hear nothing. */
  readonly deaf: string | null;
}

export interface OfficeStore {
  readonly signal: Signal<OfficeState>;
  start(): void;
  stop(): void;
}

type Told =
  | { readonly event: "snapshot"; readonly body: OfficeBody }
  | { readonly event: "site"; readonly body: OfficeSiteBody }
  | { readonly event: "gone"; readonly body: { readonly site: string } }
  | { readonly event: "beat"; readonly body: { readonly at: string; readonly deaf: string | null } };

const EVENTS: readonly string[] = ["snapshot", "site", "gone", "beat"];

function toldFrom(event: string, data: string): Told | null {
  if (!EVENTS.includes(event)) return null;
  try {
    return { event, body: JSON.parse(data) } as Told;
  } catch {
    // Cut short by a bad line: the next snapshot tells it again.
    return null;
  }
}

export function applyOffice(state: OfficeState, told: Told, deviceMs: number): OfficeState {
  const anchored = (at: string): Anchor => ({ siteMs: Date.parse(at), deviceMs, pace: 1 });
  if (told.event === "snapshot") {
    const { at, deaf, sites } = told.body;
    return { link: "live", sites, anchor: anchored(at), deaf };
  }
  const live = { ...state, link: "live" as const };
  if (told.event === "beat") return { ...live, anchor: anchored(told.body.at), deaf: told.body.deaf };
  const { site } = told.body;
  const sites = state.sites ?? [];
  if (told.event === "gone") return { ...live, sites: sites.filter((one) => one.site !== site) };
  const known = sites.some((one) => one.site === site);
  return {
    ...live,
    sites: known ? sites.map((one) => (one.site === site ? told.body : one)) : [...sites, told.body],
  };
}

export function officeStore(ports: StreamPorts, deviceNow: () => number): OfficeStore {
  const signal = signalOf<OfficeState>({ link: "waiting", sites: null, anchor: null, deaf: null });
  let running: AbortController | null = null;

  /** Asks until the server says whether it is an office at all. */
  async function isOffice(signalOff: AbortSignal): Promise<boolean> {
    for (let tries = 0; !signalOff.aborted; tries += 1) {
      try {
        const { office } = await ask<OfficeAnswerBody>("/office");
        signal.set(
          office === null
            ? { ...signal.get(), link: "none" }
            : applyOffice(signal.get(), { event: "snapshot", body: office }, deviceNow()),
        );
        return office !== null;
      } catch {
        // No answer yet.
        signal.set({ ...signal.get(), link: "away" });
        await ports.wait(backoffMs(tries, ports.random()), signalOff);
      }
    }
    return false;
  }

  async function follow(signalOff: AbortSignal): Promise<void> {
    for (let tries = 0; !signalOff.aborted; tries += 1) {
      const connection = new AbortController();
      const hangUp = () => connection.abort();
      signalOff.addEventListener("abort", hangUp);
      let quiet = setTimeout(hangUp, SILENT_AFTER_MS);
      try {
        const pieces = await ports.open(null, connection.signal);
        const reader = eventReader();
        for await (const piece of pieces) {
          clearTimeout(quiet);
          quiet = setTimeout(hangUp, SILENT_AFTER_MS);
          // Several sites may come in one piece: one drawing for all of them.
          let state = signal.get();
          for (const item of reader.push(piece)) {
            const told = toldFrom(item.event, item.data);
            if (told === null) continue;
            tries = 0;
            state = applyOffice(state, told, deviceNow());
          }
          if (state !== signal.get()) signal.set(state);
        }
      } catch {
        // The line broke, or was hung up on: it is opened again.
      } finally {
        clearTimeout(quiet);
        signalOff.removeEventListener("abort", hangUp);
        connection.abort();
      }
      if (signalOff.aborted) return;
      signal.set({ ...signal.get(), link: "away" });
      await ports.wait(backoffMs(tries, ports.random()), signalOff);
    }
  }

  return {
    signal,
    start() {
      if (running !== null) return;
      running = new AbortController();
      const { signal: signalOff } = running;
      void isOffice(signalOff).then((is) => (is ? follow(signalOff) : undefined));
    },
    stop() {
      running?.abort();
      running = null;
    },
  };
}
