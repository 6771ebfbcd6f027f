// Spanish help in place. Loaded when somebody asks.
import type { HelpText } from "./en-help.ts";

const rules: HelpText["rules"] = {
  "data-missing": {
    means: "Todavía no llega lectura de la losa, o del aire con su humedad. Sin ellas no se puede juzgar nada.",
    todo: "Revise que el sensor tenga corriente y alcance, o mida a mano losa, aire y humedad: vale por media hora.",
  },
  "data-stale": {
    means: "La última lectura es demasiado vieja para hablar del piso de ahora. Una buena noticia vieja no es noticia.",
    todo: "Revise el sensor. Mientras no hable, mida a mano; mueva o retire la sonda que ya no está en la zona.",
  },
  "data-fault": {
    means: "Un sensor se porta como uno roto, mojado, despegado de la losa o al sol. No se cree su número.",
    todo: "Mírelo: ¿pegado, seco, lejos del sol y del calefactor? Mida a mano; aválelo solo si está bien.",
  },
  "data-conflict": {
    means: "Dos lecturas que deberían coincidir no coinciden, y nada en el edificio lo explica. Una está mal.",
    todo: "Ponga un medidor junto a las dos y anótelo. Mueva, arregle o retire la que falla.",
  },
  "unit-doubt": {
    means: "Un número solo tiene sentido en otra unidad que la que dice el sensor.",
    todo: "Mida a mano el mismo punto; luego confirme o corrija la unidad de esa sonda.",
  },
  "clock-doubt": {
    means: "El reloj del sensor y el orden de sus mensajes no cuadran, y la diferencia importa para un límite.",
    todo: "Ponga el reloj en hora o reinicie el sensor. Mientras tanto cuentan las mediciones a mano.",
  },
  "sheet-invalid": {
    means: "Una ficha de este piso se contradice, o nadie la ha cotejado con la hoja del producto.",
    todo: "Abra la ficha, compare cada número con la hoja impresa, corríjala y confírmela. Manda la hoja impresa.",
  },
  "record-missing": {
    means: "No hay registro de lo que está en el piso, o falta el pulido de una losa desnuda.",
    todo: "Anote la última mano con sus horas, o el pulido. Si nadie sabe, averígüelo antes de aplicar nada.",
  },
  hold: {
    means: "Alguien detuvo la zona. Las cuentas no levantan lo que una persona paró.",
    todo: "Pregunte quién la detuvo y por qué. Libérela cuando la causa haya pasado.",
  },
  "filler-soft": {
    means:
      "El relleno de grietas no está duro según sus horas a esta temperatura. Pulido o cubierto antes, se embarra y se hunde.",
    todo: "Espere y luego tóquelo. Siga las horas de la ficha del relleno.",
  },
  "film-soft": {
    means:
      "La película está blanda: así se encontró, o le falta su mínimo y la ventana ya cerró. Blanda, se rasga al lijar.",
    todo: "Espere y tóquela de nuevo, o caliente la losa si la ficha lo permite. Nunca lije ni cubra una película blanda.",
  },
  "cure-short": {
    means: "La película no ha ganado su curado mínimo. Cuenta el punto más frío; las horas frías ganan poco.",
    todo: "Espere a que abra la ventana. Con la losa tibia gana más rápido; la ficha dice cuánto calor admite.",
  },
  blush: {
    means:
      "Hubo condensación en la película cuando aún era sensible, o se encontró grasosa. El velo puede no verse y despega la siguiente mano.",
    todo: "Haga los pasos que pide la ficha, en su orden, y anote cada uno. El agua de enjuague debe correr sin formar gotas.",
  },
  "inspect-due": {
    means:
      "La película estuvo un rato muy cerca del punto de rocío, o no hubo lecturas mientras era sensible. Puede tener velo.",
    todo: "Pase un trapo limpio y húmedo, mire con luz rasante, tóquela y anote lo que vea.",
  },
  "window-closed": {
    means: "La ventana cerró: la película está demasiado dura para que la siguiente mano agarre sola.",
    todo: "Lije toda la zona hasta un mate parejo, quite el polvo y luego aplique. La ficha dice qué grano.",
  },
  "abrasion-stale": {
    means: "El lijado tiene más de un día: la superficie se ha pisado y ha envejecido.",
    todo: "Lije otra vez, ligero, y limpie.",
  },
  dust: {
    means:
      "El piso se lijó o se pulió y no se ha limpiado, o se encontró con polvo. Una mano sobre polvo se pega al polvo.",
    todo: "Aspire y luego pase un trapo; no barra en seco. Anótelo.",
  },
  frost: {
    means: "La losa está bajo cero y en su punto de escarcha: hay hielo o está por haber.",
    todo: "Caliente la losa despacio, deje que se vaya el agua y seque el piso, y luego mírelo.",
  },
  condensing: {
    means: "El punto más frío de la losa está en el punto de rocío o debajo: ahí se forma agua ahora, se vea o no.",
    todo: "Caliente la losa o seque el aire, primero la losa. Nada se aplica sobre piso mojado.",
  },
  "surface-damp": {
    means: "El piso se lavó, se encontró húmedo, o según el balance de agua el rocío no se ha secado.",
    todo: "Mueva el aire y espere. Cuando un trapo salga seco, anote lo que encontró.",
  },
  "slab-cold": {
    means:
      "La sonda más fría de la losa está debajo del mínimo de la ficha. El aire dice poco: la losa va horas atrás.",
    todo: "Caliente la losa, no solo el aire, o espere a la tarde. El plan de calor dice cuánto tarda.",
  },
  "slab-hot": {
    means: "La sonda más caliente de la losa pasa el máximo de la ficha: poca vida de mezcla, burbujas, mal flujo.",
    todo: "Dé sombra, ventile, o aplique cuando refresque por la tarde.",
  },
  "air-cold": {
    means: "El aire está más frío de lo que permite la ficha. La resina se espesa y cura tarde.",
    todo: "Caliente el cuarto con el escape hacia afuera, o espere.",
  },
  "air-hot": {
    means: "El aire está más caliente de lo que permite la ficha: el material se queda sin tiempo en el piso.",
    todo: "Espere una hora más fresca, o dé sombra y ventile.",
  },
  "air-damp": {
    means: "La humedad pasa lo que permite la ficha. El aire húmedo empaña, vela o espuma la película, según su clase.",
    todo: "Seque el aire o caliéntelo con calor seco. Ventile solo con aire que lleve menos agua que el de adentro.",
  },
  "air-dry": {
    means: "La humedad está debajo de lo que pide la ficha; algunas manos necesitan agua del aire para curar.",
    todo: "Vea en la ficha si se puede humedecer el aire, y cómo. Si no, espere.",
  },
  "vapour-low": {
    means: "Hay muy poca agua en el aire, por peso, para una mano que cura con ella. El aire frío es aire seco.",
    todo: "Espere aire más húmedo, o humedézcalo como permita la ficha.",
  },
  "dew-margin": {
    means:
      "La losa más fría está muy pocos grados sobre el punto de rocío. Basta una corriente o una carga mojada para que sude.",
    todo: "Caliente la losa o seque el aire hasta quedar bien sobre el límite. Busque de dónde viene el agua.",
  },
  "slab-rising": {
    means:
      "Una losa desnuda o porosa se está calentando: el aire de sus poros se hincha y hace burbujas en la mano fresca.",
    todo: "Aplique cuando esté estable o bajando, casi siempre al final del día. Apague el calor unas horas antes.",
  },
  "slab-moisture": {
    means:
      "La humedad en la losa pasa el límite de la ficha, o no hay prueba registrada. Puede despegar la mano más tarde.",
    todo: "Pruebe según la norma que pide la ficha y anote cada punto. Un primario contra humedad lo deciden la ficha y su fabricante.",
  },
  "resin-temp": {
    means: "Las cubetas están fuera de la temperatura de la ficha, o tan frías que sudan, o nadie las ha medido.",
    todo: "Guárdelas de noche en un cuarto tibio, mida en medio de una y anótelo.",
  },
  "hand-check": {
    means: "El margen pasa, pero por menos de lo que los sensores pueden errar.",
    todo: "Mida losa, aire y humedad con su medidor en el punto más frío y anótelo: cuenta por media hora.",
  },
  "not-sustained": {
    means: "Todo está bien ahora, pero aún no por una hora completa. Lo bueno tras el amanecer a menudo no dura.",
    todo: "Prepárese y espere. No hace falta más.",
  },
  "finish-late": {
    means: "Al paso de esta cuadrilla, lo último del piso quedaría después de que cierra la ventana.",
    todo: "Divida en una junta y aplique lo que alcance, traiga más gente, o deje que cierre y lije.",
  },
  "night-unknown": {
    means: "No se puede juzgar la noche: menos de un día de lecturas y ningún pronóstico.",
    todo: "Anote la mínima y el punto de rocío de un pronóstico de su confianza, o espere un día de lecturas.",
  },
  "night-dew": {
    means: "Aplicada ahora, la mano fresca seguiría sensible cuando el rocío se vuelva probable esta noche.",
    todo: "Aplique mañana más temprano, o pregunte al plan de calor si el calor de noche la sostiene. Cierre puertas y huecos.",
  },
  "night-cold": {
    means: "Aplicada ahora, es probable que la losa baje del mínimo de la ficha antes de pasar las horas sensibles.",
    todo: "Espere una noche más templada, o pregunte al plan de calor cuánto haría falta.",
  },
};

