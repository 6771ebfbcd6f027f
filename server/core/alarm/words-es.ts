// Spanish: alarms.
import type { AlarmSentence, AlarmWords } from "#core/alarm/words.ts";

const say = (title: string, ...body: (string | null)[]): AlarmSentence => ({
  title,
  body: body.filter((part) => part !== null && part !== "").join(" "),
});
const named = (where: string | null, what: string): string => (where === null ? what : `${where}: ${what}`);
const at = (time: string | null): string => (time === null ? "" : ` a las ${time}`);
const since = (time: string | null): string => (time === null ? "" : ` desde las ${time}`);
const by = (time: string | null): string => (time === null ? "" : ` hacia las ${time}`);
const chance = (share: string | null): string => (share === null ? "" : ` Probabilidad ${share}.`);
const of = (about: string | null): string => (about === null ? "" : ` ${about}`);

export const alarmWordsEs: AlarmWords = {
  cleared: (title) => `Pasó: ${title}`,
  more: (name, others) => `${name} y ${others} más`,
  hours: (h) =>
    h < 1 ? `${Math.round(h * 60)} min` : `${Math.floor(h)} h ${String(Math.floor((h % 1) * 60)).padStart(2, "0")}`,
  kinds: {
    "margin-ahead": ({ where, at: time, chance: share, measured, limit }) =>
      say(
        named(where, `el rocío amenaza la mano fresca${by(time)}`),
        measured === null
          ? null
          : `Losa prevista a ${measured} sobre el punto de rocío, límite ${limit ?? "desconocido"}.${chance(share)}`,
        "Caliente la losa o seque el aire antes.",
      ),
    "margin-below": ({ where, measured, limit }) =>
      say(
        named(where, "mano fresca demasiado cerca del rocío ahora"),
        measured === null ? null : `Losa a ${measured} sobre el punto de rocío, límite ${limit ?? "desconocido"}.`,
        "Caliente la losa, seque el aire, cierre puertas. Revise la mano antes de la siguiente.",
      ),
    condensing: ({ where, at: time, measured }) =>
      say(
        named(where, "rocío sobre la mano fresca ahora"),
        `En el punto de rocío o debajo${since(time)}${measured === null ? "" : `; margen ${measured}`}.`,
        "Caliente la losa y seque el aire. Quince minutos así piden lavar o lijar.",
      ),
    "cold-ahead": ({ where, at: time, chance: share, measured, limit }) =>
      say(
        named(where, `losa muy fría para curar${by(time)}`),
        measured === null ? null : `Losa prevista a ${measured}, mínimo ${limit ?? "desconocido"}.${chance(share)}`,
        "Debajo de eso la mano deja de curar. Ponga calor antes.",
      ),
    "cold-now": ({ where, at: time, measured, limit }) =>
      say(
        named(where, "losa muy fría, la mano no cura"),
        measured === null ? null : `Losa ${measured}, mínimo ${limit ?? "desconocido"}${since(time)}.`,
        "No gana curado hasta que la losa se caliente. Ponga calor.",
      ),
    "heat-lost": ({ where, at: time, chance: share, measured }) =>
      say(
        named(where, "se apagó el calor"),
        `El aire baja como el edificio sin calor${measured === null ? "" : `, ahora ${measured}`}.`,
        time === null ? null : `La mano pasaría su límite${by(time)}.${chance(share)}`,
        "Revise calentón, combustible y pastilla eléctrica.",
      ),
    "window-unreachable": ({ where, at: time, chance: share }) =>
      say(
        named(where, `la ventana puede perderse, cierra${at(time)}`),
        `No es probable que la zona quede lista para la siguiente mano antes.${chance(share)}`,
        "Cambie el calor o el plan, o cuente con lijar.",
      ),
    "window-closing": ({ where, at: time, hours }) =>
      say(
        named(where, `la ventana cierra${at(time)}`),
        `Empiece en ${hours ?? "una hora"} para terminar el último metro a tiempo.`,
        "Después hay que lijar primero.",
      ),
    "window-closed": ({ where, at: time }) =>
      say(named(where, `la ventana cerró${at(time)}`), "Lije y limpie antes de la siguiente mano."),
    "stop-pour": ({ where, about, measured, limit }) =>
      say(
        named(where, "pare en la próxima junta"),
        `La decisión ya no es aplicar${about === null ? "" : ` (${about})`}.`,
        measured === null || limit === null ? null : `${measured}, límite ${limit}.`,
      ),
    "zone-opened": ({ where, at: time }) =>
      say(
        named(where, "se puede aplicar"),
        "Se cumplen los límites anotados de la ficha, y se prevé que la noche aguante.",
        time === null ? null : `Empezar a más tardar a las ${time}.`,
      ),
    "door-open": ({ where, at: time, measured, about }) =>
      say(
        named(where, "parece que hay una puerta abierta"),
        about === null
          ? `El punto de rocío subió ${measured ?? "de golpe"}${since(time)} y sigue ahí.`
          : `${about} la da por abierta${since(time)}.`,
        "Ciérrela: entra aire húmedo a la mano fresca.",
      ),
    "node-silent": ({ where, at: time, about }) =>
      say(
        named(where, `sin noticias de${of(about)}`),
        `Última lectura${at(time)}.`,
        "Revise pila, radio y punto de acceso. Sus sensores de losa conservan su voto en lo peor.",
      ),
    "battery-low": ({ where, at: time, measured, about }) =>
      say(
        named(where, `pila de${of(about)} en ${measured ?? "nivel bajo"}`),
        time === null ? null : `Como va, se acaba hacia ${time}.`,
        "Cámbiela antes de la noche.",
      ),
    "probe-doubt": ({ where, at: time, about }) =>
      say(named(where, `sensor en duda:${of(about)}`), `En duda${since(time)}.`, "Mida a mano y revise el sensor."),
    "data-lost": ({ where, at: time, about }) =>
      say(
        named(where, "la mano cura y nadie sabe en qué"),
        `Sin lecturas de fiar${since(time)}${about === null ? "" : ` (${about})`}.`,
        "Recupere el sensor, o mida a mano losa, aire y humedad.",
      ),
    "broker-down": ({ at: time }) =>
      say(
        "No se oye ningún sensor",
        `El intermediario de mensajes no funciona${since(time)}.`,
        "Revise el servidor; hasta entonces nadie sabe de los pisos.",
      ),
    "store-failing": ({ at: time }) =>
      say(
        "El servidor no puede guardar",
        `El almacén falla${since(time)}.`,
        "Revise disco y servidor. Los sensores guardan sus lecturas mientras pueden.",
      ),
    "disk-full": ({ measured }) =>
      say(
        "El disco del servidor está casi lleno",
        `Queda ${measured ?? "poco"}.`,
        "Haga lugar: sin él no se registra nada más.",
      ),
    "judge-failing": ({ where, at: time }) =>
      say(
        named(where, "no se puede decidir"),
        `El cálculo falla${since(time)}; la decisión es esperar hasta que funcione.`,
        "La página de estado del servidor dice por qué.",
      ),
    "server-away": ({ at: time, hours }) =>
      say(
        `El servidor no estuvo por ${hours ?? "un rato"}`,
        `Nada se vigiló${time === null ? "" : ` a partir de las ${time}`}.`,
        "Revise las manos que curaban entonces.",
      ),
    "channel-failing": ({ at: time, about }) =>
      say(
        "Las alarmas no llegan",
        `${about ?? "Una vía de aviso"} falla${since(time)}.`,
        "Revise su dirección y su clave.",
      ),
    test: ({ where }) =>
      say(named(where, "alarma de prueba"), "Alguien oprimió el botón de prueba. No pasa nada malo."),
  },
};
