// The call as a big word with its sign; hollow when the board is old, broken when there is no data.
import type { CallBody } from "#contract/call.ts";
import { isBlind } from "../text/sentence.ts";
import { Glyph, type Sign } from "./glyph.tsx";
import { useVoice } from "./voice.tsx";

export function signOf(call: Pick<CallBody, "call" | "limiting">): Sign {
  return isBlind(call) ? "blind" : call.call;
}

interface Props {
  readonly call: Pick<CallBody, "call" | "limiting">;
  readonly old: boolean;
}

export function CallWord({ call, old }: Props) {
  const { text } = useVoice();
  const sign = signOf(call);
  return (
    <p className={`call call-${sign}${old ? " call-old" : ""}`}>
      <Glyph sign={sign} />
      <span>{text.words[call.call]}</span>
    </p>
  );
}
