// The size of an element, so that a drawing is made for the room it has and never stretched.
import { useLayoutEffect, useRef, useState } from "react";

/** Where a page is drawn without a window: the width that is taken for every drawing, CSS pixels. */
export const unmeasured = { widthPx: 0 };

/** How many CSS pixels a drawn pixel takes: a person's larger letters, or a wall screen, enlarge the drawings too. */
export function letterScale(): number {
  if (unmeasured.widthPx > 0) return 1;
  return Number.parseFloat(getComputedStyle(document.documentElement).fontSize) / 16;
}

export function useSize<E extends Element>(firstWidthPx: number, firstHeightPx: number) {
  const ref = useRef<E>(null);
  const [size, setSize] = useState({ widthPx: unmeasured.widthPx || firstWidthPx, heightPx: firstHeightPx });
  useLayoutEffect(() => {
    const element = ref.current;
    if (element === null) return;
    const measure = () => {
      const { width, height } = element.getBoundingClientRect();
      const next = { widthPx: Math.max(40, Math.floor(width)), heightPx: Math.floor(height) };
      setSize((before) => (before.widthPx === next.widthPx && before.heightPx === next.heightPx ? before : next));
    };
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  return { ref, ...size };
}
