import './no-eval.ts';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { App } from './app.tsx';
import type { Opening } from './desk.ts';
import { desk } from './desk.ts';

const withoutDesk: Readonly<Record<Exclude<Opening, 'open'>, string>> = {
  'no-key':
    'This window has no key to Foldbook. Use the Foldbook window that is already open, or press Enter where Foldbook runs and open the address it prints.',
  'not-reached':
    'Foldbook does not answer. See that it is still running, then open the address that it printed.',
};

function Page({ opening }: { opening: Opening }) {
  if (opening === 'open') return <App />;
  return (
    <main className="page">
      <h1>Foldbook</h1>
      <p role="alert">{withoutDesk[opening]}</p>
    </main>
  );
}

const place = document.getElementById('root');
if (place === null) throw new Error('index.html has no place for the screens');
const root = createRoot(place);
const opening = await desk.open();
root.render(
  <StrictMode>
    <Page opening={opening} />
  </StrictMode>,
);
