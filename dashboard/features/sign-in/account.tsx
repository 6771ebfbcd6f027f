// The account of whoever is signed in: name, role, sites, signing out, and another password.
import { type ReactNode, useState } from "react";
import type { AccessBody, PasswordChangeBody, Who } from "#contract/access.ts";
import { accessText } from "../../text/access.ts";
import { useVoice } from "../../ui/voice.tsx";
import { DoorForm } from "./door-form.tsx";
import { newFaults } from "./new-password.ts";
import { SecretField } from "./secret-field.tsx";
import { useAttempt } from "./use-attempt.ts";

interface Props {
  readonly who: Who;
  readonly sites: AccessBody["sites"];
  readonly unsent: number;
  readonly peopleHref: string | null;
  /** What is chosen for this device. */
  readonly choices: ReactNode;
  readonly onSignOut: () => Promise<void>;
  readonly onPassword: (body: PasswordChangeBody) => Promise<void>;
}

export function Account({ who, sites, unsent, peopleHref, choices, onSignOut, onPassword }: Props) {
  const { text } = useVoice();
  const all = accessText(text);
  const words = all.me;
  const out = useAttempt();
  const reach = who.sites === null ? all.allSites : sites.map((site) => site.name).join(", ");
  return (
    <div className="account">
      <DoorForm
        title={who.name ?? words.title}
        attempt={out}
        go={words.signOut}
        going={words.signingOut}
        onGo={() => out.run({}, onSignOut, () => null)}
      >
        <dl className="account-facts">
          <div>
            <dt>{words.role}</dt>
            <dd>
              {all.roles[who.role]}
              <small>{all.roleHelps[who.role]}</small>
            </dd>
          </div>
          <div>
            <dt>{words.sites}</dt>
            <dd>
              {reach}
              {who.zone !== null && <small>{all.oneZone(who.zone)}</small>}
            </dd>
          </div>
        </dl>
        {who.kind === "link" && <p>{words.linkHelp}</p>}
        {peopleHref !== null && (
          <a className="button" href={peopleHref}>
            {words.people}
          </a>
        )}
        {unsent > 0 && <p role="status">{words.unsent(unsent)}</p>}
      </DoorForm>
      <div className="account-side">
        <div className="door account-choices">{choices}</div>
        {who.kind === "person" && <PasswordForm name={who.name ?? ""} onPassword={onPassword} />}
      </div>
    </div>
  );
}

function PasswordForm({ name, onPassword }: { readonly name: string; readonly onPassword: Props["onPassword"] }) {
  const { text } = useVoice();
  const all = accessText(text);
  const words = all.me;
  const [open, setOpen] = useState(false);
  const [current, setCurrent] = useState("");
  const [password, setPassword] = useState("");
  const [done, setDone] = useState(false);
  const attempt = useAttempt();
  if (!open)
    return (
      <section className="door">
        <button type="button" className="button" onClick={() => setOpen(true)}>
          {words.password}
        </button>
        <p role="status">{done ? words.changed : ""}</p>
      </section>
    );
  const go = () =>
    attempt.run(
      { ...newFaults({ password }, all), ...(current === "" ? { current: all.form.needPassword } : {}) },
      async () => {
        await onPassword({ current, password });
        setOpen(false);
        setDone(true);
        setCurrent("");
        setPassword("");
      },
      () => null,
    );
  return (
    <DoorForm
      title={words.password}
      attempt={attempt}
      go={words.change}
      going={words.changing}
      onGo={go}
      help={
        // A password keeper wants to know whose password it is.
        <input type="text" className="hidden" autoComplete="username" value={name} readOnly tabIndex={-1} aria-hidden />
      }
    >
      <SecretField
        label={words.current}
        fill="current-password"
        value={current}
        error={attempt.faults["current"]}
        onType={(value) => {
          setCurrent(value);
          attempt.mend("current");
        }}
      />
      <SecretField
        label={all.form.newPassword}
        fill="new-password"
        value={password}
        error={attempt.faults["password"]}
        onType={(value) => {
          setPassword(value);
          attempt.mend("password");
        }}
      />
    </DoorForm>
  );
}
