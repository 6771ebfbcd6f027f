// A call from three numbers and a sheet, without sensors.
export default function SpotCheck() {
  return null;
}
