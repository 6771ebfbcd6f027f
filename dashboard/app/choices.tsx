// What is chosen once on a device: units, and day or night.
import type { Theme } from "../data/prefs.ts";
import { useSignal } from "../data/use-signal.ts";
import { useVoice } from "../ui/voice.tsx";
import { useServices } from "./services.tsx";

const NEXT_THEME: Readonly<Record<Theme, Theme>> = { auto: "dark", dark: "light", light: "auto" };

export function Choices() {
  const { prefs: desk } = useServices();
  const prefs = useSignal(desk.signal);
  const { text } = useVoice();
  return (
    <p className="more-choices">
      <button
        type="button"
        className="button"
        aria-label={prefs.units === "us" ? text.app.unitsLabel("°F", "°C") : text.app.unitsLabel("°C", "°F")}
        onClick={() => desk.change({ units: prefs.units === "us" ? "si" : "us" })}
      >
        {prefs.units === "us" ? "°F" : "°C"}
      </button>
      <button
        type="button"
        className="button"
        aria-label={`${text.app.themeLabel}: ${text.app.themes[prefs.theme]}`}
        onClick={() => desk.change({ theme: NEXT_THEME[prefs.theme] })}
      >
        {text.app.themeLabel}: {text.app.themes[prefs.theme]}
      </button>
    </p>
  );
}
