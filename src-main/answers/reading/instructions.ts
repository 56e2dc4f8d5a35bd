import type { DataOf } from '../../../src-shared/entries/all.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import type { Reader } from '../../store/store.ts';

/**
 * An instruction of the vet with the instant at which it was given (of a day alone its start) and the same as it was
 * written, and whether there is a paper of it.
 */
export type Instruction = {
  data: DataOf<'instruction-given'>;
  at: string;
  local: string;
  zone: string;
  seq: number;
  inWriting: boolean;
};

type Row = { data: string; at: string; seq: number; local: string; zone: string; papers: number };

const SELECT = `SELECT r.data, r.at, r.seq, j.line ->> '$.happened.local' AS local, j.line ->> '$.happened.zone' AS zone,
  (SELECT count(*) FROM record AS paper
    WHERE paper.what = 'attachment' AND paper.name = 'instruction:' || r.id) AS papers
  FROM record AS r JOIN journal AS j ON j.seq = r.seq WHERE r.what = 'instruction'`;

/** A word that the vet only said is not in writing until its paper is in the book. */
function read({ data: text, papers, ...when }: Row): Instruction {
  const data = JSON.parse(text) as Instruction['data'];
  return { data, ...when, inWriting: data.form === 'written' || data.paper !== undefined || papers > 0 };
}

/** Every instruction that stands, newest first. */
export function instructionsOf(tx: Reader): Instruction[] {
  return tx.all<Row>(`${SELECT} ORDER BY r.at DESC, r.seq DESC`).map(read);
}

/** One instruction; nothing when the book does not have it, or has it struck out. */
export function instructionOf(tx: Reader, id: string): Instruction | undefined {
  const row = tx.get<Row>(`${SELECT} AND r.id = ?`, id);
  return row && read(row);
}

/** The instruction with this id. Refuses (`no-such-instruction`). */
export function knownInstruction(tx: Reader, id: string, field = 'instruction'): Instruction {
  const found = instructionOf(tx, id);
  if (found) return found;
  throw new Refusal('no-such-instruction', "This vet's instruction is not in the book.", {
    field,
    next: "Choose another one, or write down the vet's word first.",
  });
}

/** Treatments that name an instruction, newest first. */
export function treatmentsBy(
  tx: Reader,
  instruction: string,
): { id: string; subject: string; local: string; product: string; data: string }[] {
  return tx.all(
    `SELECT id, subject, local, product, data FROM administration
     WHERE data ->> '$.instruction' = ? ORDER BY at DESC, seq DESC`,
    instruction,
  );
}
