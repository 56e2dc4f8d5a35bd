import './book.css';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed, DeedLink } from '../../parts/deed.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';
import { instantInWords, localInWords } from './when.ts';

type Gaps = Reply<'book-gaps'>;
type Gap = Gaps['gaps'][number];

/** So many are shown at once; mended ones make room for the next. */
const most = 200;

/** What the book does not say that its profiles ask for, each with the step that mends it. */
export default function GapsScreen() {
  const call = useCall('book-gaps', { limit: most });
  const farm = useCall('farm', {});
  return (
    <Screen
      title="What is missing"
      lead="Foldbook looks for what the law of the holding and your own list ask of the book. It is a help, and no proof that all is well."
      deeds={
        <>
          <CommandDeed id="record-rules" />
          <CommandDeed id="make-pack" />
        </>
      }
    >
      <Await call={farm} what="Reading the farm">
        {({ holdings }) => (
          <Await call={call} what="Looking through the book">
            {(value) => <Found found={value} zone={holdings[0]?.zone ?? 'UTC'} />}
          </Await>
        )}
      </Await>
    </Screen>
  );
}

function Found({ found, zone }: { found: Gaps; zone: string }) {
  const open = found.gaps.filter((gap) => gap.explained === undefined);
  const explained = found.gaps.filter((gap) => gap.explained !== undefined);
  const { purchase, administration, disposal } = found.looked;
  const looked = `${count(purchase, 'delivery', 'deliveries')}, ${count(administration, 'treatment', 'treatments')} and ${count(disposal, 'disposal or return', 'disposals and returns')} were looked at.`;
  const isEmpty = purchase + administration + disposal === 0;
  return (
    <>
      <Section
        title={isEmpty ? 'Nothing to look at yet' : found.open === 0 ? 'Nothing is missing' : 'To be mended'}
      >
        {isEmpty ? (
          <p>No delivery, no treatment and no disposal is in the book yet.</p>
        ) : found.open === 0 ? (
          <p>{looked}</p>
        ) : (
          <>
            <p className="lead">
              {count(found.open, 'thing is missing', 'things are missing')}, newest first. {looked}
            </p>
            <Sentences label="Missing">
              {open.map((gap) => (
                <GapLine key={gap.gap} gap={gap} profiles={found.profiles.length} />
              ))}
            </Sentences>
            {open.length < found.open ? (
              <Notice kind="note">
                <p>The newest {open.length} are shown. The others follow as these are mended or explained.</p>
              </Notice>
            ) : null}
          </>
        )}
      </Section>
      {explained.length === 0 ? null : (
        <Section title="Missing and explained">
          <Sentences label="Explained">
            {explained.map((gap) => (
              <Sentence
                key={gap.gap}
                margin="Explained"
                small={`${gap.explained?.by ?? ''}, ${instantInWords(gap.explained?.on ?? '', zone)}: ${gap.explained?.says ?? ''}`}
                deed={<Mend gap={gap} />}
              >
                {gap.text}
              </Sentence>
            ))}
          </Sentences>
        </Section>
      )}
      <Asked found={found} />
    </>
  );
}

function GapLine({ gap, profiles }: { gap: Gap; profiles: number }) {
  return (
    <Sentence
      mind
      margin={words[gap.act]}
      small={profiles > 1 ? `Asked by: ${gap.asked.join('; ')}` : undefined}
      deed={
        <>
          <Mend gap={gap} />
          {gap.mend.how === 'explain' || gap.mend.how === 'session' ? null : (
            <DeedLink to="book/explain" query={{ gap: gap.gap, what: gap.text }}>
              It cannot be found any more
            </DeedLink>
          )}
        </>
      }
    >
      {gap.text}
    </Sentence>
  );
}

const words = { purchase: 'Delivery', administration: 'Treatment', disposal: 'Disposal' } as const;

/** The one step that mends a gap. */
function Mend({ gap }: { gap: Gap }) {
  const { how, deed, administration, medicine, person, session } = gap.mend;
  const { request, n } = gap.entry;
  if (how === 'correct' && administration !== undefined) {
    return (
      <DeedLink to="book/correct/:administration" params={{ administration }}>
        {deed}
      </DeedLink>
    );
  }
  if (how === 'label' && medicine !== undefined) {
    return (
      <DeedLink to="cabinet/medicine/:medicine" params={{ medicine }}>
        {deed}
      </DeedLink>
    );
  }
  if (how === 'person' && person !== undefined) {
    return (
      <DeedLink to="farm/person/:person" params={{ person }}>
        {deed}
      </DeedLink>
    );
  }
  if (how === 'session' && session !== undefined) {
    return (
      <DeedLink to="treat/session/:session" params={{ session }}>
        {deed}
      </DeedLink>
    );
  }
  if (how === 'complete') {
    return (
      <DeedLink to="book/fill-in" query={{ request, n: String(n) }}>
        {deed}
      </DeedLink>
    );
  }
  return (
    <DeedLink to="book/explain" query={{ gap: gap.gap, what: gap.text }}>
      {gap.explained === undefined ? deed : 'Say it otherwise'}
    </DeedLink>
  );
}

/** By what the book is kept, from where, and how far that was confirmed. */
function Asked({ found }: { found: Gaps }) {
  return (
    <Section title="What is asked">
      <Sentences label="What is asked">
        {found.profiles.map((profile) => (
          <Sentence
            key={profile.id}
            margin={profile.id === 'assurance' ? 'Your list' : 'Law'}
            small={`${profile.citation}. How far confirmed: ${profile.confirmed}. Kept ${profile.keptYears} years.${profile.withinHours === undefined ? '' : ` To be written within ${profile.withinHours} hours.`}`}
          >
            <strong>{profile.name}</strong>
            {profile.notes.length === 0 ? null : `: ${profile.notes.join(' ')}`}
          </Sentence>
        ))}
        <Sentence margin="Kept" small="The longest of what is asked counts, to the end of the year.">
          What happens today is kept until {localInWords(found.keptUntil)} at least. Foldbook deletes nothing.
        </Sentence>
      </Sentences>
    </Section>
  );
}
