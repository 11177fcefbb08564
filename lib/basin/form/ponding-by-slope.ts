import type { Source } from '../../source';
import { inchM } from '../../units/units';
import {
  classDepthM,
  depthForSlope,
  slopeTable,
  steepestRatio,
  type DepthClass,
} from './size-factors';

/** What the published table has for a slope, and how a ponding depth compares. */
export interface PondingBySlope {
  /** Rise over run. */
  readonly slope: number | null;
  /** `null` on ground too steep for the table. */
  readonly depthClass: DepthClass | null;
  /** Depth to take, metres. */
  readonly advisedM: number | null;
  readonly result: 'pass' | 'check' | 'fail';
  readonly why: string;
  readonly source: Source;
}

/** The table's rows, inches, and in words. */
const rows: Readonly<
  Record<DepthClass, { readonly fromIn: number; readonly toIn: number; readonly words: string }>
> = {
  shallow: { fromIn: 3, toIn: 5, words: '3 to 5 in (8 to 13 cm) on ground under 4 %' },
  middle: { fromIn: 6, toIn: 7, words: '6 to 7 in (15 to 18 cm) on ground of 5 to 7 %' },
  deep: { fromIn: 8, toIn: 8, words: 'about 8 in (20 cm) on ground of 8 to 12 %' },
};
/** A row is kept within this: what a level floor can be dug to, and a rounded figure may be off by. Our choice, no source. */
const slackM = inchM / 2;

/**
 * Holds a ponding depth against the published table of depth by slope.
 *
 * @param slope - of the ground at the basin (`groundPlane`); null where it is not known.
 */
export function pondingBySlope(pondingDepthM: number, slope: number | null): PondingBySlope {
  if (slope === null) {
    return {
      slope,
      depthClass: null,
      advisedM: null,
      source: slopeTable,
      result: 'check',
      why: 'How the ground falls here is not known: measure it, and hold the depth against the table.',
    };
  }
  const depthClass = depthForSlope(slope);
  const percent = `${(slope * 100).toFixed(1)} %`;
  const rest = { slope, depthClass, source: slopeTable };
  if (depthClass === null) {
    return {
      ...rest,
      advisedM: null,
      result: 'fail',
      why: `The ground falls ${percent}; the table ends at ${steepestRatio * 100} %: choose another place.`,
    };
  }
  const advisedM = classDepthM[depthClass];
  const { fromIn, toIn, words } = rows[depthClass];
  const isDeeper = pondingDepthM > toIn * inchM + slackM;
  const isShallower = pondingDepthM < fromIn * inchM - slackM;
  const compared = isDeeper
    ? 'this is deeper'
    : isShallower
      ? 'this is shallower'
      : 'this is in it';
  const pit = pondingDepthM > 8 * inchM + slackM ? '; over 8 in it stands long and is a pit' : '';
  return {
    ...rest,
    advisedM,
    result: isDeeper || isShallower ? 'check' : 'pass',
    why: `The ground falls ${percent}; the table has ${words}${betweenRows(slope) ? ' (it leaves this slope open; the deeper row is taken)' : ''}, and ${compared}${pit}.`,
  };
}

/** Whether the published classes, under 4, 5 to 7 and 8 to 12 %, leave a slope open. */
function betweenRows(slope: number): boolean {
  return (slope >= 0.04 - 1e-4 && slope < 0.05) || (slope > 0.07 && slope < 0.08);
}
