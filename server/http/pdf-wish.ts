// What may be asked of a document: its language, and the units that stand first in it.
import Type from "typebox";

/** Both systems stand in every figure whatever is asked; `us` and `si` say which stands first. */
export const PdfWishQuery = Type.Object(
  { language: Type.Optional(Type.Enum(["en", "es"])), units: Type.Optional(Type.Enum(["both", "us", "si"])) },
  { additionalProperties: false },
);

export const wishOf = ({ language = "en", units = "both" }: Type.Static<typeof PdfWishQuery>) =>
  ({ language, units: units === "si" ? "si" : "us" }) as const;
