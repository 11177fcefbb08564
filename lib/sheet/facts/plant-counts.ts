import type { PlantingZone, ZoneName } from '../../basin/form/planting-zones';
import { inchM } from '../../units/units';
import { plantLayout } from './plant-layout';

/** Plants stand so far apart where nobody says otherwise: 18 in. Common practice, no source. */
export const usualSpacingM = 18 * inchM;

/** How many plants a zone takes. */
export interface PlantCount {
  readonly zone: ZoneName;
  readonly areaM2: number;
  /** Water over it when the garden is full, metres. */
  readonly waterM: readonly [number, number];
  readonly count: number;
  /** What sort of plant stands it, in words; no species, which hang on the place. */
  readonly grows: string;
}

const grows: Readonly<Record<ZoneName, string>> = {
  deep: 'what stands in water for a day or two and bears dry weeks: sedges, rushes, wet-meadow flowers',
  middle: 'what is wet now and then: moist-meadow grasses and flowers',
  edge: 'what stays dry: meadow and border plants that hold the slope',
};

/** Plants of each zone as they are laid out on a triangular grid. */
export function plantCounts(zones: readonly PlantingZone[], spacingM: number): PlantCount[] {
  const laid = plantLayout(zones, spacingM);
  return zones.map(({ zone, areaM2, waterM }, i) => ({
    zone,
    areaM2,
    waterM,
    count: laid[i].places.length,
    grows: grows[zone],
  }));
}
