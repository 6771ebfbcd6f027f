// Figures one under the other: name at the left, what the page prints at the right.
import type { Part } from "./parts-of.ts";

export function Lines({ part }: { readonly part: Part }) {
  return (
    <div className={part.blocks.length > 1 ? "sheet-blocks" : undefined}>
      {part.blocks.map(({ title, lines }) => (
        <div key={title ?? part.name}>
          {title !== null && <h4>{title}</h4>}
          <dl className="sheet-lines">
            {lines.map(({ label, value }) => (
              <div key={label}>
                <dt>{label}</dt>
                <dd>{value}</dd>
              </div>
            ))}
          </dl>
        </div>
      ))}
    </div>
  );
}