export const esHelp: HelpText = {
  rules,
  glossary: [
    ["obra", "Un edificio que se recubre, con sus zonas, sensores, bitácora y gente."],
    ["zona", "Un trozo de piso que se aplica de una vez, entre muros o juntas."],
    ["sensor", "Un aparato que lee. Lleva sondas: en la losa, y un chip en el aire."],
    ["sonda", "Lo que toca o mide: la sonda de losa, o el chip de aire con temperatura y humedad."],
    ["ficha", "Límites y tiempos de un producto, escritos de su hoja por una persona y cotejados por una."],
    ["sistema", "La lista de manos que recibe una zona, de la primera a la última."],
    ["mano", "Una capa del sistema, fresca o curada."],
    ["película", "La mano que está ahora en el piso."],
    [
      "decisión",
      "El veredicto de una zona: aplicar, esperar, lijar o terminado. Dice por qué, hasta cuándo y qué sigue.",
    ],
    ["regla", "Una razón para parar o para cuidarse. La primera que detiene, en el orden de la lista, decide."],
    ["cerca", "Una regla que se cumple, pero cerca de su límite o camino a él."],
    ["punto de rocío", "La temperatura a la que el agua del aire empieza a caer como rocío."],
    [
      "margen",
      "Cuánto está la losa más fría sobre el punto de rocío. Es una diferencia de grados, no una temperatura.",
    ],
    [
      "ventana",
      "Las horas en que la siguiente mano agarra sin lijar: abre cuando la película está bastante dura y cierra cuando lo está demasiado.",
    ],
    [
      "ganado",
      "Cuánto de su mínimo ha curado la película, según la temperatura de la losa: las horas frías cuentan poco.",
    ],
    [
      "sensible al rocío",
      "Las horas en que el rocío dañaría la película, desde su primer metro hasta que está bastante dura.",
    ],
    [
      "velo graso",
      "Capa grasosa, lechosa o invisible que dejan el rocío o la humedad en una película fresca. La siguiente mano se despega.",
    ],
    [
      "lijar",
      "Matar el brillo de una película dura para que agarre la siguiente mano. Una película blanda nunca se lija.",
    ],
    ["perfil", "Qué tan áspera queda la losa tras el pulido, como número CSP o como profundidad."],
    [
      "la noche",
      "Lo que se prevé de losa, aire y punto de rocío, con sus probabilidades, por las noches del edificio y el tiempo que se conoce.",
    ],
    ["probabilidad", "Cuántas veces, de cien noches que empiezan como esta, saldría así. Nada de una noche es seguro."],
    ["detenido", "El alto de una persona sobre una zona. Solo una persona lo levanta."],
    ["bitácora", "Lo que la gente hizo y vio, en orden. Nada se borra; un error se retira con una entrada nueva."],
    ["registro", "La prueba de una mano en papel: condiciones, límites, quién hizo qué y cuándo."],
    ["archivo de noche", "Una noche de una zona en un archivo, que se puede juzgar de nuevo en otra parte."],
  ],
  title: "Palabras y reglas",
  intro: "Qué significa cada palabra de estas páginas, y qué pide cada regla.",
  wordsTitle: "Palabras del oficio",
  rulesTitle: "Las reglas, en el orden en que se juzgan",
  todo: "Qué hacer:",
  defer:
    "La ficha del producto y su hoja de seguridad, el código local y los oficios con licencia van antes que esta ayuda.",
};
