import type {
  DrainageResult,
  FlowLine,
  LowSpotRow,
  PipeLine,
} from '../../../lib/drainage/answer/drainage-result';
import { faintness } from '../../../lib/drainage/answer/faint-low-spots';
import { formatVolume } from '../../../lib/units/format';
import type { FlowLines, LowSpots } from '../map/layers/sheet-content';
import type { UnitSystem } from '../../../lib/units/units';

/** Low spots that carry a figure on the sheet: puddles by the hundred would bury it. A choice for legibility. */
const mostLabels = 15;
/** What is less than half a litre is written as none. */
const leastLabelM3 = 0.0005;

/** Flow paths over the ground and through drains as the map takes them. */
export function flowLineFeatures(
  lines: readonly FlowLine[],
  pipes: readonly PipeLine[] = [],
): FlowLines {
  const feature = (
    points: FlowLine['points'],
    properties: FlowLines['features'][number]['properties'],
  ): FlowLines['features'][number] => ({
    type: 'Feature',
    properties,
    geometry: { type: 'LineString', coordinates: points.map((at) => [...at]) },
  });
  return {
    type: 'FeatureCollection',
    features: [
      ...lines.map(({ points, area_m2 }) => feature(points, { area_m2 })),
      ...pipes.map(({ points, drain }) => feature(points, { pipe: drain })),
    ],
  };
}

/**
 * Low spots as the map takes them; those that may be no more than the error of the heights wait to be pointed at, unless all are
 * to be shown. Those that hold most say their number and how much, once, at the deepest place: an area of several
 * parts would say it at each.
 */
export function lowSpotFeatures(
  result: DrainageResult,
  units: UnitSystem,
  showsFaint = true,
): LowSpots {
  const isFaint = (spot: LowSpotRow): boolean =>
    !showsFaint && faintness(spot, result.grid.cell_m) !== null;
  const faintIds = new Set(result.low_spots.filter(isFaint).map(({ id }) => id));
  const held = new Map(
    result.standing.filter(({ id }) => !faintIds.has(id)).map((row) => [row.id, row.volume_m3]),
  );
  const least = [...held.values()].sort((a, b) => b - a)[mostLabels] ?? 0;
  return {
    type: 'FeatureCollection',
    features: result.low_spots
      .filter((spot) => spot.outline.coordinates.length > 0)
      .flatMap((spot): LowSpots['features'] => {
        const { id, number, outline, deepest } = spot;
        const volumeM3 = held.get(id) ?? 0;
        const faint = isFaint(spot);
        const properties = { id, label: '', ...(faint ? { faint } : {}) };
        const area = { type: 'Feature', properties, geometry: outline } as const;
        if (volumeM3 <= least || volumeM3 < leastLabelM3 || faint) return [area];
        return [
          area,
          {
            type: 'Feature',
            properties: { id, label: `${number}: ${formatVolume(volumeM3, units)}` },
            geometry: { type: 'Point', coordinates: [...deepest] },
          },
        ];
      }),
  };
}
