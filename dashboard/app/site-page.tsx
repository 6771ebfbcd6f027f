// A site: its head with the time and the state of its nodes, and below it its board or one of its pages.
import { Suspense, useEffect, useMemo } from "react";
import type { BoardBody } from "#contract/board.ts";
import { siteNow } from "../data/site-clock.ts";
import { mayOf } from "../data/session.ts";
import { useSignal } from "../data/use-signal.ts";
import { Board } from "../features/board/board.tsx";
import { ComeBack } from "../features/come-back/come-back.tsx";
import { sideOf } from "../features/tonight/side.ts";
import { clockOf } from "../text/clock.ts";
import { plain, showDuration, showTemperature } from "../units/show.ts";
import { Boundary } from "../ui/boundary.tsx";
import { part } from "../ui/part.tsx";
import { useVoice, VoiceProvider } from "../ui/voice.tsx";
import { isOld } from "./age.ts";
import { useDeviceNow } from "./hooks.ts";
import { hrefs, type SitePageName } from "./route.ts";
import type { Room } from "./site-rooms.ts";
import { useRunningStore, useServices } from "./services.tsx";

const AlarmsOver = part(() => import("./alarms-over.tsx"));
const FeedNotice = part(() => import("../features/feed-notice/feed-notice.tsx"));
const OutboxBar = part(() => import("../features/journal/outbox-bar.tsx"));
const TICK_MS = 5000;

/** "slip-door/slab" to the place that somebody typed for it. */
function placesOf(nodes: BoardBody["nodes"]): (probe: string) => string {
  return (probe) => {
    const [id, quantity] = probe.split("/");
    const place =
      quantity === undefined ? undefined : nodes.find((node) => node.node.id === id)?.node.probes?.[quantity]?.place;
    return place ?? id ?? probe;
  };
}

interface Props {
  readonly site: string;
  readonly page: Exclude<SitePageName, "spot-check"> | "board";
  readonly part: string | null;
}

/** The code of each page comes when it is asked for; the board is there at once. */
const ROOMS: Readonly<Record<Exclude<Props["page"], "board">, Room>> = {
  zone: part(() => import("./zone-room.tsx")),
  record: part(() => import("./record-room.tsx")),
  sensors: part(() => import("./sensors-room.tsx")),
  material: part(() => import("./material-room.tsx")),
  alarms: part(() => import("./alarms-room.tsx")),
  more: part(() => import("./more-room.tsx")),
  "set-up": part(() => import("./set-up-room.tsx")),
  plan: part(() => import("./plan-room.tsx")),
  tonight: part(() => import("./tonight-room.tsx")),
  help: part(() => import("./help-room.tsx")),
};

export function SitePage({ site, page, part }: Props) {
  const store = useRunningStore(site);
  const { outbox, session } = useServices();
  const { access } = useSignal(session.signal);
  const box = useSignal(outbox.signal);
  const state = useSignal(store.signal);
  const outer = useVoice();
  const deviceNowMs = Math.max(useDeviceNow(TICK_MS), state.heardMs ?? 0);
  const { board, anchor } = state;
  const { text } = outer;
  const { hours } = outer.clock;
  const timezone = board?.site.timezone ?? outer.clock.timezone;
  const exactMs = anchor === null ? deviceNowMs : siteNow(anchor, deviceNowMs);
  // On the board time goes on by ticks, so that what is told in between draws only what it changes; entries need the moment.
  const tickMs = page === "board" ? TICK_MS : 1;
  const ticked = (ms: number) => Math.ceil(ms / tickMs) * tickMs;
  const nowMs = ticked(exactMs);
  const clock = useMemo(() => clockOf(timezone, text, hours), [timezone, text, hours]);
  const nodes = board?.nodes;
  const placeOf = useMemo(() => placesOf(nodes ?? []), [nodes]);
  const { units } = outer;
  // What is told of a zone changes no words of the others: they are drawn anew when time has gone on, and not before.
  const voice = useMemo(() => ({ text, units, clock, nowMs, placeOf }), [text, units, clock, nowMs, placeOf]);
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
  const saidMs = anchor === null ? nowMs : ticked(anchor.siteMs);
  const PageRoom = page === "board" ? null : ROOMS[page];
  return (
    <VoiceProvider value={voice}>
      <Head board={board} name={name} />
      {/* The place is there before its words are: only then are they read out. */}
      <div role="status">
        {(box.waiting.length > 0 || box.refused.length > 0 || box.last !== null) && (
          <Boundary instead={null}>
            <Suspense fallback={null}>
              <OutboxBar outbox={outbox} siteNowIso={() => new Date(exactMs).toISOString()} />
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
      <Boundary instead={null}>
        <Suspense fallback={null}>
          <AlarmsOver site={site} board={board} store={store} shown={page !== "alarms"} />
        </Suspense>
      </Boundary>
      {PageRoom === null ? (
        <>
          <Boundary instead={null}>
            <Suspense fallback={null}>
              <FeedNotice site={site} />
            </Suspense>
          </Boundary>
          <ComeBack zones={board.zones} old={old} saidMs={saidMs} hrefOf={(id) => hrefs.zone(site, id)} />
          <Board board={board} old={old} saidMs={saidMs} hrefOf={(id) => hrefs.zone(site, id)} />
          <p className="board-ways">
            {board.zones.length === 0 ? (
              mayOf(access, "plan") && (
                <a className="button button-main" href={hrefs.page(site, "set-up")}>
                  {text.app.setUp}
                </a>
              )
            ) : (
              <>
                <a className="button" href={hrefs.page(site, "tonight")}>
                  {text.app[sideOf(nowMs, timezone)]}
                </a>
                <a className="button" href={hrefs.page(site, "plan")}>
                  {text.app.plan}
                </a>
              </>
            )}
          </p>
        </>
      ) : (
        <Suspense fallback={<p className="empty">{text.app.loading}</p>}>
          <PageRoom key={part} site={site} part={part} board={board} old={old} saidMs={saidMs} store={store} />
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
