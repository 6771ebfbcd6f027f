// The client's page: the sites of whoever looks, one below the other.
import { accessApi } from "../data/access-api.ts";
import { useSignal } from "../data/use-signal.ts";
import { ClientSite } from "../features/client/client-site.tsx";
import { accessText } from "../text/access.ts";
import { useVoice } from "../ui/voice.tsx";
import { useServices } from "./services.tsx";

export default function ClientFloor() {
  const { text } = useVoice();
  const { session: desk, keep } = useServices();
  const { access } = useSignal(desk.signal);
  const sites = access?.sites ?? [];
  if (sites.length === 0) return <p className="empty">{accessText(text).client.none}</p>;
  return sites.map(({ id, name }) => (
    <ClientSite
      key={id}
      site={id}
      name={name}
      ask={() => accessApi.clientPage(id)}
      kept={keep.read(`board.client.${id}`)}
      onKeep={(page) => keep.write(`board.client.${id}`, page)}
    />
  ));
}
