// A zone: why its call is what it is, and the journal that changes it. The two features meet here.
import { lazy, Suspense, useState } from "react";
import type { BoardZoneBody } from "#contract/board.ts";
import type { EntryBody } from "#contract/journal.ts";
import { api } from "../data/api.ts";
import type { BoardStore } from "../data/board-store.ts";
import { mayOf, writerOf } from "../data/session.ts";
import { useAsked } from "../data/use-asked.ts";
import { useSignal } from "../data/use-signal.ts";
import { zoneApi } from "../data/zone-api.ts";
import { SolventGate } from "../features/caution/solvent-gate.tsx";
import { JournalList } from "../features/journal/list.tsx";
import { Pad } from "../features/journal/pad.tsx";
import { RaceView } from "../features/race/race-view.tsx";
import { FailingTable } from "../features/zone/failing-table.tsx";
import { Numbers } from "../features/zone/numbers.tsx";
import { Revised } from "../features/zone/revised.tsx";
import { RuleList } from "../features/zone/rule-list.tsx";
import { RANGES_H, type Range, WhyChart } from "../features/zone/why-chart.tsx";
import { UnreadNote } from "../features/zone/unread-note.tsx";
import { withAllRules } from "../features/zone/whole-call.ts";
import { ZoneHead } from "../features/zone/zone-head.tsx";
import { journalText } from "../text/journal.ts";
import { Boundary } from "../ui/boundary.tsx";
import { useVoice } from "../ui/voice.tsx";
import { HeatRoom } from "./heat-room.tsx";
import { hrefs } from "./route.ts";
import { useServices } from "./services.tsx";

const BurnerInside = lazy(() => import("../features/caution/burner-inside.tsx"));
const RuleHelp = lazy(() => import("../features/help/rule-help.tsx"));

interface Props {
  readonly site: string;
  readonly item: BoardZoneBody;
  readonly old: boolean;
  readonly saidMs: number;
  readonly store: BoardStore;
}

const SERIES_POINTS = 350;
/** Past readings are asked for anew when the site's clock has gone on by this much. */
const SERIES_EVERY_MS = 300_000;

/** What the server has, and after it what still waits on this device. */
function withWaiting(known: readonly EntryBody[], waiting: readonly EntryBody[]): EntryBody[] {
  const ids = new Set(known.map((entry) => entry.id));
  return [...known, ...waiting.filter((entry) => !ids.has(entry.id))];
}

export default function ZoneView({ site, item: onBoard, old, store }: Props) {
  const { text, nowMs } = useVoice();
  const { prefs: desk, outbox, session } = useServices();
  const { access } = useSignal(session.signal);
  const prefs = useSignal(desk.signal);
  const box = useSignal(outbox.signal);
  const lastEntry = useSignal(store.lastEntry);
  const [range, setRange] = useState<Range>("day");
  const [heat, setHeat] = useState({ open: false, sent: 0 });
  const zone = onBoard.zone.id;
  const place = `${site}/${zone}`;

  const waiting = box.waiting.filter((one) => one.site === site).map((one) => one.entry);
  // Asked again when the stream tells of an entry, and when this device has got one through.
  const page = useAsked(() => zoneApi.page(site, zone), place, `${lastEntry?.id ?? ""} ${waiting.length}`);
  const item = withAllRules(onBoard, page.value);
  const iso = (atMs: number) => new Date(atMs).toISOString();
  const series = useAsked(
    () => zoneApi.series(site, zone, iso(nowMs - RANGES_H[range] * 3_600_000), iso(nowMs), SERIES_POINTS),
    `${place} ${range}`,
    String(Math.floor(nowMs / SERIES_EVERY_MS)),
  );
  const relevant = waiting.filter((entry) => (entry.zone ?? zone) === zone);
  const entries = withWaiting(page.value?.journal ?? [], relevant);
  const sheets = page.value?.sheets ?? [];
  // A race that may be lost stands before everything else.
  const plans = mayOf(access, "plan");
  const race = <RaceView item={item} onHeat={plans ? () => setHeat({ open: true, sent: heat.sent + 1 }) : null} />;
  return (
    <div className="zone">
      <div className="zone-side">
        <div>
          <a className="zone-back" href={hrefs.board(site)}>
            ‹ {text.app.back}
          </a>
          <ZoneHead item={item} old={old} />
          <div className="zone-ways">
            <a className="button" href={hrefs.record(site, zone)}>
              {journalText(text).record}
            </a>
            <a className="button" href={hrefs.page(site, "material", zone)}>
              {journalText(text).material}
            </a>
            <a
              className="button"
              href={`${api.root}/sites/${encodeURIComponent(site)}/zones/${encodeURIComponent(zone)}/night-file`}
              download={`${site}-${zone}.night.json`}
            >
              {text.app.nightFile}
            </a>
          </div>
        </div>
        {mayOf(access, "write") && (
          <Pad
            item={item}
            entries={entries}
            sheets={sheets}
            probes={Object.keys(series.value?.series ?? {}).filter((name) => name.includes("/slab"))}
            by={writerOf(access) ?? prefs.by}
            onBy={access?.accounts === "on" ? null : (by) => desk.change({ by })}
            gate={(gate) => <SolventGate {...gate} />}
            burner={
              <Suspense fallback={null}>
                <BurnerInside />
              </Suspense>
            }
            onWrite={(entry) => outbox.write(site, entry)}
          />
        )}
      </div>
      <div className="zone-main">
        <UnreadNote call={item.call} />
        {(item.outlook?.film?.chanceLost ?? 0) >= 0.1 && race}
        <WhyChart
          item={item}
          entries={entries}
          series={series.value}
          failed={series.failed}
          range={range}
          onRange={setRange}
        />
        {(item.outlook?.film?.chanceLost ?? 0) < 0.1 && race}
        {plans && (
          <HeatRoom
            site={site}
            item={item}
            open={heat.open}
            onOpen={(open) => setHeat({ ...heat, open })}
            sent={heat.sent}
          />
        )}
        <Revised item={item} />
        <FailingTable outlook={item.outlook} />
        <RuleList
          item={item}
          help={(rule) => (
            <Boundary instead={<p className="why-note">{text.app.broken}</p>}>
              <Suspense fallback={<p className="why-note">{text.app.loading}</p>}>
                <RuleHelp rule={rule} />
              </Suspense>
            </Boundary>
          )}
        />
        <Numbers item={item} sheets={sheets} />
      </div>
      <JournalList entries={entries} waiting={new Set(relevant.map((entry) => entry.id ?? ""))} />
    </div>
  );
}
