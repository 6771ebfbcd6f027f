// Whether somebody outside would miss this server.
import { notifyApi } from "../../data/notify-api.ts";
import { useAsked } from "../../data/use-asked.ts";
import { tellText } from "../../text/tell.ts";
import { useVoice } from "../../ui/voice.tsx";

const AGAIN_MS = 60_000;

export function Heartbeat() {
  const { text, nowMs } = useVoice();
  const words = tellText(text).heartbeat;
  const asked = useAsked(notifyApi.health, "health", String(Math.floor(nowMs / AGAIN_MS)));
  const part = asked.value?.parts["heartbeat"];
  if (part === undefined) return null;
  // Up with something to say: there is no address to beat to.
  const said =
    part.state !== "up"
      ? words.trouble(part.detail ?? words.unknown)
      : part.detail === null
        ? words.states.up
        : words.states.off;
  return (
    <>
      <h2>{words.title}</h2>
      <p className="field-help">{words.lead}</p>
      <p className={part.state === "up" ? undefined : "alarm-trouble"}>{said}</p>
    </>
  );
}
