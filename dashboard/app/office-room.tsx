// All sites of an office; where the server is none, what would stand here otherwise.
import { type ReactNode, useEffect, useMemo, useState } from "react";
import { api } from "../data/api.ts";
import { officeStore } from "../data/office-store.ts";
import { siteNow } from "../data/site-clock.ts";
import { browserPorts } from "../data/stream.ts";
import { useSignal } from "../data/use-signal.ts";
import { OfficePage } from "../features/office/office-page.tsx";
import type { Voice } from "../text/sentence.ts";
import { useVoice, VoiceProvider } from "../ui/voice.tsx";
import { useDeviceNow } from "./hooks.ts";

/** Ages are told by the minute. */
const STEP_MS = 30_000;
const TICK_MS = 5000;

export default function OfficeRoom({ instead }: { readonly instead: ReactNode }) {
  const [store] = useState(() => officeStore(browserPorts(`${api.root}/office/stream`), () => Date.now()));
  const state = useSignal(store.signal);
  const outer = useVoice();
  const deviceNowMs = useDeviceNow(TICK_MS);
  useEffect(() => {
    store.start();
    return () => store.stop();
  }, [store]);
  const { text, units, clock } = outer;
  const nowMs = state.anchor === null ? deviceNowMs : siteNow(state.anchor, deviceNowMs);
  const stepMs = Math.floor(nowMs / STEP_MS) * STEP_MS;
  const voice: Voice = useMemo(
    () => ({ text, units, clock, nowMs: stepMs, placeOf: (probe) => probe }),
    // The clock is each site's own; this one only fills its place.
    [text, units, stepMs],
  );
  if (state.link === "none") return instead;
  if (state.sites === null)
    return <p className="empty">{state.link === "away" ? text.app.failed : text.app.loading}</p>;
  return (
    <VoiceProvider value={voice}>
      <OfficePage sites={state.sites} voice={voice} away={state.link === "away"} deaf={state.deaf !== null} />
    </VoiceProvider>
  );
}
