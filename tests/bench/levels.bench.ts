import { surveyLevels } from '../../lib/drainage/storm/survey-levels';
import { stormOnGround } from '../../lib/drainage/storm/storm-on-ground';
import { drainLot } from '../../lib/drainage/answer/drain-lot';
import { localFrame, makeFrame } from '../../lib/frame/frame';
import { levelsElevation } from '../../lib/levels/levels-elevation';
import { asFeature } from '../../lib/plan/as-feature';
import type { Plan, PlanFeature } from '../../lib/plan/schema';

/** A yard of 60 by 40 m with so many levels, evenly but not in rows. */
function levelled(count: number): Plan {
  const frame = makeFrame(localFrame([-87.1, 42.5]));
  const golden = (Math.sqrt(5) - 1) / 2;
  const features = Array.from({ length: count }, (_, i) => {
    const [x, y] = [(60 * (i + 0.5)) / count, 40 * ((i * golden) % 1)];
    const heightM = 0.02 * x - 0.15 * Math.exp(-((x - 30) ** 2 + (y - 20) ** 2) / 40);
    return asFeature({
      type: 'Feature',
      id: `spot-height-${i + 1}`,
      geometry: { type: 'Point', coordinates: [...frame.toLngLat([x, y])] },
      properties: { kind: 'spot-height', drop_m: 2 - heightM },
    });
  });
  return {
    type: 'FeatureCollection',
    lotfall: { version: 1, storm: { rain_mm: 40 } },
    features: features.filter((each): each is PlanFeature => each !== null),
  };
}

/** The ground of levels, and the whole answer on it. */
export function benchLevels(): void {
  console.log('\nGround of levels');
  for (const count of [20, 100, 500]) {
    const plan = levelled(count);
    const ms = (run: () => void): number => {
      const times = Array.from({ length: 3 }, () => {
        const start = performance.now();
        run();
        return performance.now() - start;
      });
      return times.toSorted((a, b) => a - b)[1];
    };
    const surface = ms(() => levelsElevation(plan, 'yard'));
    const whole = ms(() => {
      const survey = surveyLevels(plan, 'yard');
      const storm = stormOnGround(survey.shape, survey.plan, 40);
      drainLot(survey.shape, storm, survey.plan, { crs: 'levels' });
    });
    console.log(
      `  ${String(count).padStart(4)} levels: surface ${surface.toFixed(0)} ms, with the answer ${whole.toFixed(0)} ms`,
    );
  }
}
