// All scenarios by name.
import { heronReach } from "./heron-reach/demo-night.ts";
import type { Scenario } from "./scenario.ts";
import { SHED_STORIES, shedScenario } from "./shed-scenarios.ts";

export interface NamedScenario {
  readonly id: string;
  readonly title: string;
  readonly make: (openedAtMs: number, seed: number) => Scenario;
}

export const SCENARIOS: readonly NamedScenario[] = [
  { id: "heron-reach", title: heronReach(0, 1).title, make: heronReach },
  ...SHED_STORIES.map((story) => ({
    id: story.id,
    title: story.title,
    make: (openedAtMs: number, seed: number) => shedScenario(story, openedAtMs, seed),
  })),
];

export function scenarioNamed(id: string): NamedScenario {
  const found = SCENARIOS.find((each) => each.id === id);
  if (found === undefined)
    throw new RangeError(`no scenario "${id}"; there are ${SCENARIOS.map((each) => each.id).join(", ")}`);
  return found;
}
