import { designBasins } from '../../../lib/basin/design/design-basins';
import type { DesignResult } from '../../../lib/basin/design/design-result';
import type { LongRunOptions, RecordedRain } from '../../../lib/basin/filling/long-run';
import type { PlantingZone } from '../../../lib/basin/form/planting-zones';
import { basinSections, type BasinSections } from '../../../lib/basin/form/section';
import type { ShapedGround } from '../../../lib/drainage/storm/shaped-ground';
import type { StormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import type { Grid } from '../../../lib/elevation/grid';
import type { Progress } from '../../../lib/errors';
import type { XY } from '../../../lib/frame/frame';
import type { LocalPlan } from '../../../lib/plan/local-plan';

/** What the drawings of one basin are made from. */
export interface BasinFigures {
  readonly id: string;
  readonly sections: BasinSections;
  readonly zones: readonly PlantingZone[];
  /** The notch, local metres. */
  readonly overflowAt: XY;
  /** Depth at which it overflows, metres over the lowest point. */
  readonly sillM: number;
}

/** The basins of a plan worked out, ready to be shown. */
export interface DesignPicture {
  readonly result: DesignResult;
  /** Of the basins that can be dug. */
  readonly figures: readonly BasinFigures[];
}

/** A rain record that the page has opened, to be sent through the basins. */
export interface OpenedRecord {
  readonly name: string;
  readonly record: RecordedRain;
  readonly options: LongRunOptions;
  readonly notes: readonly string[];
}

/** Works out the basins of a plan and the figures of their drawings. */
export function designPicture(
  elevation: Grid,
  ground: {
    readonly local: LocalPlan;
    readonly shape: ShapedGround;
    readonly storm: StormOnGround;
  },
  opened: OpenedRecord | null,
  onProgress: Progress,
): DesignPicture {
  const { local: plan, shape, storm } = ground;
  const figures: BasinFigures[] = [];
  const result = designBasins({
    elevation,
    plan,
    shape,
    storm,
    ...(opened === null ? {} : { record: opened.record, longRun: opened.options }),
    onProgress,
    onBuilt: (built) =>
      figures.push({
        id: built.id,
        sections: basinSections(built),
        zones: built.zones,
        overflowAt: built.finished.form.overflowAt,
        sillM: built.storage.overflowDepthM,
      }),
  });
  return { result, figures };
}
