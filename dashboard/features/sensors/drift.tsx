// Drift of one chip: the error of each salt check over its date, over the band that its sheet states.
import type { SaltCheckBody } from "#contract/second-opinion.ts";
import { useVoice } from "../../ui/voice.tsx";
import { signedPct } from "./amounts.ts";

interface Props {
  readonly label: string;
  readonly checks: readonly SaltCheckBody[];
  readonly statedPct: number | null;
}

const WIDE = 320;
const HIGH = 120;
const LEFT = 44;
const RIGHT = 14;
const TOP = 10;
const FOOT = 24;

export function Drift({ label, checks, statedPct }: Props) {
  const { clock } = useVoice();
  if (checks.length < 2) return null;
  const points = checks.map((check) => ({ ...check, atMs: Date.parse(check.at) })).sort((a, b) => a.atMs - b.atMs);
  const [first, last] = [points[0], points.at(-1)];
  if (first === undefined || last === undefined) return null;
  const reach = Math.max(5, Math.ceil(Math.max(...points.map(({ errorPct }) => Math.abs(errorPct)))));
  const spanMs = Math.max(1, last.atMs - first.atMs);
  const x = (atMs: number) => LEFT + ((atMs - first.atMs) / spanMs) * (WIDE - LEFT - RIGHT);
  const y = (pct: number) => TOP + ((reach - pct) / (2 * reach)) * (HIGH - TOP - FOOT);
  const salts = ["sodium-chloride", "magnesium-chloride"] as const;
  const said = points.map(({ at, errorPct }) => `${clock.day(Date.parse(at))} ${signedPct(errorPct)}`).join("; ");
  return (
    <svg className="drift" viewBox={`0 0 ${WIDE} ${HIGH}`} role="img" aria-label={`${label}: ${said}`}>
      {statedPct !== null && (
        <rect
          x={LEFT}
          width={WIDE - LEFT - RIGHT}
          y={y(Math.min(reach, statedPct))}
          height={y(-Math.min(reach, statedPct)) - y(Math.min(reach, statedPct))}
          fill="var(--wash)"
        />
      )}
      {[reach, 0, -reach].map((pct) => (
        <g key={pct}>
          <line x1={LEFT} x2={WIDE - RIGHT} y1={y(pct)} y2={y(pct)} stroke="var(--line)" />
          <text x={LEFT - 6} y={y(pct) + 4} textAnchor="end">
            {signedPct(pct)}
          </text>
        </g>
      ))}
      {salts.map((salt) => {
        const own = points.filter((point) => point.salt === salt);
        return (
          <g key={salt} className={`drift-${salt}`}>
            <polyline points={own.map(({ atMs, errorPct }) => `${x(atMs)},${y(errorPct)}`).join(" ")} />
            {own.map(({ entry, atMs, errorPct }) =>
              salt === "sodium-chloride" ? (
                <circle key={entry} cx={x(atMs)} cy={y(errorPct)} r={4} />
              ) : (
                <rect key={entry} x={x(atMs) - 4} y={y(errorPct) - 4} width={8} height={8} />
              ),
            )}
          </g>
        );
      })}
      <text x={LEFT} y={HIGH - 6}>
        {clock.day(first.atMs)}
      </text>
      <text x={WIDE - RIGHT} y={HIGH - 6} textAnchor="end">
        {clock.day(last.atMs)}
      </text>
    </svg>
  );
}
