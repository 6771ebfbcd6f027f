// The spot check, loaded when it is asked for.
import { lazy, Suspense } from "react";
import { useVoice } from "../ui/voice.tsx";

const SpotCheck = lazy(() => import("../features/spot-check/spot-check.tsx"));

export function SpotPage() {
  const { text } = useVoice();
  return (
    <Suspense fallback={<p className="empty">{text.app.loading}</p>}>
      <SpotCheck />
    </Suspense>
  );
}
