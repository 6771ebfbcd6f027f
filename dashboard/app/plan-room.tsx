// The plan of a site with its calls.
import { mayOf } from "../data/session.ts";
import { useSignal } from "../data/use-signal.ts";
import { FloorPlan } from "../features/plan/floor-plan.tsx";
import { hrefs } from "./route.ts";
import { useServices } from "./services.tsx";
import type { RoomProps } from "./site-rooms.ts";

export default function PlanRoom({ site, board, old }: RoomProps) {
  const { session } = useServices();
  const { access } = useSignal(session.signal);
  return (
    <FloorPlan
      {...{ site, board, old }}
      hrefOf={(zone) => hrefs.zone(site, zone)}
      setUpHref={mayOf(access, "plan") ? hrefs.page(site, "set-up", "floor") : null}
    />
  );
}
