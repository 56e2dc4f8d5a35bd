import './where.css';
import { useEffect, useState } from 'react';
import type { Ask } from '../../../src-shared/calls/all.ts';
import { HUB_NOTE } from '../../../src-shared/needle/hubs.ts';
import { HubSwatch } from '../../drawings/hub-swatch.tsx';
import { AvoidSign, avoidedAt, Sheep, SheepNear } from '../../drawings/sheep.tsx';
import { keepHere, useKeptHere } from '../../hooks/kept-here.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Choice, Select, Tick } from '../../parts/field.tsx';
import { FaultNotice, Notice, Warnings } from '../../parts/notice.tsx';
import {
  drawerAsk,
  FROM_DRAWER,
  type NeedleFor,
  placeChosen,
  placeOptions,
  placeSaid,
  type SaidWhere,
  type Sites,
  SUGGESTED,
  standingOf,
} from './where-values.ts';
import { isInjected } from './words.ts';

const conditions = [
  { value: '', label: 'Not said' },
  { value: 'thin', label: 'Thin' },
  { value: 'fair', label: 'Fair' },
  { value: 'fat', label: 'Fat' },
] as const;
const fleeces = [
  { value: '', label: 'Not said: taken as short' },
  { value: 'short', label: 'Short or shorn' },
  { value: 'full', label: 'Full' },
] as const;
const techniques = [
  { value: '', label: 'As is usual at the place' },
  { value: 'tent', label: 'Into a lifted fold of skin' },
  { value: 'flat', label: 'Flat along the body' },
  { value: 'slant', label: 'At 45°, without a fold' },
  { value: 'straight', label: 'Straight in' },
] as const;

/** What is seen on the animal and how it will be done, as the desk is asked; what is not said is not asked with. */
function seenAsk(
  condition: string,
  fleece: string,
  technique: string,
): Pick<Ask<'needle-for'>, 'condition' | 'fleece' | 'technique'> {
  const of = <T extends string>(options: readonly { value: T }[], value: string) =>
    options.find((one) => one.value === value)?.value;
  const [is, wool, way] = [of(conditions, condition), of(fleeces, fleece), of(techniques, technique)];
  return {
    ...(is === undefined || is === '' ? {} : { condition: is }),
    ...(wool === undefined || wool === '' ? {} : { fleece: wool }),
    ...(way === undefined || way === '' ? {} : { technique: way }),
  };
}

/**
 * Where one dose goes, with which needle and how, with the reasons; another place is chosen from the list. Nothing
 * where no needle is used.
 */
