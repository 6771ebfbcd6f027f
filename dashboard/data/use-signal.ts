// Reads a signal in a component and follows its changes.
import { useSyncExternalStore } from "react";
import type { Signal } from "./signal.ts";

export function useSignal<T>(signal: Signal<T>): T {
  return useSyncExternalStore(signal.subscribe, signal.get, signal.get);
}
