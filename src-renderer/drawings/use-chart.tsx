import './use-chart.css';
import { useBars } from '../../src-shared/record/use-bars.ts';

/** One row of the drawing: a year as a whole, or a group within it. Figures as they are printed. */
export type UseBar = {
  readonly key: string;
  readonly name: string;
  readonly text: string;
  readonly mgPerKg?: string | undefined;
  readonly mgPerPcu?: string | undefined;
};
export type UseYear = {
  readonly key: string;
  /** "2026, to 1 Mar". */
  readonly title: string;
  readonly total: UseBar;
  readonly groups: readonly UseBar[];
  /** More was used than could be counted. */
  readonly isPart: boolean;
};

/** Units of the drawing, which is stretched to the room there is. */
const width = 1000;

/**
 * Antimicrobials by year and group. A table first: every figure stands in it, and the bar beside, hidden from screen
 * readers, shows one of them. A year as a whole has a filled bar, its groups open ones beneath.
 */
export function UseChart({ years }: { years: readonly UseYear[] }) {
  const { share, says } = useBars(years.map(({ total }) => total));
  return (
    <figure className="drawing use-chart">
      <table>
        <caption>
          <strong>Antimicrobials, active substance</strong>
        </caption>
        <thead>
          <tr>
            <th scope="col">Year and group</th>
            <th scope="col" className="use-figure">
              In all
            </th>
            <th scope="col" className="use-figure">
              mg for each kg
            </th>
            <th scope="col" className="use-figure">
              mg/PCU
            </th>
            <td className="use-drawn" aria-hidden="true" />
          </tr>
        </thead>
        {years.map(({ key, title, total, groups, isPart }) => (
          <tbody key={key}>
            <tr>
              <th scope="rowgroup">
                {title}
                {isPart ? ', at least' : ''}
              </th>
              <Cells bar={total} share={share(total)} isAll />
            </tr>
            {groups.map((bar) => (
              <tr key={bar.key}>
                <th scope="row">{bar.name}</th>
                <Cells bar={bar} share={share(bar)} isAll={false} />
              </tr>
            ))}
          </tbody>
        ))}
      </table>
      <figcaption>{says}</figcaption>
    </figure>
  );
}

function Cells({ bar, share, isAll }: { bar: UseBar; share: number; isAll: boolean }) {
  const figure = (text: string) => (isAll ? <strong>{text}</strong> : text);
  return (
    <>
      <td className="use-figure">{figure(bar.text)}</td>
      <td className="use-figure">{figure(bar.mgPerKg ?? 'not known')}</td>
      <td className="use-figure">{figure(bar.mgPerPcu ?? 'not known')}</td>
      <td className="use-drawn" aria-hidden="true">
        <svg
          className={isAll ? 'use-bar use-bar-all' : 'use-bar'}
          viewBox={`0 0 ${width} 20`}
          preserveAspectRatio="none"
          aria-hidden="true"
        >
          {share > 0 ? <rect x="1" y="3" width={Math.max(4, share * (width - 2))} height="14" /> : null}
        </svg>
      </td>
    </>
  );
}
