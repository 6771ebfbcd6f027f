// English texts of the gate before a step with solvent. The caution above it names who rules.

export const enCaution = {
  with: "With what?",
  washed: { no: "Water", yes: "Solvent" },
  cleaned: { no: "Vacuum, dry", yes: "Solvent" },
  title: "Before solvent",
  coat: "By its sheet this coat carries solvent.",
  why: "Solvent vapour is heavier than air: it runs along the floor to any flame, pilot light or glowing wire.",
  confirm:
    "I have looked: no flame, heater, spark or hot tool in this room or where its air goes, and it is ventilated.",
  need: "Look, then confirm.",
  held: (since: string) =>
    `Hold: by the journal a heater burns in this room since ${since}. Put it out, log “Heating off”, air the room, then go on.`,
  heldRest: "If its exhaust goes outside, log “Heating on” again and say so.",
  said: "solvent; no flame, ventilated: confirmed",
};

export type CautionText = typeof enCaution;
