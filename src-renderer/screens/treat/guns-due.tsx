import type { Reply } from '../../../src-shared/calls/all.ts';
import { DeedLink } from '../../parts/deed.tsx';
import { Notice } from '../../parts/notice.tsx';

/** Guns of this work that are to be checked before the next animal, or that do not suit the route. */
export function GunsDue({ lines }: { lines: Reply<'session'>['lines'] }) {
  return lines.flatMap(({ line, equipment, warnings }) =>
    warnings
      .filter(({ code }) => code.startsWith('gun-'))
      .map(({ code, text }) => (
        <Notice
          key={`${line} ${code}`}
          kind="mind"
          word="Gun"
          deed={
            equipment === undefined || code !== 'gun-check-due' ? undefined : (
              <DeedLink to="farm/equipment/:equipment" params={{ equipment }}>
                Check the gun
              </DeedLink>
            )
          }
        >
          <p>{text}</p>
        </Notice>
      )),
  );
}
