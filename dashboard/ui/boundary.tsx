// Holds a part of the page that may fail to load or to draw, so that the rest of the page stands.
import { Component, type ReactNode } from "react";

interface Props {
  readonly instead: ReactNode;
  readonly children: ReactNode;
}

export class Boundary extends Component<Props, { readonly broken: boolean }> {
  override state = { broken: false };

  static getDerivedStateFromError() {
    return { broken: true };
  }

  override render() {
    return this.state.broken ? this.props.instead : this.props.children;
  }
}
