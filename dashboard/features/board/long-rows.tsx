// Rows of a board of many zones: those far from the window are a name and its room. Loaded when a site has so many.
import { memo, useEffect, useLayoutEffect, useRef, useState } from "react";
import type { BoardZoneBody } from "#contract/board.ts";
import { useVoice, VoiceProvider } from "../../ui/voice.tsx";
import { createRowDesk, heightOf, type Latest, type RowDesk, type Shown } from "./row-desk.ts";
import { ZoneRow } from "./zone-row.tsx";

/** Rows that come into the window's surroundings together: fewer things to watch while it moves. */
const PART = 8;
/** Drawn with the board itself; the others follow frame by frame. */
const BEGINS = 2;

interface RowProps {
  readonly shown: Shown;
  readonly href: string;
  readonly at: number;
  readonly total: number;
}

/** Speaks as of when it was drawn last: time goes on for one row after the other. */
const Full = memo(function Full({ shown: { voice, ...shown }, href, at, total }: RowProps) {
  return (
    <VoiceProvider value={voice}>
      <ZoneRow {...shown} href={href} role="listitem" aria-posinset={at + 1} aria-setsize={total} />
    </VoiceProvider>
  );
});

interface PartProps {
  readonly at: number;
  readonly zones: readonly BoardZoneBody[];
  readonly total: number;
  readonly desk: RowDesk;
}

/** What rows take while they are only names. */
function roomOf(ids: readonly string[]): string {
  const heights = ids.map(heightOf);
  const knownPx = heights.reduce<number>((sum, px) => sum + (px ?? 0), 0);
  return `calc(${knownPx}px + ${heights.filter((px) => px === null).length} * var(--row-far))`;
}

function Part({ at, zones, total, desk }: PartProps) {
  const ref = useRef<HTMLUListElement>(null);
  const [rows, setRows] = useState<ReadonlyMap<string, Shown>>(
    () =>
      new Map(
        zones.flatMap(({ zone: { id } }, index) => {
          const shown = at + index < BEGINS ? desk.shownOf(at + index) : null;
          return shown === null ? [] : [[id, shown] as const];
        }),
      ),
  );
  const ids = zones.map(({ zone }) => zone.id);
  const drawn = useRef(rows);
  drawn.current = rows;
  useEffect(() => {
    const element = ref.current;
    if (element === null) return;
    const draw = (id: string, shown: Shown | null) =>
      setRows((before) => {
        const next = new Map(before);
        if (shown === null) next.delete(id);
        else next.set(id, shown);
        return next;
      });
    return desk.add({ element, at, ids, draw }, drawn.current);
    // Ids of zones have no spaces.
  }, [desk, at, ids.join(" ")]);
  const far = rows.size === 0;
  return (
    <ul
      ref={ref}
      role="none"
      className={far ? "rows-part rows-far" : "rows-part"}
      style={far ? { height: roomOf(ids) } : undefined}
    >
      {zones.map(({ zone: { id, name } }, index) => {
        const shown = rows.get(id);
        const place = { at: at + index, total };
        if (shown !== undefined) return <Full key={id} shown={shown} href={desk.hrefOf(id)} {...place} />;
        const heightPx = heightOf(id);
        return (
          // It can be searched for and reached by the keyboard; whatever comes near the window is drawn in full.
          <li
            key={id}
            className="row row-far"
            role="listitem"
            aria-posinset={place.at + 1}
            aria-setsize={total}
            style={heightPx === null ? undefined : { height: `${heightPx}px` }}
          >
            <a href={desk.hrefOf(id)}>{name}</a>
          </li>
        );
      })}
    </ul>
  );
}

/** What a zone says is no business of the part; which zones there are is. */
const SamePart = memo(
  Part,
  (before, after) =>
    before.desk === after.desk &&
    before.at === after.at &&
    before.total === after.total &&
    before.zones.length === after.zones.length &&
    before.zones.every(({ zone }, index) => {
      const now = after.zones[index]?.zone;
      return zone === now || (zone.id === now?.id && zone.name === now.name);
    }),
);

export default function LongRows(props: Omit<Latest, "voice">) {
  const latest: Latest = { ...props, voice: useVoice() };
  const { zones } = latest;
  const list = useRef<HTMLDivElement>(null);
  const [desk] = useState(() => createRowDesk(latest));
  useEffect(() => desk.take(latest));
  useLayoutEffect(() => {
    if (list.current !== null) desk.begin(list.current);
    return desk.end;
  }, [desk]);
  const parts = Array.from({ length: Math.ceil(zones.length / PART) }, (_, index) => index * PART);
  return (
    <div ref={list} role="list" className="rows">
      {parts.map((at) => (
        <SamePart key={at} at={at} zones={zones.slice(at, at + PART)} total={zones.length} desk={desk} />
      ))}
    </div>
  );
}
