import { CALLS, type CallName } from '../../src-shared/calls/all.ts';
import { type Fault, faultOf, type Outcome, Refusal } from '../../src-shared/refusal.ts';
import type { Desk, DeskOptions } from '../desk-type.ts';
import { renderPaper } from '../paper/render.ts';
import { openStore } from '../store/store.ts';
import { workBoard } from '../work/board.ts';
import { deskWork } from '../work/desk-work.ts';
import { storeJobs } from '../work/store-jobs.ts';
import { attachmentAnswers } from './attachment/answers.ts';
import { backupShelf } from './backup.ts';
import { badInput } from './bad-input.ts';
import { bookAnswers, issuedPaper } from './book/answers.ts';
import { balanceAnswers } from './book/balance-answer.ts';
import { bookJobs } from './book/jobs.ts';
import { packShelf } from './book/make-pack.ts';
import { cabinetAnswers } from './cabinet/answers.ts';
import type { Context } from './context.ts';
import { costAnswers } from './cost/answers.ts';
import { declareAnswers } from './declare/answers.ts';
import { drawerAnswers } from './drawer/answers.ts';
import { equipmentAnswers } from './equipment/answers.ts';
import { farmAnswers } from './farm.ts';
import { heldFiles } from './files.ts';
import { flockAnswers } from './flock/answers.ts';
import { holdAnswers } from './hold/answers.ts';
import { instructionAnswers } from './instruction/answers.ts';
import { kitAnswers } from './kit/answers.ts';
import { medicineAnswers } from './medicine/answers.ts';
import { orderAnswers, orderListAnswers } from './order/answers.ts';
import { packCodeAnswers } from './pack-code/answers.ts';
import { prescriptionAnswers } from './prescription/answers.ts';
import { recallAnswers } from './recall/answers.ts';
import { recordAnswers } from './record/answers.ts';
import { safetyAnswers } from './safety/answers.ts';
import { sharpsAnswers } from './sharps/answers.ts';
import { stocktakeAnswers } from './stocktake/answers.ts';
import { storageAnswers } from './storage/answers.ts';
import { storeParts } from './store-parts.ts';
import { trainingAnswers } from './training.ts';
import { treatAnswers } from './treat/answers.ts';
import { whereAnswers } from './treat/needle.ts';
import { useAnswers } from './use/answers.ts';
import { vaccineAnswers } from './vaccine/answers.ts';
import { vetPageAnswers } from './vet-page/answers.ts';
import { workAnswers } from './work.ts';

type AnyAnswer = (context: Context, asked: never) => unknown;
const ANSWERS: Readonly<Record<CallName, AnyAnswer>> = {
  ...farmAnswers,
  ...equipmentAnswers,
  ...medicineAnswers,
  ...cabinetAnswers,
  ...prescriptionAnswers,
  ...recallAnswers,
  ...stocktakeAnswers,
  ...orderAnswers,
  ...orderListAnswers,
  ...packCodeAnswers,
  ...storageAnswers,
  ...flockAnswers,
  ...treatAnswers,
  ...instructionAnswers,
  ...sharpsAnswers,
  ...drawerAnswers,
  ...holdAnswers,
  ...kitAnswers,
  ...whereAnswers,
  ...safetyAnswers,
  ...vaccineAnswers,
  ...declareAnswers,
  ...attachmentAnswers,
  ...bookAnswers,
  ...balanceAnswers,
  ...recordAnswers,
  ...useAnswers,
  ...vetPageAnswers,
  ...trainingAnswers,
  ...costAnswers,
  ...workAnswers,
};

const isCall = (name: string): name is CallName => Object.hasOwn(CALLS, name);

/**
 * Opens the desk on a book: answers every call, in an envelope. Throws a Refusal when the book cannot be opened.
 * The request is checked against its schema, computed by an answer, and the reply checked against its schema,
 * so that a screen never gets a shape it does not know.
 */
export function openDesk(options: DeskOptions): Desk {
  const store = openStore(options.book, storeParts, { now: options.clock }, { create: true });
  const files = heldFiles();
  const backups = backupShelf(store, options.clock);
  const packs = packShelf(store, options.clock);
  const closing = new AbortController();
  const context: Context = {
    store,
    now: options.clock,
    file: (token) => files.get(token),
    render: (job, tools) => renderPaper(job, options.worker, tools?.signal ?? closing.signal),
    work: deskWork({ ...storeJobs(storeParts), ...bookJobs(storeParts.kinds) }, options.worker),
    board: workBoard(closing.signal),
    backups,
    packs,
  };

  async function answer(name: string, request: unknown): Promise<unknown> {
    if (!isCall(name)) {
      throw new Refusal('unknown-call', 'The desk knows no such call.', {
        next: `Calls are: ${Object.keys(CALLS).join(', ')}.`,
      });
    }
    const spec = CALLS[name];
    const asked = spec.request.safeParse(request ?? {});
    if (!asked.success) throw badInput(asked.error.issues);
    const reply = await ANSWERS[name](context, asked.data as never);
    return spec.reply.parse(reply);
  }

  const savedOnce = async (hash: string) => (await backups.take(hash)) ?? packs.take(hash);

  return {
    async call(name, request): Promise<Outcome<unknown>> {
      try {
        return { ok: true, value: await answer(name, request) };
      } catch (thrown) {
        const error: Fault = faultOf(thrown);
        return { ok: false, error };
      }
    },
    file: (name, bytes) => ({ token: files.put(name, bytes) }),
    paper: (hash) => issuedPaper(store, hash) ?? savedOnce(hash),
    close() {
      closing.abort();
      backups.close();
      packs.close();
      store.close();
    },
  };
}
