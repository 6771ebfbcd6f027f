// Something a person asks the server to do: once at a time, with the reason when it says no.
import { useState } from "react";

export interface Act {
  readonly busy: boolean;
  readonly failed: string | null;
  /** What came of it; null when it failed. */
  readonly run: <T>(work: () => Promise<T>) => Promise<{ readonly value: T } | null>;
}

export function useAct(): Act {
  const [state, setState] = useState<{ busy: boolean; failed: string | null }>({ busy: false, failed: null });
  return {
    ...state,
    async run(work) {
      setState({ busy: true, failed: null });
      try {
        const value = await work();
        setState({ busy: false, failed: null });
        return { value };
      } catch (error) {
        setState({ busy: false, failed: error instanceof Error ? error.message : String(error) });
        return null;
      }
    },
  };
}
