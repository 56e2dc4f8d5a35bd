import { Refusal } from '../../../src-shared/refusal.ts';
import { type Answer, write } from '../context.ts';
import { onlyHolding } from '../reading/holding.ts';
import { noticesAbout } from '../reading/notices.ts';

/** Answers `tell-declaration`: takes down who was told what, so that only what comes later must be told again. */
export const tellChange: Answer<'tell-declaration'> = (context, asked) =>
  write<'tell-declaration'>(context, asked, (act) => {
    const open = noticesAbout(act.tx, { untold: true }).filter(
      (notice) => notice.declaration === asked.declaration,
    );
    const told = open.filter((notice) => asked.notices.includes(notice.text));
    if (told.length < asked.notices.length) {
      throw new Refusal(
        'notice-changed',
        'What must be told of this declaration has changed since you looked.',
        {
          field: 'notices',
          next: 'Read it again, and tell them what is so now.',
        },
      );
    }
    const happened = act.happened(onlyHolding(act.tx));
    const data = {
      told: act.id(),
      declaration: asked.declaration,
      about: told.flatMap((notice) => notice.about),
      texts: told.map((notice) => notice.text),
      who: asked.who,
      how: asked.how,
      when: happened.local,
    };
    act.add('declaration-told', data, happened);
    return { done: true };
  });
