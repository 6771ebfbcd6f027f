// The sensors page, with who writes and where it is written.
import { mayOf, writerOf } from "../data/session.ts";
import { useSignal } from "../data/use-signal.ts";
import SensorsPage from "../features/sensors/sensors-page.tsx";
import { useServices } from "./services.tsx";
import type { RoomProps } from "./site-rooms.ts";

export default function SensorsRoom({ site, board }: RoomProps) {
  const { outbox, prefs: desk, session } = useServices();
  const { access } = useSignal(session.signal);
  const { by } = useSignal(desk.signal);
  return (
    <SensorsPage
      site={site}
      zones={board.zones.map(({ zone: { id, name } }) => ({ id, name }))}
      plans={mayOf(access, "plan")}
      who={(writerOf(access) ?? by.trim()) || null}
      onWrite={mayOf(access, "write") ? (entry) => outbox.write(site, entry) : null}
    />
  );
}
