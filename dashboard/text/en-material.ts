// English texts of the material page: takeoff, schedule, mixing card. Loaded with the page.
import type { CoatTakeoffBody, ZoneTakeoffBody } from "#contract/takeoff.ts";
import type { MaterialReason } from "#core/takeoff/material-check.ts";

type States = Readonly<Record<CoatTakeoffBody["state"], string>>;
type MissingWords = Readonly<Record<CoatTakeoffBody["missing"][number], string>>;
type Bases = Readonly<Record<ZoneTakeoffBody["resin"]["basis"], string>>;

const states: States = { down: "down", pouring: "being poured", next: "next", "to-come": "to come" };
const missing: MissingWords = {
  material: "The sheet says nothing of its material yet.",
  use: "The sheet names no coverage and no film thickness: no litres.",
  kit: "The sheet names no kit: no count of kits.",
  "pot-life": "The sheet names no pot life: no size of a batch.",
  "resin-temp": "Nothing is known of the temperature of the resin: no size of a batch.",
  batch: "No batch can be mixed: too hot for any pail, or too slow a crew. Cool the resin or add people.",
};
const bases: Bases = {
  measured: "measured",
  slab: "not measured: taken as warm as the hottest slab",
  air: "not measured: taken as warm as the air",
  kept: "not measured: taken as from a heated room",
};
const doubts: Readonly<Record<MaterialReason, string>> = {
  "a rate and a film: the use is one of the two": "Both a coverage and a film thickness: the use is one of the two.",
  "volume solids without a dry film": "Volume solids without a dry film.",
  "no kit to split": "Kits may be split, but no kit is named.",
  "is not what its parts hold together": "The kit is not what its parts hold together.",
  "is not in the ratio of the mix": "What the kit holds is not in the ratio of the mix.",
  "two parts of one name": "Two parts of one name.",
  "a mass and a volume: the test was of one of the two":
    "Pot life with both a mass and a volume: the test was of one of the two.",
  "two rows at one temperature": "Two pot lives at one temperature.",
  "longer when hotter": "Pot life longer when hotter.",
  "is missing: what ends the life of a mix decides how big it may be":
    "Pot life without the kind of product: what ends the life of a mix decides how big it may be.",
  "people without what they lay in an hour": "People without what they lay in an hour.",
};

