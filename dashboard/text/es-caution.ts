// Spanish texts of the gate before a step with solvent.
import type { CautionText } from "./en-caution.ts";

export const esCaution: CautionText = {
  with: "¿Con qué?",
  washed: { no: "Agua", yes: "Solvente" },
  cleaned: { no: "Aspiradora, en seco", yes: "Solvente" },
  title: "Antes del solvente",
  coat: "Según su ficha esta mano lleva solvente.",
  why: "El vapor del solvente pesa más que el aire: corre por el piso hasta cualquier llama, piloto o alambre al rojo.",
  confirm:
    "Ya miré: sin llama, calefactor, chispa ni herramienta caliente en este cuarto ni adonde va su aire, y está ventilado.",
  need: "Mire, luego confirme.",
  held: (since) =>
    `Alto: según la bitácora un calefactor arde en este cuarto desde ${since}. Apáguelo, anote «Calefactor no», ventile el cuarto y luego siga.`,
  heldRest: "Si su escape sale afuera, anote otra vez «Calefactor sí» y dígalo.",
  said: "solvente; sin llama, ventilado: confirmado",
};
