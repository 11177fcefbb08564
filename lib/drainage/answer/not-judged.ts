import { cellAt, type Grid } from '../../elevation/grid';
import { boundsOf, centroid, type Ring } from '../../frame/shapes';
import { cellsInside } from '../../ground/rasterise';
import type { LocalFeature, LocalPlan } from '../../plan/local-plan';
import { featureName } from '../../plan/feature-name';

/** A lot or building of which the heights were not read, so that nothing, or not all, can be said of its water. */
export interface NotJudged {
  readonly feature: string;
  readonly kind: 'lot' | 'building';
  readonly name: string;
  /** Whether all of it lies outside, and has no figures; else they are of the part that was read. */
  readonly whole: boolean;
}

/** The lots and buildings that lie outside the elevation that was read, or on holes in it, in the plan's order. */
export function notJudged(elevation: Grid, { of }: Pick<LocalPlan, 'of'>): NotJudged[] {
  return [...of.lot, ...of.building].flatMap((feature) => {
    const read = partRead(elevation, feature);
    if (read === 'all') return [];
    const { id, kind } = feature;
    return [{ feature: id, kind, name: nameOf(feature), whole: read === 'none' }];
  });
}

function partRead(
  elevation: Grid,
  { shape }: LocalFeature<'lot' | 'building'>,
): 'all' | 'some' | 'none' {
  const isRead = (cell: number): boolean => cell !== -1 && !Number.isNaN(elevation.z[cell]);
  const cells = [...cellsInside(elevation, shape.rings)];
  // what is smaller than a cell has the cell that it lies in
  if (cells.length === 0) cells.push(cellAt(elevation, ...centroid(shape.rings)));
  if (!cells.some(isRead)) return 'none';
  return cells.every(isRead) && isWithin(elevation, shape.rings[0]) ? 'all' : 'some';
}

/** Whether an outline reaches out of the cells by no more than half of one. */
function isWithin({ westM, northM, width, height, cellM }: Grid, ring: Ring): boolean {
  const { west, south, east, north } = boundsOf(ring);
  const slackM = cellM / 2;
  return (
    west >= westM - slackM &&
    east <= westM + width * cellM + slackM &&
    north <= northM + slackM &&
    south >= northM - height * cellM - slackM
  );
}

/** What is said of them: one sentence for those without figures, one for those with figures of a part. */
export function notJudgedNotes(rows: readonly NotJudged[]): string[] {
  const names = (whole: boolean): string =>
    rows.flatMap((row) => (row.whole === whole ? [row.name] : [])).join(', ');
  const outside = names(true);
  const partly = names(false);
  return [
    ...(outside === ''
      ? []
      : [
          `Not judged, as outside the elevation that was read: ${outside}. What water stands there, or goes there and comes from there, is not known.`,
        ]),
    ...(partly === ''
      ? []
      : [`Judged only as far as the elevation was read: ${partly}. Its figures are ‘at least’.`]),
  ];
}

function nameOf({ feature }: LocalFeature<'lot' | 'building'>): string {
  return featureName(feature);
}
