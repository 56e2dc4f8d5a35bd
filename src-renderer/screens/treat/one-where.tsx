import { useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import type { FormState } from '../../hooks/use-form.ts';
import { Deed } from '../../parts/deed.tsx';
import type { OneValues } from './one-values.ts';
import { type PlanLine, syringeSaid } from './plan-values.ts';
import { PushesHardFor } from './pushes-hard.tsx';
import { WhereShown } from './where-shown.tsx';
import type { NeedleFor } from './where-values.ts';
import { hasPlaces, ownOf } from './words.ts';

type Planned = Reply<'plan-session'>['lines'][number];
type Dose = NonNullable<Reply<'plan-session'>['rows'][number]['doses'][number]>;

/**
 * For one treatment by itself: where it goes and with which needle. Nothing of it is written until it is said so,
 * because it may have been given already, and otherwise.
 */
export function OneWhere({
  form,
  line,
  planned,
  dose,
  weight,
}: {
  form: FormState<OneValues>;
  line: PlanLine;
  planned: Planned;
  dose: Dose;
  weight: string | undefined;
}) {
  const { values } = form;
  const { site, side, needle } = values;
  const equipment = ownOf(line.syringe)?.equipment;
  const ask = {
    subject: values.subject,
    medicine: line.medicine,
    doseLine: planned.doseLine,
    volume: dose.draw.text,
    parts: dose.sites,
    ...(weight === undefined ? {} : { weight }),
    ...(equipment === undefined ? {} : { equipment }),
    ...(values.when === 'earlier' && values.at !== '' ? { on: values.at } : {}),
  };
  const [where, setWhere] = useState<NeedleFor['where']>(undefined);
  if (!hasPlaces(planned.route)) return null;
  const isSaid =
    where !== undefined &&
    site === where.site &&
    side === where.side &&
    (where.needle === undefined || needle === where.needle);
  return (
    <>
      <WhereShown
        name={planned.name}
        route={planned.route}
        ask={ask}
        said={{ site, side, needle }}
        onSay={(change) => form.set(change)}
        onFound={setWhere}
        keeps="What you choose stands below, under “As it was”."
      />
      {where === undefined || isSaid ? null : (
        <p className="deeds">
          <Deed
            onDo={() =>
              form.set({ site: where.site, side: where.side, needle: where.needle ?? values.needle })
            }
          >
            It was done so: write place, side and needle
          </Deed>
        </p>
      )}
      <PushesHardFor medicine={line.medicine} capacity={syringeSaid(line)?.capacity} />
    </>
  );
}
