// Name and a new password, for the first owner (with the code of the terminal), for an invitation, and for a reset (no name).
import { type ReactNode, useState } from "react";
import { accessText } from "../../text/access.ts";
import { Field } from "../../ui/field.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { DoorForm } from "./door-form.tsx";
import { type NewDraft, newFaults } from "./new-password.ts";
import { SecretField } from "./secret-field.tsx";
import { useAttempt } from "./use-attempt.ts";

interface Props {
  readonly kind: "first" | "invitation" | "reset";
  /** The code is typed; otherwise it came with the address. */
  readonly asksCode: boolean;
  readonly help: ReactNode;
  readonly onGo: (draft: { readonly code: string; readonly name: string; readonly password: string }) => Promise<void>;
  readonly after?: ReactNode;
}

export function NewAccountForm({ kind, asksCode, help, onGo, after }: Props) {
  const { text } = useVoice();
  const all = accessText(text);
  const words = all[kind];
  const [code, setCode] = useState("");
  const [name, setName] = useState("");
  const [password, setPassword] = useState("");
  const attempt = useAttempt();
  const named = kind !== "reset";
  const gone = kind === "first" ? all.first.wrong : kind === "reset" ? all.reset.gone : all.invitation.gone;
  const draft: NewDraft = { ...(asksCode ? { code } : {}), ...(named ? { name } : {}), password };
  const go = () =>
    attempt.run(
      newFaults(draft, all),
      () => onGo({ code: code.trim(), name: name.trim(), password }),
      ({ status }) => {
        if (status === 409) return kind === "first" ? all.first.known : all.invitation.taken;
        return status === 401 || status === 403 || status === 404 || status === 410 ? gone : null;
      },
    );
  const typed = (set: (value: string) => void, field: string) => (value: string) => {
    set(value);
    attempt.mend(field);
  };
  return (
    <DoorForm
      title={words.title}
      help={help}
      attempt={attempt}
      go={words.go}
      going={words.going}
      onGo={go}
      after={after}
    >
      {asksCode && (
        <Field
          label={kind === "first" ? all.first.code : all.reset.code}
          type="text"
          fill="one-time-code"
          value={code}
          error={attempt.faults["code"]}
          onType={typed(setCode, "code")}
        />
      )}
      {named && (
        <Field
          label={all.form.name}
          help={all.invitation.nameHelp}
          type="text"
          fill="username"
          value={name}
          error={attempt.faults["name"]}
          onType={typed(setName, "name")}
        />
      )}
      <SecretField
        label={all.form.newPassword}
        fill="new-password"
        value={password}
        error={attempt.faults["password"]}
        onType={typed(setPassword, "password")}
      />
    </DoorForm>
  );
}
