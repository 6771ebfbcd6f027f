// What the sheets' pages ask of the server. Loaded with them.
import type { SheetBody } from "#contract/sheet.ts";
import type { SheetVersionBody } from "#contract/sheet-version.ts";
import { api, ask, change } from "./api.ts";

const at = (sheet: string) => `/sheets/${encodeURIComponent(sheet)}`;
/** A picture goes over a thin line. */
const PATIENCE_MS = 60_000;

export const sheetsApi = {
  all: () => ask<readonly SheetBody[]>("/sheets"),
  versions: (sheet: string) => ask<SheetVersionBody[]>(`${at(sheet)}/versions`),
  save: (sheet: SheetBody) => ask<SheetBody>("/sheets", { ...change("POST", sheet), method: "PUT" }),
  confirm: (sheet: string, revision: number, by: string | null) =>
    ask<SheetBody>(`${at(sheet)}/confirm`, change("POST", by === null ? { revision } : { revision, by })),
  sendPhoto: (picture: Blob) =>
    ask<{ readonly id: string }>("/sheet-photos", {
      signal: AbortSignal.timeout(PATIENCE_MS),
      method: "POST",
      headers: { ...change("POST").headers, "content-type": picture.type },
      body: picture,
    }),
  photoHref: (photo: string) => `${api.root}/sheet-photos/${photo}`,
  smallPhotoHref: (photo: string) => `${api.root}/sheet-photos/${photo}/small`,
};
