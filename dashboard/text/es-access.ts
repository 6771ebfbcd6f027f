// Spanish texts of signing in, the account and the client's page.
import type { AccessText } from "./en-access.ts";
import { esPeople } from "./es-people-access.ts";

export const esAccess: AccessText = {
  people: esPeople,
  roles: {
    owner: "Propietario",
    lead: "Jefe de cuadrilla",
    helper: "Ayudante",
    inspector: "Inspector",
    client: "Cliente",
  },
  roleHelps: {
    owner: "Todo, y quién más entra.",
    lead: "Todo lo del piso: obras, zonas, sensores, fichas, calefacción, diario.",
    helper: "Ve los tableros y escribe el diario.",
    inspector: "Ve los tableros, los números y los registros. No escribe nada.",
    client: "Ve cuándo se puede pisar el piso, entrar con vehículos y lavarlo. Nada más.",
  },
  allSites: "todas las obras",
  oneZone: (zone) => `solo la zona ${zone}`,
  held: (n, writer) =>
    n === 1
      ? `1 nota de ${writer} espera en este aparato. Se envía cuando ${writer} entre aquí.`
      : `${n} notas de ${writer} esperan en este aparato. Se envían cuando ${writer} entre aquí.`,
  heldNobody: (n) =>
    n === 1
      ? "Aquí se escribió 1 nota antes de que hiciera falta entrar."
      : `Aquí se escribieron ${n} notas antes de que hiciera falta entrar.`,
  adopt: "Son mías: enviar",
  putAway: "Quitar",
  form: {
    name: "Nombre",
    password: "Contraseña",
    newPassword: "Contraseña nueva",
    show: "Mostrar",
    hide: "Ocultar",
    shown: "Mostrar la contraseña",
    needName: "Escriba su nombre.",
    needPassword: "Escriba su contraseña.",
    short: (n) => `Al menos ${n} letras o signos. Una frase corta sirve bien.`,
    long: (n) => `${n} letras o signos como máximo.`,
    passwordHelp: (n) =>
      `Al menos ${n} letras o signos; mejor larga que rebuscada. Se puede pegar y usar un guardador de contraseñas.`,
    repeated: "Es un pedazo repetido: otros también la probarían.",
    guessed: "Son nombres, palabras comunes o filas de teclas: otros también la probarían. Agregue palabras suyas.",
    notPassword: "No es la contraseña de hasta ahora.",
    failed: "El servidor no responde. Pruebe otra vez en un momento.",
    noCookie:
      "Este navegador no guardó la entrada. Permita las cookies para esta dirección, o use la dirección que le dio el propietario.",
    wait: (s) => `Demasiados intentos. Espere ${s}.`,
    barred: "No es para su función. Pregunte al propietario.",
    seconds: (n) => (n === 1 ? "1 segundo" : `${n} segundos`),
    minutes: (n) => (n === 1 ? "1 minuto" : `${n} minutos`),
  },
  signIn: {
    title: "Entrar",
    ended: "El servidor cerró su entrada. Entre otra vez y volverá a donde estaba.",
    go: "Entrar",
    going: "Entrando …",
    wrong: "El nombre o la contraseña no es correcto.",
    forgot: "¿Olvidó la contraseña?",
    forgotHelp: [
      "Pida al propietario otra entrada o, en la máquina donde corre Nightslab, escriba en su carpeta:",
      "Muestra un enlace que sirve una vez, por un día. Ábralo y elija otra contraseña; después todos sus otros aparatos quedan fuera.",
    ],
    command: "npm run people -- reset NOMBRE",
    byLink: "¿Recibió un enlace para otra contraseña, una invitación o un piso? Ábralo en este navegador.",
  },
  first: {
    title: "Crear el primer propietario",
    help: "Todavía nadie puede entrar. La terminal que arrancó el servidor muestra un código que sirve una vez. Quien lo tenga será el propietario.",
    code: "Código de la terminal",
    needCode: "Escriba el código.",
    go: "Ser el propietario",
    going: "Creando al propietario …",
    wrong: "Este código no es correcto, o ya se usó. El servidor muestra otro cuando arranca.",
    known: "Ya hay un propietario: entrar",
  },
  invitation: {
    title: "Tiene una invitación",
    as: (role, sites) => `Como ${role}, para ${sites}.`,
    until: (when) => `La invitación termina ${when}.`,
    nameHelp: "Como debe quedar en el diario.",
    go: "Pasar",
    going: "Creando su cuenta …",
    gone: "Esta invitación ya se usó, se retiró o terminó. Pida otra al propietario.",
    taken: "Aquí alguien ya tiene ese nombre. Agregue su apellido.",
  },
  reset: {
    title: "Contraseña nueva",
    help: "El enlace sirve una vez. Todos sus otros aparatos quedan fuera.",
    go: "Usar esta contraseña",
    going: "Guardándola …",
    gone: "Este enlace ya se usó o terminó. Pida otro.",
  },
  link: {
    opening: "Abriendo el enlace …",
    gone: "Este enlace se retiró o terminó. Pregunte a quien se lo dio.",
    asWho: "Usted ya entró en este aparato. Si abre el enlace, sale de su cuenta aquí.",
    open: "Abrirlo de todos modos",
    stay: "Seguir en mi cuenta",
  },
  toSignIn: "Ir a la entrada",
  again: "Probar otra vez",
  me: {
    title: "Su cuenta",
    role: "Función",
    sites: "Obras",
    signOut: "Salir",
    signingOut: "Saliendo …",
    unsent: (n) =>
      n === 1
        ? "1 nota no se ha enviado. Se queda en este aparato hasta que usted entre aquí otra vez."
        : `${n} notas no se han enviado. Se quedan en este aparato hasta que usted entre aquí otra vez.`,
    people: "Personas, enlaces y aparatos",
    password: "Cambiar la contraseña",
    current: "Contraseña de hasta ahora",
    change: "Cambiarla",
    changing: "Cambiando …",
    changed: "Cambiada. Sus otros aparatos quedan fuera.",
    linkHelp: "Usted entró con un enlace. Muestra, y no deja escribir a nadie.",
  },
  client: {
    title: "Su piso",
    intro:
      "Cuándo se podrá usar el piso nuevo, según está ahora. Los días pueden moverse con el clima; ninguno es antes de lo que dice aquí.",
    walk: "Pisarlo",
    drive: "Vehículos",
    wash: "Lavarlo",
    notBefore: (when) => `no antes de ${when}`,
    since: (when) => `desde ${when}`,
    ask: "pregunte a la cuadrilla",
    bare: "Todavía no hay ninguna mano.",
    moreCoats: "Faltan más manos. Los días se sabrán cuando esté la última.",
    estimated: "Algunos días son estimación nuestra; manda la ficha del producto.",
    leave: "Por favor",
    leaves: {
      "keep-off": "No pise el piso, tampoco animales ni carritos.",
      "no-vehicles": "Sin vehículos, tarimas ni escaleras encima.",
      "no-water": "Sin agua encima, sin zapatos mojados.",
      "keep-warm": "Deje la calefacción como está.",
      "keep-shut": "Deje puertas y ventanas como están.",
      "leave-sensors": "Deje los aparatos pequeños y sus cables donde están.",
    },
    wet: "Un piso nuevo puede resbalar cuando está mojado. La hoja de seguridad del producto y la palabra de la cuadrilla van primero.",
    asOf: (when) => `Según ${when}.`,
    old: (when) => `El servidor no responde; esto es de ${when}.`,
    none: "Aquí todavía no se muestra ningún piso.",
  },
};
