// What sirens on a site are told: whether to sound. Retained, so that one that comes back learns it; and told again every
// minute while it sounds, so that one that hears nothing more falls silent by itself.
import type { SirenState } from "#contract/notify.ts";
import { isoFromMs } from "#contract/primitives.ts";
import { topicOf } from "#contract/topics.ts";
import type { AlarmBody } from "./ports.ts";

/** Three repeats: one or two may be lost on the way. */
export const SOUND_FOR_S = 180;

export function sirenState(open: readonly AlarmBody[], nowMs: number): SirenState {
  const loud = open.filter(({ level, state }) => level === "wake" && state === "open").map(({ id }) => id);
  return { sound: loud.length > 0, forS: loud.length > 0 ? SOUND_FOR_S : 0, at: isoFromMs(nowMs), alarms: loud };
}

export function createSirens(
  open: (site: string) => readonly AlarmBody[],
  publish: (topic: string, body: string, retain: boolean) => void,
  now: () => number,
) {
  const last = new Map<string, boolean>();
  return {
    /** Says it where it changed, was never said since the start, or sounds. */
    tell(site: string): void {
      const state = sirenState(open(site), now());
      if (!state.sound && last.get(site) === false) return;
      last.set(site, state.sound);
      publish(topicOf({ kind: "siren", site }), JSON.stringify(state), true);
    },
  };
}
