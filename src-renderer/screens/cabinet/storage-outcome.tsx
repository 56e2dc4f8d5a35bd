import type { Reply } from '../../../src-shared/calls/all.ts';
import { type Column, List } from '../../parts/list.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Section } from '../../parts/screen.tsx';
import { go } from '../../router.tsx';

type Found = Reply<'record-storage'>;

/** What follows from a reading, or would follow: what is set aside, and who got it, by name. */
export function StorageOutcome({ found, isWritten = true }: { found: Found; isWritten?: boolean }) {
  const { says, setAside, given } = found;
  const isBad = setAside.length > 0 || given.length > 0;
  return (
    <>
      <Notice kind={isBad ? 'mind' : isWritten ? 'done' : 'note'}>
        {says.map((text) => (
          <p key={text}>{text}</p>
        ))}
      </Notice>
      {setAside.length === 0 ? null : (
        <Section title={isWritten ? 'Set aside' : 'Will be set aside'}>
          <List
            rows={setAside}
            columns={asideColumns}
            rowKey={(one) => one.container}
            label="Set aside"
            onOpen={({ container }) => go({ to: 'cabinet/container/:container', params: { container } })}
            empty={<p className="cabinet-none">None.</p>}
          />
        </Section>
      )}
      {given.length === 0 ? null : (
        <Section title="Who got it">
          <List
            rows={given.map((one, n) => ({ ...one, n }))}
            columns={givenColumns}
            rowKey={(one) => String(one.n)}
            label="Who got it"
            onOpen={({ subject }) => go({ to: 'flock/subject/:subject', params: { subject } })}
            fileName="given since the last good reading"
            empty={<p className="cabinet-none">Nobody.</p>}
          />
        </Section>
      )}
    </>
  );
}

const asideColumns: readonly Column<Found['setAside'][number]>[] = [
  { key: 'label', head: 'Container no.', isName: true, text: (one) => one.label },
  { key: 'name', head: 'Medicine', text: (one) => one.name },
];

const givenColumns: readonly Column<Found['given'][number] & { n: number }>[] = [
  { key: 'shown', head: 'Animal or lot', isName: true, text: (one) => one.shown },
  { key: 'name', head: 'Medicine', text: (one) => one.name },
  { key: 'on', head: 'When', text: (one) => one.on, order: (one) => one.n },
];
