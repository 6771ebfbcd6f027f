// Says that the times of a film come from a sheet that nobody has confirmed: they are shown, and are no limit.
import type { CallBody } from "#contract/call.ts";
import { unreadSheet } from "../../text/sentence.ts";
import { zoneText } from "../../text/zone.ts";
import { useVoice } from "../../ui/voice.tsx";
import "./unread-note.css";

export function UnreadNote({ call }: { readonly call: CallBody }) {
  const { text } = useVoice();
  const sheet = unreadSheet(call);
  return sheet === null ? null : <p className="zone-unread">{zoneText(text).unread(sheet)}</p>;
}
