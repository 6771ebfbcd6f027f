// Setting a site up, step by step: what the features do, with where things are kept and who writes.
import { useState } from "react";
import type { SheetBody } from "#contract/sheet.ts";
import { mayOf, writerOf } from "../data/session.ts";
import { setUpApi } from "../data/set-up-api.ts";
import { sheetsApi } from "../data/sheets-api.ts";
import { siteList } from "../data/site-list.ts";
import { useAct } from "../data/use-act.ts";
import { useAsked } from "../data/use-asked.ts";
import { useSignal } from "../data/use-signal.ts";
import { FloorEdit } from "../features/plan/floor-edit.tsx";
import { PlaceNodes } from "../features/plan/place-nodes.tsx";
import { AddForm } from "../features/sensors/add-form.tsx";
import { CoatsStep } from "../features/set-up/coats-step.tsx";
import { SiteForm, type SiteWords } from "../features/set-up/site-form.tsx";
import { NextStep, type Step, STEPS, Steps } from "../features/set-up/steps.tsx";
import "../features/set-up/set-up.css";
import "../features/sensors/sensors.css";
import { VerdictStep } from "../features/set-up/verdict-step.tsx";
import { setUpText } from "../text/set-up.ts";
import { useVoice } from "../ui/voice.tsx";
import { hrefs } from "./route.ts";
import { useServices } from "./services.tsx";
import type { RoomProps } from "./site-rooms.ts";

/** The sheet of the invented night is no product: no real floor is offered it. */
const NOT_OFFERED = "invented-epoxy";

function idsFrom(kept: unknown): readonly string[] {
  return Array.isArray(kept) ? kept.filter((id) => typeof id === "string") : [];
}

export default function SetUpRoom({ site, part, board, old, store }: RoomProps) {
  const { text } = useVoice();
  const words = setUpText(text);
  const { keep, outbox, prefs: desk, session } = useServices();
  const { access } = useSignal(session.signal);
  const { by } = useSignal(desk.signal);
  const act = useAct();
  const [saved, setSaved] = useState(false);
  const [system, setSystem] = useState(() => idsFrom(keep.read(`set-up.system.${site}`)));
  const [times, setTimes] = useState(0);
  const asked = useAsked(sheetsApi.all, "sheets", String(times));
  const sheets: readonly SheetBody[] | null =
    asked.value?.filter(({ id, kind }) => id !== NOT_OFFERED && kind !== "filler") ?? null;
  if (!mayOf(access, "plan")) return <p className="empty">{words.barred}</p>;

  const step: Step = STEPS.find((one) => one === part) ?? "site";
  const hrefOf = (one: Step) => hrefs.page(site, "set-up", one);
  const zones = board.zones.map(({ zone }) => zone);
  const splits = new Map(board.zones.flatMap(({ zone, splitFrom }) => (splitFrom ? [[zone.id, splitFrom]] : [])));
  const nodes = board.nodes.filter(({ retired }) => retired !== true);
  // On another device nothing is kept: there a new zone begins as the last one.
  const wanted = system.length > 0 ? system : (zones.at(-1)?.system ?? []);
  const known = sheets === null ? [] : wanted.filter((id) => sheets.some((sheet) => sheet.id === id));
  const who = (writerOf(access) ?? by.trim()) || null;
  const changed = () => store.renew();
  const done = {
    site: board.site.name !== undefined,
    coats: known.length > 0 || zones.length > 0,
    floor: zones.length > 0,
    nodes: nodes.length > 0,
    verdict: board.zones.some(({ lastHeard }) => lastHeard !== null),
  };
  const patch = async (body: SiteWords) => {
    setSaved(false);
    if ((await act.run(() => setUpApi.patchSite(site, body))) === null) return;
    setSaved(true);
    siteList.changed();
    changed();
  };

  const content = () => {
    switch (step) {
      case "site":
        return (
          <>
            <SiteForm site={board.site} submit={words.save} busy={act.busy} onSubmit={(body) => void patch(body)} />
            {saved && <p role="status">{words.saved}</p>}
            {act.failed !== null && (
              <p className="field-error" role="alert">
                {words.refused(act.failed)}
              </p>
            )}
            <p>
              <a className="button" href={setUpApi.siteFileHref(site)} download={`${site}.site.json`}>
                {words.saveSite}
              </a>
            </p>
          </>
        );
      case "coats":
        return (
          <CoatsStep
            sheets={sheets}
            system={known}
            busy={act.busy}
            failed={act.failed}
            onStarter={(sheet) => void act.run(() => sheetsApi.save(sheet)).then(() => setTimes(times + 1))}
            onConfirm={({ id, saved: mark }) =>
              void act.run(() => sheetsApi.confirm(id, mark?.revision ?? 1, who)).then(() => setTimes(times + 1))
            }
            sheetsHref={(sheet) => (sheet === null ? "#/sheets" : `#/sheets/${encodeURIComponent(sheet)}`)}
            onChange={(next) => {
              setSystem(next);
              keep.write(`set-up.system.${site}`, next);
            }}
          />
        );
      case "floor":
        if (sheets === null) return <p>{text.app.loading}</p>;
        return sheets.length === 0 ? (
          <p>{words.floorNoSheets}</p>
        ) : (
          <>
            <p className="set-up-lead">{words.floorHelp}</p>
            <FloorEdit
              {...{ site, zones, splits, nodes, sheets, system: known, by: who }}
              sensorsHref={hrefs.sensors(site)}
              onWrite={(entry) => outbox.write(site, entry)}
              onChanged={changed}
            >
              <NextStep step={step} hrefOf={hrefOf} />
            </FloorEdit>
          </>
        );
      case "nodes":
        return (
          <>
            <p className="set-up-lead">{words.nodesHelp}</p>
            <PlaceNodes site={site} zones={zones} nodes={nodes} onChanged={changed} />
            <AddForm site={site} zones={zones.map(({ id, name }) => ({ id, name }))} onDone={changed} />
            <p>
              <a className="button" href={hrefs.sensors(site)}>
                {words.nodesMore}
              </a>
            </p>
          </>
        );
      case "verdict":
        return (
          <VerdictStep
            {...{ site, board, old }}
            hrefs={{
              zone: (zone) => hrefs.zone(site, zone),
              sensors: hrefs.sensors(site),
              spot: hrefs.spotCheck(site),
              board: hrefs.board(site),
              plan: hrefs.page(site, "plan"),
            }}
            onChanged={changed}
            onInvented={(made) => {
              siteList.changed();
              globalThis.location.hash = hrefs.board(made);
            }}
          />
        );
    }
  };
  return (
    <div className="set-up">
      <Steps step={step} done={done} hrefOf={hrefOf} />
      <h1>
        {words.stepOf(STEPS.indexOf(step) + 1, STEPS.length)}: {words.steps[step]}
      </h1>
      {content()}
      {(step !== "floor" || (sheets?.length ?? 0) === 0) && <NextStep step={step} hrefOf={hrefOf} />}
    </div>
  );
}