export const enMaterial = {
  title: "Material and crew",
  lead: "What each coat takes, in which batches, with how many people.",
  back: "All zones",
  open: "Batches, clock and mixing card",
  none: "No zone yet.",
  kept: (at: string) => `The server is out of reach: as of ${at}.`,
  states,
  missing,
  bases,
  doubts,
  doubtful: "Not reckoned: the material of the sheet does not agree with itself.",
  openSheet: "Open the sheet",
  unknownSheet: "One coat's sheet is not there.",
  product: "Product",
  sheetId: "Sheet",
  coat: (number: number) => `Coat ${number}`,
  coats: "Coats",
  area: "Area",
  volume: "Volume",
  kitSize: "Kit",
  kits: "Kits",
  kitsOf: (kits: number, size: string) => `${kits} × ${size}`,
  use: "Use",
  batches: "Batches",
  batchesOf: (count: number, size: string) => (count === 1 ? `1 of ${size}` : `${count}, up to ${size}`),
  cap: "Biggest batch",
  life: "Life in the pail",
  laying: "Laying",
  people: "People",
  mixers: (count: number) => (count === 1 ? "1 of them mixes" : `${count} of them mix`),
  personHours: "Person-hours",
  abrade: "If it must be abraded first",
  hours: (low: string, high: string) => `${low} to ${high} of one person`,
  rough: "Hours of abrading: common practice, no source.",
  outAtOnce:
    "One kit is more than may wait in a pail: pour all of it out on the floor at once, in ribbons. Smaller kits would give you time.",
  outruns: "More than this crew lays before it stiffens on the floor: more people, or a smaller kit.",
  order: "Order list",
  orderWithout: (names: string) => `Not in this list, since it could not be reckoned: ${names}.`,
  notReckoned: (reason: string) =>
    `This zone could not be reckoned (${reason}). The others stand; tell whoever keeps the server.`,
  orderLead: "All coats still to come, zone by zone in whole kits unless the sheet lets you split them.",
  orderNone: "No coat is to come.",
  print: "Print",
  copy: "Copy as CSV",
  copied: "Copied.",
  copyByHand: "Copy it from here:",
  crew: "Crew of this zone",
  crewHelp: "Enters the call too: a slower crew needs a longer window.",
  rate: "Lays per hour",
  save: "Save",
  saved: "Saved.",
  saveFailed: "Not saved: the server is out of reach.",
  needPeople: "A whole number from 1 to 100.",
  needRate: "A number above zero.",
  resin: "Resin temperature",
  resinHelp: "Measured in the pail. Counts for 2 h; warm resin dies sooner.",
  resinNow: (degrees: string, basis: string) => `${degrees}, ${basis}`,
  resinAt: (when: string) => `at ${when}`,
  needDegrees: "A temperature, as read.",
  write: "Write it down",
  written: "Written down.",
  clock: "Clock",
  starts: { now: "Start now", latest: "Latest start", next: "When it opens" },
  ifOpens: "Foreseen, not promised: look at the call before you open a pail.",
  notNow: "The call is not pour: this is only to plan by.",
  lastBucket: "Last bucket",
  floorDone: "Floor done",
  fits: "Fits the times of the call.",
  late: {
    start: (by: string) => `Starts after the latest start, ${by}.`,
    "last-mix": (by: string) => `The last bucket comes after ${by}, the latest that the call allows.`,
    finish: (by: string) => `The floor is done after ${by}, the latest that the call allows.`,
  },
  tight: "The pail dies before it is laid",
  number: "No.",
  mixAt: "Mix",
  floorAt: "On the floor",
  laidBy: "Laid by",
  moreRows: (count: number) => `and ${count} more`,
  card: "Mixing card",
  cardOpen: "Open the mixing card",
  cardClose: "Close the card",
  batchOf: (batch: number, all: number) => `Batch ${batch} of ${all}`,
  batchMore: (batch: number) => `Batch ${batch}`,
  earlier: "One batch back",
  later: "One batch on",
  wholeKits: (kits: number) => (kits === 1 ? "1 whole kit" : `${kits} whole kits`),
  noParts: "The sheet prints no mix: follow the label of the kit.",
  stir: (time: string) => `Stir ${time}`,
  rest: (time: string) => `then let it rest ${time}`,
  outWithin: (time: string) => `Out of the pail within ${time}`,
  tooHot: "Resin this warm lasts in no pail: cool it first.",
  start: "Start mixing",
  stages: {
    mixing: "Stir",
    resting: "Let it rest",
    pail: "Out of the pail",
    dead: "Do not lay it",
  },
  stageHelp: {
    mixing: "Scrape sides and bottom.",
    resting: "Do not lay it yet.",
    pail: "Get all of it onto the floor.",
    dead: "Its time in the pail is over.",
  },
  pailUntil: (time: string, left: string) => `In the pail until ${time} (${left})`,
  done: "Out on the floor: next batch",
  discard: "Begun by mistake",
  sound: "Sound and buzz when time is up",
  soundOn: "on",
  soundOff: "off",
  numbers: "Batch numbers",
  numbersHelp: "As on the pails. They stay for the next batch until you change them.",
  numberOf: (part: string) => `Number on ${part}`,
  anyPart: "the pail",
  photograph: "Photograph",
  reading: "Reading the picture …",
  foundCode: (code: string) => `Read: ${code}`,
  noCode: "No code found in the picture: type the number.",
  noReader: "This browser reads no codes: look at the picture and type the number.",
  photoKept: "The picture is in the journal.",
  photoAway: "The picture could not be kept; the number is written down all the same.",
  notYours: "You can look at this. Mixes are written by the crew.",
  cautions: {
    title: "Before you open a pail",
    brief: {
      solvent: "Flames, heaters and sparks out; air moving.",
      isocyanate: "Respirator as the safety sheet asks; others out.",
      amine: "Gloves, sleeves, eye protection.",
      peroxide: "Peroxide and accelerator never meet undiluted.",
    },
    amine:
      "Resins and hardeners burn skin and can make it allergic for life: gloves, sleeves, eye protection. Wash with soap, never with solvent.",
    isocyanate:
      "Isocyanates can cause asthma for life; vapour and mist count. The respirator and the air that the safety sheet asks for; keep visitors out, and everybody who has ever reacted.",
    solvent:
      "Solvent vapour runs along the floor to any flame. Flames, heaters and sparks out before the lid comes off, air moving, extinguisher at hand. Never mist solvent near a flame.",
    peroxide:
      "Peroxide and accelerator never meet undiluted. Keep peroxide cool, away from rags, dust and metal, and dose it as the sheet says.",
    exotherm:
      "A full pail heats itself until it smokes. Pour it out in time. A pail that grows hot: hold it by nothing but its handle, face away, outdoors with it, thin onto sand; if it smokes, stay away.",
    defer: "The product's safety sheet, local code and licensed trades come first.",
  },
} as const;

/** The same shape in every language; only the words differ. */
type Words<T> = {
  readonly [K in keyof T]: T[K] extends string
    ? string
    : T[K] extends (...args: infer A) => string
      ? (...args: A) => string
      : Words<T[K]>;
};
export type MaterialText = Words<typeof enMaterial>;
