// The board of night strips: every zone of the site on one time axis.
import { lazy, Suspense } from "react";
import type { BoardBody } from "#contract/board.ts";
import { Boundary } from "../../ui/boundary.tsx";
import { part } from "../../ui/part.tsx";
import { unmeasured } from "../../ui/use-size.ts";
import { useVoice } from "../../ui/voice.tsx";
import { Axis } from "./axis.tsx";
import { ZoneRow } from "./zone-row.tsx";
import "./board.css";

const Legend = lazy(() => import("./legend.tsx"));
const LongRows = part(() => import("./long-rows.tsx"));
/** Of a longer board, those that are there before the code for all is. */
const FIRST_ROWS = 2;

interface Props {
  readonly board: BoardBody;
  /** The server is out of reach: what is shown is the last that was heard. */
  readonly old: boolean;
  readonly saidMs: number;
  readonly hrefOf: (zone: string) => string;
}

export function Board({ board, old, saidMs, hrefOf }: Props) {
  const { text } = useVoice();
  if (board.zones.length === 0) return <p className="empty">{text.board.noZones}</p>;
  const rows = (zones: BoardBody["zones"]) => (
    <ul className="rows">
      {zones.map((item) => (
        <ZoneRow key={item.zone.id} item={item} href={hrefOf(item.zone.id)} old={old} saidMs={saidMs} />
      ))}
    </ul>
  );
  return (
    <section className={old ? "board board-old" : "board"} aria-label={text.board.title}>
      <div className="axis">
        <Axis />
      </div>
      {board.zones.length > unmeasured.mostRows ? (
        <Suspense fallback={rows(board.zones.slice(0, FIRST_ROWS))}>
          <LongRows zones={board.zones} {...{ old, saidMs, hrefOf }} />
        </Suspense>
      ) : (
        rows(board.zones)
      )}
      <Boundary instead={null}>
        <Suspense fallback={null}>
          <Legend zones={board.zones} />
        </Suspense>
      </Boundary>
    </section>
  );
}
