import type { Antecedent } from '../plan/storm-settings';

/** Curve number on average, dry and wet ground. */
const rows: readonly (readonly [number, number, number])[] = [
  [0, 0, 0],
  [30, 15, 50],
  [32, 16, 52],
  [35, 18, 55],
  [36, 19, 56],
  [39, 21, 59],
  [40, 22, 60],
  [42, 24, 62],
  [44, 25, 64],
  [45, 26, 65],
  [46, 27, 66],
  [48, 29, 68],
  [50, 31, 70],
  [52, 32, 71],
  [54, 34, 73],
  [55, 35, 74],
  [56, 36, 75],
  [58, 38, 76],
  [60, 40, 78],
  [61, 41, 78],
  [62, 42, 79],
  [64, 44, 81],
  [65, 45, 82],
  [66, 46, 82],
  [68, 48, 84],
  [70, 51, 85],
  [72, 53, 86],
  [74, 55, 88],
  [75, 57, 88],
  [76, 58, 89],
  [78, 60, 90],
  [80, 63, 91],
  [82, 66, 92],
  [84, 68, 93],
  [85, 70, 94],
  [86, 72, 94],
  [88, 75, 95],
  [90, 78, 96],
  [92, 81, 97],
  [95, 87, 98],
  [98, 94, 99],
  [100, 100, 100],
];

/**
 * The curve number of a surface on ground that is dry or wet before it rains, from that of average ground.
 *
 * Source: National Engineering Handbook 630, chapter 10, USDA NRCS, 2004, table 10-1 (seen), whose rows from 30 to 98
 *   are above. Between rows, below 30 and above 98 the line between neighbours is taken, with 0 and 100 as ends.
 *   The closed formulas in textbooks miss this table by up to 2 and are not used.
 */
export function antecedentCurveNumber(curveNumber: number, antecedent: Antecedent): number {
  if (antecedent === 'average') return curveNumber;
  const column = antecedent === 'dry' ? 1 : 2;
  const above = rows.findIndex(([average]) => average >= curveNumber);
  const upper = rows[above];
  if (upper[0] === curveNumber) return upper[column];
  const lower = rows[above - 1];
  const share = (curveNumber - lower[0]) / (upper[0] - lower[0]);
  return lower[column] + share * (upper[column] - lower[column]);
}
