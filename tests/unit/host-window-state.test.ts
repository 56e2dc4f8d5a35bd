import { expect, test } from 'vitest';
import {
  fitToScreens,
  readWindowState,
  writeWindowState,
} from '../../src-main/host-electron/window-state.ts';

const screen = { x: 0, y: 0, width: 1920, height: 1080 };
const state = { area: { x: 100, y: 50, width: 900, height: 700 }, isMaximised: true, zoom: 1.25 };

test('what is kept comes back', () => {
  expect(readWindowState(writeWindowState(state))).toEqual({ state, isReadable: true });
});

test.each(['', '{', 'null', '7', '"text"'])('%j is not ours and opens a fresh window', (text) => {
  expect(readWindowState(text)).toEqual({
    state: { area: undefined, isMaximised: false, zoom: 1 },
    isReadable: false,
  });
});

test('what makes no sense in it is left out or brought within bounds', () => {
  const read = (kept: unknown) => readWindowState(JSON.stringify(kept)).state;
  expect(read({ area: { x: 1, y: 2, width: 'wide', height: 700 } }).area).toBeUndefined();
  expect(read({ area: { x: 1.4, y: 2, width: 10, height: 10 } }).area).toEqual({
    x: 1,
    y: 2,
    width: 720,
    height: 540,
  });
  expect(read({ zoom: 50 }).zoom).toBe(3);
  expect(read({ zoom: -1 }).zoom).toBe(0.5);
  expect(read({ zoom: 'big' }).zoom).toBe(1);
  expect(read({ isMaximised: 'yes' }).isMaximised).toBe(false);
});

test('a window on a screen that is gone opens where it can be seen', () => {
  expect(fitToScreens(state, [screen])).toEqual(state);
  for (const area of [
    { x: 2000, y: 50, width: 900, height: 700 },
    { x: 1900, y: 50, width: 900, height: 700 },
    { x: 100, y: -200, width: 900, height: 700 },
    { x: 100, y: 1050, width: 900, height: 700 },
  ]) {
    expect(fitToScreens({ ...state, area }, [screen]).area).toBeUndefined();
  }
  const left = { x: -1500, y: 50, width: 900, height: 700 };
  const beside = { x: -1920, y: 0, width: 1920, height: 1080 };
  expect(fitToScreens({ ...state, area: left }, [screen, beside]).area).toEqual(left);
});
