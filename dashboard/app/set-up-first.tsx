// The page of a server without a site, and of another one: what is made there, and where it leads.
import { siteList } from "../data/site-list.ts";
import FirstStart from "../features/set-up/first-start.tsx";
import { hrefs } from "./route.ts";

export default function SetUpFirst({ taken }: { readonly taken: readonly string[] }) {
  return (
    <FirstStart
      taken={taken}
      onMade={(site, whole) => {
        siteList.changed();
        globalThis.location.hash = whole ? hrefs.board(site) : hrefs.page(site, "set-up", "coats");
      }}
    />
  );
}
