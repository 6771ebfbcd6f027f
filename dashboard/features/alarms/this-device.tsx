// Lets this phone or browser ring, or stops it; the browser asks the person on the tap and never before.
import { useEffect, useState } from "react";
import type { ContactBody } from "#contract/notify.ts";
import { notifyApi } from "../../data/notify-api.ts";
import { pushState, type PushState, subscribe, unsubscribe } from "../../data/push.ts";
import { useAct } from "../../data/use-act.ts";
import { tellText } from "../../text/tell.ts";
import { Choice } from "../../ui/choice.tsx";
import { useVoice } from "../../ui/voice.tsx";

interface Props {
  readonly contacts: readonly ContactBody[];
  /** The one who is signed in; null where nobody has to be. */
  readonly own: ContactBody | null;
  readonly accounts: boolean;
  readonly onDone: () => void;
}

const isPhone = () => matchMedia("(pointer: coarse)").matches;

export function ThisDevice({ contacts, own, accounts, onDone }: Props) {
  const words = tellText(useVoice().text).device;
  const [device, setDevice] = useState<{ readonly state: PushState; readonly id: string | null } | null>(null);
  const [round, setRound] = useState(0);
  const [picked, setPicked] = useState<string | null>(null);
  const act = useAct();
  useEffect(() => {
    let gone = false;
    const look = async () => {
      const seen = await pushState().catch(() => ({ state: "none", id: null }) as const);
      if (!gone) setDevice(seen);
    };
    void look();
    // A page that has just been opened has its worker a moment later.
    if ("serviceWorker" in navigator) void navigator.serviceWorker.ready.then(look);
    return () => {
      gone = true;
    };
  }, [round]);
  const candidates = accounts ? (own === null ? [] : [own]) : contacts;
  const ringsFor = candidates.find(({ ways }) => device?.id !== null && ways.some(({ id }) => id === device?.id));
  const target = candidates.find(({ id }) => id === picked) ?? (candidates.length === 1 ? candidates[0] : undefined);
  const address = (contact: ContactBody) => (accounts ? null : contact.id);
  const turnOn = (contact: ContactBody) =>
    act.run(async () => {
      const wish = await subscribe(await notifyApi.pushKey(), isPhone() ? words.phone : words.computer);
      if (wish !== null) await notifyApi.subscribe(address(contact), wish);
    });
  const turnOff = (contact: ContactBody, id: string) =>
    act.run(async () => {
      await notifyApi.unsubscribe(address(contact), id);
      await unsubscribe();
    });
  const after = async (work: Promise<unknown>) => {
    await work;
    setRound((before) => before + 1);
    onDone();
  };
  if (device === null) return null;
  const id = device.id;
  return (
    <>
      <h2>{words.title}</h2>
      <p className="field-help">{words.lead}</p>
      {device.state === "none" && <p>{words.none}</p>}
      {device.state === "denied" && <p className="alarm-trouble">{words.denied}</p>}
      {(device.state === "on" || device.state === "off") &&
        (ringsFor !== undefined && id !== null ? (
          <p className="tell-acts">
            <span>{words.isOn(ringsFor.name)}</span>
            <button
              type="button"
              className="button"
              disabled={act.busy}
              onClick={() => void after(turnOff(ringsFor, id))}
            >
              {words.off}
            </button>
          </p>
        ) : candidates.length === 0 ? (
          <p>{accounts ? words.needOwn : words.needContact}</p>
        ) : (
          <>
            {candidates.length > 1 && (
              <Choice
                label={words.for}
                options={Object.fromEntries(candidates.map((one) => [one.id, one.name]))}
                value={target?.id ?? ""}
                onPick={setPicked}
              />
            )}
            <p className="tell-acts">
              <span>{words.isOff}</span>
              <button
                type="button"
                className="button button-main"
                disabled={act.busy || target === undefined}
                onClick={() => target !== undefined && void after(turnOn(target))}
              >
                {words.on}
              </button>
            </p>
          </>
        ))}
      <p role="status" className="alarm-trouble">
        {act.failed}
      </p>
    </>
  );
}
