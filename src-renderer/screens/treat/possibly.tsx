import type { Reply } from '../../../src-shared/calls/all.ts';
import { DeedLink } from '../../parts/deed.tsx';
import { Sentence } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';

/** A closed session in which some went through without a record: they are held until somebody says what is known. */
export function Possibly({ session }: { session: Reply<'sessions'>['sessions'][number] }) {
  return (
    <Sentence
      mind
      margin="Possibly treated"
      deed={
        <DeedLink to="treat/session/:session" params={{ session: session.session }}>
          Say what is known
        </DeedLink>
      }
    >
      {count(session.possibly, 'animal or lot', 'animals or lots')} of <strong>{session.name}</strong>{' '}
      {session.possibly === 1 ? 'has' : 'have'} no record of{' '}
      <strong>{session.possiblyOf.join(' or ')}</strong> and {session.possibly === 1 ? 'counts' : 'count'} as
      treated with what is missing.
    </Sentence>
  );
}
