// Sun on level ground under a clear sky, from the place and the time: for weather series that did not measure it.

const RAD = Math.PI / 180;

/**
 * Clear-sky global irradiance, W/m2, within 10 % with the sun above 10 degrees.
 * Declination after Cooper 1969; irradiance 1098 sin(h) exp(-0.057 / sin h), Haurwitz 1945 (from memory).
 */
export function clearSkyWPerM2(latitudeDeg: number, longitudeDeg: number, atMs: number): number {
  const date = new Date(atMs);
  const dayOfYear = Math.floor((atMs - Date.UTC(date.getUTCFullYear(), 0, 1)) / 86_400_000) + 1;
  const declination = 23.45 * RAD * Math.sin(2 * Math.PI * ((284 + dayOfYear) / 365));
  const solarH = ((atMs / 3_600_000) % 24) + longitudeDeg / 15;
  const hourAngle = (solarH - 12) * 15 * RAD;
  const sine =
    Math.sin(latitudeDeg * RAD) * Math.sin(declination) +
    Math.cos(latitudeDeg * RAD) * Math.cos(declination) * Math.cos(hourAngle);
  return sine <= 0.01 ? 0 : 1098 * sine * Math.exp(-0.057 / sine);
}
