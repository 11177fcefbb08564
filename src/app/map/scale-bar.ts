import type { UnitSystem } from './map-props';

/** Exact: the international foot. */
const footM = 0.3048;

export interface ScaleBar {
  /** Length of each part, in `unit`. */
  readonly part: number;
  readonly parts: number;
  readonly unit: 'ft' | 'm';
  /** Length of each part on the sheet. */
  readonly partPx: number;
}

/**
 * The longest scale bar of four or five round parts (1, 2, 2.5 or 5 times a power of ten) that fits a
 * width.
 */
export function scaleBar(metresPerPx: number, units: UnitSystem, widthPx: number): ScaleBar {
  const unitM = units === 'us' ? footM : 1;
  const longest = (widthPx * metresPerPx) / unitM;
  let best = { part: 0, parts: 0 };
  const decade = Math.floor(Math.log10(longest));
  for (let power = decade - 2; power <= decade; power++) {
    for (const lead of [1, 2, 2.5, 5]) {
      for (const parts of [4, 5]) {
        const part = lead * 10 ** power;
        if (part * parts <= longest && part * parts > best.part * best.parts)
          best = { part, parts };
      }
    }
  }
  return {
    ...best,
    unit: units === 'us' ? 'ft' : 'm',
    partPx: (best.part * unitM) / metresPerPx,
  };
}
