// Every MQTT topic is built and read here and nowhere else.

export const TOPIC_ROOT = "nightslab/v1";

export type Topic =
  | { readonly kind: "senml"; readonly site: string; readonly node: string }
  | { readonly kind: "presence"; readonly site: string; readonly node: string }
  | { readonly kind: "knock"; readonly site: string; readonly node: string }
  | { readonly kind: "call"; readonly site: string; readonly zone: string }
  | { readonly kind: "alarm"; readonly site: string }
  | { readonly kind: "siren"; readonly site: string }
  | { readonly kind: "about"; readonly site: string };

export function topicOf(topic: Topic): string {
  const site = `${TOPIC_ROOT}/${topic.site}`;
  switch (topic.kind) {
    case "senml":
    case "presence":
    case "knock":
      return `${site}/node/${topic.node}/${topic.kind}`;
    case "call":
      return `${site}/zone/${topic.zone}/call`;
    case "alarm":
    case "siren":
    case "about":
      return `${site}/${topic.kind}`;
  }
}

const ID = /^[A-Za-z0-9][A-Za-z0-9_-]{0,63}$/;

/** The topic, or null if it is none of ours. */
export function topicFrom(name: string): Topic | null {
  const [root, version, site, area, id, leaf, ...rest] = name.split("/");
  if (`${root}/${version}` !== TOPIC_ROOT || site === undefined || !ID.test(site) || rest.length > 0) return null;
  if ((area === "alarm" || area === "siren" || area === "about") && id === undefined) return { kind: area, site };
  if (id === undefined || !ID.test(id)) return null;
  if (area === "node" && (leaf === "senml" || leaf === "presence" || leaf === "knock"))
    return { kind: leaf, site, node: id };
  if (area === "zone" && leaf === "call") return { kind: "call", site, zone: id };
  return null;
}

/** What a server subscribes to: everything that nodes send, for one site or for all. */
export function nodeFilters(site: string | null): readonly string[] {
  const at = site ?? "+";
  return ["senml", "presence", "knock"].map((leaf) => `${TOPIC_ROOT}/${at}/node/+/${leaf}`);
}

/** What an office subscribes to: what the servers of all sites say. */
export const OFFICE_FILTERS: readonly string[] = ["about", "zone/+/call", "alarm"].map(
  (leaf) => `${TOPIC_ROOT}/+/${leaf}`,
);

/** What each kind of topic carries, how it is sent, and who sends it. */
export const TOPIC_TABLE = {
  senml: { sender: "node", qos: 1, retained: false, body: "SenML pack (RFC 8428, JSON)" },
  presence: { sender: "node", qos: 1, retained: true, body: "online or offline" },
  knock: { sender: "node", qos: 1, retained: false, body: "what it is and measures, JSON" },
  call: { sender: "server", qos: 1, retained: true, body: "the call, JSON" },
  alarm: { sender: "server", qos: 1, retained: false, body: "the alarm, JSON" },
  siren: { sender: "server", qos: 1, retained: true, body: "whether to sound, JSON" },
  about: { sender: "server", qos: 1, retained: true, body: "what the site is and that its server lives, JSON" },
} as const;
