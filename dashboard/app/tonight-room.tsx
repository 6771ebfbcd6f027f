// The page of the night: in the evening what it will bring, in the morning what it has brought. Features meet here.
import type { BoardBody } from "#contract/board.ts";
import { tonightApi } from "../data/tonight-api.ts";
import { type Asked, useAsked } from "../data/use-asked.ts";
import { useSignal } from "../data/use-signal.ts";
import { type Visit, visitsOf } from "../features/come-back/visits.ts";
import { visitWords } from "../features/come-back/visit-words.ts";
import { eveningBefore, morningAfter } from "../features/tonight/hours.ts";
import { type Side, sideOf } from "../features/tonight/side.ts";
import { type Errand, morningOf } from "../features/tonight/morning.ts";
import { MorningView } from "../features/tonight/morning-view.tsx";
import { type ComeBackLine, TonightView } from "../features/tonight/tonight-view.tsx";
import { tonightOf } from "../features/tonight/tonight.ts";
import { tonightText } from "../text/tonight.ts";
import { useVoice } from "../ui/voice.tsx";
import "../features/tonight/tonight.css";
import { hrefs } from "./route.ts";
import type { RoomProps } from "./site-rooms.ts";

const SIDES: readonly Side[] = ["tonight", "morning"];
const EVERY_MS = 300_000;

const errandOf = ({ item, errand, atMs, startByMs, closesMs }: Visit): Errand => ({
  ...{ zone: item.zone.id, atMs, startByMs, closesMs },
  works: errand !== "nothing" && errand !== "done" && errand !== "walk",
});

/** What is not known any more is not shown as if it were. */
const known = <T,>({ value, failed }: Asked<T>): T | null | undefined => (failed ? null : (value ?? undefined));

export default function TonightRoom(props: RoomProps) {
  const { site, part, old, saidMs } = props;
  const { text, clock, nowMs } = useVoice();
  const words = tonightText(text);
  const side = SIDES.find((one) => one === part) ?? (part === null ? sideOf(nowMs, clock.timezone) : null);
  if (side === null) return <p className="empty">{text.app.notFound}</p>;
  const fromMs = eveningBefore(nowMs, clock.timezone);
  const untilMs = morningAfter(nowMs, clock.timezone);
  return (
    <section className="night" aria-labelledby="night-title">
      <div className="night-head">
        <h2 id="night-title">{words[side]}</h2>
        <nav aria-label={words.sides}>
          {SIDES.map((one) => (
            <a
              key={one}
              className="button"
              href={hrefs.page(site, "tonight", one)}
              aria-current={one === side ? "page" : undefined}
            >
              {words[one]}
            </a>
          ))}
        </nav>
      </div>
      <p className="night-help">
        {old
          ? words.asOf(clock.when(saidMs, nowMs))
          : side === "tonight"
            ? words.until(clock.time(untilMs))
            : words.since(clock.when(fromMs, nowMs))}
      </p>
      {side === "tonight" ? <Evening {...props} untilMs={untilMs} /> : <Morning {...props} fromMs={fromMs} />}
    </section>
  );
}

/** When to come back, in walking order, and as a line for each zone. */
function useVisits(board: BoardBody): {
  readonly visits: readonly Visit[];
  readonly comeBack: ReadonlyMap<string, ComeBackLine>;
} {
  const voice = useVoice();
  const visits = visitsOf(board.zones, voice.nowMs);
  return { visits, comeBack: new Map(visits.map((visit) => [visit.item.zone.id, visitWords(visit, voice)])) };
}

function Evening({ site, board, old, untilMs }: RoomProps & { readonly untilMs: number }) {
  const { nowMs } = useVoice();
  const { comeBack } = useVisits(board);
  const tick = String(Math.floor(nowMs / EVERY_MS));
  const onCall = known(useAsked(() => tonightApi.onCall(site), `${site} on call`, tick));
  const alarms = known(useAsked(() => tonightApi.openAlarms(site), `${site} alarms`, tick));
  return (
    <TonightView
      tonight={tonightOf(board, nowMs, untilMs)}
      old={old}
      comeBack={comeBack}
      onCall={onCall}
      openAlarms={alarms === undefined || alarms === null ? alarms : alarms.length}
      zoneHref={(id) => hrefs.zone(site, id)}
      sensorsHref={hrefs.sensors(site)}
      alarmsHref={hrefs.page(site, "alarms")}
      whoHref={hrefs.page(site, "alarms", "who")}
    />
  );
}

function Morning({ site, board, old, fromMs, store }: RoomProps & { readonly fromMs: number }) {
  const { nowMs } = useVoice();
  const { visits, comeBack } = useVisits(board);
  const lastEntry = useSignal(store.lastEntry);
  const fromIso = new Date(fromMs).toISOString();
  const tick = String(Math.floor(nowMs / EVERY_MS));
  const alarms = known(useAsked(() => tonightApi.alarmsSince(site, fromIso), `${site} ${fromIso} alarms`, tick));
  const entries = known(
    useAsked(
      () => tonightApi.entriesSince(site, fromIso),
      `${site} ${fromIso} journal`,
      `${tick} ${lastEntry?.id ?? ""}`,
    ),
  );
  return (
    <MorningView
      morning={morningOf(
        board,
        visits.map(errandOf),
        { alarms: alarms ?? null, entries: entries ?? null },
        fromMs,
        nowMs,
      )}
      board={board}
      old={old}
      comeBack={comeBack}
      asking={alarms === undefined}
      zoneHref={(id) => hrefs.zone(site, id)}
    />
  );
}
