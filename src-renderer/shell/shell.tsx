import { lazy, type ReactNode, Suspense, useState } from 'react';
import type { Reply } from '../../src-shared/calls/all.ts';
import { type Command, commandOf, PLACE_NAMES, PLACES, type Place } from '../../src-shared/commands.ts';
import { useWriter, writeAs } from '../hooks/use-writer.ts';
import { Deed, DeedLink } from '../parts/deed.tsx';
import { Keys } from '../parts/keys.tsx';
import { dayInWords } from '../parts/words.ts';
import { Link, useLocation } from '../router.tsx';
import type { Location } from '../routes.ts';
import { useCommand, useMenu, useStartedRun } from './commands.ts';

const Palette = lazy(() => import('./palette.tsx'));
const KeysSheet = lazy(() => import('./keys-sheet.tsx'));

type Farm = Reply<'farm'>;

/** What stands around every screen: whose book it is, the eight places, what must be known, the last line. */
export function Shell({ farm, place, children }: { farm: Farm; place: Place; children: ReactNode }) {
  const [open, setOpen] = useState<'palette' | 'keys' | undefined>(undefined);
  useCommand('find', () => setOpen('palette'));
  useCommand('keys', () => setOpen('keys'));
  const close = () => setOpen(undefined);
  const here = useLocation();
  const [notDone, setNotDone] = useState<{ command: Command; at: Location } | undefined>(undefined);
  useMenu((command) => setNotDone(command && { command, at: here }));

  return (
    <>
      <button type="button" className="skip" onClick={skip}>
        Skip to the screen
      </button>
      <Bands farm={farm} />
      {/* A deed of the menu that belongs to another screen; forgotten as soon as one goes there. */}
      {notDone?.at === here ? (
        <p className="band band-mind" role="status">
          “{notDone.command.name}” cannot be done on this screen. Open the screen it belongs to first.
        </p>
      ) : null}
      <div className="page">
        <header className="top">
          <p className="whose">
            <strong>{farm.business?.name}</strong>
            {/* On Today the date is the heading. */}
            {place === 'today' ? null : <span>{dayInWords(farm.clock.today)}</span>}
          </p>
          <Places place={place} />
        </header>
        <main id="main" tabIndex={-1}>
          {children}
        </main>
        <LastLine onFind={() => setOpen('palette')} onKeys={() => setOpen('keys')} />
      </div>
      <Suspense fallback={null}>
        {open === 'palette' ? <Palette onClose={close} /> : null}
        {open === 'keys' ? <KeysSheet onClose={close} /> : null}
      </Suspense>
    </>
  );
}

/** No link: the fragment of the address belongs to the key. */
function skip() {
  document.getElementById('main')?.focus();
}

function Places({ place }: { place: Place }) {
  const run = useStartedRun();
  return (
    <nav aria-label="Places">
      <ul className="places">
        {PLACES.map((name) => {
          const shortcut = commandOf(`go-${name}`).shortcut ?? '';
          return (
            <li key={name}>
              <Link to={name} current={name === place}>
                {PLACE_NAMES[name]}
                {/* After the first key of a run the places say which key leads to them. */}
                {run !== '' && shortcut.startsWith(`${run} `) ? (
                  <kbd>{shortcut.slice(run.length + 1)}</kbd>
                ) : null}
              </Link>
            </li>
          );
        })}
      </ul>
    </nav>
  );
}

function Bands({ farm }: { farm: Farm }) {
  if (farm.business?.demo !== true && farm.clock.state === 'believed') return null;
  return (
    <section aria-label="To know first">
      {farm.business?.demo === true ? (
        <p className="band band-demo">
          <strong>DEMO</strong> Invented farm, invented medicines. Nothing here may be used on an animal or
          declared.
        </p>
      ) : null}
      {farm.clock.state === 'doubted' ? (
        <div className="band band-mind" role="status">
          <p>
            <strong>What day is it?</strong>{' '}
            {farm.clock.why ?? `The computer says ${dayInWords(farm.clock.today)}.`} Nothing is called clear
            until the date is confirmed.
          </p>
          <DeedLink to="farm/date">Confirm the date</DeedLink>
        </div>
      ) : null}
    </section>
  );
}

function LastLine({ onFind, onKeys }: { onFind: () => void; onKeys: () => void }) {
  const { person, name, writers } = useWriter();
  return (
    <footer className="last-line">
      <p>
        {writers.length > 1 ? (
          <>
            <label htmlFor="writer">Written by</label>{' '}
            <select id="writer" value={person} onChange={(event) => writeAs(event.target.value)}>
              {writers.map((writer) => (
                <option key={writer.person} value={writer.person}>
                  {writer.name}
                </option>
              ))}
            </select>
          </>
        ) : (
          <span>Written by {name === '' ? 'nobody yet' : name}</span>
        )}
      </p>
      <p className="last-deeds">
        {/* The two keys that lead to all the others are the only ones always in sight. */}
        <span>
          <Deed onDo={onFind} shortcut="Mod+k">
            Find or do anything
          </Deed>{' '}
          <Keys shortcut="Mod+k" />
        </span>
        <span>
          <Deed onDo={onKeys} shortcut="?">
            Keys
          </Deed>{' '}
          <Keys shortcut="?" />
        </span>
      </p>
    </footer>
  );
}
