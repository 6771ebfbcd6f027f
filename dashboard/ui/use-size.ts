// The size of an element, so that a drawing is made for the room it has and never stretched.
import { useLayoutEffect, useRef, useState } from "react";

/**
 * Where a page is drawn without a window: the width that is taken for every drawing, CSS pixels. Up to `mostRows` zones all
 * rows of a board are drawn: they can be searched and printed as one.
 */
export const unmeasured = { widthPx: 0, mostRows: 48 };

export interface Size {
  readonly widthPx: number;
  readonly heightPx: number;
}

/** How many CSS pixels a drawn pixel takes: a person's larger letters, or a wall screen, enlarge the drawings too. */
export function letterScale(): number {
  if (unmeasured.widthPx > 0) return 1;
  return Number.parseFloat(getComputedStyle(document.documentElement).fontSize) / 16;
}

/**
 * `like`: the size that another of its kind last had here. It begins with that, and is measured with the page's own layout:
 * to ask each new one at once would lay the whole page out again and again.
 */
export function useSize<E extends Element>(firstWidthPx: number, firstHeightPx: number, like?: { size: Size | null }) {
  const ref = useRef<E>(null);
  const known = like?.size;
  const [size, setSize] = useState<Size>(
    known ?? { widthPx: unmeasured.widthPx || firstWidthPx, heightPx: firstHeightPx },
  );
  useLayoutEffect(() => {
    const element = ref.current;
    if (element === null) return;
    const measure = () => {
      const { width, height } = element.getBoundingClientRect();
      const next = { widthPx: Math.max(40, Math.floor(width)), heightPx: Math.floor(height) };
      setSize((before) => (before.widthPx === next.widthPx && before.heightPx === next.heightPx ? before : next));
      if (like) like.size = next;
    };
    if (!known) measure();
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, [like]);
  return { ref, ...size };
}
