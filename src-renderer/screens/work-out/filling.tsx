import { Fragment, useEffect, useRef, useState } from 'react';
import { BlankField } from './blank.tsx';
import { type Filled, textOf } from './fill.ts';
import { OPEN } from './plain-text.ts';
import type { Part, Typed } from './sentence.ts';

/**
 * The sentence with its blanks, as it fills itself. Enter goes to the next blank; after the last one everything is
 * looked at, also what was only just typed.
 */
export function Filling({
  parts,
  filled,
  typed,
  label,
  takesCursor,
  onType,
}: {
  parts: readonly Part[];
  /** What came of it; may be of a moment ago. */
  filled: Filled;
  typed: Typed;
  label: string;
  /** Puts the cursor into the first blank when it is shown. */
  takesCursor: boolean;
  onType: (change: Typed) => void;
}) {
  const [left, setLeft] = useState<ReadonlySet<string>>(
    // What was kept from before is no longer being typed.
    () => new Set(Object.keys(typed)),
  );
  const sentence = useRef<HTMLFieldSetElement>(null);
  const leave = (names: readonly string[]) => setLeft((before) => new Set([...before, ...names]));

  useEffect(() => {
    if (takesCursor) fieldsIn(sentence.current)[0]?.focus();
  }, [takesCursor]);

  // The blanks there were before a word was turned: the cursor goes into the first that came.
  const before = useRef<ReadonlySet<string> | undefined>(undefined);
  useEffect(() => {
    if (before.current === undefined) return;
    const came = parts.find((part) => part.kind === 'blank' && before.current?.has(part.name) === false);
    before.current = undefined;
    if (came?.kind === 'blank')
      fieldsIn(sentence.current)
        .find((field) => field.name === came.name)
        ?.focus();
  }, [parts]);
  const turn = (part: Extract<Part, { kind: 'turn' }>) => {
    before.current = new Set(parts.flatMap((one) => (one.kind === 'blank' ? [one.name] : [])));
    onType({ [`?${part.name}`]: part.next.id });
  };

  const next = (name: string) => {
    const fields = fieldsIn(sentence.current);
    const at = fields.findIndex((field) => field.name === name);
    const to = fields[at + 1];
    if (to === undefined) leave(parts.flatMap((part) => (part.kind === 'blank' ? [part.name] : [])));
    else to.focus();
  };

  return (
    <fieldset ref={sentence} className="filling" aria-label={label}>
      {parts.map((part, n) => {
        // Parts have no names of their own, and their order is that of the sentence.
        const key = part.kind === 'text' ? `text ${n}` : `${part.kind} ${part.name}`;
        return (
          <Fragment key={key}>
            {part.kind === 'text' ? part.text : null}
            {part.kind === 'gap' ? <Gap name={part.name} filled={filled} /> : null}
            {part.kind === 'turn' ? <TurnWord part={part} onTurn={() => turn(part)} /> : null}
            {part.kind === 'blank' ? (
              <BlankField
                name={part.name}
                blank={part.blank}
                value={typed[part.name] ?? part.blank.start?.() ?? ''}
                note={filled.notes[part.name]}
                isHushed={!left.has(part.name)}
                onChange={(text) => onType({ [part.name]: text })}
                onLeave={() => {
                  if (textOf(part, typed) !== '') leave([part.name]);
                }}
                onNext={() => next(part.name)}
              />
            ) : null}
          </Fragment>
        );
      })}
    </fieldset>
  );
}

/** The fields of a sentence in their order. */
function fieldsIn(sentence: HTMLFieldSetElement | null) {
  return [
    ...(sentence?.querySelectorAll<HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement>(
      'input, select, textarea',
    ) ?? []),
  ];
}

function Gap({ name, filled }: { name: string; filled: Filled }) {
  const words = filled.state === 'told' ? filled.told.gaps[name] : undefined;
  return words === undefined ? <span className="gap">{OPEN}</span> : <strong>{together(words)}</strong>;
}

/** A number and its unit stay on one line. */
function together(words: string): string {
  return words.replaceAll(/(\d) (?=\p{L}|%)/gu, '$1\u00a0');
}

/** A word that may be a sentence of its own, as it stands in the middle of another. */
function amid(word: string): string {
  return word.replace(/^(It|The|Any|Its) /, (first) => first.toLowerCase()).replace(/\.$/, '');
}

/** A word of the sentence that can be another: pressed, the sentence goes on the other way. */
function TurnWord({ part, onTurn }: { part: Extract<Part, { kind: 'turn' }>; onTurn: () => void }) {
  const isWord = part.way.text === undefined;
  return (
    <>
      {isWord ? null : ' '}
      <button
        type="button"
        className={isWord ? 'turn' : 'turn turn-or'}
        aria-label={isWord ? `${part.way.word}: say it otherwise` : undefined}
        onClick={onTurn}
      >
        {isWord ? part.way.word : `or ${amid(part.next.word)}`}
      </button>
    </>
  );
}
