// The desk's heat plan: the question put to the log as it stands, with refusals that name field and reason.
import {
  bodyFromHeatPlan,
  type HeatPlanBody,
  type HeatQuestionBody,
  heatQuestionFromBody,
} from "#contract/heat-plan.ts";
import { heatPlan } from "#core/heat/plan.ts";
import { type Answer, good, refuse } from "./answer.ts";
import { type Office, zoneOf } from "./office.ts";

export function createHeatDesk(office: Office) {
  return {
    heatPlan(siteId: string, zoneId: string, body: HeatQuestionBody): Answer<HeatPlanBody> {
      const found = zoneOf(office, siteId, zoneId);
      if (!found.ok) return found;
      const question = heatQuestionFromBody(body);
      if (Number.isNaN(question.fromMs)) return refuse("invalid", "/from", `"${body.from}" names no day that exists`);
      const answer = heatPlan(found.value.site.log, zoneId, office.moments.now(), question);
      if (answer.ok) return good(bodyFromHeatPlan(answer.plan));
      switch (answer.why) {
        case "no-outlook":
          return refuse(
            "conflict",
            "/zone",
            "too little is known of this zone to look ahead: no night heard, no forecast",
          );
        case "from-past":
          return refuse("invalid", "/from", "lies in the past");
        case "from-too-late":
          return refuse("invalid", "/from", "lies beyond the 36 h that can be looked ahead");
      }
    },
  };
}
