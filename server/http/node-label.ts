// A label for the case of a node: where it belongs in words, and what it needs to sign in as a QR code. SVG, 62 by 40 mm.
import QRCode from "qrcode";

export interface NodeLabel {
  readonly site: string;
  readonly siteName: string;
  readonly node: string;
  /** The name that the device sends under. */
  readonly device: string;
  readonly zoneName: string | null;
  readonly probes: readonly { readonly quantity: string; readonly place: string | null }[];
  readonly broker: string;
}

const WIDE = 620;
const HIGH = 400;
const MARGIN = 24;
const QR_SIDE = 240;
const MOST_PROBES = 5;

const escaped = (text: string) =>
  text.replace(/[&<>"']/g, (sign) => `&#${sign.charCodeAt(0)};`).replace(/[\u0000-\u001f\u007f]/g, " ");
const cut = (text: string, most: number) => (text.length > most ? `${text.slice(0, most - 1)}…` : text);

/** What the code holds. A secret only when the person asked for it: whoever can see the label can then sign in. */
export function codeOf({ broker, site, device }: NodeLabel, password: string | null): string {
  return JSON.stringify({ broker, site, node: device, ...(password === null ? {} : { password }) });
}

function codePath(text: string): { readonly path: string; readonly modules: number } {
  const { modules } = QRCode.create(text, { errorCorrectionLevel: "M" });
  const { size, data } = modules;
  let path = "";
  for (let row = 0; row < size; row += 1) {
    for (let column = 0; column < size; column += 1) {
      if (data[row * size + column] !== 1) continue;
      let run = 1;
      while (column + run < size && data[row * size + column + run] === 1) run += 1;
      path += `M${column} ${row}h${run}v1h-${run}z`;
      column += run;
    }
  }
  return { path, modules: size };
}

/** `password` null = none in the code. */
export function labelSvg(label: NodeLabel, password: string | null): string {
  const { path, modules } = codePath(codeOf(label, password));
  const scale = QR_SIDE / modules;
  const left = WIDE - MARGIN - QR_SIDE;
  const textWide = left - 2 * MARGIN;
  // Digits and letters of this face are at most six tenths as wide as high.
  const fit = (text: string, size: number) => escaped(cut(text, Math.floor(textWide / (size * 0.56))));
  const line = (y: number, size: number, text: string, bold = false) =>
    `<text x="${MARGIN}" y="${y}" font-size="${size}"${bold ? ' font-weight="700"' : ""}>${fit(text, size)}</text>`;
  const probes = label.probes
    .slice(0, MOST_PROBES)
    .map(({ quantity, place }, index) =>
      line(186 + index * 34, 24, `${quantity}${place === null ? "" : ` · ${place}`}`),
    );
  const named = label.device === label.node ? label.node : `${label.node} (${label.device})`;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="62mm" height="40mm" viewBox="0 0 ${WIDE} ${HIGH}" role="img">`,
    `<title>${escaped(`${label.siteName}: ${label.node}`)}</title>`,
    `<rect width="${WIDE}" height="${HIGH}" fill="#fff"/>`,
    `<g fill="#000" font-family="Helvetica, Arial, 'Liberation Sans', sans-serif">`,
    line(54, 38, named, true),
    line(94, 26, label.siteName),
    line(130, 26, label.zoneName ?? "outdoors"),
    ...probes,
    `<text x="${MARGIN}" y="${HIGH - MARGIN}" font-size="20">${escaped(cut(label.broker, 50))}</text>`,
    ...(password === null
      ? []
      : [
          `<text x="${WIDE - MARGIN}" y="${HIGH - MARGIN}" font-size="20" text-anchor="end" font-weight="700">holds a password</text>`,
        ]),
    "</g>",
    `<g transform="translate(${left} ${MARGIN + 40}) scale(${scale.toFixed(4)})" shape-rendering="crispEdges"><path d="${path}" fill="#000"/></g>`,
    "</svg>",
  ].join("\n");
}
