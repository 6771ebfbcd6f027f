// Asks again a moment after the last change; the last answer stays while the next is on its way, and a late one is dropped.
import { useEffect, useRef, useState } from "react";
import type { HeatPlanBody } from "#contract/heat-plan.ts";
import { ApiFailure } from "../../data/api.ts";

const SETTLE_MS = 350;
const AGAIN_MS = 5000;

export interface Answer {
  readonly plan: HeatPlanBody | null;
  readonly asking: boolean;
  /** The server was not reached; it is asked again. */
  readonly away: boolean;
  /** Why the server gave no answer to this question. */
  readonly refused: string | null;
}

/** `key` names the question: a change of it asks anew. */
export function useHeatPlan(ask: () => Promise<HeatPlanBody>, key: string): Answer {
  const [answer, setAnswer] = useState<Answer>({ plan: null, asking: true, away: false, refused: null });
  const latest = useRef(ask);
  latest.current = ask;
  const first = useRef(true);
  useEffect(() => {
    let gone = false;
    let timer: ReturnType<typeof setTimeout>;
    const run = async () => {
      try {
        const plan = await latest.current();
        if (!gone) setAnswer({ plan, asking: false, away: false, refused: null });
      } catch (cause) {
        if (gone) return;
        const refused = cause instanceof ApiFailure && cause.kind === "refused" ? cause.message : null;
        setAnswer((before) => ({
          // An answer to another question must not stand beside a refusal of this one.
          plan: refused === null ? before.plan : null,
          asking: false,
          away: refused === null,
          refused,
        }));
        if (refused === null) timer = setTimeout(() => void run(), AGAIN_MS);
      }
    };
    setAnswer((before) => ({ ...before, asking: true }));
    timer = setTimeout(() => void run(), first.current ? 0 : SETTLE_MS);
    first.current = false;
    return () => {
      gone = true;
      clearTimeout(timer);
    };
  }, [key]);
  return answer;
}
