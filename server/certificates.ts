// The command `npm run certificates`: a private certificate authority for one house, and certificates signed by it.
import "./reflect-metadata.ts";
import { webcrypto } from "node:crypto";
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { isIP } from "node:net";
import { join } from "node:path";
import { parseArgs } from "node:util";
import * as x509 from "@peculiar/x509";

const HELP = `npm run certificates -- --names NAME,ADDRESS,... --out FOLDER [--site SITE] [--nodes NODE,...]

Makes in FOLDER, readable by you alone:
  ca.pem, ca-key.pem            a private authority, 10 years; an existing one in FOLDER is used again
  server.pem, server-key.pem    for the server under those names and addresses, 397 days
  node-NODE.pem, ...-key.pem    for each node, 397 days, if a broker of yours asks nodes for certificates
Nothing is overwritten: to renew, move the old file away and run the same command.
`;
const ALGORITHM = { name: "ECDSA", namedCurve: "P-256", hash: "SHA-256" } as const;
const DAY_MS = 86_400_000;
const CA_DAYS = 3652;
/** Browsers refuse certificates of a server that live longer than 398 days. */
const LEAF_DAYS = 397;

interface Authority {
  readonly certificate: x509.X509Certificate;
  readonly key: webcrypto.CryptoKey;
}

class Slip extends Error {}

async function makeKeys(): Promise<webcrypto.CryptoKeyPair> {
  return webcrypto.subtle.generateKey(ALGORITHM, true, ["sign", "verify"]);
}

async function keyPem(key: webcrypto.CryptoKey): Promise<string> {
  return `${x509.PemConverter.encode(await webcrypto.subtle.exportKey("pkcs8", key), "PRIVATE KEY")}\n`;
}

function lasting(days: number) {
  // A phone whose clock is a little slow must not take it for one of tomorrow.
  const fromMs = Date.now() - DAY_MS / 24;
  return { notBefore: new Date(fromMs), notAfter: new Date(fromMs + days * DAY_MS) };
}

function serialNumber(): string {
  // The first bit is zero: the number counts as positive in every reader.
  const bytes = webcrypto.getRandomValues(new Uint8Array(16));
  return `4${Buffer.from(bytes).toString("hex").slice(1)}`;
}

/** Writes a file that is not there yet, for its owner alone. */
function writeNew(path: string, text: string): void {
  writeFileSync(path, text, { mode: 0o600, flag: "wx" });
  process.stdout.write(`  ${path}\n`);
}

async function authorityIn(folder: string, site: string): Promise<Authority> {
  const paths = { certificate: join(folder, "ca.pem"), key: join(folder, "ca-key.pem") };
  if (existsSync(paths.certificate) && existsSync(paths.key)) {
    const pkcs8 = x509.PemConverter.decodeFirst(readFileSync(paths.key, "utf8"));
    return {
      certificate: new x509.X509Certificate(readFileSync(paths.certificate, "utf8")),
      key: await webcrypto.subtle.importKey("pkcs8", pkcs8, ALGORITHM, false, ["sign"]),
    };
  }
  const keys = await makeKeys();
  const certificate = await x509.X509CertificateGenerator.createSelfSigned({
    ...{ keys, serialNumber: serialNumber(), signingAlgorithm: ALGORITHM, ...lasting(CA_DAYS) },
    name: [{ CN: [`Private authority of ${site}`] }],
    extensions: [
      new x509.BasicConstraintsExtension(true, 0, true),
      new x509.KeyUsagesExtension(x509.KeyUsageFlags.keyCertSign | x509.KeyUsageFlags.cRLSign, true),
      await x509.SubjectKeyIdentifierExtension.create(keys.publicKey),
    ],
  });
  writeNew(paths.key, await keyPem(keys.privateKey));
  writeNew(paths.certificate, `${certificate.toString("pem")}\n`);
  return { certificate, key: keys.privateKey };
}

