import './styles/tokens.css';
import './styles/base.css';
import './styles/shell.css';
import './styles/parts.css';
import './styles/forms.css';
import './styles/lists.css';
import './styles/figures.css';
import { type ComponentType, lazy, type ReactNode, Suspense } from 'react';
import { useCall } from './hooks/use-call.ts';
import { useDay } from './hooks/use-day.ts';
import { Await } from './parts/await.tsx';
import { go, Link, useLocation, useVisit } from './router.tsx';
import { ROUTES } from './routes.ts';
import { useKeys } from './shell/commands.ts';
import { ErrorBoundary } from './shell/error-boundary.tsx';
import { applyLook } from './shell/look.ts';
import { Shell } from './shell/shell.tsx';

applyLook();

type ScreenFile = { default: ComponentType };

// Each screen is a file of its own that is fetched when it is opened.
const files = import.meta.glob<ScreenFile>('./screens/*/*.tsx');
const screens = new Map(
  [...new Set(Object.values(ROUTES).map((route) => route.file))].map((file) => [
    file,
    lazy(async () => {
      const load = files[`./screens/${file}.tsx`];
      if (load === undefined) throw new Error(`screens/${file}.tsx is missing`);
      return load();
    }),
  ]),
);
const FirstRun = lazy(() => import('./screens/first-run/screen.tsx'));

/** What stands around a screen when there is no book yet. */
function WithoutBook({ children }: { children: ReactNode }) {
  return (
    <div className="page page-alone">
      <header className="whose">
        <span>No book is begun, and none is needed here.</span>
        <Link to="today" className="deed">
          Begin a book
        </Link>
      </header>
      <main id="main">{children}</main>
    </div>
  );
}

/** The whole program: an empty book first asks whose it is; after that the shell and the screen of the address. */
export function App() {
  useKeys();
  const farm = useCall('farm', {});
  const location = useLocation();
  const visit = useVisit();
  useDay(farm.state === 'ready' ? farm.value.clock : undefined, visit);
  const route = ROUTES[location.path];
  const Shown = screens.get(route.file);
  const waiting = (
    <p className="awaited" role="status">
      Opening {route.title}…
    </p>
  );

  // Without the farm there is nothing to stand around a screen, so the trouble stands alone.
  if (farm.state !== 'ready') {
    return (
      <main className="page page-alone">
        <Await call={farm} what="Opening the book">
          {() => null}
        </Await>
      </main>
    );
  }
  return (
    <Await call={farm} what="Opening the book">
      {(value) =>
        value.business === null ? (
          <ErrorBoundary onToday={() => window.location.reload()}>
            <Suspense fallback={waiting}>
              {/* What is worked out needs no book, so it is there before one is begun. */}
              {Shown !== undefined && location.path.startsWith('work-out') ? (
                <WithoutBook key={visit}>
                  <Shown />
                </WithoutBook>
              ) : (
                <FirstRun />
              )}
            </Suspense>
          </ErrorBoundary>
        ) : (
          <Shell farm={value} place={route.place}>
            {/* Each visit is a screen of its own: nothing typed for one animal stays for the next, and who asks once
            more for what was just finished begins anew. */}
            <ErrorBoundary key={visit} onToday={() => go({ to: 'today' })}>
              <Suspense fallback={waiting}>{Shown === undefined ? null : <Shown />}</Suspense>
            </ErrorBoundary>
          </Shell>
        )
      }
    </Await>
  );
}
