import { useEffect, useState } from 'react';
import { useCommand } from '../../shell/commands.ts';
import type { RunValues } from './sends.ts';

/** Fields of what was different; while one of them is filled, the part stays open. */
const own = ['given.', 'route.', 'bottle.', 'leaked.', 'lost.'];

/** Whether the part for what was different is open; a key opens it, and what was kept there opens it too. */
export function useOtherwise(
  lines: readonly { line: string }[],
  values: RunValues,
  isAnimal: boolean,
): { isOpen: boolean; open: () => void } {
  const [isAsked, setAsked] = useState(false);
  const isFilled = lines.some(({ line }) => own.some((name) => (values[`${name}${line}`] ?? '') !== ''));
  const isOpen = isAnimal && (isAsked || isFilled);
  // For each animal anew.
  useEffect(() => {
    if (!isAnimal) setAsked(false);
  }, [isAnimal]);
  const open = () => {
    if (isAnimal) setAsked(true);
  };
  useCommand('given-otherwise', open);
  return { isOpen, open };
}
