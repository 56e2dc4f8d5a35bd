import { PURPOSE_RULES } from '../../../src-shared/declare/purposes.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { checkCodeOf } from '../../store/check-code.ts';
import { type Answer, type Context, write } from '../context.ts';
import { optional } from '../optional.ts';
import { personName } from '../reading/holding.ts';
import { noticesByDeclaration } from '../reading/notices.ts';
import { toldOf } from '../reading/told.ts';
import { transferOf } from './transfer-move.ts';

type Row = {
  id: string;
  number: number;
  to_whom: string;
  departs: string;
  heads: number;
  state: 'standing' | 'cancelled';
  paper: string;
  data: string;
};

/** Answers `declarations`: what was signed, newest first, with what has touched it since and who was told. */
export const declarations: Answer<'declarations'> = (context, asked) => {
  const tx = context.store.read;
  const where = [
    ...(asked.holding === undefined ? [] : ['holding = ?']),
    ...(asked.declaration === undefined ? [] : ['id = ?']),
  ];
  const rows = tx.all<Row>(
    `SELECT id, number, to_whom, departs, heads, state, paper, data FROM declaration
     ${where.length === 0 ? '' : `WHERE ${where.join(' AND ')}`} ORDER BY seq DESC LIMIT ?`,
    ...[asked.holding, asked.declaration].filter((each) => each !== undefined),
    asked.limit,
  );
  const notices = noticesByDeclaration(tx);
  const told = toldOf(tx);
  return {
    declarations: rows.map((row) => {
      const declared = JSON.parse(row.data) as DataOf<'declared'>;
      const { basedOn, believed, signer, purpose, notBefore } = declared;
      const cancelled = row.state === 'cancelled' ? cancelledBy(context, row.id) : undefined;
      return {
        declaration: row.id,
        number: row.number,
        purpose,
        title: PURPOSE_RULES[purpose].title,
        to: row.to_whom,
        departs: row.departs,
        heads: row.heads,
        state: row.state,
        paper: row.paper,
        checkCode: checkCodeOf(basedOn.seq, basedOn.hash),
        signed: believed,
        signer: personName(tx, signer),
        ...(cancelled === undefined ? {} : { cancelled }),
        ...optional('notBefore', notBefore?.local),
        ...optional('transfer', transferOf(context, declared)),
        notices: notices.get(row.id) ?? [],
        told: (told.get(row.id) ?? []).map(({ texts, who, how, when, by }) => ({
          texts,
          who,
          how,
          when,
          by: personName(tx, by),
        })),
      };
    }),
  };
};

/** Why, by whom and when a declaration was cancelled. */
function cancelledBy({ store }: Context, declaration: string) {
  const entry = store
    .entriesOf(`declaration:${declaration}`)
    .findLast((each) => each.kind === 'declaration-cancelled' && each.state !== 'voided');
  if (!entry) return undefined;
  const { why } = entry.data as DataOf<'declaration-cancelled'>;
  return { why, by: personName(store.read, entry.by), recorded: entry.recorded };
}

/** Answers `cancel-declaration`: it stays in the book with its paper. */
export const cancelDeclaration: Answer<'cancel-declaration'> = (context, asked) =>
  write<'cancel-declaration'>(context, asked, (act) => {
    const row = act.tx.get<{ state: string }>(
      'SELECT state FROM declaration WHERE id = ?',
      asked.declaration,
    );
    if (!row) {
      throw new Refusal('no-such-declaration', 'This declaration is not in the book.', {
        field: 'declaration',
      });
    }
    if (row.state === 'cancelled') {
      throw new Refusal('already-cancelled', 'This declaration is cancelled already.', {
        field: 'declaration',
      });
    }
    act.add('declaration-cancelled', { declaration: asked.declaration, why: asked.why });
    return { done: true };
  });
