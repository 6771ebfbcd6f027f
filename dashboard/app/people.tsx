// The owner's page, with what it needs of the rest.
import { api } from "../data/api.ts";
import { whoOf } from "../data/session.ts";
import { useSignal } from "../data/use-signal.ts";
import { PeoplePage } from "../features/people/people-page.tsx";
import { useServices } from "./services.tsx";

const zonesOf = async (site: string) => (await api.board(site)).zones.map(({ zone: { id, name } }) => ({ id, name }));

export default function People() {
  const { session: desk } = useServices();
  const { access } = useSignal(desk.signal);
  return <PeoplePage own={whoOf(access)?.name ?? ""} sites={access?.sites ?? []} zonesOf={zonesOf} />;
}
