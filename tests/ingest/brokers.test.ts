// The one suite of the live path through each broker: the built-in one, and a real Mosquitto as a careful house runs it.
import { connectAsync, type IClientOptions } from "mqtt";
import { join } from "node:path";
import { freePort } from "../support/free-port.ts";
import { makeCertificates } from "../support/made-certificates.ts";
import { startMosquitto } from "../support/mosquitto.ts";
import { ACL, LIMITS, tlsListener, USERS } from "../support/mosquitto-house.ts";
import { type BrokerUnderTest, pipelineSuite } from "./pipeline-suite.ts";

const never: IClientOptions = { reconnectPeriod: 0, connectTimeout: 5000 };

async function builtIn(): Promise<BrokerUnderTest> {
  const mqttPort = await freePort();
  return {
    settings: { mqttPort },
    client: (guest, options) =>
      connectAsync(`mqtt://127.0.0.1:${mqttPort}`, {
        ...never,
        // On this machine it is open; who names itself speaks for itself.
        ...(guest === "siren" ? {} : { username: guest, password: "none is asked for" }),
        ...options,
      }),
    end: () => Promise.resolve(),
  };
}

/** Passwords, access list and limits as shipped; everybody comes by TLS. */
async function mosquitto(mqttVersion: 4 | 5): Promise<BrokerUnderTest> {
  const made = makeCertificates();
  const tlsPort = await freePort();
  const broker = await startMosquitto({
    users: USERS,
    acl: ACL,
    extra: [...LIMITS, ...tlsListener(tlsPort, made)],
  });
  const url = `mqtts://127.0.0.1:${tlsPort}`;
  return {
    settings: {
      mqttUrl: url,
      mqttCa: join(made.folder, "ca.pem"),
      mqttUsername: "nightslab",
      mqttPassword: USERS.nightslab,
      mqttVersion,
      mqttConnections: 3,
    },
    client: (guest, options) =>
      connectAsync(url, {
        ...never,
        protocolVersion: 4,
        ca: made.ca,
        username: guest,
        password: USERS[guest],
        ...options,
      }),
    async end() {
      await broker.stop();
      made.remove();
    },
  };
}

pipelineSuite("the built-in broker", builtIn);
pipelineSuite("Mosquitto, MQTT 5", () => mosquitto(5));
pipelineSuite("Mosquitto, MQTT 3.1.1", () => mosquitto(4));
