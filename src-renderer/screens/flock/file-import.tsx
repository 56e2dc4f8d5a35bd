import { type ReactNode, useState } from 'react';
import { CommandDeed, Deed, DeedLink } from '../../parts/deed.tsx';
import { FileBox, TABLE_FILES } from '../../parts/file-box.tsx';
import { Screen } from '../../parts/screen.tsx';
import { PreviewParts, Taken } from './import-parts.tsx';
import type { Preview } from './import-state.ts';
import { type PreviewState, usePreview } from './use-preview.ts';

/** What came of a file that was taken. */
type Came = { readonly totals: Preview['totals']; readonly refused: Preview['rows'] };

/** A screen that brings in a file of many lines: chosen, looked at, asked about, and only then taken. */
export function FileImport<R extends Came>({
  title,
  lead,
  hint,
  columnNames,
  ask,
  sayTaken,
  take,
  sample,
}: {
  title: string;
  lead: string;
  /** What the file needs. */
  hint: string;
  columnNames: Readonly<Record<string, string>>;
  /** Looks at the file; the same function at each drawing. */
  ask: Parameters<typeof usePreview>[0];
  /** "3 animals are in the book." */
  sayTaken: (taken: number) => string;
  /** The form that takes the file, once it was looked at. */
  take: (state: PreviewState, onTaken: (reply: R) => void) => ReactNode;
  /** How such a file looks, shown until one is chosen. */
  sample?: ReactNode;
}) {
  const state = usePreview(ask);
  const [taken, setTaken] = useState<R | undefined>(undefined);
  const again = () => {
    setTaken(undefined);
    state.choose(undefined);
  };
  return (
    <Screen title={title} lead={lead}>
      {taken !== undefined ? (
        <Taken what={sayTaken(taken.totals.taken)} totals={taken.totals} refused={taken.refused}>
          <DeedLink to="flock">See the flock</DeedLink> <Deed onDo={again}>Bring in another file</Deed>{' '}
          <CommandDeed id="imports" />
        </Taken>
      ) : (
        <>
          <FileBox label="The file" hint={hint} accept={TABLE_FILES} onChosen={state.choose} />
          {state.file === undefined ? (
            sample
          ) : (
            <>
              <PreviewParts state={state} columnNames={columnNames} />
              {take(state, setTaken)}
            </>
          )}
        </>
      )}
    </Screen>
  );
}
