import { useEffect, useMemo, useState } from 'react';
import type { Outcome } from '../../../src-shared/refusal.ts';
import { type Asked, keyOfQuestion, mergeQuestions, optionsOf, type Preview } from './import-state.ts';

export type Chosen = { readonly token: string; readonly name: string };

/**
 * A file that was chosen, what would come of it, and the answers so far. Asked anew after each answer and each
 * column that was overruled; not after other writing, as a preview of a large file takes a second.
 */
export function usePreview<P extends Preview = Preview>(
  ask: (token: string, columns: Readonly<Record<string, number>>, options: object) => Promise<Outcome<P>>,
) {
  const [file, setFile] = useState<Chosen | undefined>(undefined);
  const [columns, setColumns] = useState<Readonly<Record<string, number>>>({});
  const [asked, setAsked] = useState<readonly Asked[]>([]);
  const [sure, setSure] = useState<ReadonlySet<string>>(new Set());
  const [outcome, setOutcome] = useState<Outcome<P> | undefined>(undefined);
  const [isLooking, setLooking] = useState(false);
  const options = useMemo(() => optionsOf(asked, sure), [asked, sure]);
  const token = file?.token;
  const key = token === undefined ? '' : JSON.stringify([token, columns, options]);

  useEffect(() => {
    if (key === '') return;
    let isGone = false;
    const [wanted, overruled, answers] = JSON.parse(key) as [string, Record<string, number>, object];
    setLooking(true);
    void ask(wanted, overruled, answers).then((reply) => {
      if (isGone) return;
      setLooking(false);
      setOutcome(reply);
      if (!reply.ok) return;
      const { questions } = reply.value;
      setAsked((before) => {
        const again = before
          .filter((one) => one.answer !== '' && one.question.code === 'ask:weight-unit')
          .map((one) => one.key)
          .filter((one) => questions.some((question) => keyOfQuestion(question) === one));
        if (again.length > 0) setSure((held) => new Set([...held, ...again]));
        return mergeQuestions(before, questions);
      });
    });
    return () => {
      isGone = true;
    };
  }, [key, ask]);

  return {
    file,
    asked,
    options,
    columns,
    outcome,
    isLooking,
    choose(next: Chosen | undefined) {
      setFile(next);
      setColumns({});
      setAsked([]);
      setSure(new Set());
      setOutcome(undefined);
    },
    setColumn: (name: string, at: number) => setColumns((before) => ({ ...before, [name]: at })),
    answer(which: string, value: string) {
      setSure((held) => new Set([...held].filter((one) => one !== which)));
      setAsked((before) => before.map((one) => (one.key === which ? { ...one, answer: value } : one)));
    },
  };
}
export type PreviewState = ReturnType<typeof usePreview<Preview>>;
