// What is chosen once on a device: units, and day or night.
import type { ClockChoice, Theme } from "../data/prefs.ts";
import { useSignal } from "../data/use-signal.ts";
import { hoursText } from "../text/hours.ts";
import { useVoice } from "../ui/voice.tsx";
import { useServices } from "./services.tsx";

const NEXT_THEME: Readonly<Record<Theme, Theme>> = { auto: "dark", dark: "light", light: "auto" };

const NEXT_CLOCK: Readonly<Record<ClockChoice, ClockChoice>> = { auto: "12", "12": "24", "24": "auto" };

export function Choices() {
  const { prefs: desk } = useServices();
  const prefs = useSignal(desk.signal);
  const { text } = useVoice();
  const clock = hoursText(text);
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
      <button type="button" className="button" onClick={() => desk.change({ hours: NEXT_CLOCK[prefs.hours] })}>
        {clock.label}: {clock.choices[prefs.hours]}
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
