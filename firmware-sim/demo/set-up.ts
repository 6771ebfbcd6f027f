// Tells the server of the scenario's site as a person would: sheets, site, zones, nodes, then what was written in the journal.
import { DEMO_MATERIALS } from "./materials.ts";
import type { Scenario } from "../scenario/scenario.ts";
import type { Api } from "./api.ts";

export async function setUpSite(api: Api, scenario: Scenario): Promise<void> {
  const { site } = scenario;
  for (const sheet of scenario.sheets) {
    const material = DEMO_MATERIALS[sheet.id];
    await api.put("/sheets", material === undefined ? sheet : { ...sheet, material });
  }
  await api.post("/sites", site);
  for (const zone of scenario.zones) await api.post(`/sites/${site.id}/zones`, zone);
  for (const node of scenario.nodes) await api.post(`/sites/${site.id}/nodes`, node.body);
  for (const entry of scenario.journal) await api.post(`/sites/${site.id}/journal`, entry);
}
