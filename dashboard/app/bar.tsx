// The bar with the pages and the one-tap choices: language, units, day or night. At the thumb on a phone, at the top elsewhere.
import type { ReactNode } from "react";
import type { AccessBody } from "#contract/access.ts";
import type { Theme } from "../data/prefs.ts";
import { mayOf, whoOf } from "../data/session.ts";
import { useSignal } from "../data/use-signal.ts";
import { useVoice } from "../ui/voice.tsx";
import { hrefs, type Route } from "./route.ts";
import { useServices } from "./services.tsx";

interface Props {
  readonly route: Route;
  readonly site: string | null;
  readonly several: boolean;
  readonly access: AccessBody | null;
}

const NEXT_THEME: Readonly<Record<Theme, Theme>> = { auto: "dark", dark: "light", light: "auto" };

export function Bar({ route, site, several, access }: Props) {
  const { prefs: desk } = useServices();
  const prefs = useSignal(desk.signal);
  const { text } = useVoice();
  const link = (page: Route["page"], href: string, label: ReactNode) => (
    <a href={href} aria-current={route.page === page ? "page" : undefined}>
      {label}
    </a>
  );
  const inside = mayOf(access, "read");
  const who = whoOf(access);
  return (
    <nav className="bar-nav" aria-label="Nightslab">
      {inside && link("board", site === null ? "#/" : hrefs.board(site), text.app.board)}
      {inside && site === null && link("spot-check", hrefs.spotCheck(site), text.app.spotCheck)}
      {inside && site !== null && (
        <a href={hrefs.page(site, "alarms")} aria-current={route.page === "alarms" ? "page" : undefined}>
          {text.app.alarms}
          <OpenAlarms site={site} />
        </a>
      )}
      {inside && site !== null && (
        <a
          href={hrefs.page(site, "tonight")}
          className="bar-wide"
          aria-current={route.page === "tonight" ? "page" : undefined}
        >
          {text.app.night}
        </a>
      )}
      {inside && site !== null && link("sensors", hrefs.sensors(site), text.app.sensors)}
      {inside && site !== null && link("more", hrefs.page(site, "more"), text.app.more)}
      {inside && site === null && several && link("sites", hrefs.sites, text.app.sites)}
      {who?.role === "client" && link("board", "#/", text.app.board)}
      <span className="bar-gap" />
      {who !== null && (
        <a href={hrefs.me} className="bar-who" aria-current={route.page === "me" ? "page" : undefined}>
          <WhoSign />
          <span>{who.name ?? text.app.guest}</span>
        </a>
      )}
      <button
        type="button"
        lang={prefs.language === "en" ? "es" : "en"}
        aria-label={text.app.languageLabel}
        onClick={() => desk.change({ language: prefs.language === "en" ? "es" : "en" })}
      >
        {text.app.languageShort}
      </button>
      <button
        type="button"
        className="bar-rare"
        aria-label={prefs.units === "us" ? text.app.unitsLabel("°F", "°C") : text.app.unitsLabel("°C", "°F")}
        onClick={() => desk.change({ units: prefs.units === "us" ? "si" : "us" })}
      >
        {prefs.units === "us" ? "°F" : "°C"}
      </button>
      <button
        type="button"
        className="bar-rare"
        aria-label={`${text.app.themeLabel}: ${text.app.themes[prefs.theme]}`}
        onClick={() => desk.change({ theme: NEXT_THEME[prefs.theme] })}
      >
        <ThemeSign theme={prefs.theme} />
      </button>
    </nav>
  );
}

/** How many ask for an answer. */
function OpenAlarms({ site }: { readonly site: string }) {
  const { alarms } = useSignal(useServices().storeOf(site).signal);
  const open = alarms.filter(({ state, level }) => state === "open" && level !== "list").length;
  return open === 0 ? null : <b className="bar-count">{open}</b>;
}

function WhoSign() {
  return (
    <svg viewBox="0 0 24 24" width="22" height="22" aria-hidden="true" focusable="false">
      <circle cx="12" cy="7" r="5" fill="currentColor" />
      <path d="M2 23c0-13 20-13 20 0z" fill="currentColor" />
    </svg>
  );
}

/** Half a disc for the device's choice, a full ring for day, a filled one for night. */
function ThemeSign({ theme }: { readonly theme: Theme }) {
  return (
    <svg viewBox="0 0 24 24" width="22" height="22" aria-hidden="true" focusable="false">
      <circle
        cx="12"
        cy="12"
        r="9"
        fill={theme === "dark" ? "currentColor" : "none"}
        stroke="currentColor"
        strokeWidth="2.4"
      />
      {theme === "auto" && <path d="M12 3a9 9 0 0 1 0 18z" fill="currentColor" />}
    </svg>
  );
}
