// Rows of a board of many zones: those far from the window are a name and its room. Loaded when a site has so many.
import { memo, type RefObject, useEffect, useRef, useState } from "react";
import type { BoardZoneBody } from "#contract/board.ts";
import { ZoneRow } from "./zone-row.tsx";

/** How far outside of the window rows are drawn already, so that nobody scrolls into a hole. */
const AROUND = "1200px 0px";
/** Drawn before anything was measured. */
const BEGINS = 6;
/** Of a row that was never drawn, CSS pixels of ordinary letters. */
const USUAL_PX = 300;

type Seen = (entry: IntersectionObserverEntry) => void;
type Watch = (row: Element, seen: Seen) => () => void;

/** One observer for all rows. */
function createWatch(): Watch {
  const listeners = new WeakMap<Element, Seen>();
  const observer = new IntersectionObserver(
    (entries) => {
      for (const entry of entries) listeners.get(entry.target)?.(entry);
    },
    { rootMargin: AROUND },
  );
  return (row, seen) => {
    listeners.set(row, seen);
    observer.observe(row);
    return () => observer.unobserve(row);
  };
}

interface Shown {
  readonly old: boolean;
  readonly saidMs: number;
  readonly hrefOf: (zone: string) => string;
}

interface RowProps extends Shown {
  readonly item: BoardZoneBody;
  readonly begins: boolean;
  readonly watch: Watch;
  /** Ids of the zones that are drawn in full. */
  readonly drawn: Set<string>;
}

interface FarProps {
  readonly ref: RefObject<HTMLLIElement | null>;
  readonly name: string;
  readonly href: string;
  readonly heightPx: number;
}

/** It can be searched for and reached by the keyboard; whatever comes into the window is drawn in full. */
function Far({ ref, name, href, heightPx }: FarProps) {
  return (
    <li ref={ref} className="row row-far" style={{ height: `${heightPx}px` }}>
      <a href={href}>{name}</a>
    </li>
  );
}

function Row({ item, begins, watch, drawn, hrefOf, ...shown }: RowProps) {
  const { id, name } = item.zone;
  const ref = useRef<HTMLLIElement>(null);
  const focused = useRef(false);
  const [near, setNear] = useState(begins);
  const [heightPx, setHeightPx] = useState(USUAL_PX);
  useEffect(() => {
    const row = ref.current;
    if (row === null) return;
    if (near) drawn.add(id);
    else drawn.delete(id);
    if (focused.current) row.querySelector("a")?.focus({ preventScroll: true });
    return watch(row, ({ isIntersecting, boundingClientRect: { height } }) => {
      focused.current = row.contains(document.activeElement);
      // Where the keyboard stands, a row stays.
      const stays = isIntersecting || (near && focused.current);
      if (near && !stays) setHeightPx(height);
      setNear(stays);
    });
  }, [near, watch, drawn, id]);
  const href = hrefOf(id);
  return near ? (
    <ZoneRow ref={ref} item={item} href={href} {...shown} />
  ) : (
    <Far ref={ref} {...{ name, href, heightPx }} />
  );
}

/** A zone of which nothing is new has nothing new to say while it is out of sight. */
const SameRow = memo(
  Row,
  (before, after) =>
    before.item === after.item &&
    before.old === after.old &&
    (before.saidMs === after.saidMs || !after.drawn.has(after.item.zone.id)),
);

export default function LongRows({ zones, ...shown }: Shown & { readonly zones: readonly BoardZoneBody[] }) {
  const [common] = useState(() => ({ watch: createWatch(), drawn: new Set<string>() }));
  return (
    <ul className="rows">
      {zones.map((item, at) => (
        <SameRow key={item.zone.id} item={item} begins={at < BEGINS} {...common} {...shown} />
      ))}
    </ul>
  );
}
