// Reads the code on a pail from a picture, where the browser can.

interface Found {
  readonly rawValue: string;
}
interface Detector {
  detect(picture: ImageBitmap): Promise<readonly Found[]>;
}
export type DetectorMaker = new () => Detector;

/** There over HTTPS in some browsers only. */
export function codeReader(): DetectorMaker | null {
  return (globalThis as { BarcodeDetector?: DetectorMaker }).BarcodeDetector ?? null;
}

/** The longest code in the picture, since a pail also carries the short one of its price; null without any. */
export async function codeIn(picture: ImageBitmap, Reader: DetectorMaker): Promise<string | null> {
  const found = await new Reader().detect(picture);
  const codes = found.map(({ rawValue }) => rawValue.trim().slice(0, 200)).filter((code) => code !== "");
  return codes.sort((a, b) => b.length - a.length)[0] ?? null;
}