async function makeLeaf(
  folder: string,
  file: string,
  authority: Authority,
  subject: string,
  usage: "server" | "client",
  names: readonly string[],
): Promise<void> {
  const keys = await makeKeys();
  const alternatives = names.map((name) => ({
    type: isIP(name) === 0 ? ("dns" as const) : ("ip" as const),
    value: name,
  }));
  const certificate = await x509.X509CertificateGenerator.create({
    ...{ serialNumber: serialNumber(), signingAlgorithm: ALGORITHM, ...lasting(LEAF_DAYS) },
    ...{ publicKey: keys.publicKey, signingKey: authority.key, issuer: authority.certificate.subjectName },
    subject: [{ CN: [subject] }],
    extensions: [
      new x509.BasicConstraintsExtension(false, undefined, true),
      new x509.KeyUsagesExtension(x509.KeyUsageFlags.digitalSignature, true),
      new x509.ExtendedKeyUsageExtension([
        usage === "server" ? x509.ExtendedKeyUsage.serverAuth : x509.ExtendedKeyUsage.clientAuth,
      ]),
      ...(alternatives.length > 0 ? [new x509.SubjectAlternativeNameExtension(alternatives)] : []),
      await x509.AuthorityKeyIdentifierExtension.create(authority.certificate),
      await x509.SubjectKeyIdentifierExtension.create(keys.publicKey),
    ],
  });
  writeNew(join(folder, `${file}-key.pem`), await keyPem(keys.privateKey));
  writeNew(join(folder, `${file}.pem`), `${certificate.toString("pem")}\n${authority.certificate.toString("pem")}\n`);
}

function listFrom(text: string | undefined, what: string, pattern: RegExp): string[] {
  const list = (text ?? "").split(",").map((one) => one.trim());
  const given = list.filter((one) => one !== "");
  for (const one of given) if (!pattern.test(one) && isIP(one) === 0) throw new Slip(`"${one}" is no ${what}`);
  return given;
}

async function run(): Promise<void> {
  const { values } = parseArgs({
    options: {
      ...{ names: { type: "string" }, out: { type: "string" }, site: { type: "string" }, nodes: { type: "string" } },
      help: { type: "boolean" },
    },
  });
  if (values.help === true) return void process.stdout.write(HELP);
  const { out, site = "this house" } = values;
  const names = listFrom(values.names, "name of a server", /^(?=.{1,253}$)[A-Za-z0-9-]+(\.[A-Za-z0-9-]+)*$/);
  const nodes = listFrom(values.nodes, "id of a node", /^[A-Za-z0-9][A-Za-z0-9_-]{0,63}$/);
  if (out === undefined || names.length + nodes.length === 0) throw new Slip(HELP.trimEnd());
  const files = [...(names.length > 0 ? ["server"] : []), ...nodes.map((node) => `node-${node}`)];
  const standing = files
    .flatMap((file) => [`${file}.pem`, `${file}-key.pem`])
    .filter((file) => existsSync(join(out, file)));
  const halves = ["ca.pem", "ca-key.pem"].filter((file) => existsSync(join(out, file)));
  if (standing.length > 0) throw new Slip(`${standing.join(", ")} stands in ${out} already and is not overwritten`);
  if (halves.length === 1) throw new Slip(`${out} has ${halves.join()} and not the other half of the authority`);

  mkdirSync(out, { recursive: true, mode: 0o700 });
  process.stdout.write("Written:\n");
  const authority = await authorityIn(out, site);
  if (names.length > 0) await makeLeaf(out, "server", authority, names[0] ?? "", "server", names);
  for (const node of nodes) await makeLeaf(out, `node-${node}`, authority, node, "client", []);
  process.stdout.write(`
The server uses server.pem and server-key.pem: NIGHTSLAB_HTTP_TLS_CERT and NIGHTSLAB_HTTP_TLS_KEY for the dashboard,
NIGHTSLAB_MQTT_TLS_CERT and NIGHTSLAB_MQTT_TLS_KEY for the broker. It needs neither ca-key.pem nor the nodes' files.

Each phone and computer must know ca.pem, and nothing else of this folder:
  iPhone    send it the file, open it, then Settings > General > VPN & Device Management: install; then Settings >
            General > About > Certificate Trust Settings: switch it on
  Android   Settings > Security > Encryption & credentials > Install a certificate > CA certificate
  Windows   double-click, install for the local machine under Trusted Root Certification Authorities
  Firefox   Settings > Privacy & Security > Certificates > Authorities > Import
Nodes take ca.pem as the authority of the broker.

Whoever has ca-key.pem can pass for any address to those phones. Keep it off the server, on a stick in a drawer; it is
needed again in 13 months, to renew.
`);
}

run().catch((error: unknown) => {
  process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
  process.exitCode =
    error instanceof Slip || (error as { code?: string }).code?.startsWith("ERR_PARSE_ARGS") === true ? 2 : 1;
});
