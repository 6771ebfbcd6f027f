// A site: its head with the time and the state of its nodes, and either its board or one of its zones.
import { lazy, Suspense, useEffect, useMemo } from "react";
import type { BoardBody } from "#contract/board.ts";
import { mayOf, writerOf } from "../data/session.ts";
import { siteNow } from "../data/site-clock.ts";
import { useSignal } from "../data/use-signal.ts";
import { Board } from "../features/board/board.tsx";
import { ComeBack } from "../features/come-back/come-back.tsx";
import { clockOf } from "../text/clock.ts";
import { plain, showDuration, showTemperature } from "../units/show.ts";
import { Boundary } from "../ui/boundary.tsx";
import { useVoice, VoiceProvider } from "../ui/voice.tsx";
import { isOld } from "./age.ts";
import { useDeviceNow } from "./hooks.ts";
import { hrefs } from "./route.ts";
import { useRunningStore, useServices } from "./services.tsx";

const ZoneView = lazy(() => import("./zone-view.tsx"));
const RecordRoom = lazy(() => import("./record-room.tsx"));
const SensorsPage = lazy(() => import("../features/sensors/sensors-page.tsx"));
const FeedNotice = lazy(() => import("../features/feed-notice/feed-notice.tsx"));
const OutboxBar = lazy(() => import("../features/journal/outbox-bar.tsx"));
const TICK_MS = 5000;

/** "slip-door/slab" to the place that somebody typed for it. */
function placesOf(board: BoardBody): (probe: string) => string {
  return (probe) => {
    const [id, quantity] = probe.split("/");
    const place =
      quantity === undefined
        ? undefined
        : board.nodes.find((node) => node.node.id === id)?.node.probes?.[quantity]?.place;
    return place ?? id ?? probe;
  };
}

interface Props {
  readonly site: string;
  readonly zone: string | null;
  /** The record of the zone and not the zone itself. */
  readonly record: boolean;
  readonly sensors: boolean;
}

export function SitePage({ site, zone, record, sensors }: Props) {
  const store = useRunningStore(site);
  const { outbox, prefs: desk, session } = useServices();
  const { access } = useSignal(session.signal);
  const { by } = useSignal(desk.signal);
  const box = useSignal(outbox.signal);
  const state = useSignal(store.signal);
  const outer = useVoice();
  const deviceNowMs = Math.max(useDeviceNow(TICK_MS), state.heardMs ?? 0);
  const { board, anchor } = state;
  const { text, units } = outer;
  const timezone = board?.site.timezone ?? outer.clock.timezone;
  const nowMs = anchor === null ? deviceNowMs : siteNow(anchor, deviceNowMs);
  const clock = useMemo(() => clockOf(timezone, text, units), [timezone, text, units]);
  const voice = useMemo(
    () => ({
      ...outer,
      clock,
      nowMs,
      placeOf: board === null ? outer.placeOf : placesOf(board),
    }),
    [outer, clock, nowMs, board],
  );
  const name = board?.site.name ?? board?.site.id ?? site;
  useEffect(() => {
    document.title = `${name} · Nightslab`;
  }, [name]);

  if (state.link === "barred") return <p className="empty">{text.app.barred}</p>;
  if (state.link === "refused") return <p className="empty">{text.app.notFound}</p>;
  if (board === null)
    return (
      <p className="empty">
        {state.link === "away" ? `${text.app.failed} ${text.app.reconnecting}` : text.app.loading}
      </p>
    );
  const old = isOld(state, deviceNowMs);
  const saidMs = anchor?.siteMs ?? nowMs;
  const shown = zone === null ? undefined : board.zones.find((item) => item.zone.id === zone);
  return (
    <VoiceProvider value={voice}>
      <Head board={board} name={name} />
      {/* The place is there before its words are: only then are they read out. */}
      <div role="status">
        {(box.waiting.length > 0 || box.refused.length > 0 || box.last !== null) && (
          <Boundary instead={null}>
            <Suspense fallback={null}>
              <OutboxBar outbox={outbox} siteNowIso={() => new Date(nowMs).toISOString()} />
            </Suspense>
          </Boundary>
        )}
      </div>
      {old && state.heardMs !== null && (
        <p className="away" role="status">
          <b>{text.app.outOfReach(voice.clock.when(saidMs, nowMs), showDuration(deviceNowMs - state.heardMs))}</b>{" "}
          {text.app.reconnecting}
        </p>
      )}
      {state.alarm !== null && (
        <div className="alarm" role="alert">
          <p>
            <b>
              {text.app.alarm} {voice.clock.when(Date.parse(state.alarm.at), nowMs)}
            </b>{" "}
            {state.alarm.text}
          </p>
          <button type="button" onClick={store.dismissAlarm}>
            {text.app.dismiss}
          </button>
        </div>
      )}
      {sensors ? (
        <Suspense fallback={<p className="empty">{text.app.loading}</p>}>
          <SensorsPage
            site={site}
            zones={board.zones.map((item) => ({ id: item.zone.id, name: item.zone.name }))}
            plans={mayOf(access, "plan")}
            who={(writerOf(access) ?? by.trim()) || null}
            onWrite={mayOf(access, "write") ? (entry) => outbox.write(site, entry) : null}
          />
        </Suspense>
      ) : zone === null ? (
        <>
          <Boundary instead={null}>
            <Suspense fallback={null}>
              <FeedNotice site={site} />
            </Suspense>
          </Boundary>
          <ComeBack zones={board.zones} old={old} saidMs={saidMs} hrefOf={(id) => hrefs.zone(site, id)} />
          <Board board={board} old={old} saidMs={saidMs} hrefOf={(id) => hrefs.zone(site, id)} />
        </>
      ) : record ? (
        <Suspense fallback={<p className="empty">{text.app.loading}</p>}>
          <RecordRoom key={zone} site={site} zone={zone} store={store} />
        </Suspense>
      ) : shown === undefined ? (
        <p className="empty">{text.app.notFound}</p>
      ) : (
        <Suspense fallback={<p className="empty">{text.app.loading}</p>}>
          <ZoneView key={zone} site={site} item={shown} old={old} saidMs={saidMs} store={store} />
        </Suspense>
      )}
    </VoiceProvider>
  );
}

function Head({ board, name }: { readonly board: BoardBody; readonly name: string }) {
  const { text, clock, units, nowMs } = useVoice();
  const silent = board.nodes.filter(
    (node) =>
      node.retired !== true &&
      (node.presence === "offline" || node.lastHeard === null || nowMs - Date.parse(node.lastHeard) > 1_800_000),
  ).length;
  const facts = [
    `${clock.day(nowMs)} · ${clock.time(nowMs)}`,
    ...(board.outdoorC === null ? [] : [text.app.outdoor(showTemperature(board.outdoorC, units))]),
    ...(board.nodes.length === 0 ? [] : [silent === 0 ? text.app.allHeard : text.app.silentNodes(silent)]),
    ...(board.pace === 1 ? [] : [text.app.timeLapse(plain(board.pace, 0))]),
  ];
  return (
    <header className="head">
      <h1>{name}</h1>
      <p>
        {facts.map((fact) => (
          <span key={fact}>{fact}</span>
        ))}
      </p>
    </header>
  );
}
