// How far the engine lets its heap grow before it collects: near what is held, instead of up to four times that.
import { setFlagsFromString } from "node:v8";

/**
 * Share of what is held that may be added before old objects are collected, percent. The engine's own choice follows the memory
 * of the machine: on a large one a server of many zones held five times what it needed.
 */
const GROWING_PERCENT = 40;

/** To be called first of all in the process; what an operator gave the program (`node --heap-growing-percent=…`) stands. */
export function keepHeapNear(): void {
  if (!process.execArgv.some((flag) => flag.includes("heap-growing-percent")))
    setFlagsFromString(`--heap-growing-percent=${GROWING_PERCENT}`);
}
