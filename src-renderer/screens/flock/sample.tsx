import { Deed } from '../../parts/deed.tsx';
import { downloadText } from '../../parts/download.ts';
import { Section } from '../../parts/screen.tsx';
import { listed } from '../../parts/words.ts';
import { sampleHead, sampleLines, sampleText } from './import-sample.ts';
import { classOptions } from './words.ts';

/** How a flock list looks, for whoever has none yet, and an empty one to fill in. */
export function Sample() {
  return (
    <Section
      title="How such a list looks"
      deeds={
        <Deed onDo={() => downloadText('flock-list.csv', sampleText(), 'text/csv')}>Save an empty list</Deed>
      }
    >
      <div className="list-scroll">
        <table className="rows" aria-label="How such a list looks">
          <thead>
            <tr>
              {sampleHead.map((head) => (
                <th key={head} scope="col">
                  {head}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {sampleLines.map((line) => (
              <tr key={line[0]}>
                {sampleHead.map((head, n) => (
                  <td key={head}>{line[n]}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p className="hint">
        A class is one of {listed(classOptions.map((option) => option.label.toLowerCase()))}. Columns may be
        left out, but for a number and the class, and may stand in any order; what other words mean is asked.
      </p>
    </Section>
  );
}
