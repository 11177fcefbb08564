import { footM, type UnitSystem } from '../../../../lib/units/units';

export interface ScaleBar {
  /** Length of each part, in `unit`. */
  readonly part: number;
  readonly parts: number;
  readonly unit: 'ft' | 'm';
  /** Length of each part on the sheet. */
  readonly partPx: number;
}

/** Width of a digit of the lettering at the bar, and least gap between two figures, pixels. */
const digitPx = 5.6;
const gapPx = 4;

/**
 * The longest scale bar of four or five round parts (1, 2, 2.5 or 5 times a power of ten) that fits a
 * width and whose figures keep clear of each other, or else the longest that fits.
 */
export function scaleBar(metresPerPx: number, units: UnitSystem, widthPx: number): ScaleBar {
  const unitM = units === 'us' ? footM : 1;
  const isClear = (part: number, parts: number): boolean => {
    const last = `${scaleFigure(part, parts)} ${units === 'us' ? 'ft' : 'm'}`;
    const digits = (last.length + scaleFigure(part, parts - 1).length) / 2;
    return (part * unitM) / metresPerPx >= digits * digitPx + gapPx;
  };
  const longest = (widthPx * metresPerPx) / unitM;
  let best = { part: 0, parts: 0, clear: false };
  const decade = Math.floor(Math.log10(longest));
  for (let power = decade - 2; power <= decade; power++) {
    for (const lead of [1, 2, 2.5, 5]) {
      for (const parts of [4, 5]) {
        const part = lead * 10 ** power;
        if (part * parts > longest) continue;
        const clear = isClear(part, parts);
        const isLonger = part * parts > best.part * best.parts;
        if (clear === best.clear ? isLonger : clear) best = { part, parts, clear };
      }
    }
  }
  return {
    part: best.part,
    parts: best.parts,
    unit: units === 'us' ? 'ft' : 'm',
    partPx: (best.part * unitM) / metresPerPx,
  };
}

/** What is written at one of the bar's marks, counted from 0: three tenths are no 0.30000000000000004. */
export function scaleFigure(part: number, mark: number): string {
  return String(Number((part * mark).toPrecision(6)));
}
