// Errors over HTTP: RFC 9457 problem details that name the field and the reason.
import Type from "typebox";
import type { Fault } from "#contract/faults.ts";

export const ProblemSchema = Type.Object({
  type: Type.String(),
  title: Type.String(),
  status: Type.Integer(),
  detail: Type.Optional(Type.String()),
  instance: Type.Optional(Type.String()),
  faults: Type.Optional(Type.Array(Type.Object({ field: Type.String(), reason: Type.String() }))),
});
export type ProblemBody = Type.Static<typeof ProblemSchema>;

export const PROBLEM_MEDIA_TYPE = "application/problem+json";

export function problem(status: number, title: string, faults: readonly Fault[] = [], detail?: string): ProblemBody {
  return {
    type: "about:blank",
    title,
    status,
    ...(detail === undefined ? {} : { detail }),
    ...(faults.length === 0 ? {} : { faults: faults.map((fault) => ({ ...fault })) }),
  };
}
