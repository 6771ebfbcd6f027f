// A list that the owner can change: loaded, loaded again after each change, with what went wrong in words.
import { useState } from "react";
import { ApiFailure } from "../../data/api.ts";
import { useAsked } from "../../data/use-asked.ts";
import { accessText } from "../../text/access.ts";
import { useVoice } from "../../ui/voice.tsx";

export interface Listed<T> {
  readonly items: readonly T[] | null;
  /** What to tell: the server is away, it refused, or it did what was asked. */
  readonly said: string | null;
  /** Does something and loads the list again; gives false where it failed. */
  run(work: () => Promise<unknown>): Promise<boolean>;
}

export function useList<T>(place: string, ask: () => Promise<readonly T[]>): Listed<T> {
  const { text } = useVoice();
  const words = accessText(text);
  const [round, setRound] = useState(0);
  const [trouble, setTrouble] = useState<string | null>(null);
  const asked = useAsked(ask, place, String(round));
  return {
    items: asked.value,
    said: trouble ?? (asked.failed ? words.people.failed : null),
    async run(work) {
      setTrouble(null);
      try {
        await work();
        setTrouble(words.people.done);
        return true;
      } catch (cause) {
        const refused = cause instanceof ApiFailure && cause.kind === "refused";
        const why = refused && cause.status === 403 ? words.form.barred : null;
        setTrouble(refused ? (why ?? words.people.refused(cause.message)) : words.form.failed);
        return false;
      } finally {
        setRound((before) => before + 1);
      }
    },
  };
}
