// Live updates to browsers (server-sent events): a snapshot, then changes, numbered, with the server's start id.
import Type from "typebox";
import { AlarmSchema } from "#contract/alarm.ts";
import { BoardSchema, BoardZoneSchema, NodeStateSchema } from "#contract/board.ts";
import { CallSchema, ConditionsSchema } from "#contract/call.ts";
import { JournalEntrySchema } from "#contract/journal.ts";
import { Id, IsoTime } from "#contract/primitives.ts";

const closed = { additionalProperties: false } as const;

/**
 * `event:` is the key, `data:` the JSON of the schema, `id:` is `{startId}-{sequence}`.
 * `zone` carries a zone of the board whole (past strip, outlook) after its call changed or its outlook was renewed.
 * A slow client gets the latest `conditions` and `zone` per zone; `call` and `alarm` are never coalesced.
 */
export const STREAM_EVENTS = {
  snapshot: BoardSchema,
  call: CallSchema,
  conditions: Type.Object({ zone: Id, at: IsoTime, conditions: ConditionsSchema }, closed),
  zone: BoardZoneSchema,
  journal: JournalEntrySchema,
  node: NodeStateSchema,
  /** An alarm as it stands after one of its steps. */
  alarm: AlarmSchema,
  /** Every fifteen seconds, so that silence of the server is seen. */
  beat: Type.Object({ at: IsoTime }, closed),
} as const;
export type StreamEvent = keyof typeof STREAM_EVENTS;
export type StreamBody<E extends StreamEvent> = Type.Static<(typeof STREAM_EVENTS)[E]>;

export function streamId(startId: string, sequence: number): string {
  return `${startId}-${sequence}`;
}
