import type { Reply } from '../../../src-shared/calls/all.ts';
import { sitesInText } from '../../../src-shared/needle/site-words.ts';
import { PushesHardFor } from './pushes-hard.tsx';
import type { DoseFor, LineDose } from './sends.ts';
import type { Run } from './use-run.ts';
import { WhereShown } from './where-shown.tsx';
import { hasPlaces } from './words.ts';

/** At the race: where this dose of this animal goes. Two injections of one animal go to two places. */
export function RunWhere({
  run,
  dose,
  line,
  planned,
}: {
  run: Run;
  dose: DoseFor;
  line: LineDose;
  planned: Reply<'session'>['lines'][number] | undefined;
}) {
  const { form } = run;
  const { site = '', side = '', needle = '' } = form.values;
  if (planned === undefined || line.dose === null || !hasPlaces(line.route)) return null;
  const before = dose.doses.slice(
    0,
    dose.doses.findIndex((one) => one.line === line.line),
  );
  return (
    <>
      <WhereShown
        name={line.name}
        route={line.route}
        ask={{
          subject: dose.who.subject,
          medicine: planned.medicine,
          doseLine: planned.doseLine,
          volume: line.dose.draw.text,
          parts: line.dose.sites,
          besides: before.flatMap(usedBy),
          ...(dose.who.weight === undefined ? {} : { weight: dose.who.weight }),
          ...(planned.equipment === undefined ? {} : { equipment: planned.equipment }),
        }}
        said={{ site, side, needle }}
        onSay={(change) => form.set(change)}
        onFound={(where) => run.shows(line.line, where)}
        keeps="A choice of your own stays for the next ones too, until you choose the suggestion again."
      />
      <PushesHardFor medicine={planned.medicine} capacity={planned.syringe?.capacity} />
    </>
  );
}

/** The places another medicine has used, as the book will have them. */
function usedBy({ where }: LineDose) {
  if (where === undefined) return [];
  const sides = where.side === 'both' ? (['left', 'right'] as const) : [where.side];
  return sitesInText(where.site).flatMap((site) => sides.map((one) => ({ site, side: one })));
}
