// Spanish texts of the page over all sites. Loaded with the page.
import type { OfficeText } from "./en-office.ts";

export const esOffice: OfficeText = {
  title: "Todas las obras",
  lead: "Lo último que dijo el servidor de cada obra. Lo peor primero.",
  none: "Todavía no se ha oído ninguna obra. El servidor de cada obra debe publicar por el bróker que oye esta oficina.",
  counts: (sites, zones) =>
    `${sites === 1 ? "1 obra" : `${sites} obras`}, ${zones === 1 ? "1 zona" : `${zones} zonas`}`,
  show: "Mostrar",
  all: "Todas",
  unknown: "No se sabe",
  nothing: "Ninguna zona está así ahora.",
  away: "Esta oficina no responde. Todo lo de aquí es viejo.",
  deaf: "Esta oficina no oye ninguna obra ahora: su bróker no está. Lo que se ve envejece.",
  heard: (age) => `oída hace ${age}`,
  silent: (age) => `En silencio desde hace ${age}. Lo último que dijo ya no vale.`,
  never: "No ha dicho que su servidor funciona. Sus avisos pueden ser viejos.",
  localTime: (at) => `allí ${at}`,
  open: (name) => `Abrir ${name}`,
  saidAt: (at) => `dicho ${at}`,
  until: (at) => `vale hasta ${at}`,
  noCall: "No se ha oído ningún aviso.",
  unread: "No se puede leer lo que dice: su servidor puede ser de otra versión. Pregunte a la obra.",
  behind: "La obra ha dicho otra cosa desde entonces. Pregunte a la obra.",
  alarms: "Alarmas",
  alarmsNone: "Ninguna obra ha dicho que siga en pie una alarma.",
  alarmCount: (n) => (n === 1 ? "1 alarma" : `${n} alarmas`),
  alarmsMore: (n) => `${n} más en la propia obra.`,
  answered: "atendida",
};
