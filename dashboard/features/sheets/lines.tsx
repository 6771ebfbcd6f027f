// Figures one under the other: name at the left, what the page prints at the right.
import type { Part } from "./parts-of.ts";

export function Lines({ lines }: { readonly lines: Part["lines"] }) {
  return (
    <dl className="sheet-lines">
      {lines.map(({ label, value }) => (
        <div key={label}>
          <dt>{label}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}
