// One try at getting in: going, refused with words, or told to wait; the wait counts down.
import { useEffect, useState } from "react";
import { ApiFailure } from "../../data/api.ts";
import { accessText } from "../../text/access.ts";
import { useVoice } from "../../ui/voice.tsx";

export type Faults = Readonly<Record<string, string>>;

export interface Attempt {
  readonly going: boolean;
  /** What is wrong with the whole, in words. */
  readonly trouble: string | null;
  readonly faults: Faults;
  /** Seconds until the server takes another try. */
  readonly waitS: number;
  /** `check` gives what is wrong before the server is asked. `explain` says what a refusal means here; null = the server's own words. */
  run(check: Faults, go: () => Promise<void>, explain: (failure: ApiFailure) => string | null): void;
  mend(field: string): void;
}

/** A password's faults come as the server's words; what begins so is said in the person's language. */
function passwordWords(reason: string, words: ReturnType<typeof accessText>["form"]): string {
  if (reason.startsWith("is too short")) return words.short(12);
  if (reason.startsWith("is too long")) return words.long(128);
  if (reason === "is not the password") return words.notPassword;
  if (reason.startsWith("is one piece")) return words.repeated;
  return reason.startsWith("is made of") ? words.guessed : reason;
}

export function useAttempt(): Attempt {
  const { text } = useVoice();
  const words = accessText(text).form;
  const [going, setGoing] = useState(false);
  const [trouble, setTrouble] = useState<string | null>(null);
  const [faults, setFaults] = useState<Faults>({});
  const [untilMs, setUntil] = useState(0);
  const [nowMs, setNow] = useState(() => Date.now());
  useEffect(() => {
    if (untilMs <= Date.now()) return;
    const timer = setInterval(() => {
      setNow(Date.now());
      if (Date.now() >= untilMs) clearInterval(timer);
    }, 500);
    return () => clearInterval(timer);
  }, [untilMs]);

  const failed = (cause: unknown, explain: (failure: ApiFailure) => string | null) => {
    if (!(cause instanceof ApiFailure) || (cause.kind === "reach" && cause.status !== 429)) {
      return setTrouble(words.failed);
    }
    if (cause.status === 429) {
      setNow(Date.now());
      return setUntil(Date.now() + Math.max(1, cause.waitS) * 1000);
    }
    const explained = explain(cause);
    const told = Object.fromEntries(
      cause.faults.map(({ field, reason }) => [field.replace(/^\//, ""), passwordWords(reason, words)]),
    );
    if (explained === null && Object.keys(told).length > 0) setFaults(told);
    else setTrouble(explained ?? (cause.status === 403 ? words.barred : cause.message));
  };
  return {
    going,
    trouble,
    faults,
    waitS: Math.max(0, Math.ceil((untilMs - nowMs) / 1000)),
    run(check, go, explain) {
      setTrouble(null);
      setFaults(check);
      if (Object.keys(check).length > 0 || going) return;
      setGoing(true);
      go()
        .catch((cause: unknown) => failed(cause, explain))
        .finally(() => setGoing(false));
    },
    mend: (field) => setFaults(({ [field]: _mended, ...rest }) => rest),
  };
}