export function WhereShown({
  name,
  ask,
  route,
  said,
  onSay,
  keeps,
  onFound,
}: {
  /** The medicine: two of them may stand on one screen. */
  name: string;
  ask: Ask<'needle-for'>;
  route: string;
  said: SaidWhere;
  onSay: (change: { site: string; side: string }) => void;
  /** What becomes of a choice of one's own, in a sentence. */
  keeps: string;
  /** Told what stands here as suggested, so that the book gets what was seen and nothing else. */
  onFound?: (where: NeedleFor['where']) => void;
}) {
  const kept = useKeptHere(FROM_DRAWER);
  const [condition, setCondition] = useState('');
  const [fleece, setFleece] = useState('');
  const [technique, setTechnique] = useState('');
  const call = useCall(
    'needle-for',
    isInjected(route)
      ? {
          ...ask,
          ...drawerAsk(kept),
          ...seenAsk(condition, fleece, route === 'subcutaneous' ? technique : ''),
        }
      : null,
  );
  const where = call.state === 'ready' ? call.value.where : undefined;
  const isFound = call.state === 'ready';
  const key = JSON.stringify(where);
  // By what it says, not by which answer said it: the same place told again changes nothing.
  // biome-ignore lint/correctness/useExhaustiveDependencies: see above
  useEffect(() => {
    if (isFound) onFound?.(where);
  }, [isFound, key]);
  if (!isInjected(route)) return null;
  if (call.state === 'failed') return <FaultNotice fault={call.fault} />;
  if (call.state !== 'ready') return null;
  const found = call.value;
  if (found.guidance !== undefined) return <Guidance guidance={found.guidance} />;
  const { sites } = found;
  return (
    <section className="where" aria-label={`Where, and which needle: ${name}`}>
      <div className="where-words">
        {sites === undefined ? (
          <Refused what="No place" no={found.noSites} />
        ) : (
          <Place found={found} sites={sites} said={said} />
        )}
        <NeedleSaid found={found} said={said} />
        <FromDrawer kept={kept} />
        {sites === undefined ? null : (
          <details className="where-more">
            <summary>Another place, fleece or way, or a thin or fat animal</summary>
            <Choice
              name="where"
              label="Where"
              hint={keeps}
              value={placeChosen(found, said)}
              onChange={(choice) => onSay(placeSaid(choice))}
              options={[{ value: SUGGESTED, label: 'As suggested by its record' }, ...placeOptions(sites)]}
            />
            <Select
              name="condition"
              label="Condition"
              hint="Thin animals have little muscle."
              value={condition}
              onChange={setCondition}
              options={conditions}
            />
            <Select
              name="fleece"
              label="Fleece"
              hint="Without a fold, a short needle goes straight in only where the wool is full."
              value={fleece}
              onChange={setFleece}
              options={fleeces}
            />
            {route === 'subcutaneous' ? (
              <Select
                name="technique"
                label="How it goes in"
                value={technique}
                onChange={setTechnique}
                options={techniques}
              />
            ) : null}
          </details>
        )}
        {sites === undefined ? null : <FindIt sites={sites} found={found} said={said} />}
        <Reasons found={found} />
      </div>
      {sites === undefined ? null : <Drawn sites={sites} found={found} said={said} />}
    </section>
  );
}

function Guidance({ guidance }: { guidance: NonNullable<NeedleFor['guidance']> }) {
  return (
    <section className="where" aria-label="How">
      <ul className="where-words">
        {guidance.steps.map((step) => (
          <li key={step}>{step}</li>
        ))}
        <li>
          <small>{guidance.source}</small>
        </li>
      </ul>
    </section>
  );
}

function Refused({ what, no }: { what: string; no: NeedleFor['noNeedle'] }) {
  if (no === undefined) return null;
  return (
    <Notice kind="mind" word={what}>
      <p>
        {no.text} {no.next}
      </p>
    </Notice>
  );
}

function Place({ found, sites, said }: { found: NeedleFor; sites: Sites; said: SaidWhere }) {
  const { site, side, isOwn } = standingOf(found, said);
  const place = sites.offered.find((one) => one.site === site);
  const isSplit = !isOwn && sites.spots.length > 1;
  return (
    <>
      <p className="where-big" aria-live="polite">
        {place === undefined ? said.site : place.name}
        {isSplit ? '' : `, ${side} side`}
      </p>
      {isSplit ? (
        <p>
          <strong>
            {sites.spots
              .map((spot) => {
                const name = sites.offered.find((one) => one.site === spot.site)?.name ?? spot.site;
                return `${spot.amount} ${name === place?.name ? '' : `${name}, `}${spot.side} side`;
              })
              .join('; ')}
            .
          </strong>{' '}
          {sites.spacing}
        </p>
      ) : null}
      <p>
        <strong>{sites.last}</strong>
      </p>
      {/* Into muscle the technique says it already. */}
      {found.needle?.technique.says.includes(sites.drawBack) === true ? null : <p>{sites.drawBack}</p>}
      {site === undefined ? null : (
        <p>
          Keep away from:
          {avoidedAt(sites.route, site).map(({ id, name, how }) => (
            <span key={id} className="where-avoid">
              <AvoidSign how={how} /> {name}
            </span>
          ))}
        </p>
      )}
      <Warnings warnings={sites.warnings} />
    </>
  );
}

