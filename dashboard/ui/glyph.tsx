// The signs of the calls: a tipped pail, an hourglass, crossed grooves, a footprint, and a broken outline for no data.
import type { ReactElement } from "react";
import type { CallWord } from "#core/judge/call.ts";

export type Sign = CallWord | "blind";

const DRAWN: Readonly<Record<Sign, ReactElement>> = {
  pour: (
    <>
      <g transform="rotate(62 14 11)">
        <path d="M6.5 5h15l-2.4 15.5h-10.2z" fill="currentColor" />
        <path d="M6.5 5C7-2.5 21-2.5 21.5 5" fill="none" stroke="currentColor" strokeWidth="1.9" />
      </g>
      <path d="M20.5 19.5c2 1.5 2.600 3.5 2.600 7.5h5c0-6.5-1.4-9.5-5.2-11.800z" fill="currentColor" />
      <path d="M15 29.5c2-2 15-2 17 0z" fill="currentColor" />
    </>
  ),
  wait: (
    <>
      <path d="M6 3h20M6 29h20" stroke="currentColor" strokeWidth="3.4" strokeLinecap="round" />
      <path
        d="M9 4c0 7 3.5 8.5 7 12-3.5 3.5-7 5-7 12M23 4c0 7-3.5 8.5-7 12 3.5 3.5 7 5 7 12"
        fill="none"
        stroke="currentColor"
        strokeWidth="2.6"
      />
      <path
        d="M11.5 27c.4-3.6 2-5 4.5-6.5 2.5 1.5 4.1 2.9 4.5 6.5zM12.5 9.5h7c-.8 1.9-2 3-3.5 4.5-1.5-1.5-2.7-2.6-3.5-4.5z"
        fill="currentColor"
      />
    </>
  ),
  abrade: (
    <path
      d="M3 9 29 4M3 17l26-5M3 25l26-5M7 3l5 26M15 3l5 26M23 3l4 22"
      fill="none"
      stroke="currentColor"
      strokeWidth="2.8"
      strokeLinecap="round"
    />
  ),
  finished: (
    <>
      <path
        d="M15.5 1.5c5.2 0 8 4.3 7.4 9.6-.4 3.6-1.9 5.2-2.1 8.3h-8.6c-.3-3.1-2.2-4.6-3-8-1.2-5.3 1.3-9.9 6.3-9.9z"
        fill="currentColor"
      />
      <path
        d="M12.3 21.5h8.5c.5 2.6.3 4.5-.3 6.3-.7 2-2.1 2.9-4 2.9s-3.4-.9-4-2.9c-.6-1.8-.7-3.7-.2-6.3z"
        fill="currentColor"
      />
    </>
  ),
  blind: (
    <rect
      x="4"
      y="4"
      width="24"
      height="24"
      fill="none"
      stroke="currentColor"
      strokeWidth="3"
      strokeDasharray="5.2 4.8"
      strokeDashoffset="2.6"
    />
  ),
};

export function Glyph({ sign, sizePx = 32 }: { readonly sign: Sign; readonly sizePx?: number }) {
  return (
    <svg className="glyph" viewBox="0 0 32 32" width={sizePx} height={sizePx} aria-hidden="true" focusable="false">
      {DRAWN[sign]}
    </svg>
  );
}
