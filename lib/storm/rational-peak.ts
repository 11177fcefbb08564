import type { Source } from '../source';
import type { SoilGroup } from './curve-numbers';
import { everettCoefficients, highwayCoefficients, illinoisCoefficients } from './sources';
import type { SurfaceClass } from './surface-class';
import { hourS } from '../units/units';

/** Share of the rain's intensity that a surface's peak has. */
export interface RationalCoefficient {
  readonly least: number;
  readonly greatest: number;
  readonly source: Source;
}

/** Ground steeper than this is average, and beyond the second steep, in the table of lawns: 2 and 7 %. */
const flatSlope = 0.02;
const steepSlope = 0.07;

const lawns: Readonly<Record<'sandy' | 'heavy', readonly (readonly [number, number])[]>> = {
  sandy: [
    [0.05, 0.1],
    [0.1, 0.15],
    [0.15, 0.2],
  ],
  heavy: [
    [0.13, 0.17],
    [0.18, 0.22],
    [0.25, 0.35],
  ],
};

/**
 * The published range of the coefficient for a surface. Lawns go by soil (groups A and B as sandy, C and D as heavy) and
 * slope, gravel, meadow and woods by the row for flat or rolling ground. Beds have no row of their own and take that of
 * unimproved ground, decks that of the bare soil below them.
 */
export function rationalCoefficient(
  {
    cover,
    group,
  }: Pick<SurfaceClass, 'group'> & { readonly cover: Exclude<SurfaceClass['cover'], 'basin'> },
  slope: number,
): RationalCoefficient {
  const isFlat = slope <= flatSlope;
  const everett = (flat: number, rolling: number): RationalCoefficient => {
    const value = isFlat ? flat : rolling;
    return { least: value, greatest: value, source: everettCoefficients };
  };
  switch (cover) {
    case 'roof':
      return { least: 0.75, greatest: 0.95, source: highwayCoefficients };
    case 'paving':
      return { least: 0.75, greatest: 0.85, source: highwayCoefficients };
    case 'lawn': {
      const [least, greatest] = lawns[soilOf(group)][isFlat ? 0 : slope <= steepSlope ? 1 : 2];
      return { least, greatest, source: illinoisCoefficients };
    }
    case 'bed':
      return { least: 0.1, greatest: 0.3, source: highwayCoefficients };
    case 'gravel':
      return everett(0.75, 0.8);
    case 'meadow':
      return everett(0.2, 0.25);
    case 'woods':
      return everett(0.05, 0.1);
    case 'deck':
    case 'bare':
      return { least: 0.3, greatest: 0.6, source: illinoisCoefficients };
  }
}

function soilOf(group: SoilGroup): 'sandy' | 'heavy' {
  return group === 'A' || group === 'B' ? 'sandy' : 'heavy';
}

/** One surface of what drains to a place. */
export interface RationalPart {
  readonly areaM2: number;
  readonly coefficient: number;
}

/**
 * Peak flow by the rational method, cubic metres a second: coefficient times intensity times area. In SI the formula is
 * exact; the factor 1.008 that belongs to acres and inches, commonly dropped, is not needed.
 *
 * A cross-check only: no storage, no shape of the storm, and the intensity has to be that of the time of concentration.
 * Source: as in Highway Hydrology, FHWA, 2002, chapter 5 (seen).
 */
export function rationalPeakM3PerS(
  parts: readonly RationalPart[],
  intensityMmPerH: number,
): number {
  const sealed = parts.reduce((sum, { areaM2, coefficient }) => sum + areaM2 * coefficient, 0);
  return (sealed * intensityMmPerH * 0.001) / hourS;
}
