/**
 * Filling and draining. Ratios are against a plain pass over the same steps that only adds up; growth is from one size to the
 * next, doubled each time.
 */
import { fillAndDrain } from '../../lib/basin/filling/fill-and-drain';
import { areaForShare } from '../../lib/basin/sizing/sizing';
import { bowlStorage, insetAreas } from '../../lib/basin/form/bowl-storage';
import { longRun } from '../../lib/basin/filling/long-run';
import { runOffMm } from '../../lib/storm/run-off';
import { inflow, layer, mmPerH, onSoil, roundBowl, weirC } from '../unit/basin/made-basins';

const bowl = roundBowl(1.2, 3, 0.15, 0.2);
const layers = [
  layer(0.15, 0.35, 0.09, 118),
  layer(0.15, 0.45, 0.14, 30),
  layer(0.1, 0.6, 0.2, 1000),
];
const basin = onSoil(bowl, 10, layers);

function millisecondsOf(work: () => void): number {
  work();
  const times = Array.from({ length: 5 }, () => {
    const start = performance.now();
    work();
    return performance.now() - start;
  });
  return times.sort((a, b) => a - b)[2];
}

/** Rain by the hour with a shower each few days, from a seed. */
function hours(years: number): Float64Array {
  const depthsMm = new Float64Array(years * 8760);
  let state = 12345;
  const next = (): number => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
  for (let hour = 0; hour < depthsMm.length;) {
    hour += 20 + Math.floor(next() * 160);
    const lasts = 1 + Math.floor(next() * 9);
    for (let i = 0; i < lasts && hour < depthsMm.length; i++, hour++) {
      depthsMm[hour] = -3 * Math.log(1 - next());
    }
  }
  return depthsMm;
}

export function benchBasin(): void {
  console.log('\nBasin: filling and draining');
  let before = 0;
  for (const steps of [240, 480, 960]) {
    const storm = inflow(
      360,
      Array.from({ length: steps }, (_, i) => 0.02 + 0.02 * Math.sin(i / 9)),
      new Array<number>(steps).fill(0.2),
    );
    const plain = millisecondsOf(() => {
      let sum = 0;
      for (let i = 0; i < steps * 6; i++) sum += storm.runOnM3[Math.floor(i / 6)] / 6;
      if (sum < 0) throw new Error('negative');
    });
    const time = millisecondsOf(() => {
      fillAndDrain(basin, storm);
    });
    const growth = before === 0 ? '' : `, ${(time / before).toFixed(2)} times the size before`;
    console.log(
      `  an event of ${steps / 10} h in steps of a minute: ${time.toFixed(1)} ms, ${(time / plain).toFixed(0)} plain passes${growth}`,
    );
    before = time;
  }
  const outline = insetAreas(
    Array.from(
      { length: 64 },
      (_, i) => [2 * Math.cos((i * Math.PI) / 32), Math.sin((i * Math.PI) / 32)] as const,
    ),
  );
  const task = {
    outline,
    bowl: { areaM2: 12, pondingDepthM: 0.15, freeboardM: 0.05, sideSlope: 3 },
    layers,
    subsoil: { conductivityMPerS: 8 * mmPerH, suctionM: 0, deficit: 0 },
    notch: { coefficient: weirC, widthM: 1 },
    inflow: inflow(360, new Array<number>(60).fill(0.07), new Array<number>(60).fill(0.7)),
  };
  const solving = millisecondsOf(() => {
    areaForShare(task, 0.9);
  });
  const table = millisecondsOf(() => {
    bowlStorage(outline, task.bowl);
  });
  console.log(
    `  the area for a share: ${solving.toFixed(1)} ms; a table of storage: ${table.toFixed(2)} ms`,
  );
  before = 0;
  for (const years of [15, 30]) {
    const depthsMm = hours(years);
    const parts = [
      { areaM2: 60, runOffMm: (mm: number) => runOffMm(mm, 98), barrelM3: 0 },
      { areaM2: 80, runOffMm: (mm: number) => runOffMm(mm, 74), barrelM3: 0 },
    ];
    const plain = millisecondsOf(() => {
      let sum = 0;
      for (const depth of depthsMm) sum += depth;
      if (sum < 0) throw new Error('negative');
    });
    const time = millisecondsOf(() => {
      longRun(
        basin,
        parts,
        { stepS: 3600, depthsMm, start: '1990-01-01T00:00' },
        { dryMmPerDay: 2 },
      );
    });
    const growth = before === 0 ? '' : `, ${(time / before).toFixed(2)} times the size before`;
    console.log(
      `  ${years} years by the hour: ${time.toFixed(0)} ms, ${(time / plain).toFixed(0)} plain passes${growth}`,
    );
    before = time;
  }
}
