import type { Reply } from '../../../src-shared/calls/all.ts';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { useCall } from '../../hooks/use-call.ts';
import type { Write } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { Deed } from '../../parts/deed.tsx';
import { WriteQuestions } from '../../parts/form.tsx';
import { type Column, List } from '../../parts/list.tsx';
import { FaultNotice, Notice } from '../../parts/notice.tsx';
import { Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';
import { Changes } from './changes.tsx';

type Moved = Reply<'preview-label-correction'>['moved'][number];

const columns: readonly Column<Moved>[] = [
  { key: 'shown', head: 'Animal or lot', text: (row) => row.shown },
  { key: 'given', head: 'Treated', text: (row) => row.given },
  { key: 'produce', head: 'For', text: (row) => row.produce },
  { key: 'from', head: 'Was held', text: (row) => row.from },
  { key: 'to', head: 'Is held then', text: (row) => row.to, show: (row) => <strong>{row.to}</strong> },
];

/** What a correction moves, before it is written: what the label says then, holds, and who was told what. */
export function Moves({
  medicine,
  revision,
  terms,
  state,
  before,
  why,
  write,
  onBack,
}: {
  medicine: string;
  revision: string;
  terms: LabelTerms;
  state: 'draft' | 'confirmed';
  /** What the label was until now. */
  before: 'draft' | 'confirmed';
  why: string;
  write: Write<'set-label'>;
  onBack: () => void;
}) {
  const preview = useCall('preview-label-correction', { medicine, revision, terms });
  return (
    <Await call={preview} what="Working out what moves">
      {({ differences, doses, moved, notices }) => (
        <>
          <Changes
            title="The label"
            differences={differences}
            doses={doses}
            none={
              before === state
                ? 'It says the same as before: nothing to correct.'
                : 'It says the same as before.'
            }
          />
          {state === 'draft' ? (
            <p>It stays a draft: no treatment can be planned with it until it is typed again.</p>
          ) : null}
          <Section title="Held">
            <List
              rows={moved}
              columns={columns}
              rowKey={(row) => `${row.administration} ${row.produce}`}
              label="What moves"
              empty={<p className="label-none">No animal is held longer or shorter by this.</p>}
            />
          </Section>
          <Section title="Declared">
            {notices.length === 0 ? (
              <p className="label-none">No declaration becomes untrue by this.</p>
            ) : (
              <Sentences label="Declarations">
                {notices.map((notice) => (
                  <Sentence
                    key={`${notice.declaration} ${notice.text}`}
                    mind
                    margin={`No. ${notice.number}`}
                    small={notice.text}
                  >
                    {notice.to} was told something that is then no longer so, and must be told.
                  </Sentence>
                ))}
              </Sentences>
            )}
          </Section>
          {write.now.state === 'failed' ? <FaultNotice fault={write.now.fault} /> : null}
          {moved.length === 0 ? null : (
            <Notice kind="mind">
              <p>
                {count(moved.length, 'hold moves', 'holds move')}
                {notices.length === 0
                  ? '.'
                  : `, and ${count(notices.length, 'person', 'people')} must be told.`}
              </p>
            </Notice>
          )}
          <p className="deeds">
            {differences.length === 0 && before === state ? null : (
              <Deed
                weight="main"
                isBusy={write.isBusy}
                onDo={() => void write.send({ act: 'typed-wrongly', medicine, revision, terms, state, why })}
              >
                Correct it in the book
              </Deed>
            )}
            <Deed onDo={onBack}>Go back to the label</Deed>
          </p>
          <WriteQuestions write={write} />
        </>
      )}
    </Await>
  );
}
