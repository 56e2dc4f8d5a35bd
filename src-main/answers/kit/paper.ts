import type { KitPaper } from '../../paper/kit-block.ts';
import type { Context } from '../context.ts';
import { optional } from '../optional.ts';
import type { Holding } from '../reading/holding.ts';
import type { Session } from '../treat/session.ts';
import { shownKit } from './answers.ts';

/** The kit of an open session as the work sheet prints it. */
export function kitPaper(context: Context, session: Session, holding: Holding): KitPaper {
  const { lines, change, items, checks, checked, warnings } = shownKit(context, session, holding);
  const several = lines.length > 1;
  return {
    needles: lines.flatMap(({ name, givenWith, needles, noNeedle }) => [
      ...needles.map(({ who, heads, text, hub, technique, warnings: said }) => ({
        big: `${several ? `${name}: ` : ''}${text} (${hub} hub where it has a colour), ${heads} ${who}.`,
        small: [technique, ...said.map((one) => one.text), `Given with: ${givenWith}.`].join(' '),
      })),
      ...noNeedle.map(({ who, heads, text, next }) => ({
        big: `${several ? `${name}: ` : ''}no needle is named for ${heads} ${who}.`,
        small: [text, next ?? ''].join(' '),
      })),
    ]),
    change: change === undefined ? [] : [...change.says, ...warnings.map(({ text }) => text)],
    items: items.map(({ what, text, wanted, leftText, short }) => ({
      text: `${wanted} × ${what === 'needle' ? `needle ${text}` : what === 'syringe' ? `syringe, ${text}` : what === 'marking-spray' ? `marking spray, ${text}` : text}`,
      ...optional('short', short === 0 ? undefined : `${short} short: ${sayThere(leftText)}.`),
    })),
    checks: checks.map(({ says, ticked }) => ({ says, ticked })),
    ...optional('checked', checked && `Ticked by ${checked.by}, ${checked.local}.`),
  };
}

function sayThere(left: string): string {
  return /^\d/.test(left) ? `${left} in the drawer` : left;
}
