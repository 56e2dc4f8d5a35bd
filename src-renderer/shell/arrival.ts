import { useState } from 'react';

let screens = 0;

/** True for the first screen after the window opened: there the cursor stays where the browser put it. */
export function useArrival(): boolean {
  const [isFirst] = useState(() => screens === 0);
  useState(() => {
    screens += 1;
  });
  return isFirst;
}
