// What a client may know of one site: when each floor may be walked on, driven on and washed, and what to leave alone.
import { useEffect, useState } from "react";
import type { ClientPageBody } from "#contract/access.ts";
import { useAsked } from "../../data/use-asked.ts";
import { accessText } from "../../text/access.ts";
import { clockOf } from "../../text/clock.ts";
import { useVoice, VoiceProvider } from "../../ui/voice.tsx";
import { FloorCard } from "./floor-card.tsx";
import { groupsOf } from "./groups.ts";
import "./client.css";

interface Props {
  readonly site: string;
  readonly name: string;
  readonly ask: () => Promise<ClientPageBody>;
  readonly kept: unknown;
  readonly onKeep: (page: ClientPageBody) => void;
}

const EVERY_MS = 5 * 60_000;

function keptFrom(raw: unknown): ClientPageBody | null {
  const kept = raw as Partial<ClientPageBody> | null;
  return Array.isArray(kept?.zones) && typeof kept.at === "string" ? (kept as ClientPageBody) : null;
}

export function ClientSite({ site, name, ask, kept, onKeep }: Props) {
  const outer = useVoice();
  const { text } = outer;
  const words = accessText(text).client;
  const [round, setRound] = useState(0);
  const asked = useAsked(ask, site, String(round));
  const page = asked.value ?? keptFrom(kept);
  useEffect(() => {
    const timer = setInterval(() => setRound((before) => before + 1), EVERY_MS);
    return () => clearInterval(timer);
  }, []);
  useEffect(() => {
    if (asked.value !== null) onKeep(asked.value);
    // Only a new answer is kept; how it is kept does not matter.
  }, [asked.value]);
  useEffect(() => {
    document.title = `${name} · Nightslab`;
  }, [name]);
  if (page === null) return <p className="empty">{asked.failed ? text.app.failed : text.app.loading}</p>;
  const clock = clockOf(page.site.timezone, text, outer.clock.hours);
  const atMs = Date.parse(page.at);
  const asOf = `${clock.day(atMs)}, ${clock.time(atMs)}`;
  return (
    <VoiceProvider value={{ ...outer, clock, nowMs: atMs }}>
      <article className="client">
        <header>
          <p className="client-over">{words.title}</p>
          <h1>{page.site.name}</h1>
          <p>{words.intro}</p>
        </header>
        {page.zones.length === 0 && <p>{words.none}</p>}
        {groupsOf(page.zones).map((floors) => (
          <FloorCard key={floors[0].zone} floors={floors} />
        ))}
        <footer>
          <p>{words.wet}</p>
          {page.zones.some((zone) => zone.estimated) && <p>{words.estimated}</p>}
          <p role="status">{asked.failed || asked.value === null ? words.old(asOf) : words.asOf(asOf)}</p>
        </footer>
      </article>
    </VoiceProvider>
  );
}
