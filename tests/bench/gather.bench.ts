import { guessColumns } from '../../lib/gather/guess-columns';
import type { KindUse } from '../../lib/gather/guess-kind';
import { intoPlan } from '../../lib/gather/into-plan';
import { readFound } from '../../lib/gather/read-found';
import type { Plan } from '../../lib/plan/schema';

const emptyPlan: Plan = { type: 'FeatureCollection', lotfall: { version: 1 }, features: [] };

type Place = readonly [lng: number, lat: number];

/** Squares of some 8 by 11 m in rows of seventy. */
function footprints(count: number): object[] {
  return Array.from({ length: count }, (_, i) => {
    const [x, y] = [-87.1 + (i % 70) * 3e-4, 42.5 + Math.floor(i / 70) * 3e-4];
    const corner = (e: number, n: number): Place => [x + e * 1e-4, y + n * 1e-4];
    const ring = [corner(0, 0), corner(1, 0), corner(1, 1), corner(0, 1), corner(0, 0)];
    return { type: 'Polygon', coordinates: [ring] };
  });
}

/** Lines of 100 m in steps of a metre, side by side. */
function lines(count: number): object[] {
  return Array.from({ length: count }, (_, i) => ({
    type: 'LineString',
    coordinates: Array.from({ length: 101 }, (__, k): Place => [
      -87.1 + k * 1.22e-5,
      42.499 - i * 1e-5,
    ]),
  }));
}

/** Prints the processor time of reading and bringing in 5000 footprints and 10 km of lines, beside parsing the text alone. */
export async function benchGather(): Promise<void> {
  console.log('\nGather, processor time (and as a multiple of parsing the same text)');
  const cases: [what: string, geometries: object[], use: KindUse][] = [
    ['2500 footprints', footprints(2500), { kind: 'building' }],
    ['5000 footprints', footprints(5000), { kind: 'building' }],
    ['10 000 m of lines', lines(100), { kind: 'utility', service: 'gas' }],
  ];
  for (const [what, geometries, use] of cases) {
    const text = JSON.stringify({
      type: 'FeatureCollection',
      features: geometries.map((geometry) => ({ type: 'Feature', properties: {}, geometry })),
    });
    const bytes = new TextEncoder().encode(text);
    const plain = processorMs(() => void JSON.parse(text));
    const start = process.cpuUsage();
    const { layers } = await readFound({ name: 'bench.geojson', bytes });
    const { change } = await intoPlan(
      emptyPlan,
      layers.map((layer) => ({ layer, use, columns: guessColumns(layer.columns) })),
    );
    const took = sinceMs(start);
    console.log(
      `  ${what.padEnd(18)} ${String(change?.puts?.length ?? 0).padStart(5)} in  ${took.toFixed(0).padStart(5)} ms  ${(took / plain).toFixed(0)} times`,
    );
  }
}

function processorMs(task: () => void): number {
  const start = process.cpuUsage();
  for (let round = 0; round < 10; round++) task();
  return sinceMs(start) / 10;
}

function sinceMs(start: NodeJS.CpuUsage): number {
  const { user, system } = process.cpuUsage(start);
  return (user + system) / 1000;
}
