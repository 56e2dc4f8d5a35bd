import { type ReactNode, useState } from 'react';
import type { TextProps } from '../hooks/use-form.ts';
import { Field } from './field.tsx';
import { shownDay, shownWhen, typedDay, typedTime, typedWhen } from './typed-when.ts';
import { dayInWords } from './words.ts';

/** The words for what stands in a day field, or nothing while it is no day. */
export function readBackDay(text: string): string | undefined {
  const day = typedDay(text);
  return day === undefined ? undefined : dayInWords(day);
}

type Props = TextProps & { label: string; hint?: ReactNode; optional?: boolean };

type Way = {
  /** What the desk reads, or nothing where the text cannot be read. */
  read: (text: string) => string | undefined;
  show: (value: string) => string;
  say: (value: string) => string;
  /** What to write when it cannot be read. */
  like: string;
  size: number;
};

/**
 * A box that takes what people write and hands on what the desk reads. While it is typed in, the letters stay as
 * they are; afterwards it stands as it is written everywhere else.
 */
function Written({ way, ...props }: Props & { way: Way }) {
  const [typed, setTyped] = useState<string>();
  const text =
    typed !== undefined && (way.read(typed) ?? typed) === props.value ? typed : way.show(props.value);
  const read = way.read(text);
  const unreadable = text.trim() !== '' && read === undefined;
  return (
    <Field
      {...props}
      value={text}
      size={way.size}
      onChange={(next) => {
        setTyped(next);
        props.onChange(way.read(next) ?? next);
      }}
      onLeave={() => setTyped(undefined)}
      {...(read === undefined
        ? unreadable
          ? { readBack: `Not a ${way.like} yet.` }
          : {}
        : { readBack: way.say(read) })}
    />
  );
}

const DAY: Way = {
  read: typedDay,
  show: shownDay,
  say: dayInWords,
  like: 'day, written as in 20 Nov 2026,',
  size: 14,
};
const TIME: Way = {
  read: typedTime,
  show: (value) => value,
  say: (value) => value,
  like: 'time of the day, as in 14:05,',
  size: 7,
};
const WHEN: Way = {
  read: typedWhen,
  show: shownWhen,
  say: (value) => `${dayInWords(value.slice(0, 10))}, ${value.slice(11)}`,
  like: 'day with its time, as in 20 Nov 2026 14:05,',
  size: 20,
};

/** A day, day first, read back in full words. Its value is "2026-11-20", or what was typed while that is no day. */
export function DayField(props: Props) {
  return <Written {...props} way={DAY} />;
}

/** A time of the day by 24 hours. Its value is "14:05". */
export function TimeField(props: Props) {
  return <Written {...props} way={TIME} />;
}

/** A day with its time in one box. Its value is "2026-11-20T14:05". */
export function WhenField(props: Props) {
  return <Written {...props} way={WHEN} />;
}
