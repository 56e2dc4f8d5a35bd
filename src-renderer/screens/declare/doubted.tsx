import type { ReactNode } from 'react';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed } from '../../parts/deed.tsx';
import { Notice } from '../../parts/notice.tsx';
import { dayInWords } from '../../parts/words.ts';

/** While the date is in doubt: that nothing is called clear, and the way out. Otherwise what stands inside. */
export function Doubted({ children }: { children?: ReactNode }) {
  const farm = useCall('farm', {});
  return (
    <Await call={farm} what="Reading the clock">
      {({ clock }) =>
        clock.state === 'believed' ? (
          children
        ) : (
          <Notice kind="stop" word="What day is it?" deed={<CommandDeed id="confirm-date" />}>
            <p>
              The computer says {dayInWords(clock.today)}, and the book does not fit that. Nobody is called
              clear and nothing is declared until the date is confirmed.
            </p>
          </Notice>
        )
      }
    </Await>
  );
}
