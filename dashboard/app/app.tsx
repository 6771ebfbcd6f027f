// The whole dashboard: which site, which page, in whose language.
import { Suspense, useEffect, useMemo, useRef } from "react";
import { hoursOf, type Language } from "../data/prefs.ts";
import { isOut, mayOf, whoOf } from "../data/session.ts";
import { newVersion } from "../data/new-version.ts";
import { useSignal } from "../data/use-signal.ts";
import { clockOf } from "../text/clock.ts";
import type { Dictionary } from "../text/en.ts";
import type { Voice } from "../text/sentence.ts";
import { Boundary } from "../ui/boundary.tsx";
import { part } from "../ui/part.tsx";
import { Patterns } from "../ui/patterns.tsx";
import { VoiceProvider } from "../ui/voice.tsx";
import { useDeviceNow, useRoute } from "./hooks.ts";
import { hrefs } from "./route.ts";
import { useServices } from "./services.tsx";
import { Bar } from "./bar.tsx";
import { SitePage } from "./site-page.tsx";
import { useSites } from "./use-sites.ts";

const TICK_MS = 5000;
const DoorPage = part(() => import("./door-page.tsx"));
const ClientFloor = part(() => import("./client-floor.tsx"));
const People = part(() => import("./people.tsx"));
const SheetsRoom = part(() => import("./sheets-room.tsx"));
const SetUpFirst = part(() => import("./set-up-first.tsx"));
const SpotCheck = part(() => import("../features/spot-check/spot-check.tsx"));
const UpdateBar = part(() => import("./update-bar.tsx"));
const HeldBar = part(() => import("./held-bar.tsx"));
const OfficeRoom = part(() => import("./office-room.tsx"));
const Me = part(() => import("./me.tsx"));

export function App({ dictionaries }: { readonly dictionaries: Readonly<Record<Language, Dictionary>> }) {
  const { prefs: desk, session: sessions, outbox } = useServices();
  const newer = useSignal(newVersion);
  const holds = useSignal(outbox.signal).held.length > 0;
  const prefs = useSignal(desk.signal);
  const session = useSignal(sessions.signal);
  const { access } = session;
  const out = isOut(access);
  const client = whoOf(access)?.role === "client";
  const route = useRoute();
  const sites = useSites(out || client ? null : session.key);
  const deviceNowMs = useDeviceNow(TICK_MS);
  const text = dictionaries[prefs.language];
  const hours = hoursOf(prefs);
  const known = sites.list ?? [];
  const wanted = "site" in route ? route.site : null;
  const only = known.length === 1 ? (known[0]?.id ?? null) : null;
  const site = wanted ?? known.find((one) => one.id === prefs.site)?.id ?? only;
  const timezone = known.find((one) => one.id === site)?.timezone ?? Intl.DateTimeFormat().resolvedOptions().timeZone;

  useEffect(() => {
    document.documentElement.lang = prefs.language;
    document.documentElement.dataset["theme"] = prefs.theme;
    document.querySelector("link[rel=manifest]")?.setAttribute("href", `/${prefs.language}.webmanifest`);
  }, [prefs.language, prefs.theme]);
  useEffect(() => {
    if (wanted !== null && wanted !== desk.signal.get().site) desk.change({ site: wanted });
  }, [wanted, desk]);
  // Another page begins at its top, for the eye, the keyboard and the screen reader alike.
  const place = `${out ? "out" : route.page} ${wanted ?? ""} ${("part" in route ? route.part : null) ?? ""}`;
  const shownPlace = useRef(place);
  useEffect(() => {
    if (shownPlace.current === place) return;
    shownPlace.current = place;
    globalThis.scrollTo(0, 0);
    document.getElementById("content")?.focus({ preventScroll: true });
  }, [place]);

  const voice: Voice = useMemo(
    () => ({
      text,
      units: prefs.units,
      clock: clockOf(timezone, text, hours),
      nowMs: deviceNowMs,
      placeOf: (probe) => probe,
    }),
    [text, prefs.units, hours, timezone, deviceNowMs],
  );

  const page = () => {
    if (route.page === "invite" || route.page === "reset" || route.page === "link")
      return <DoorPage key={route.token} door={route.page} token={route.token} />;
    if (out) return <DoorPage door={null} token="" />;
    if (route.page === "me") return <Me />;
    if (client) return <ClientFloor key={session.key} />;
    if (route.page === "unknown") return <p className="empty">{text.app.notFound}</p>;
    // With accounts off nothing of them shows.
    if (route.page === "people" && access?.accounts !== "on") return <p className="empty">{text.app.notFound}</p>;
    if (route.page === "people") return mayOf(access, "own") ? <People /> : <p className="empty">{text.app.barred}</p>;
    if (route.page === "sheets") return <SheetsRoom key={`${session.key} ${route.part ?? ""}`} part={route.part} />;
    if (route.page === "spot-check") return <SpotCheck />;
    if (site !== null && route.page !== "sites")
      return (
        <SitePage
          key={`${site} ${session.key}`}
          site={site}
          page={route.page}
          part={"part" in route ? route.part : null}
        />
      );
    if (sites.list === null) return <p className="empty">{sites.failed ? text.app.failed : text.app.loading}</p>;
    const sets = mayOf(access, "plan");
    const setUp = <SetUpFirst taken={sites.list.map(({ id }) => id)} />;
    // An office has no site of its own.
    if (sites.list.length === 0)
      return <OfficeRoom key={session.key} instead={sets ? setUp : <p className="empty">{text.app.noSites}</p>} />;
    if (sets && route.page === "sites" && route.part === "new") return setUp;
    return (
      <section className="sites">
        <h1>{text.app.chooseSite}</h1>
        <ul>
          {sites.list.map((one) => (
            <li key={one.id}>
              <a className="button" href={hrefs.board(one.id)}>
                {one.name ?? one.id}
              </a>
            </li>
          ))}
        </ul>
        {sets && (
          <p>
            <a className="button" href={hrefs.global("sites", "new")}>
              {text.app.anotherSite}
            </a>
          </p>
        )}
      </section>
    );
  };

  return (
    <VoiceProvider value={voice}>
      <Patterns />
      <button type="button" className="skip" onClick={() => document.getElementById("content")?.focus()}>
        {text.app.skip}
      </button>
      <Bar route={route} site={site} several={known.length > 1} access={access} />
      <main id="content" tabIndex={-1}>
        {newer !== null && (
          <Boundary instead={null}>
            <Suspense fallback={null}>
              <UpdateBar onUse={newer} />
            </Suspense>
          </Boundary>
        )}
        {holds && session.sure && (
          <Boundary instead={null}>
            <Suspense fallback={null}>
              <HeldBar outbox={outbox} writes={mayOf(access, "write")} />
            </Suspense>
          </Boundary>
        )}
        <Boundary
          key={place}
          instead={(again) => (
            <div className="empty">
              <p role="alert">{again === null ? text.app.broken : text.app.notFetched}</p>
              <button type="button" className="button" onClick={again ?? (() => globalThis.location.reload())}>
                {text.app.again}
              </button>
            </div>
          )}
        >
          <Suspense fallback={<p className="empty">{text.app.loading}</p>}>{page()}</Suspense>
        </Boundary>
      </main>
    </VoiceProvider>
  );
}
