// Spanish: one sentence for each rule, for when it is the rule to read first.
import type { RuleFacts, RuleSentences, Sentence } from "./facts.ts";

const say = (lead: string, rest = ""): Sentence => ({ lead, rest });
const at = (f: RuleFacts) => (f.place === null ? "" : ` en ${f.place}`);
const limit = (f: RuleFacts) => (f.limit === null ? "" : `Límite ${f.limit}.`);
const limitAfter = (f: RuleFacts) => (f.limit === null ? "" : `, límite ${f.limit}`);
const since = (f: RuleFacts) => (f.since === null ? "" : ` desde ${f.since}`);
const detail = (f: RuleFacts) => (f.detail === null ? "" : `: ${f.detail}`);
const join = (...parts: string[]) => parts.filter((part) => part !== "").join(" ");
const dewPoint = (below: boolean) => (below ? "debajo del punto de rocío" : "sobre el punto de rocío");

const reads = (f: RuleFacts, what: string, unknown: string) =>
  f.measured === null ? `${unknown}${at(f)}.` : `${what} ${f.measured}${at(f)}.`;
export const esRules: RuleSentences = {
  "data-missing": (f) =>
    say(
      f.kind === "slab"
        ? "Todavía sin lectura de la losa."
        : f.kind === "air"
          ? "Todavía sin lectura del aire."
          : "Todavía sin lectura.",
      "Revise el sensor, o mida a mano losa, aire y humedad.",
    ),
  "data-stale": (f) =>
    f.kind === "silent-probe"
      ? say(`Un sensor de losa no lee${at(f)}.`, "Conserva su voto hasta que alguien lo mueva o lo retire. Revíselo.")
      : say(
          f.ago === null ? "Las lecturas son muy viejas." : `Sin lectura desde hace ${f.ago}.`,
          join(
            f.lastCall === null ? "" : `La última decisión fue ${f.lastCall}; ahora no vale.`,
            "Revise el sensor o mida a mano.",
          ),
        ),
  "data-fault": (f) => say(`Falla de sensor${at(f)}${detail(f)}.`, "Revise el sensor o mida a mano."),
  "data-conflict": (f) =>
    say(
      `Las lecturas no coinciden${f.measured === null ? "" : `, diferencia ${f.measured}`}${at(f)}.`,
      join(limit(f), "Mida a mano para aclararlo."),
    ),
  "unit-doubt": (f) =>
    say(
      `${f.measured === null ? "Un número" : f.measured}${at(f)} solo tiene sentido en otra unidad.`,
      "Confirme la unidad de ese sensor.",
    ),
  "clock-doubt": (f) =>
    say(
      `El reloj del sensor${at(f)} no es de fiar.`,
      join(f.size === null ? "" : `Diferencia ${f.size}.`, "Póngalo en hora."),
    ),
  "sheet-invalid": (f) =>
    f.kind?.endsWith(": unconfirmed") === true
      ? say(
          `Nadie ha cotejado la ficha ${f.kind.split(":")[0] ?? ""}.`,
          "No es límite hasta que alguien la coteje con la hoja del producto.",
        )
      : say(`La ficha no puede ser correcta${detail(f)}.`, "Compárela con la ficha técnica del producto y corríjala."),
  "record-missing": (f) =>
    say(
      `No hay registro de lo que está en el piso${detail(f)}.`,
      "Anote la última mano, o el pulido de la losa desnuda.",
    ),
  hold: (f) => say(`Detenido${since(f)}${detail(f)}.`, "Libérelo cuando la causa haya pasado."),
  "filler-soft": (f) =>
    say(
      "El relleno de grietas todavía no está duro.",
      join(
        f.measured === null ? "A esta temperatura de la losa no avanza." : `Duro en unos ${f.measured}.`,
        f.kind === "estimate" ? "Parte de sus horas es estimación nuestra: tóquelo." : "",
        "No pula ni aplique hasta entonces.",
      ),
    ),
  "film-soft": (f) =>
    f.kind === "window-closed"
      ? say(
          `La ventana cerró${f.since === null ? "" : ` ${f.since}`} con la película blanda.`,
          join(
            f.measured === null ? "" : `Lleva ${f.measured} de su mínimo.`,
            "Una película blanda nunca se lija: espere a que esté dura.",
          ),
        )
      : say(
          `Película encontrada blanda${f.since === null ? "" : ` ${f.since}`}.`,
          "Una película blanda nunca se lija. Tóquela más tarde y anote lo que vea.",
        ),
  "cure-short": (f) =>
    say(
      f.measured === null
        ? "A la película le falta curar para la siguiente mano."
        : `La película lleva ${f.measured} de su curado mínimo.`,
      f.opens === null ? "" : `La ventana abre como a las ${f.opens}.`,
    ),
  blush: (f) =>
    say(
      `Hubo condensación en la película${f.measured === null ? "" : ` por ${f.measured}`}${at(f)}: velo graso.`,
      f.steps === null ? "" : `Sigue: ${f.steps}, luego aplicar.`,
    ),
  "inspect-due": (f) =>
    say(
      f.measured === null
        ? "Revise la película."
        : f.kind === "gap"
          ? `Revise la película: sin lectura por ${f.measured}.`
          : `Revise la película: ${f.measured} muy cerca del punto de rocío.`,
      join(limit(f), "Pase un trapo, mire con luz rasante y anote lo que vea."),
    ),
  "window-closed": (f) =>
    say(
      `La ventana cerró${f.since === null ? (f.closes === null ? "" : ` ${f.closes}`) : ` ${f.since}`}.`,
      f.steps === null ? "Lijar, limpiar, luego aplicar." : `Sigue: ${f.steps}, luego aplicar.`,
    ),
  "abrasion-stale": (f) =>
    say(
      f.measured === null ? "Se lijó hace demasiado." : `Se lijó hace ${f.measured}${limitAfter(f)}.`,
      f.steps === null ? "Lije de nuevo y limpie." : `Sigue: ${f.steps}, luego aplicar.`,
    ),
  dust: (f) => say(`Hay polvo en el piso${since(f)}.`, "Límpielo, luego aplique."),
  frost: (f) =>
    say(
      `Hay escarcha en la losa${at(f)}.`,
      join(
        f.measured === null ? "" : `Losa ${f.measured}${f.limit === null ? "" : `, punto de escarcha ${f.limit}`}.`,
        "Caliente la losa y deje que seque.",
      ),
    ),
  condensing: (f) =>
    say(
      f.size === null
        ? "El piso está sudando."
        : `El piso está sudando: losa ${f.size} ${dewPoint(f.negative)}${at(f)}.`,
      "Nada se aplica sobre piso mojado.",
    ),
  "surface-damp": (f) =>
    say(
      f.kind === "found"
        ? `Piso encontrado húmedo${f.since === null ? "" : ` ${f.since}`}.`
        : `El piso está húmedo${since(f)}.`,
      join(
        f.measured === null ? "" : `Quedan unos ${f.measured} de agua${limitAfter(f)}.`,
        "Deje que seque y anótelo cuando esté seco.",
      ),
    ),
  "slab-cold": (f) => say(reads(f, "Losa muy fría:", "Temperatura de losa desconocida"), limit(f)),
  "slab-hot": (f) => say(reads(f, "Losa muy caliente:", "Temperatura de losa desconocida"), limit(f)),
  "air-cold": (f) => say(reads(f, "Aire muy frío:", "Temperatura del aire desconocida"), limit(f)),
  "air-hot": (f) => say(reads(f, "Aire muy caliente:", "Temperatura del aire desconocida"), limit(f)),
  "air-damp": (f) => say(reads(f, "Aire muy húmedo:", "Humedad desconocida"), limit(f)),
  "air-dry": (f) => say(reads(f, "Aire muy seco:", "Humedad desconocida"), limit(f)),
  "vapour-low": (f) => say(reads(f, "Muy poca agua en el aire para curar:", "Agua en el aire desconocida"), limit(f)),
  "dew-margin": (f) =>
    say(
      f.size === null
        ? `Distancia al punto de rocío desconocida${at(f)}.`
        : `Losa ${f.size} ${dewPoint(f.negative)}${at(f)}.`,
      limit(f),
    ),
  "slab-rising": (f) =>
    say(
      `La losa se está calentando${f.measured === null ? "" : ` ${f.measured}`}${at(f)}.`,
      join(limit(f), "Una losa que se calienta hace burbujas: espere a que esté estable o bajando."),
    ),
  "slab-moisture": (f) =>
    say(
      f.measured === null ? "No hay prueba de humedad de la losa." : `Humedad en la losa ${f.measured}.`,
      join(limit(f), f.detail === null ? "" : `Prueba: ${f.detail}.`),
    ),
  "resin-temp": (f) =>
    say(
      f.measured === null ? "Temperatura de la resina desconocida." : `Resina a ${f.measured}.`,
      join(
        f.kind === "below-dew-point"
          ? `Más fría que el punto de rocío${f.limit === null ? "" : `, ${f.limit}`}: suda.`
          : limit(f),
        "Lleve las cubetas a temperatura y mida de nuevo.",
      ),
    ),
  "hand-check": (f) =>
    say(
      "Revise a mano.",
      join(
        f.size === null
          ? ""
          : `Losa ${f.size} ${dewPoint(f.negative)}: pasa por menos que su incertidumbre${limitAfter(f)}.`,
        "Mida losa, aire y humedad.",
      ),
    ),
  "not-sustained": (f) =>
    say(
      f.measured === null
        ? "No se sabe si va bien por una hora completa."
        : "Bien ahora, pero aún no por una hora completa.",
      f.measured === null ? "" : `Bien por ${f.measured}${f.limit === null ? "" : ` de ${f.limit}`}.`,
    ),
  "finish-late": (f) =>
    say(
      `El final del piso quedaría después de que cierra la ventana${f.closes === null ? "" : ` ${f.closes}`}.`,
      f.fits === null ? "" : `Alcanza para ${f.fits}: divida en una junta, o lije después.`,
    ),
  "night-unknown": () =>
    say(
      "No se sabe cómo viene la noche.",
      "Anote la mínima y el punto de rocío de esta noche, o espere un día de lecturas.",
    ),
  "night-dew": (f) =>
    say(
      f.size === null
        ? "Es probable que haya condensación en la mano fresca esta noche."
        : `La losa puede bajar a ${f.size} ${dewPoint(f.negative)}${f.since === null ? "" : ` a las ${f.since}`}.`,
      join(limit(f), f.nightHolds === null ? "" : `Probabilidad de que la noche aguante ${f.nightHolds}.`),
    ),
  "night-cold": (f) =>
    say(
      f.measured === null
        ? "La noche será probablemente muy fría para la mano."
        : `La losa puede bajar a ${f.measured} en la noche.`,
      join(limit(f), f.nightHolds === null ? "" : `Probabilidad de que la noche aguante ${f.nightHolds}.`),
    ),
};
