// The account page: who is signed in here, and the way out.
import { accessApi } from "../data/access-api.ts";
import { api } from "../data/api.ts";
import { mayOf, whoOf } from "../data/session.ts";
import { useSignal } from "../data/use-signal.ts";
import type { ClockChoice, Theme } from "../data/prefs.ts";
import { Account } from "../features/sign-in/account.tsx";
import { hoursText } from "../text/hours.ts";
import { Choice } from "../ui/choice.tsx";
import { useVoice } from "../ui/voice.tsx";
import { hrefs } from "./route.ts";
import { useServices } from "./services.tsx";

export default function Me() {
  const { text } = useVoice();
  const { session: desk, outbox } = useServices();
  const { access } = useSignal(desk.signal);
  const { waiting } = useSignal(outbox.signal);
  const who = whoOf(access);
  if (who === null || access === null) return <p className="empty">{text.app.notFound}</p>;
  return (
    <Account
      who={who}
      sites={access.sites}
      unsent={waiting.length}
      peopleHref={mayOf(access, "own") ? hrefs.people : null}
      choices={<DeviceChoices />}
      onSignOut={async () => {
        await accessApi.signOut();
        const outside = await api.access();
        globalThis.location.hash = "#/";
        desk.take(outside);
      }}
      onPassword={async (body) => {
        await accessApi.password(body);
      }}
    />
  );
}

/** What the bar of a phone has no room for. */
function DeviceChoices() {
  const { text } = useVoice();
  const clock = hoursText(text);
  const { prefs: desk } = useServices();
  const { units, hours, theme } = useSignal(desk.signal);
  return (
    <>
      <Choice
        label={text.app.units}
        options={{ us: "°F", si: "°C" }}
        value={units}
        onPick={(picked) => desk.change({ units: picked === "us" ? "us" : "si" })}
      />
      <Choice
        label={clock.label}
        options={clock.choices}
        value={hours}
        onPick={(picked) => desk.change({ hours: picked as ClockChoice })}
      />
      <Choice
        label={text.app.themeLabel}
        options={text.app.themes}
        value={theme}
        onPick={(picked) => desk.change({ theme: picked as Theme })}
      />
    </>
  );
}
