// Words that passwords are made of when nobody thinks about it. A password that is little else is refused.

/** Our own list, by hand: what people type first, in English and Spanish, and the words of this trade. */
export const COMMON_WORDS: readonly string[] =
  `password passwort passwd contrasena clave secret secreto login welcome bienvenido letmein admin administrator root user
  usuario guest invitado default changeme master test demo hello hola please access acceso computer internet monkey dragon
  football futbol baseball soccer hockey sunshine princess princesa iloveyou teamo lovely money dinero
  freedom whatever trustno shadow angel summer verano winter invierno
  spring primavera autumn otono january february march april june july august september october november december enero
  febrero marzo abril mayo junio julio agosto septiembre octubre noviembre diciembre monday friday lunes viernes love amor
  blue azul green verde black negro white blanco orange chocolate cookie coffee cafe flower tiger tigre eagle aguila family
  familia house casa home truck camion phone telefono
  nightslab night slab noche losa concrete concreto hormigon epoxy epoxi resin resina floor floors flooring piso pisos coat
  coating primer polyaspartic urethane poliuretano contractor crew site zone owner lead helper inspector client cliente
  boss jefe work trabajo job office oficina warehouse almacen garage sensor node`
    .split(/\s+/)
    .filter((word) => word.length >= 4)
    .sort((a, b) => b.length - a.length);

/** Rows along which fingers run. */
export const RUNS: readonly string[] = [
  "abcdefghijklmnopqrstuvwxyz",
  "01234567890",
  "qwertyuiop",
  "asdfghjkl",
  "zxcvbnm",
  "qwertzuiop",
  "1qaz2wsx3edc4rfv5tgb6yhn7ujm",
];
