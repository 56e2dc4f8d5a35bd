import { Component, type ReactNode } from 'react';
import { Deed } from '../parts/deed.tsx';
import { Notice } from '../parts/notice.tsx';

/** Catches a fault of the program in a screen, so that one broken screen does not take the others with it. */
export class ErrorBoundary extends Component<
  { children: ReactNode; onToday: () => void },
  { thrown: unknown; isBroken: boolean }
> {
  override state = { thrown: undefined as unknown, isBroken: false };

  static getDerivedStateFromError(thrown: unknown) {
    return { thrown, isBroken: true };
  }

  override render(): ReactNode {
    if (!this.state.isBroken) return this.props.children;
    const { thrown } = this.state;
    return (
      <article className="screen">
        <header className="screen-head">
          <h1 tabIndex={-1}>This screen does not work</h1>
        </header>
        <Notice kind="stop">
          <p>
            That is a fault in Foldbook, not yours. What was written in the book is there; an unfinished form
            was kept.
          </p>
          <p>
            Try the screen again. If it happens once more, use another screen and tell whoever looks after
            Foldbook.
          </p>
        </Notice>
        <p className="deeds">
          {/* The window is loaded anew: a screen whose file did not come would stay broken without. */}
          <Deed weight="main" onDo={() => window.location.reload()}>
            Try again
          </Deed>
          <Deed onDo={this.props.onToday}>Go to Today</Deed>
        </p>
        <details>
          <summary>What went wrong, for whoever looks after Foldbook</summary>
          <pre className="fault-text">{thrown instanceof Error ? thrown.message : String(thrown)}</pre>
        </details>
      </article>
    );
  }
}
