// Signing in with name and password, and what to do when the password is forgotten.
import { useState } from "react";
import type { SignInBody } from "#contract/access.ts";
import { accessText } from "../../text/access.ts";
import { Field } from "../../ui/field.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { DoorForm } from "./door-form.tsx";
import { SecretField } from "./secret-field.tsx";
import { useAttempt } from "./use-attempt.ts";

interface Props {
  readonly ended: boolean;
  readonly onSignIn: (body: SignInBody) => Promise<void>;
}

export function SignInForm({ ended, onSignIn }: Props) {
  const { text } = useVoice();
  const { form, signIn: words } = accessText(text);
  const [name, setName] = useState("");
  const [password, setPassword] = useState("");
  const attempt = useAttempt();
  const go = () =>
    attempt.run(
      {
        ...(name.trim() === "" ? { name: form.needName } : {}),
        ...(password === "" ? { password: form.needPassword } : {}),
      },
      () => onSignIn({ name: name.trim(), password }),
      ({ status }) => (status === 401 || status === 403 || status === 422 ? words.wrong : null),
    );
  return (
    <DoorForm
      title={words.title}
      help={
        ended && (
          <p className="door-note" role="status">
            {words.ended}
          </p>
        )
      }
      attempt={attempt}
      go={words.go}
      going={words.going}
      onGo={go}
      after={
        <details className="door-help">
          <summary>{words.forgot}</summary>
          <p>{words.forgotHelp[0]}</p>
          <p>
            <code>{words.command}</code>
          </p>
          <p>{words.forgotHelp[1]}</p>
          <p>
            <a className="button" href="/reset">
              {words.haveCode}
            </a>
          </p>
          <p>{words.byLink}</p>
        </details>
      }
    >
      <Field
        label={form.name}
        type="text"
        fill="username"
        value={name}
        error={attempt.faults["name"]}
        onType={(value) => {
          setName(value);
          attempt.mend("name");
        }}
      />
      <SecretField
        label={form.password}
        fill="current-password"
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
