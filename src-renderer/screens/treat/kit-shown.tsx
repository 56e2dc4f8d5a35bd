import type { Reply } from '../../../src-shared/calls/all.ts';
import { Notice, Warnings } from '../../parts/notice.tsx';
import { Working } from '../../parts/result.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';

export type Kit = Reply<'session-kit'>;
type Needle = Kit['lines'][number]['needles'][number];

/** Which needle and what else goes to the race, with the reasons and what is short. */
export function KitShown({ kit }: { kit: Kit }) {
  const { lines, items, change, warnings } = kit;
  const short = items.filter((item) => item.short > 0);
  return (
    <div className="race-kit">
      {lines.map((line) => (
        <div key={line.name}>
          {line.needles.length + line.noNeedle.length === 0 ? null : <h3>{line.name}</h3>}
          <Sentences label={`Needle, ${line.name}`}>
            {line.needles.map((needle) => (
              <Sentence
                key={needle.text}
                margin="Needle"
                small={`${needle.technique} Given with: ${line.givenWith}.`}
              >
                <strong className="race-needle">{needle.text}</strong>, {needle.hub} hub where it has a
                colour, for {count(needle.heads, 'head', 'head')} ({needle.who}).
              </Sentence>
            ))}
            {line.noNeedle.map(({ who, text, next }) => (
              <Sentence key={`${who} ${text}`} mind margin="No needle" small={next}>
                <strong>{who}</strong>: {text}
              </Sentence>
            ))}
          </Sentences>
          {line.needles.map((needle) => (
            <Warnings key={needle.text} warnings={needle.warnings} />
          ))}
          {line.needles.map((needle) => (
            <Why key={needle.text} needle={needle} />
          ))}
          {line.guidance === undefined ? null : (
            <details>
              <summary>How {line.name} is given</summary>
              <ul>
                {line.guidance.steps.map((step) => (
                  <li key={step}>{step}</li>
                ))}
              </ul>
              <p className="hint">{line.guidance.source}</p>
            </details>
          )}
        </div>
      ))}
      {change === undefined ? null : (
        <>
          <Sentences label="Changing needles">
            <Sentence margin="Change" small={change.says.slice(1).join(' ')}>
              {change.taken} <strong>{count(change.total, 'needle', 'needles')}</strong> in all.
            </Sentence>
          </Sentences>
          <details>
            <summary>What the sources say about changing</summary>
            <ul>
              {change.sides.map((side) => (
                <li key={side}>{side}</li>
              ))}
            </ul>
          </details>
          <Working lines={change.working} />
        </>
      )}
      <Warnings warnings={warnings} />
      {items.length === 0 ? null : (
        <Sentences label="Take along">
          {items.map((item) => (
            <Sentence
              key={`${item.what} ${item.text}`}
              margin={item.short > 0 ? `${item.short} short` : 'Take'}
              mind={item.short > 0}
              small={item.why}
            >
              <strong>{sayItem(item)}</strong>. In the drawer: {item.leftText}.
            </Sentence>
          ))}
        </Sentences>
      )}
      {short.length === 0 ? null : (
        <Notice kind="mind" word="Short">
          <p>
            Count the drawer, or get{' '}
            {short.map((item) => `${item.short} × ${itemWords[item.what]} ${item.text}`).join(', ')} before
            starting.
          </p>
        </Notice>
      )}
    </div>
  );
}

const itemWords: Readonly<Record<Kit['items'][number]['what'], string>> = {
  needle: 'needle',
  syringe: 'syringe',
  'gun-spare': '',
  'sharps-box': '',
  'marking-spray': 'marking spray,',
};

function sayItem({ what, text, wanted }: Kit['items'][number]): string {
  return [`${wanted} ×`, itemWords[what], text].filter((word) => word !== '').join(' ');
}

/** The reasons for one needle, and the guidance that disagrees about it. */
function Why({ needle }: { needle: Needle }) {
  return (
    <details>
      <summary>Why {needle.text}</summary>
      <ul>
        {needle.reasons.map(({ text, source }) => (
          <li key={text}>
            {text}
            {source === undefined ? null : <small> {source}</small>}
          </li>
        ))}
      </ul>
      {needle.conflicts.map(({ topic, sides, taken }) => (
        <div key={topic}>
          <p className="hint">The sources disagree:</p>
          <ul>
            {sides.map((side) => (
              <li key={side}>{side}</li>
            ))}
          </ul>
          <p className="hint">{taken}</p>
        </div>
      ))}
    </details>
  );
}
