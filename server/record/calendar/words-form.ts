// What the words of calendars are in any language.
import type { EventKind } from "./ports.ts";

export interface CalendarWords {
  /** Of times of day. */
  readonly locale: string;
  readonly title: (site: string) => string;
  /** `coat` counted from 1. */
  readonly summary: Readonly<Record<EventKind, (zone: string, coat: number) => string>>;
  readonly notBefore: (when: string) => string;
  readonly by: (when: string) => string;
  readonly chance: (share: string) => string;
  /** What to do about it, or what it rests on. */
  readonly advice: Readonly<Record<EventKind, string>>;
  readonly look: string;
}
