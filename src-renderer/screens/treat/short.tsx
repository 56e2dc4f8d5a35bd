import type { Reply } from '../../../src-shared/calls/all.ts';
import { Notice } from '../../parts/notice.tsx';

/** What is missing in the cabinet for those who wait, before the first of them; nothing when there is enough. */
export function Short({
  lines,
  does,
}: {
  lines: Reply<'session'>['lines'];
  /** What going on all the same will do. */
  does: string;
}) {
  const short = lines.filter((line) => line.short !== undefined);
  if (short.length === 0) return <ShortOfLosses lines={lines} />;
  return (
    <Notice kind="mind" word="Short">
      {short.map((line) => (
        <p key={line.line}>
          <strong>
            {line.short?.text} of {line.name} is missing
          </strong>
          : {line.needs.text} is needed for those who wait.
        </p>
      ))}
      <p>{does}</p>
    </Notice>
  );
}

/** Enough for the doses alone, and not for what is lost besides. Nothing when it is enough for both. */
function ShortOfLosses({ lines }: { lines: Reply<'session'>['lines'] }) {
  const tight = lines.filter((line) => line.withLosses?.short !== undefined);
  if (tight.length === 0) return null;
  return (
    <Notice kind="mind" word="Just enough">
      {tight.map(({ line, name, withLosses }) => (
        <p key={line}>
          {name}: {withLosses?.says}. <strong>{withLosses?.short?.text} of that is not there</strong>, so have
          another bottle at hand.
        </p>
      ))}
    </Notice>
  );
}
