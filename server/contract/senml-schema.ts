// The shape of a SenML record (RFC 8428, table 1). Unknown labels are the RFC's business, see senml.ts.
import Type from "typebox";

export const SenmlRecordSchema = Type.Object({
  bn: Type.Optional(Type.String()),
  bt: Type.Optional(Type.Number()),
  bu: Type.Optional(Type.String()),
  bv: Type.Optional(Type.Number()),
  bs: Type.Optional(Type.Number()),
  bver: Type.Optional(Type.Number()),
  n: Type.Optional(Type.String()),
  u: Type.Optional(Type.String()),
  v: Type.Optional(Type.Number()),
  vs: Type.Optional(Type.String()),
  vb: Type.Optional(Type.Boolean()),
  vd: Type.Optional(Type.String()),
  s: Type.Optional(Type.Number()),
  t: Type.Optional(Type.Number()),
  ut: Type.Optional(Type.Number()),
});
export type SenmlRecord = Type.Static<typeof SenmlRecordSchema>;
