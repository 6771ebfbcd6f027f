// Fourteen days of a value as small bars; a day without a reading stays empty.
interface Props {
  readonly label: string;
  readonly days: readonly (number | null)[];
  /** Values that lie at the bottom and at the top. */
  readonly range: readonly [number, number];
}

const STEP = 6;
const HIGH = 26;

export function Trend({ label, days, range: [low, high] }: Props) {
  if (days.every((value) => value === null)) return null;
  return (
    <svg className="trend" width={days.length * STEP} height={HIGH} role="img" aria-label={label}>
      <line x1={0} x2={days.length * STEP} y1={HIGH - 0.5} y2={HIGH - 0.5} stroke="var(--line)" />
      {days.map((value, day) => {
        if (value === null) return null;
        const share = Math.min(1, Math.max(0.06, (value - low) / (high - low)));
        return (
          // A bar is its day: the list never reorders.
          <rect
            key={day}
            x={day * STEP + 1}
            y={HIGH - share * (HIGH - 2)}
            width={STEP - 2}
            height={share * (HIGH - 2)}
            fill="var(--dim)"
          />
        );
      })}
    </svg>
  );
}
