import type { Ask } from '../../../src-shared/calls/all.ts';

type Asked = Pick<Ask<'clear-list'>, 'produce' | 'destination'>;

/** What somebody is clear for: the produce and where it goes. */
export const GOALS = {
  slaughter: { label: 'Slaughter, for people here', ask: { produce: 'meat' } },
  'slaughter-export': { label: 'Slaughter, for export', ask: { produce: 'meat', destination: 'export' } },
  'slaughter-organic': { label: 'Slaughter, as organic', ask: { produce: 'meat', destination: 'organic' } },
  milk: { label: 'Milk', ask: { produce: 'milk' } },
  'milk-organic': { label: 'Milk, as organic', ask: { produce: 'milk', destination: 'organic' } },
  shearing: { label: 'Shearing', ask: { produce: 'wool-harvest' } },
  wool: { label: 'Handling their wool', ask: { produce: 'wool-handling' } },
} as const satisfies Readonly<Record<string, { label: string; ask: Asked }>>;
export type Goal = keyof typeof GOALS;

/** A goal by its code, or slaughter for people here. */
export function goalOf(text: string | undefined): Goal {
  return text !== undefined && Object.hasOwn(GOALS, text) ? (text as Goal) : 'slaughter';
}
