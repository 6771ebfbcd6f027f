// What one rule means and what to do about it.
import type { RuleId } from "#core/judge/call.ts";
import { helpText } from "../../text/help.ts";
import { useVoice } from "../../ui/voice.tsx";
import "./help.css";

export default function RuleHelp({ rule }: { readonly rule: RuleId }) {
  const words = helpText(useVoice().text);
  const { means, todo } = words.rules[rule];
  return (
    <div className="help">
      <p>{means}</p>
      <p>
        <b>{words.todo}</b> {todo}
      </p>
      <p className="help-defer">{words.defer}</p>
    </div>
  );
}
