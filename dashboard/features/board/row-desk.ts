// Decides which rows of a long board are drawn, and when: a few in each frame, those that somebody sees first.
import { flushSync } from "react-dom";
import type { BoardZoneBody } from "#contract/board.ts";
import type { Voice } from "../../text/sentence.ts";

export interface Latest {
  readonly zones: readonly BoardZoneBody[];
  readonly voice: Voice;
  readonly old: boolean;
  readonly saidMs: number;
  readonly hrefOf: (zone: string) => string;
}

/** What a drawn row shows; it may be a few frames behind the latest. */
export interface Shown extends Pick<Latest, "voice" | "old" | "saidMs"> {
  readonly item: BoardZoneBody;
}

export interface PartOfRows {
  readonly element: HTMLElement;
  /** Index of its first row. */
  readonly at: number;
  readonly ids: readonly string[];
  /** Draws a row, or (null) leaves its name and its room. */
  readonly draw: (id: string, shown: Shown | null) => void;
}

/** How far outside of the window rows are drawn in quiet moments, so that whoever then scrolls finds them drawn. */
const AROUND = "8400px 0px";
/** Within this, CSS pixels from the window, they are drawn at once, so that nobody scrolls into a hole. */
const NEAR_PX = 1200;
/** A moment is quiet when the page has stood so long. */
const STOOD_MS = 150;
/** A row says hours and minutes, and 48 of the hours fill it: for less than this it is not drawn anew. */
const SAME_TIME_MS = 20_000;
/** Of each frame, a part for drawing rows; the first is drawn even if it takes longer. */
const FRAME_MS = 4;
/** Taken away in one frame at most. */
const LEAVE = 4;
/** More than this are drawn only until those that are far can be taken away. */
const MOST = 160;
/** Drawn rows that tell how high one usually is. */
const TELLING = 2;

interface Place {
  readonly href: string;
  /** From the top of the window, CSS pixels. */
  readonly topPx: number;
  /** Somebody went to its zone from there. */
  readonly isGone: boolean;
}

/**
 * Heights in which rows of this page were drawn, CSS pixels, and the row that was looked at or gone to when the board was
 * left: whoever comes back finds the place where it was.
 */
const known = { widthPx: 0, usualPx: 0, rows: new Map<string, number>(), left: null as Place | null };

/** Null for a row that was never drawn: it takes `--row-far` of its list. */
export const heightOf = (id: string): number | null => known.rows.get(id) ?? null;

interface Row {
  readonly id: string;
  readonly index: number;
  readonly part: PartOfRows;
}

/** Places of probes change with nodes that are set up, and are said with the next time. */
function isSameVoice(a: Voice, b: Voice): boolean {
  const isSameTime = Math.abs(a.nowMs - b.nowMs) < SAME_TIME_MS;
  return isSameTime && a.text === b.text && a.units === b.units && a.clock === b.clock;
}

