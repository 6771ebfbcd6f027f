// What every part of the screen needs to speak: the dictionary, the clock of the site, the units, and the site's time.
import { createContext, useContext } from "react";
import type { Voice } from "../text/sentence.ts";

const VoiceContext = createContext<Voice | null>(null);
export const VoiceProvider = VoiceContext.Provider;

export function useVoice(): Voice {
  const voice = useContext(VoiceContext);
  if (voice === null) throw new Error("no voice above this component");
  return voice;
}
