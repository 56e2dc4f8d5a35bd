import { Screen } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { Link } from '../../router.tsx';
import { CAUTION } from './plain-text.ts';
import { SENTENCES } from './sentences.ts';

/** What can be worked out, as plain questions. It needs no book and writes in none. */
export default function WorkOutScreen() {
  return (
    <Screen title="Work something out" lead={CAUTION}>
      <Sentences label="What can be worked out">
        {SENTENCES.map((one, n) => (
          <Sentence key={one.topic} margin={SENTENCES[n - 1]?.head === one.head ? '' : one.head}>
            <Link to="work-out/:topic" params={{ topic: one.topic }} className="deed">
              {one.question}
            </Link>
          </Sentence>
        ))}
      </Sentences>
    </Screen>
  );
}
