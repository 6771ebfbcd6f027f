// Which half of the night people ask about. Pure.
import { localFields } from "../../units/zone-time.ts";

export type Side = "tonight" | "morning";

/** From three to noon people ask what the night has brought, otherwise what the next one will. */
export function sideOf(nowMs: number, timezone: string): Side {
  const { hour } = localFields(nowMs, timezone);
  return hour >= 3 && hour < 12 ? "morning" : "tonight";
}
