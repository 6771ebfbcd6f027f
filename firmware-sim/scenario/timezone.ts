// Time zones: what the clocks show in one, and where on the globe it is a given hour now.

/** Time zones round the globe; those of cold rivers first, then one without summer time for every hour. */
const TIME_ZONES = [
  "America/Halifax",
  "America/Toronto",
  "America/Winnipeg",
  "America/Denver",
  "America/Vancouver",
  "America/Anchorage",
  "America/St_Johns",
  "Europe/London",
  "Europe/Oslo",
  "Europe/Helsinki",
  "Europe/Minsk",
  "Asia/Tbilisi",
  "Asia/Yekaterinburg",
  "Asia/Bishkek",
  "Asia/Novosibirsk",
  "Asia/Irkutsk",
  "Asia/Yakutsk",
  "Asia/Vladivostok",
  "Asia/Magadan",
  "Asia/Kamchatka",
  "America/Adak",
  "Pacific/Auckland",
  "America/Punta_Arenas",
  "America/Nuuk",
  "Atlantic/Azores",
  "Atlantic/Cape_Verde",
  "America/Noronha",
  "America/La_Paz",
  "America/Panama",
  "America/Regina",
  "America/Phoenix",
  "Pacific/Pitcairn",
  "Pacific/Gambier",
  "Pacific/Honolulu",
  "Pacific/Pago_Pago",
  "Atlantic/Reykjavik",
  "Africa/Algiers",
  "Europe/Kaliningrad",
];

/** Local hour, 0 to 24, at a moment in a time zone. */
export function localHourH(timezone: string, atMs: number): number {
  const parts = new Intl.DateTimeFormat("en-GB", {
    timeZone: timezone,
    hour: "2-digit",
    minute: "2-digit",
    hourCycle: "h23",
  }).formatToParts(atMs);
  const part = (type: string) => Number(parts.find((each) => each.type === type)?.value);
  return part("hour") + part("minute") / 60;
}

/** The time zone whose clocks stand nearest to `hourH` at this moment. */
export function timezoneWhereItIs(hourH: number, atMs: number): string {
  const distance = (timezone: string) => {
    const apart = Math.abs(localHourH(timezone, atMs) - hourH);
    return Math.min(apart, 24 - apart);
  };
  return TIME_ZONES.reduce((best, each) => (distance(each) < distance(best) ? each : best));
}
