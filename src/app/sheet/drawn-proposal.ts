import type { Feature, FeatureCollection, Geometry } from 'geojson';
import type { Proposal } from '../../../lib/remedies/remedies-result';
import type { UnitSystem } from '../../../lib/units/units';
import { heightText } from '../look/height-text';
import { geometryOf } from '../map/layers/plan-drawing';
import type { BedPicture } from '../worker/analysis-api';

/** A level is written this often along a bed, metres. Our choice: closer they hide one another. */
const levelEveryM = 5;
/** The last two are not closer than this part of it. */
const leastPart = 0.6;

/** What a proposal would put into the plan, and levels along the beds that it digs, told apart by `role`. */
export function proposalFeatures(
  { change }: Proposal,
  beds: readonly BedPicture[],
  units: UnitSystem,
): FeatureCollection {
  const puts = (change.puts ?? []).map((feature) =>
    drawn(geometryOf(feature), roles[feature.geometry.type]),
  );
  return {
    type: 'FeatureCollection',
    features: [...puts, ...beds.flatMap((bed) => levels(bed, units))],
  };
}

const roles = { Point: 'point', LineString: 'line', Polygon: 'outline' } as const;

function drawn(geometry: Geometry, role: string, label = ''): Feature {
  return { type: 'Feature', geometry, properties: { role, label } };
}

function levels({ places, alongM, bedM }: BedPicture, units: UnitSystem): Feature[] {
  return levelStations(alongM).flatMap((at) =>
    Number.isNaN(bedM[at])
      ? []
      : [
          drawn(
            { type: 'Point', coordinates: [...places[at]] },
            'level',
            heightText(bedM[at], units, 0.01),
          ),
        ],
  );
}

/** The stations of a line whose levels are written: both ends, and some between. */
export function levelStations(alongM: Float64Array): number[] {
  const last = alongM.length - 1;
  const stations: number[] = [];
  let next = 0;
  for (let i = 0; i < last; i++) {
    if (alongM[i] < next || alongM[last] - alongM[i] < leastPart * levelEveryM) continue;
    stations.push(i);
    next = alongM[i] + levelEveryM;
  }
  return last < 0 ? [] : [...stations, last];
}
