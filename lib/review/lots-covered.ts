import type { ElevationFile } from '../elevation/file/open-elevation';
import { InputError } from '../errors';
import { featuresOf, type Plan } from '../plan/schema';

/**
 * The plan with every lot that lies wholly on the elevation marked as one's own, and no other: whose lot it is matters to no
 * answer of a review, and around these the elevation is read. Of the others is told what is seen of them.
 *
 * @throws {InputError} `lots-not-covered` where there is none.
 */
export function lotsCovered(plan: Plan, { raster }: ElevationFile, file: string): Plan {
  const { width, height } = raster.layout;
  let covered = 0;
  const features = plan.features.map((feature) => {
    const { properties, geometry } = feature;
    if (properties.kind !== 'lot' || geometry.type !== 'Polygon') return feature;
    const own = geometry.coordinates[0].every((at) => {
      const [column, row] = raster.mapping.toPixel(at);
      return column >= 0 && row >= 0 && column <= width && row <= height;
    });
    if (own) covered++;
    return { ...feature, properties: { ...properties, own } };
  });
  if (covered === 0) {
    const lots = featuresOf(plan, 'lot').length;
    throw new InputError({
      code: 'lots-not-covered',
      where: file,
      problem: `${lots === 1 ? 'its lot does not lie' : `none of its ${lots} lots lies wholly`} on the elevation ${raster.name}`,
      remedy: 'choose elevation of that place, or check the coordinate system of the parcels',
    });
  }
  // Kind and properties still belong together.
  return { ...plan, features: features as Plan['features'] };
}
