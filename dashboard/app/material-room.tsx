// The material page of a site or of one zone: what it shows, what is kept on this device, and where it is written.
import { useEffect, useState } from "react";
import type { BoardZoneBody } from "#contract/board.ts";
import type { TakeoffBody, ZoneTakeoffBody } from "#contract/takeoff.ts";
import { materialApi } from "../data/material-api.ts";
import { writePicture } from "../data/photo-box.ts";
import { mayOf, writerOf } from "../data/session.ts";
import { useAsked } from "../data/use-asked.ts";
import { useSignal } from "../data/use-signal.ts";
import { MaterialPage } from "../features/material/material-page.tsx";
import { mixRunFrom } from "../features/material/mix-clock.ts";
import type { MixKept } from "../features/material/mixing-card.tsx";
import { ZoneMaterial } from "../features/material/zone-material.tsx";
import { materialText } from "../text/material.ts";
import { useVoice } from "../ui/voice.tsx";
import { hrefs } from "./route.ts";
import { useServices } from "./services.tsx";
import type { RoomProps } from "./site-rooms.ts";

/** Read leniently, field by field. */
function mixKeptFrom(kept: unknown): MixKept {
  const raw = (typeof kept === "object" && kept !== null ? kept : {}) as Record<string, unknown>;
  const numbers = typeof raw["numbers"] === "object" && raw["numbers"] !== null ? raw["numbers"] : {};
  return {
    run: mixRunFrom(raw["run"], Date.now()),
    lastBatch: Number.isFinite(raw["lastBatch"]) ? Number(raw["lastBatch"]) : 0,
    numbers: Object.fromEntries(Object.entries(numbers).filter(([, number]) => typeof number === "string")) as Record<
      string,
      string
    >,
    sound: raw["sound"] !== false,
  };
}

function isTakeoff(kept: unknown): kept is TakeoffBody {
  return typeof kept === "object" && kept !== null && Array.isArray((kept as TakeoffBody).zones);
}

export default function MaterialRoom({ site, part, board, old }: RoomProps) {
  const { keep, outbox, session } = useServices();
  const plans = mayOf(useSignal(session.signal).access, "plan");
  const sheetHrefOf = (sheet: string) => (plans ? hrefs.global("sheets", sheet) : null);
  const waiting = useSignal(outbox.signal).waiting.length;
  const { text, clock, nowMs } = useVoice();
  const words = materialText(text);
  const item = part === null ? null : board.zones.find(({ zone }) => zone.id === part);
  const key = `board.takeoff.${site}.${part ?? ""}`;
  const [changes, setChanges] = useState(0);
  // A call that changed, an area or a rate: the takeoff may be another. The clock of a call alone is none.
  const of = part === null ? board.zones : item === null || item === undefined ? [] : [item];
  const reason = JSON.stringify([
    changes,
    waiting,
    of.map(({ zone, call }) => [zone, call.call, call.nextCoat, call.pouring]),
  ]);
  const asked = useAsked(() => materialApi.takeoff(site, part), key, `${reason} ${Math.floor(nowMs / 120_000)}`);
  useEffect(() => {
    if (asked.value !== null) keep.write(key, asked.value);
  }, [asked.value, keep, key]);
  if (item === undefined) return <p className="empty">{text.app.notFound}</p>;
  const kept = asked.value === null && asked.failed ? keep.read(key) : null;
  const takeoff = asked.value ?? (isTakeoff(kept) ? kept : null);
  if (takeoff === null) return <p className="empty">{asked.failed ? text.app.failed : text.app.loading}</p>;
  const zone = takeoff.zones.find((one) => one.zone === part);
  return (
    <>
      {asked.failed && (
        <p className="why-note material-kept" role="status">
          {words.kept(clock.when(Date.parse(takeoff.at), nowMs))}
        </p>
      )}
      {item === null ? (
        <MaterialPage takeoff={takeoff} hrefOf={(id) => hrefs.page(site, "material", id)} sheetHrefOf={sheetHrefOf} />
      ) : zone === undefined ? (
        <p className="empty">{text.app.notFound}</p>
      ) : (
        <OfZone
          sheetHrefOf={sheetHrefOf}
          site={site}
          item={item}
          zone={zone}
          old={old}
          onChange={() => setChanges((count) => count + 1)}
        />
      )}
    </>
  );
}

interface OfZoneProps {
  readonly site: string;
  readonly item: BoardZoneBody;
  readonly zone: ZoneTakeoffBody;
  readonly old: boolean;
  readonly sheetHrefOf: (sheet: string) => string | null;
  /** Something was changed that the takeoff depends on. */
  readonly onChange: () => void;
}

function OfZone({ site, item, zone, old, sheetHrefOf, onChange }: OfZoneProps) {
  const { keep, prefs, outbox, session } = useServices();
  const { access } = useSignal(session.signal);
  const { by: typed } = useSignal(prefs.signal);
  const { nowMs } = useVoice();
  const by = (writerOf(access) ?? typed.trim()) || null;
  const coat = zone.coats.find(({ state }) => state === "pouring" || state === "next")?.coat ?? 0;
  const key = `board.mix.${site}.${zone.zone}.${coat}`;
  const [mix, setMix] = useState(() => ({ key, kept: mixKeptFrom(keep.read(key)) }));
  const kept = mix.key === key ? mix.kept : mixKeptFrom(keep.read(key));
  const writes = mayOf(access, "write");
  return (
    <ZoneMaterial
      zone={zone}
      call={item.call}
      old={old}
      backHref={hrefs.page(site, "material")}
      sheetHrefOf={sheetHrefOf}
      kept={kept}
      onKeep={(changed) => {
        keep.write(key, changed);
        setMix({ key, kept: changed });
      }}
      by={by}
      onWrite={writes ? (entry) => outbox.write(site, entry) : null}
      onCrew={
        mayOf(access, "plan")
          ? async (crew) => {
              await materialApi.changeCrew(site, zone.zone, crew);
              onChange();
            }
          : null
      }
      onPhoto={async (picture, note) => {
        const entry = {
          ...{ did: "photographed" as const, at: new Date(nowMs).toISOString(), zone: zone.zone, of: "batch" as const },
          ...(note === "" ? {} : { note }),
          ...(by === null ? {} : { by }),
        };
        await writePicture(outbox, site, entry, picture);
      }}
    />
  );
}
