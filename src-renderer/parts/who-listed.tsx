import type { ReactNode, Ref } from 'react';
import { Section } from './screen.tsx';
import { Empty, Sentences } from './sentence.tsx';
import { SubjectPicker } from './subject-picker.tsx';

type Picker = Parameters<typeof SubjectPicker>[0];

/** Who it is about: read or typed one after another, with what came of the last and one sentence for each below. */
export function WhoListed({
  title,
  label,
  ref,
  onPick,
  said,
  isEmpty,
  children,
}: {
  title: string;
  /** What the list is called. */
  label: string;
  ref: Ref<HTMLInputElement>;
  onPick: Picker['onPick'];
  said: string;
  isEmpty: boolean;
  children: ReactNode;
}) {
  return (
    <Section title={title}>
      <div className="form">
        <SubjectPicker ref={ref} hint="Read or type one after another." onPick={onPick} />
      </div>
      <p className="hint" role="status">
        {said}
      </p>
      {isEmpty ? <Empty>Nobody is in the list yet.</Empty> : <Sentences label={label}>{children}</Sentences>}
    </Section>
  );
}
