// The page of alarms of a site, and that of who is told.
import { mayOf, whoOf, writerOf } from "../data/session.ts";
import { useSignal } from "../data/use-signal.ts";
import { AlarmsPage } from "../features/alarms/alarms-page.tsx";
import { WhoPage } from "../features/alarms/who-page.tsx";
import { useVoice } from "../ui/voice.tsx";
import { answersOf } from "./alarm-answers.ts";
import { hrefs } from "./route.ts";
import { useServices } from "./services.tsx";
import type { RoomProps } from "./site-rooms.ts";

const WHO = "who";

export default function AlarmsRoom({ site, part, board, store }: RoomProps) {
  const services = useServices();
  const desk = answersOf(services);
  const answers = useSignal(desk.signal);
  const { alarms } = useSignal(store.signal);
  const { access } = useSignal(services.session.signal);
  const { by: typed } = useSignal(services.prefs.signal);
  const { text } = useVoice();
  const by = (writerOf(access) ?? typed.trim()) || null;
  if (part === WHO)
    return (
      <WhoPage
        site={site}
        zones={board.zones.map(({ zone: { id, name } }) => ({ id, name }))}
        person={whoOf(access)?.kind === "person" ? (whoOf(access)?.name ?? null) : null}
        plans={mayOf(access, "plan")}
        everywhere={(whoOf(access)?.sites ?? null) === null}
        owns={mayOf(access, "own")}
        backHref={hrefs.page(site, "alarms")}
      />
    );
  if (part !== null) return <p className="empty">{text.app.notFound}</p>;
  return (
    <AlarmsPage
      site={site}
      board={board}
      alarms={alarms}
      answers={answers}
      acts={
        mayOf(access, "write")
          ? {
              give: ({ id }, untilAt) => desk.give({ site, alarm: id, by, untilAt }),
              putAway: ({ id }) => desk.putAway(id),
            }
          : null
      }
      zoneHref={(zone) => hrefs.zone(site, zone)}
      whoHref={hrefs.page(site, "alarms", WHO)}
    />
  );
}
