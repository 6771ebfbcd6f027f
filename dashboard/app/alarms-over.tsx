// Open alarms over every page of a site. Loaded after the board; answers that wait are sent from then on.
import type { BoardBody } from "#contract/board.ts";
import type { BoardStore } from "../data/board-store.ts";
import { useSignal } from "../data/use-signal.ts";
import { AlarmStrip } from "../features/alarms/alarm-strip.tsx";
import { answersOf } from "./alarm-answers.ts";
import { hrefs } from "./route.ts";
import { useServices } from "./services.tsx";

interface Props {
  readonly site: string;
  readonly board: BoardBody;
  readonly store: BoardStore;
  /** The page of alarms shows them itself. */
  readonly shown: boolean;
}

export default function AlarmsOver({ site, board, store, shown }: Props) {
  const { alarms, link } = useSignal(store.signal);
  answersOf(useServices());
  return (
    <AlarmStrip
      {...{ site, board, alarms, link, shown }}
      href={hrefs.page(site, "alarms")}
      onStanding={(standing) => store.takeAlarms(standing, store.signal.get().alarms)}
    />
  );
}
