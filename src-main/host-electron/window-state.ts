import { leastSize } from './window-options.ts';

/** A rectangle in pixels of the desktop. */
export type Area = { x: number; y: number; width: number; height: number };

/** What is kept of a window from one run to the next. `zoom` 1 is 100 %. */
export type WindowState = { area: Area | undefined; isMaximised: boolean; zoom: number };

const freshState: WindowState = { area: undefined, isMaximised: false, zoom: 1 };
const zoomLeast = 0.5;
const zoomMost = 3;
const visibleLeast = 80;

function numberIn(value: object, name: string): number | undefined {
  const found: unknown = Object.entries(value).find(([key]) => key === name)?.[1];
  return typeof found === 'number' && Number.isFinite(found) ? found : undefined;
}

function readArea(value: unknown): Area | undefined {
  if (typeof value !== 'object' || value === null) return undefined;
  const [x, y, width, height] = ['x', 'y', 'width', 'height'].map((name) => numberIn(value, name));
  if (x === undefined || y === undefined || width === undefined || height === undefined) return undefined;
  return {
    x: Math.round(x),
    y: Math.round(y),
    width: Math.max(leastSize.width, Math.round(width)),
    height: Math.max(leastSize.height, Math.round(height)),
  };
}

/** Reads the text a window state was kept as. `isReadable` is false when it is not ours: keep it aside. */
export function readWindowState(text: string): { state: WindowState; isReadable: boolean } {
  let kept: unknown;
  try {
    kept = JSON.parse(text);
  } catch {
    return { state: freshState, isReadable: false };
  }
  if (typeof kept !== 'object' || kept === null) return { state: freshState, isReadable: false };
  const zoom = numberIn(kept, 'zoom') ?? 1;
  return {
    isReadable: true,
    state: {
      area: 'area' in kept ? readArea(kept.area) : undefined,
      isMaximised: 'isMaximised' in kept && kept.isMaximised === true,
      zoom: Math.min(zoomMost, Math.max(zoomLeast, zoom)),
    },
  };
}

/** The text that keeps a window state. */
export function writeWindowState(state: WindowState): string {
  return JSON.stringify(state);
}

/**
 * The state to open a window with on the screens there are now: a place on a screen that was unplugged is
 * forgotten, so that the window cannot open where nobody sees it.
 */
export function fitToScreens(state: WindowState, screens: readonly Area[]): WindowState {
  const { area } = state;
  if (area === undefined) return state;
  const isSeen = screens.some((screen) => {
    const across = Math.min(area.x + area.width, screen.x + screen.width) - Math.max(area.x, screen.x);
    const down = Math.min(area.y + area.height, screen.y + screen.height) - Math.max(area.y, screen.y);
    // The upper edge must be on it: that is where a window is taken hold of.
    return across >= visibleLeast && down >= visibleLeast && area.y >= screen.y;
  });
  return isSeen ? state : { ...state, area: undefined };
}
