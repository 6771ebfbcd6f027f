// The size of an element in CSS pixels, so that a drawing is made for the room it has and never stretched.
import { useLayoutEffect, useRef, useState } from "react";

export function useSize<E extends Element>(firstWidthPx: number, firstHeightPx: number) {
  const ref = useRef<E>(null);
  const [size, setSize] = useState({ widthPx: firstWidthPx, heightPx: firstHeightPx });
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
