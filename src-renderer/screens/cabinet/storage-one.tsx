import { useEffect, useRef } from 'react';
import { useCall } from '../../hooks/use-call.ts';
import { Attachments } from '../../parts/attachments.tsx';
import { Await } from '../../parts/await.tsx';
import { Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { SeriesSays } from './series-says.tsx';

/** One reading of the log, opened beneath it: what it said, and the file or a photo that is kept with it. */
export function OneReading({ reading }: { reading: string }) {
  const call = useCall('storage-reading', { reading });
  const head = useRef<HTMLDivElement>(null);
  const isThere = call.state === 'ready';
  // The cursor follows to what was opened.
  useEffect(() => {
    if (isThere) head.current?.focus();
  }, [isThere]);
  return (
    <div ref={head} tabIndex={-1}>
      <Await call={call} what="Opening the reading">
        {({ store, local, leastC, mostC, series, excursions }) => (
          <>
            <Section title={`${store}, ${local}`}>
              <Sentences label="The reading">
                {series === undefined ? (
                  <Sentence margin="Between">{`${leastC} and ${mostC} °C.`}</Sentence>
                ) : excursions.length === 0 ? (
                  <Sentence margin="Good">Nothing that stood there was outside what its label says.</Sentence>
                ) : (
                  excursions.map((text) => (
                    <Sentence key={text} margin="Outside" mind>
                      {text}
                    </Sentence>
                  ))
                )}
              </Sentences>
            </Section>
            {series === undefined ? null : <SeriesSays series={series} />}
            <Attachments of={[{ what: 'storage', id: reading }]} title="Kept with it" />
          </>
        )}
      </Await>
    </div>
  );
}
