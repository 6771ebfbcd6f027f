// Holds a part of the page that may fail to load or to draw, so that the rest of the page stands.
import { Component, type ReactNode } from "react";

/** The file of a part could not be fetched: asking again may help. */
export class NotFetched extends Error {}

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
    const again = broken instanceof NotFetched ? () => this.setState({ broken: null }) : null;
    return typeof instead === "function" ? instead(again) : instead;
  }
}
