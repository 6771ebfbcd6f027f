// A zone: why its call is what it is, and the journal that changes it.
import type { BoardZoneBody } from "#contract/board.ts";
import type { BoardStore } from "../data/board-store.ts";

interface Props {
  readonly site: string;
  readonly item: BoardZoneBody;
  readonly old: boolean;
  readonly saidMs: number;
  readonly store: BoardStore;
}

export default function ZoneView({ item }: Props) {
  return <p className="empty">{item.zone.name}</p>;
}
