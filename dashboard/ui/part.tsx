// A part of the page whose code comes when it is shown; where it could not be fetched, the next time it is asked for anew.
import { type ComponentType, lazy } from "react";
import { NotFetched } from "./boundary.tsx";

type Load<P> = () => Promise<{ readonly default: ComponentType<P> }>;

/** A style sheet that did not come stands in the page as if it had, and would be asked for no more. */
function askStylesAgain(): void {
  for (const link of document.querySelectorAll<HTMLLinkElement>("link[rel=stylesheet]"))
    if (link.sheet === null) link.replaceWith(link.cloneNode());
}

export function part<P extends object>(load: Load<P>): ComponentType<P> {
  const made = () =>
    lazy(() =>
      load().catch(() => {
        throw new NotFetched(() => {
          askStylesAgain();
          Shown = made();
        });
      }),
    ) as ComponentType<P>;
  let Shown = made();
  return (props: P) => <Shown {...props} />;
}
