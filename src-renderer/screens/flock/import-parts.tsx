import './flock.css';
import { useEffect, useId, useMemo, useRef } from 'react';
import { DayField } from '../../parts/day-field.tsx';
import { Choice, FormScope, Select } from '../../parts/field.tsx';
import { type Column, List } from '../../parts/list.tsx';
import { FaultNotice, Notice } from '../../parts/notice.tsx';
import { Section } from '../../parts/screen.tsx';
import { count } from '../../parts/words.ts';
import { Box } from './box.tsx';
import { type Asked, type Preview, sayChoice, sayState, sayTotals } from './import-state.ts';
import type { PreviewState } from './use-preview.ts';

/** What the desk makes of the file: its questions, its rows, its columns, and the totals above all. */
export function PreviewParts({
  state,
  columnNames,
  lines = {},
}: {
  state: PreviewState;
  columnNames: Readonly<Record<string, string>>;
  lines?: LineWords;
}) {
  const { outcome, isLooking, asked } = state;
  if (outcome === undefined) {
    return (
      <p className="awaited" role="status">
        Reading the file…
      </p>
    );
  }
  if (!outcome.ok) return <FaultNotice fault={outcome.error} />;
  const preview = outcome.value;
  const aboutColumns = preview.questions.filter((question) => question.code === 'ask:columns');
  const isAsking = preview.questions.length > 0;
  return (
    <>
      <Section title="What comes of it">
        <p className="said-line" role="status">
          {isLooking ? 'Reading again…' : sayTotals(preview.totals, isAsking)}
        </p>
        {preview.notes.length === 0 ? null : (
          <Notice>
            {preview.notes.map((note) => (
              <p key={note}>{note}</p>
            ))}
          </Notice>
        )}
      </Section>
      {asked.length === 0 ? null : (
        <Section title={asked.some((one) => one.answer === '') ? 'Answer first' : 'Answered'}>
          <Questions asked={asked} onAnswer={state.answer} />
        </Section>
      )}
      <Section title="Columns">
        {aboutColumns.map((question) => (
          <Notice key={question.message} kind="mind" word="Say which">
            <p>{question.message}</p>
          </Notice>
        ))}
        <Columns preview={preview} names={columnNames} onColumn={state.setColumn} />
      </Section>
      <Section title="Lines">
        <Rows preview={preview} lines={lines} />
      </Section>
    </>
  );
}

/** What a question is about, in a word for the margin. */
const questionLabels: Readonly<Record<string, string>> = {
  'date-order': 'Dates',
  'weight-unit': 'Unit',
  decimal: 'Comma or point',
  class: 'Class',
  'default-class': 'Class',
  sex: 'Sex',
  'weight-check': 'Odd weights',
  'weight-jump': 'Far from the last',
  day: 'Day',
  'degrees-unit': 'Unit',
  clock: 'Clock',
};

function Questions({
  asked,
  onAnswer,
}: {
  asked: readonly Asked[];
  onAnswer: (key: string, value: string) => void;
}) {
  const scope = useId();
  return (
    <FormScope value={scope}>
      <div className="form">
        {asked.map(({ key, question, answer }, n) => {
          const code = question.code.replace(/^ask:/, '');
          const shared = {
            name: `question-${n}`,
            label: questionLabels[code] ?? 'Question',
            hint: <span className="flock-asks">{question.message}</span>,
            value: answer,
            onChange: (value: string) => onAnswer(key, value),
          };
          const options = question.choices.map((value) => ({ value, label: sayChoice(code, value) }));
          if (code === 'day') return <DayField key={key} {...shared} />;
          return options.length > 4 ? (
            <Select key={key} {...shared} options={[{ value: '', label: 'Choose one' }, ...options]} />
          ) : (
            <Choice key={key} {...shared} options={options} />
          );
        })}
      </div>
    </FormScope>
  );
}

function Columns({
  preview,
  names,
  onColumn,
}: {
  preview: Pick<Preview, 'header' | 'columns'>;
  names: Readonly<Record<string, string>>;
  onColumn: (name: string, at: number) => void;
}) {
  return (
    <>
      <p className="hint">
        Guessed from the names of the columns and what stands in them. Change what is wrong.
      </p>
      <div className="flock-columns">
        {Object.entries(names).map(([name, label]) => {
          const at = preview.columns[name] ?? -1;
          return (
            <Box
              key={name}
              label={label}
              value={String(at)}
              isFaint={at < 0}
              onChange={(value) => onColumn(name, Number(value))}
              options={[
                { value: '-1', label: 'in no column' },
                ...preview.header.map((head, n) => ({
                  value: String(n),
                  label: head.trim() === '' ? `column ${n + 1}` : head.trim(),
                })),
              ]}
            />
          );
        })}
      </div>
    </>
  );
}

/** What the lines of a file are about, where they are not animals, and what is said of those that are not listed. */
type LineWords = { readonly head?: string; readonly rest?: string };

type Row = Preview['rows'][number];

const rowColumns = (head: string): readonly Column<Row>[] => [
  {
    key: 'line',
    head: 'Line',
    text: (row) => String(row.line),
    order: (row) => row.line,
    isNumber: true,
    share: 0.4,
  },
  {
    key: 'state',
    head: 'Becomes',
    text: sayState,
    show: (row) => <strong>{sayState(row)}</strong>,
    share: 0.8,
  },
  {
    key: 'shown',
    head,
    text: (row) => row.shown,
    show: (row) => <span className="flock-number">{row.shown}</span>,
    share: 1.2,
  },
  { key: 'message', head: 'Why', text: (row) => row.message ?? '', share: 3 },
];

/** The rows, refused ones first as the desk orders them. */
export function Rows({
  preview,
  lines = {},
}: {
  preview: Pick<Preview, 'rows' | 'totals'>;
  lines?: LineWords;
}) {
  const { rows, totals } = preview;
  const { head = 'Animal', rest } = lines;
  const columns = useMemo(() => rowColumns(head), [head]);
  if (rest !== undefined && rows.length === 0) return <p className="hint">{rest}</p>;
  return (
    <>
      <List
        rows={rows}
        columns={columns}
        rowKey={(row) => String(row.line)}
        label="Lines"
        fileName="lines"
        empty={<p className="empty">This file has no lines below its heading.</p>}
      />
      {rows.length < totals.in ? (
        <p className="hint">
          {rest ??
            `The first ${count(rows.length, 'line', 'lines')} of ${totals.in.toLocaleString('en-GB')} are listed, refused ones before all others.`}
        </p>
      ) : null}
    </>
  );
}

/** What came of an import, with the cursor on it, and its refused lines to be saved and mended. */
export function Taken({
  what,
  totals,
  refused,
  children,
}: {
  what: string;
  totals: Preview['totals'];
  refused: readonly Row[];
  children: React.ReactNode;
}) {
  const head = useRef<HTMLDivElement>(null);
  useEffect(() => head.current?.focus(), []);
  return (
    <>
      <div ref={head} tabIndex={-1}>
        <Notice kind="done">
          <p>
            <strong>{what}</strong> {sayTotals(totals, false)}
          </p>
          <p className="deeds">{children}</p>
        </Notice>
      </div>
      {refused.length === 0 ? null : (
        <Section title="Refused lines">
          <p className="hint">
            Save them, mend the file, and bring the whole file in again: what is already there is not taken
            twice.
          </p>
          <Rows preview={{ rows: [...refused], totals: { ...totals, in: refused.length } }} />
        </Section>
      )}
    </>
  );
}
