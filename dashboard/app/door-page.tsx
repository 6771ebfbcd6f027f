// The ways in: signing in, the first owner's code, an invitation, a new password, and a link to look.
import { useEffect, useRef, useState } from "react";
import type { OfferBody } from "#contract/access.ts";
import { accessApi } from "../data/access-api.ts";
import { api, ApiFailure } from "../data/api.ts";
import { whoOf } from "../data/session.ts";
import { useAsked } from "../data/use-asked.ts";
import { useSignal } from "../data/use-signal.ts";
import { NewAccountForm } from "../features/sign-in/new-account-form.tsx";
import { SignInForm } from "../features/sign-in/sign-in-form.tsx";
import { accessText } from "../text/access.ts";
import { useVoice } from "../ui/voice.tsx";
import { leaveDoor } from "./hooks.ts";
import type { Door } from "./route.ts";
import { useServices } from "./services.tsx";

/** `door` null: whoever is out, at any address; signing in leads back to it. */
export default function DoorPage({ door, token }: { readonly door: Door | null; readonly token: string }) {
  const { text } = useVoice();
  const words = accessText(text);
  const { session: desk } = useServices();
  const { access, ended } = useSignal(desk.signal);
  const [wantsSignIn, setWants] = useState(false);
  const come = async (way: Promise<unknown>) => {
    await way;
    // What was given back was true then; who is in now decides what is shown.
    const inside = await api.access();
    if (inside.who === null) throw new ApiFailure("refused", 0, words.form.noCookie);
    if (door !== null) leaveDoor();
    desk.take(inside);
  };
  if (door === "link") return <LinkDoor token={token} onOpen={() => come(accessApi.openLink(token))} />;
  if (door === "invite") return <Invitation token={token} onCome={come} />;
  if (door === "reset")
    return (
      <NewAccountForm
        kind="reset"
        asksCode={token === ""}
        help={<p>{words.reset.help}</p>}
        onGo={({ code, password }) => come(accessApi.reset({ token: token === "" ? code : token, password }))}
      />
    );
  if (access?.firstOwner === true && !wantsSignIn)
    return (
      <NewAccountForm
        kind="first"
        asksCode
        help={<p>{words.first.help}</p>}
        onGo={({ code, name, password }) => come(accessApi.firstOwner({ code, name, password }))}
        after={
          <button type="button" className="button" onClick={() => setWants(true)}>
            {words.first.known}
          </button>
        }
      />
    );
  return <SignInForm ended={ended} onSignIn={(body) => come(accessApi.signIn(body))} />;
}

interface InvitationProps {
  readonly token: string;
  readonly onCome: (way: Promise<unknown>) => Promise<void>;
}

type Offered = OfferBody | "gone";

function Invitation({ token, onCome }: InvitationProps) {
  const { text, clock, nowMs } = useVoice();
  const words = accessText(text);
  const offer = useAsked<Offered>(
    () =>
      accessApi.offer(token).catch((cause: unknown) => {
        if (cause instanceof ApiFailure && cause.kind === "refused") return "gone";
        throw cause;
      }),
    token,
    "",
  );
  if (offer.value === null) return <p className="empty">{offer.failed ? text.app.failed : text.app.loading}</p>;
  if (offer.value === "gone") return <Gone said={words.invitation.gone} />;
  const { role, sites, siteNames = sites, expiresAt } = offer.value;
  return (
    <NewAccountForm
      kind="invitation"
      asksCode={false}
      help={
        <>
          <p>
            {words.invitation.as(words.roles[role], siteNames === null ? words.allSites : siteNames.join(", "))}{" "}
            {words.roleHelps[role]}
          </p>
          <p>{words.invitation.until(clock.when(Date.parse(expiresAt), nowMs))}</p>
        </>
      }
      onGo={({ name, password }) => onCome(accessApi.accept({ token, name, password }))}
    />
  );
}

function Gone({ said }: { readonly said: string }) {
  const { text } = useVoice();
  return (
    <div className="empty" role="alert">
      <h1 className="door-said">{said}</h1>
      <p>
        <button type="button" className="button" onClick={leaveDoor}>
          {accessText(text).toSignIn}
        </button>
      </p>
    </div>
  );
}

/** A link opens by itself, unless somebody is signed in here already: it would sign them out. */
function LinkDoor({ token, onOpen }: { readonly token: string; readonly onOpen: () => Promise<void> }) {
  const { text } = useVoice();
  const words = accessText(text);
  const { session: desk } = useServices();
  const { access, sure } = useSignal(desk.signal);
  const [state, setState] = useState<"ask" | "opening" | "gone" | "away">("ask");
  const begun = useRef(false);
  const open = () => {
    if (begun.current) return;
    begun.current = true;
    setState("opening");
    onOpen().catch((cause: unknown) => {
      begun.current = false;
      setState(cause instanceof ApiFailure && cause.kind === "refused" ? "gone" : "away");
    });
  };
  const person = whoOf(access)?.kind === "person";
  useEffect(() => {
    if (sure && !person && state === "ask") open();
  });
  if (state === "gone") return <Gone said={words.link.gone} />;
  const asks = state === "away" || (sure && person && state === "ask");
  if (!asks) return <p className="empty">{words.link.opening}</p>;
  return (
    <div className="empty">
      <h1 className="door-said">{state === "away" ? words.form.failed : words.link.asWho}</h1>
      <p className="door-choices">
        <button type="button" className="button button-main" key={token} onClick={open}>
          {state === "away" ? words.again : words.link.open}
        </button>{" "}
        {person && (
          <button type="button" className="button" onClick={leaveDoor}>
            {words.link.stay}
          </button>
        )}
      </p>
    </div>
  );
}
