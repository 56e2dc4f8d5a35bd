import type { ReactNode } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import type { TextProps } from '../../hooks/use-form.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed } from '../../parts/deed.tsx';
import { Select } from '../../parts/field.tsx';
import { Empty } from '../../parts/sentence.tsx';

export type Person = Reply<'farm'>['people'][number];

/** The vets who are still with the farm, or what to do while there is none: without one nothing can be written. */
export function WithVets({ children }: { children: (vets: readonly Person[]) => ReactNode }) {
  const farm = useCall('farm', {});
  return (
    <Await call={farm} what="Reading the people">
      {({ people }) => {
        const vets = people.filter((person) => person.active && person.roles.includes('vet'));
        if (vets.length > 0) return children(vets);
        return (
          <Empty deed={<CommandDeed id="set-person" />}>
            No vet is in the book yet. Add the vet as a person first, with a tick at Vet, then come back here.
          </Empty>
        );
      }}
    </Await>
  );
}

/** The vet a new paper starts with: the only one there is. Of several, somebody must say which. */
export function firstVet(vets: readonly Person[]): string {
  return vets.length === 1 ? (vets[0]?.person ?? '') : '';
}

/** Picks one of the vets. */
export function VetField({ vets, ...props }: TextProps & { vets: readonly Person[] }) {
  return (
    <Select
      {...props}
      label="Vet"
      hint="Another vet is added under Farm, as a person."
      options={[
        { value: '', label: 'Choose the vet' },
        ...vets.map((vet) => ({ value: vet.person, label: vet.name })),
      ]}
    />
  );
}
