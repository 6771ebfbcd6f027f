// The one piece of memory in which an ensemble is reckoned, and where its columns begin in it. At every step the engine looks
// anew at each array that is read or written (what it is, how long, where it lies), so a pass over one array with many
// columns takes half the time of a pass over many arrays; and asking for eight hundred pieces is dear.
import { MEMBERS } from "#core/outlook/draws.ts";
import { MEMBER_STEPS, TAKEN, TAKEN_END } from "#core/outlook/steps-ahead.ts";

// What all members share, at the steps that are taken. The outdoors as expected, and how far they may stray from it.
export const OUT_C = 0;
export const OUT_STRAY_K = TAKEN_END;
export const OUT_DEW_C = 2 * TAKEN_END;
export const OUT_DEW_STRAY_K = 3 * TAKEN_END;
/** Hottest minus coldest spot, K. */
export const HOT_K = 4 * TAKEN_END;
/** Room and outdoors of yesterday's hours, for members that follow these. */
export const PATTERN = { roomC: 5 * TAKEN_END, outC: 6 * TAKEN_END } as const;
/** Room and outdoors as they stand, for the others. */
export const AS_NOW = { roomC: 7 * TAKEN_END, outC: 8 * TAKEN_END } as const;

// What the passes over one member leave for the next ones; all members use it in turn.
/** Outdoors, what the slab feels above it, its surface, °C. */
export const MEMBER_OUT_C = 9 * TAKEN_END;
export const FELT_C = 10 * TAKEN_END;
export const SURFACE_C = 11 * TAKEN_END;
/** Vapour in the room, Pa. */
export const VAPOUR_PA = 12 * TAKEN_END;
/** One place each: the walls, °C, and the humidity of the goods, 0 to 1, where a pass has come to. */
export const WALL_C = 13 * TAKEN_END;
export const GOODS = WALL_C + 1;

const MEMBERS_BEGIN = GOODS + 1;
/** Columns of a member, from where the member begins; its first steps are the taken ones until they are laid out. */
export const COLD_C = 0;
export const HOT_C = MEMBER_STEPS;
export const ROOM_C = 2 * MEMBER_STEPS;
export const DEW_C = 3 * MEMBER_STEPS;
const MEMBER_LENGTH = 4 * MEMBER_STEPS;

export const ensembleMemory = (): Float64Array => new Float64Array(MEMBERS_BEGIN + MEMBERS * MEMBER_LENGTH);

/** Where a member begins. */
export const beginOf = (member: number): number => MEMBERS_BEGIN + member * MEMBER_LENGTH;

/** A column over all steps, by where it begins. */
export const columnAt = (memory: Float64Array, begin: number): Float64Array =>
  memory.subarray(begin, begin + MEMBER_STEPS);

/** Writes what a column over all steps is at the steps that are taken. */
export function writeTaken(memory: Float64Array, begin: number, column: Float64Array): void {
  for (let place = 0; place < TAKEN_END; place++) memory[begin + place] = column[TAKEN[place] as number] as number;
}