function NeedleSaid({ found, said }: { found: NeedleFor; said: SaidWhere }) {
  const { needle } = found;
  if (needle === undefined) return <Refused what="No needle" no={found.noNeedle} />;
  return (
    <>
      <p className="where-big">
        Needle {needle.text} <HubSwatch gauge={needle.gauge} />
      </p>
      {said.needle === '' || said.needle === needle.text ? null : (
        <p>
          In the book it will be <strong>{said.needle}</strong>, as you wrote.
        </p>
      )}
      <p>
        {needle.technique.says} <small>{needle.technique.source}</small>
      </p>
      <Warnings warnings={needle.warnings} />
    </>
  );
}

function FromDrawer({ kept }: { kept: string }) {
  return (
    <Tick
      name="from-drawer"
      label="Only from needles in the drawer"
      hint="By the counts in the book. It stays so for the next ones."
      value={kept === 'drawer'}
      onChange={(isTicked) => keepHere(FROM_DRAWER, isTicked ? 'drawer' : '')}
    />
  );
}

function Reasons({ found }: { found: NeedleFor }) {
  const { needle, sites } = found;
  const conflicts = [...(needle?.conflicts ?? []), ...(sites?.conflicts ?? [])];
  return (
    <details className="where-more">
      <summary>Why here, and why this needle</summary>
      <ul>
        {sites === undefined ? null : <li>{sites.perSite}</li>}
        {(needle?.reasons ?? []).map(({ rule, text, source }) => (
          <li key={rule}>
            {text} {source === undefined ? null : <small>{source}</small>}
          </li>
        ))}
        {(needle?.others ?? []).map(({ text, against }) => (
          <li key={text}>
            Next best: <strong>{text}</strong>. {against.map((one) => one.text).join(' ')}
          </li>
        ))}
        {(needle?.out ?? []).map(({ text, why }) => (
          <li key={text}>Does not suit: {why.map((one) => one.text).join(' ')}</li>
        ))}
      </ul>
      {conflicts.map(({ topic, sides, taken }) => (
        <div key={topic}>
          <p>
            <strong>The sources disagree.</strong> {taken}
          </p>
          <ul>
            {sides.map(({ rule, says, source, mark }) => (
              <li key={rule}>
                {says} <small>{`${source} (${mark})`}</small>
              </li>
            ))}
          </ul>
        </div>
      ))}
      {needle === undefined ? null : <p>{HUB_NOTE}</p>}
    </details>
  );
}

/** How to find the place, from near, and why to keep away from what lies about it. */
function FindIt({ sites, found, said }: { sites: Sites; found: NeedleFor; said: SaidWhere }) {
  const { site, side } = standingOf(found, said);
  const place = sites.offered.find((one) => one.site === site);
  if (site === undefined || place === undefined) return null;
  return (
    <details className="where-more">
      <summary>How to find it, and what to keep away from</summary>
      <p>{place.landmarks}</p>
      <SheepNear route={sites.route} side={side} chosen={site} />
      <ul>
        {place.avoid.map(({ what, why }) => (
          <li key={what}>
            Keep away from {what}: {why}.
          </li>
        ))}
        <li>{place.why}</li>
        <li>
          {place.animals} <small>{place.source}</small>
        </li>
      </ul>
    </details>
  );
}

function Drawn({ sites, found, said }: { sites: Sites; found: NeedleFor; said: SaidWhere }) {
  const { site, side } = standingOf(found, said);
  const isMany = sites.spots.length > 1 && said.site === '' && said.side === '';
  return (
    <div className="where-drawing">
      <Sheep route={sites.route} side={side} chosen={site} />
      {isMany ? <p className="hint">Drawn from one side; the parts go as said beside it.</p> : null}
    </div>
  );
}
