// The record page of a zone, with who writes and where it is written.
import { writePicture } from "../data/photo-box.ts";
import { mayOf, writerOf } from "../data/session.ts";
import { useSignal } from "../data/use-signal.ts";
import RecordPage from "../features/record/record-page.tsx";
import { hrefs } from "./route.ts";
import { useServices } from "./services.tsx";
import type { RoomProps } from "./site-rooms.ts";

export default function RecordRoom({ site, part, store }: RoomProps) {
  const zone = part ?? "";
  const { prefs: desk, outbox, session } = useServices();
  const prefs = useSignal(desk.signal);
  const { access } = useSignal(session.signal);
  const box = useSignal(outbox.signal);
  const lastEntry = useSignal(store.lastEntry);
  const by = (writerOf(access) ?? prefs.by.trim()) || null;
  return (
    <RecordPage
      site={site}
      zone={zone}
      zoneHref={hrefs.zone(site, zone)}
      language={prefs.language}
      by={by}
      written={`${lastEntry?.id ?? ""} ${box.waiting.length}`}
      onPhoto={mayOf(access, "write") ? (entry, picture) => writePicture(outbox, site, entry, picture) : null}
    />
  );
}
