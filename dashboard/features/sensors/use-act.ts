// Something a person asks the server to do: once at a time, with the reason when it says no.
import { useState } from "react";
import { ApiFailure } from "../../data/api.ts";

export interface Act {
  readonly busy: boolean;
  readonly failed: string | null;
  /** True when it was done. */
  readonly run: (work: () => Promise<unknown>) => Promise<boolean>;
}

export function useAct(): Act {
  const [state, setState] = useState<{ busy: boolean; failed: string | null }>({ busy: false, failed: null });
  return {
    ...state,
    async run(work) {
      setState({ busy: true, failed: null });
      try {
        await work();
        setState({ busy: false, failed: null });
        return true;
      } catch (error) {
        setState({
          busy: false,
          failed: error instanceof ApiFailure || error instanceof Error ? error.message : String(error),
        });
        return false;
      }
    },
  };
}
