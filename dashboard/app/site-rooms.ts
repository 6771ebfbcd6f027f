// What a page of a site is given.
import type { ComponentType } from "react";
import type { BoardBody } from "#contract/board.ts";
import type { BoardStore } from "../data/board-store.ts";

export interface RoomProps {
  readonly site: string;
  /** What follows the page in the address: a zone, a step; null without. */
  readonly part: string | null;
  readonly board: BoardBody;
  /** The board is that of another time: the server is out of reach. */
  readonly old: boolean;
  /** When the server last spoke, in the site's time. */
  readonly saidMs: number;
  readonly store: BoardStore;
}

export type Room = ComponentType<RoomProps>;
