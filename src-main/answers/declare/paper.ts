import { contentOf, factLines, sayContent } from '../../../src-shared/declare/contents.ts';
import { PURPOSE_RULES } from '../../../src-shared/declare/purposes.ts';
import { printDay } from '../../../src-shared/time/day.ts';
import { dayOf, type Instant, printInstant } from '../../../src-shared/time/zone.ts';
import type { DeclarationPaper } from '../../paper/declaration.ts';
import type { PaperHead } from '../../paper/parts.ts';
import type { Reader } from '../../store/store.ts';
import { optional } from '../optional.ts';
import { businessOf, type Holding, personName } from '../reading/holding.ts';
import { printLocal } from '../reading/labels.ts';
import { COUNTING_WORDS, type DeclarationLine } from './lines.ts';
import type { Told } from './told.ts';

/** What every paper of a holding carries. `doubted` says on the paper that the date was not certain. */
export function paperHead(
  tx: Reader,
  holding: Holding,
  made: { now: string; checkCode: string; size: 'a4' | 'letter'; doubted?: boolean },
): PaperHead {
  const business = businessOf(tx);
  const { zone } = holding;
  const now = made.now as Instant;
  const day = dayOf(now, zone);
  return {
    size: made.size,
    stated: made.now,
    statedText: printInstant(now, zone),
    believedDay: day,
    believedText: made.doubted ? `${printDay(day)}; nobody had confirmed that date` : printDay(day),
    demo: business?.demo ?? false,
    business: {
      name: business?.name ?? holding.name,
      address: business?.address ?? holding.address,
      ...(business?.phone === undefined ? {} : { phone: business.phone }),
      ...(business?.email === undefined ? {} : { email: business.email }),
    },
    holding: { name: holding.name, number: holding.number, address: holding.address, zone },
    keeper: holding.keeper === undefined ? (business?.name ?? holding.name) : personName(tx, holding.keeper),
    counting: COUNTING_WORDS[holding.counting],
    checkCode: made.checkCode,
  };
}

function accompaniedWords({ says, mark, told }: NonNullable<DeclarationLine['accompanied']>) {
  return { says, mark, told };
}

/** The declaration as its paper prints it. */
export function declarationPaper(
  told: Told,
  more: {
    head: PaperHead;
    number: number;
    departs: string;
    relevantDays?: number | undefined;
    signer: string;
  },
): DeclarationPaper {
  const rule = PURPOSE_RULES[told.purpose];
  const content = contentOf(told.purpose, told.content);
  const { notBefore } = told;
  return {
    head: more.head,
    title: `${rule.title} no. ${more.number}`,
    number: more.number,
    to: told.to,
    words: {
      to: rule.to,
      when: rule.when,
      until: rule.until,
      none:
        rule.clearOf === undefined
          ? 'nothing runs'
          : more.relevantDays === undefined
            ? 'no treatment with a withdrawal period in the book'
            : 'no treatment to list',
    },
    departs: printLocal(more.departs),
    ...optional(
      'notBefore',
      notBefore && {
        at: printInstant(notBefore.at as Instant, told.holding.zone),
        says: `So agreed with ${notBefore.agreedWith} on ${printLocal(notBefore.agreedOn)}.`,
      },
    ),
    facts: factLines(content, told.facts),
    content: sayContent(content),
    lines: told.lines.map((each) => ({
      shown: each.shown,
      class: each.class,
      heads: each.heads,
      ...optional('accompanied', each.accompanied && accompaniedWords(each.accompanied)),
      ...optional('runs', each.runs),
      treatments: each.treatments.map(({ product, batch, local, quantity, period, until }) => ({
        product,
        batch,
        given: printLocal(local),
        quantity,
        period,
        until,
      })),
    })),
    sentences: told.sentences,
    question: told.question,
    signer: more.signer,
  };
}
