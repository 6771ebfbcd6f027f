// The page of one zone.
import { useVoice } from "../ui/voice.tsx";
import type { RoomProps } from "./site-rooms.ts";
import ZoneView from "./zone-view.tsx";

export default function ZoneRoom({ site, part, board, old, saidMs, store }: RoomProps) {
  const { text } = useVoice();
  const shown = board.zones.find((item) => item.zone.id === part);
  if (shown === undefined) return <p className="empty">{text.app.notFound}</p>;
  return <ZoneView site={site} item={shown} old={old} saidMs={saidMs} store={store} />;
}
