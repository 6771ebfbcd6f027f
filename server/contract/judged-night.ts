// What a night file comes to when it is judged and not kept.
import Type from "typebox";
import { CallSchema } from "#contract/call.ts";

/** `names`: of zones, by their id. `asked`: moments that the file names; `calls` are of the last of them and some between. */
export const JudgedNightSchema = Type.Object(
  {
    id: Type.String(),
    timezone: Type.String(),
    names: Type.Record(Type.String(), Type.String()),
    calls: Type.Array(CallSchema),
    asked: Type.Integer(),
  },
  { additionalProperties: false },
);
export type JudgedNightBody = Type.Static<typeof JudgedNightSchema>;
