import type { Service } from '../../setback/locate/marking-colours';

/** Inks of the printed sheet, on white. Angle, dash, letter and word carry everything that a colour says. */
export const inks = {
  ink: '#15222e',
  second: '#4a5560',
  hair: '#9aa4ab',
  paper: '#ffffff',
  built: '#edf0f1',
  paving: '#c9ced2',
  water: '#1f6f7b',
  midWater: '#8fc1c3',
  paleWater: '#dcedee',
  contour: '#8a6a45',
  keepClear: '#a8502a',
  meets: '#2c6a3f',
  fails: '#a3271f',
  check: '#7a5a00',
  growth: '#5f7a45',
  septic: '#5d4b12',
  ground: '#6b5a48',
} as const;

/** The colours of marks on the ground, deepened enough to be seen on white; letters are darker where the line is pale. */
export const utilityInks: Readonly<
  Record<Service, { readonly line: string; readonly letter: string }>
> = {
  electric: { line: '#c2261f', letter: '#b3201b' },
  gas: { line: '#d9a400', letter: '#7a5f00' },
  communications: { line: '#e0741a', letter: '#a34d00' },
  water: { line: '#1c4e9c', letter: '#1c4e9c' },
  'reclaimed-water': { line: '#7a3f9a', letter: '#6b338a' },
  sewer: { line: '#2e7d3a', letter: '#23652d' },
};

/** Dashes of lines in the ground, millimetres, as the words for them say (`markings`). */
export const utilityDashes: Readonly<Record<Service, readonly number[]>> = {
  electric: [6, 1, 1.6, 1],
  gas: [4, 1.2],
  communications: [2.2, 0.8, 0.6, 0.8, 0.6, 0.8],
  water: [9, 1.2],
  'reclaimed-water': [5, 1, 0.8, 1, 0.8, 1],
  sewer: [3, 1.2],
};
/** A line that nobody located. */
export const unlocatedDash: readonly number[] = [1.6, 0.8];

/** Pens by what they draw, millimetres: no two neighbours of the series where things touch. */
export const pens = {
  hatch: 0.13,
  fine: 0.18,
  thin: 0.25,
  rule: 0.35,
  middle: 0.45,
  heavy: 0.7,
} as const;
