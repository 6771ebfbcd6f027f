// What a record is and is not. Plain words, the same in every form; a page in another language says it in its own.

export const RECORD_NOTICE: readonly string[] = [
  "This record says whether the limits that a person entered from the data sheet were met by what was measured. It holds no signature, certifies nothing and is no warranty.",
  "The product's own data sheet and safety sheet, the inspector and the contract stand above it.",
  "Gaps, faults and late readings are marked and never filled in. Nothing in the journal is ever edited: a correction is a new entry that points at the old one.",
];

export const HAND_OVER_NOTICE: readonly string[] = [
  "Not before the times given here; they are reckoned from the film as it was measured and the hours that the data sheet prints, and are no promise.",
  "Where it says to ask the data sheet, the sheet as entered has no hours for that use.",
  "The product's own data sheet and safety sheet stand above this page. Keep vents and exhaust of heaters open to the outside as local code and their makers say, also where doors are to stay shut.",
];
