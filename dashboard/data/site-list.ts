// Tells whoever shows the list of sites that it is another one now.
import { signalOf } from "./signal.ts";

const times = signalOf(0);
export const siteList = {
  signal: times,
  changed: () => times.set(times.get() + 1),
};