export function createRowDesk(first: Latest) {
  let latest = first;
  let frame = 0;
  let list: HTMLElement | null = null;
  const parts = new Map<Element, PartOfRows>();
  const around = new Set<PartOfRows>();
  const rows = new Map<string, Row>();
  const drawn = new Map<string, Shown>();
  const waiting = new Set<Row>();
  const elementOf = ({ part, index }: Row) => part.element.children[index - part.at] as HTMLElement | undefined;
  const heightIn = (row: Row) => elementOf(row)?.getBoundingClientRect().height ?? known.usualPx;
  const sayUsual = () => list?.style.setProperty("--row-far", known.usualPx > 0 ? `${known.usualPx}px` : null);
  /** Once: a list whose rows all change their height would jump under the finger. */
  const learnUsual = () => {
    if (known.usualPx > 0) return;
    const telling = [...drawn.keys()].flatMap((id) => rows.get(id) ?? []);
    if (telling.length < TELLING) return;
    known.usualPx = Math.round(telling.reduce((sum, row) => sum + heightIn(row), 0) / telling.length);
    sayUsual();
  };
  const shownOf = (index: number): Shown | null => {
    const item = latest.zones[index];
    return item === undefined ? null : { item, voice: latest.voice, old: latest.old, saidMs: latest.saidMs };
  };
  const isSame = (a: Shown, b: Shown) =>
    a.item === b.item &&
    a.old === b.old &&
    Math.abs(a.saidMs - b.saidMs) < SAME_TIME_MS &&
    isSameVoice(a.voice, b.voice);

  let scrolledMs = Number.NEGATIVE_INFINITY;
  let later: ReturnType<typeof setTimeout> | undefined;
  let stands: ReturnType<typeof setTimeout> | undefined;
  const noteScroll = () => {
    scrolledMs = performance.now();
    // What was left for a quiet moment may have come near.
    if (waiting.size > 0) next();
    clearTimeout(stands);
    stands = setTimeout(keepMiddle, STOOD_MS);
  };
  const moves = () => performance.now() - scrolledMs < STOOD_MS;
  const next = () => (frame ||= requestAnimationFrame(work));
  const wait = (row: Row) => {
    waiting.add(row);
    next();
  };
  const observer = new IntersectionObserver(
    (entries) => {
      for (const { target, isIntersecting } of entries) {
        const part = parts.get(target);
        if (part === undefined || around.has(part) === isIntersecting) continue;
        if (isIntersecting) around.add(part);
        else around.delete(part);
        for (const id of part.ids) {
          const row = rows.get(id);
          if (row !== undefined && drawn.has(id) !== isIntersecting) wait(row);
        }
      }
    },
    { rootMargin: AROUND },
  );

  /** The row in the middle of the window, as a number with a fraction. */
  const middle = (): number => {
    const inOrder = [...around].sort((a, b) => a.at - b.at);
    const y = innerHeight / 2;
    for (const { element, at, ids } of inOrder) {
      const { top, bottom } = element.getBoundingClientRect();
      if (y < bottom) return at + (Math.max(0, y - top) / (bottom - top)) * ids.length;
    }
    return inOrder.at(-1)?.at ?? 0;
  };
  /** Holes are filled first, then what is drawn is brought up to date, from the middle outwards. */
  const rank = ({ id, index }: Row, at: number) => Math.abs(index - at) + (drawn.has(id) ? 8 : 0);

  /** Where the keyboard stands, a row stays. */
  const holdsFocus = (row: Row) => elementOf(row)?.contains(document.activeElement) === true;
  const set = (row: Row, shown: Shown | null) => {
    const focused = holdsFocus(row);
    if (shown === null) drawn.delete(row.id);
    else drawn.set(row.id, shown);
    flushSync(() => row.part.draw(row.id, shown));
    if (focused) elementOf(row)?.querySelector("a")?.focus({ preventScroll: true });
  };
  const draw = (row: Row) => {
    waiting.delete(row);
    const shown = shownOf(row.index);
    const before = drawn.get(row.id);
    if (shown !== null && !(before !== undefined && isSame(before, shown))) set(row, shown);
  };
  const leave = (gone: readonly Row[]) => {
    for (const row of gone) waiting.delete(row);
    const leaving = gone.filter((row) => drawn.has(row.id) && !holdsFocus(row));
    for (const row of leaving) known.rows.set(row.id, heightIn(row));
    for (const { id } of leaving) drawn.delete(id);
    flushSync(() => {
      for (const { id, part } of leaving) part.draw(id, null);
    });
  };
  /** Draws those that somebody will see soon, and in a quiet moment others. False where there is nothing to do now. */
  const drawSome = (wanted: Row[], startMs: number): boolean => {
    const at = middle();
    const nearRows = (innerHeight / 2 + NEAR_PX) / (known.usualPx || NEAR_PX);
    const due = moves() ? wanted.filter(({ index }) => Math.abs(index - at) <= nearRows) : wanted;
    due.sort((a, b) => rank(a, at) - rank(b, at));
    for (const row of due) {
      draw(row);
      if (performance.now() - startMs > FRAME_MS) break;
    }
    return due.length > 0;
  };
  function work() {
    frame = 0;
    const startMs = performance.now();
    learnUsual();
    const wanted = [...waiting].filter(({ part }) => around.has(part));
    const leaves = (wanted.length === 0 && !moves()) || drawn.size > MOST;
    if (leaves) leave([...waiting].filter(({ part }) => !around.has(part)).slice(0, LEAVE));
    const draws = wanted.length > 0 && drawSome(wanted, startMs);
    clearTimeout(later);
    if (waiting.size === 0) return;
    if (leaves || draws) next();
    else later = setTimeout(next, STOOD_MS);
  }

  const linkTo = (href: string) => list?.querySelector<HTMLElement>(`a[href="${CSS.escape(href)}"]`) ?? null;
  const topOf = (link: HTMLElement) => link.closest(".row")?.getBoundingClientRect().top ?? 0;
  const keepPlace = (link: HTMLElement | null, isGone: boolean) => {
    for (const id of drawn.keys()) {
      const row = rows.get(id);
      if (row !== undefined) known.rows.set(id, heightIn(row));
    }
    if (link !== null) known.left = { href: link.getAttribute("href") ?? "", topPx: topOf(link), isGone };
  };
  const keepMiddle = () => {
    const id = latest.zones[Math.floor(middle())]?.zone.id;
    if (id !== undefined) keepPlace(linkTo(latest.hrefOf(id)), false);
  };
  const keepGone = ({ target }: MouseEvent) => keepPlace((target as Element).closest("a"), true);
  const goBackTo = ({ href, topPx, isGone }: Place) => {
    const link = linkTo(href);
    if (link === null) return;
    scrollBy(0, topOf(link) - topPx);
    // For the keyboard and who listens, too: from the page's own beginning, where nothing else was taken up yet.
    if (isGone && document.activeElement?.id === "content") link.focus({ preventScroll: true });
  };

  return {
    /** What rows that are drawn with the board itself show. */
    shownOf,
    hrefOf: (id: string) => latest.hrefOf(id),
    take(next: Latest): void {
      latest = next;
      for (const [id, shown] of drawn) {
        const row = rows.get(id);
        const now = row === undefined ? null : shownOf(row.index);
        if (row !== undefined && now !== null && !isSame(shown, now)) wait(row);
      }
    },
    /** `shown`: rows that it draws already. */
    add(part: PartOfRows, shown: ReadonlyMap<string, Shown>): () => void {
      parts.set(part.element, part);
      part.ids.forEach((id, index) => rows.set(id, { id, index: part.at + index, part }));
      for (const [id, one] of shown) drawn.set(id, one);
      observer.observe(part.element);
      return () => {
        observer.unobserve(part.element);
        parts.delete(part.element);
        around.delete(part);
        for (const id of part.ids) {
          const row = rows.get(id);
          if (row?.part !== part) continue;
          rows.delete(id);
          drawn.delete(id);
          waiting.delete(row);
        }
      };
    },
    /** Heights of another width say nothing of this one, and neither does a place. */
    begin(inside: HTMLElement): void {
      list = inside;
      const widthPx = list.clientWidth;
      if (known.widthPx !== widthPx) Object.assign(known, { widthPx, usualPx: 0, rows: new Map(), left: null });
      sayUsual();
      // Another page begins at its top; then, before that is painted, this one where it was left.
      const { left } = known;
      if (left !== null) requestAnimationFrame(() => goBackTo(left));
      addEventListener("scroll", noteScroll, { passive: true });
      list.addEventListener("click", keepGone);
    },
    end(): void {
      cancelAnimationFrame(frame);
      frame = 0;
      clearTimeout(later);
      removeEventListener("scroll", noteScroll);
      clearTimeout(stands);
      list?.removeEventListener("click", keepGone);
      observer.disconnect();
    },
  };
}
export type RowDesk = ReturnType<typeof createRowDesk>;
