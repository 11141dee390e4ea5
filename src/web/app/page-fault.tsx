import { Component, type ReactNode } from 'react';

/** A fault of one page does not take the others with it. */
export class PageFault extends Component<{ children: ReactNode }, { fault: Error | null }> {
  override state = { fault: null as Error | null };

  static getDerivedStateFromError(fault: Error): { fault: Error } {
    return { fault };
  }

  override render(): ReactNode {
    const { fault } = this.state;
    if (fault === null) return this.props.children;
    return (
      <main className="page" id="main">
        <h1>This page has a fault</h1>
        <p>Nothing that was recorded is touched by it. What it said: {fault.message}</p>
        <button type="button" onClick={() => window.location.reload()}>
          Load it again
        </button>
      </main>
    );
  }
}
