// Holds a part of the page that may fail to load or to draw, so that the rest of the page stands.
import { Component, type ReactNode } from "react";

/** The file of a part could not be fetched: asking again may help. */
export class NotFetched extends Error {
  /** `renew` makes the next drawing ask for it; without that it fails as it did, since what draws tries twice by itself. */
  constructor(readonly renew: () => void) {
    super("not fetched");
  }
}

interface Props {
  /** `again` tries the part anew; null where trying cannot help, since it came and does not work. */
  readonly instead: ReactNode | ((again: (() => void) | null) => ReactNode);
  readonly children: ReactNode;
}

export class Boundary extends Component<Props, { readonly broken: Error | null }> {
  override state: { readonly broken: Error | null } = { broken: null };

  static getDerivedStateFromError(broken: Error) {
    return { broken };
  }

  override render() {
    const { instead, children } = this.props;
    const { broken } = this.state;
    if (broken === null) return children;
    const again =
      broken instanceof NotFetched
        ? () => {
            broken.renew();
            this.setState({ broken: null });
          }
        : null;
    return typeof instead === "function" ? instead(again) : instead;
  }
}
