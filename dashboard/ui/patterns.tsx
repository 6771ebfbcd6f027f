// Fill patterns of the strips, drawn once for the page. A call is told by its pattern as well as by its colour.
const FADES = [1, 2, 3, 4, 5] as const;
/** Of nine pixels so many are eaten away. */
const EATEN_PX = [0, 1.6, 2.8, 4, 5.2, 6.4] as const;

export function Patterns() {
  return (
    <svg className="patterns" width="0" height="0" aria-hidden="true" focusable="false">
      <defs>
        <pattern id="fill-pour" width="8" height="8" patternUnits="userSpaceOnUse">
          <rect width="8" height="8" className="ink-pour" />
        </pattern>
        <pattern id="fill-wait" width="10" height="10" patternUnits="userSpaceOnUse" patternTransform="rotate(38)">
          <rect width="10" height="10" className="ink-paper" />
          <rect width="4.6" height="10" className="ink-wait" />
        </pattern>
        <pattern id="fill-abrade" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(17)">
          <rect width="8" height="8" className="ink-paper" />
          <path d="M0 2h8M2 0v8" className="line-abrade" strokeWidth="2.1" />
        </pattern>
        <pattern id="fill-finished" width="9" height="9" patternUnits="userSpaceOnUse">
          <rect width="9" height="9" className="ink-paper" />
          <circle cx="2.5" cy="2.5" r="1.7" className="ink-finished" />
          <circle cx="7" cy="7" r="1.7" className="ink-finished" />
        </pattern>
        {FADES.map((level) => (
          <pattern
            key={level}
            id={`fade-${level}`}
            width="9"
            height="9"
            patternUnits="userSpaceOnUse"
            patternTransform="rotate(-52)"
          >
            <rect width={EATEN_PX[level]} height="9" className="ink-paper" />
          </pattern>
        ))}
        <pattern id="fill-forbidden" width="8" height="8" patternUnits="userSpaceOnUse">
          <rect width="8" height="8" className="ink-water" />
          <path d="M0 6q2-3 4 0t4 0" className="line-forbidden" />
        </pattern>
        <pattern id="fill-below" width="6" height="6" patternUnits="userSpaceOnUse">
          <path d="M0 4.5q1.5-2 3 0t3 0" className="line-below" />
        </pattern>
      </defs>
    </svg>
  );
}
