// What the server needs of a broker, whether it is built in or elsewhere.
export interface LinkHealth {
  readonly state: "up" | "degraded" | "down";
  readonly detail: string | null;
}

/** A minimal logger; pino fits. */
export interface Log {
  debug(fields: object, message: string): void;
  info(fields: object, message: string): void;
  warn(fields: object, message: string): void;
  error(fields: object, message: string): void;
}

export interface BrokerLink {
  /** Where nodes reach it. */
  readonly url: string;
  /** Publishes with QoS 1. Retained: the latest of a topic stands in for earlier ones that did not get out yet. */
  publish(topic: string, body: string, retain: boolean): void;
  /** Hears these topics beside those of nodes; the list replaces the one before. */
  hear(filters: readonly string[]): void;
  /** Hears the nodes of these sites too, where it does not hear those of all. */
  serve(sites: readonly string[]): void;
  /** Ends the connections of a node whose password does not stand any more. */
  signOut(site: string, node: string): void;
  health(): LinkHealth;
  /** Messages that wait to go out. */
  waiting(): number;
  /** Takes no more messages from here on; those that were taken can still be acknowledged. */
  pause(): void;
  /** Ends every connection. */
  close(): Promise<void>;
}
