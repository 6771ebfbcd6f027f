// The place of the heat panel on the zone page: closed it is one sentence and a button; its code comes when it is opened.
import { lazy, Suspense, useEffect, useRef } from "react";
import type { BoardZoneBody } from "#contract/board.ts";
import { zoneApi } from "../data/zone-api.ts";
import { writerOf } from "../data/session.ts";
import { useSignal } from "../data/use-signal.ts";
import { aheadText } from "../text/ahead.ts";
import { Boundary } from "../ui/boundary.tsx";
import { useVoice } from "../ui/voice.tsx";
import { useServices } from "./services.tsx";

const HeatPanel = lazy(() => import("../features/heat/heat-panel.tsx"));

interface Props {
  readonly site: string;
  readonly item: BoardZoneBody;
  readonly open: boolean;
  readonly onOpen: (open: boolean) => void;
  /** Counts how often somebody was sent here from elsewhere on the page. */
  readonly sent: number;
}

export function HeatRoom({ site, item, open, onOpen, sent }: Props) {
  const { text } = useVoice();
  const { keep, prefs: desk, outbox, session } = useServices();
  const prefs = useSignal(desk.signal);
  const words = aheadText(text).heat;
  const head = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    if (sent === 0) return;
    head.current?.focus();
    head.current?.scrollIntoView({ block: "start" });
  }, [sent]);
  return (
    <section className="heat-room" aria-labelledby="heat-title">
      <div className="why-head">
        <h2 id="heat-title" ref={head} tabIndex={-1}>
          {words.title}
        </h2>
        <button type="button" className="button" aria-expanded={open} onClick={() => onOpen(!open)}>
          {open ? words.close : words.open}
        </button>
      </div>
      <p className="why-note">{words.help}</p>
      {open && (
        <Boundary instead={<p className="why-note">{text.app.broken}</p>}>
          <Suspense fallback={<p className="why-note">{text.app.loading}</p>}>
            <HeatPanel
              item={item}
              kept={keep.read("heater")}
              by={writerOf(session.signal.get().access) ?? prefs.by}
              onKeep={(draft) => keep.write("heater", draft)}
              onAsk={(question) => zoneApi.heatPlan(site, item.zone.id, question)}
              onWrite={(entry) => outbox.write(site, entry)}
            />
          </Suspense>
        </Boundary>
      )}
    </section>
  );
}
