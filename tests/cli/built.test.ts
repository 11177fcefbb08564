import { writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { GardenLog } from '../../lib/handover/log/garden-log';
import { demoElevation, demoPlan, readDemoPlan, save, tempFolder } from './inputs';
import { expectRefused, lotfall } from './run-lotfall';

const at = tempFolder();

function logOf(name: string, ...lines: readonly string[]): string {
  const path = at(name);
  writeFileSync(path, ['date,rain,hours until dry', ...lines].join('\n'));
  return path;
}

/** The demo with a rate typed in, and what its design reckons for a rain. */
async function reckoned(rateMmPerH: number, rain: string) {
  const plan = readDemoPlan();
  plan.lotfall['soil'] = { texture: 'silty', rate_mm_per_h: rateMmPerH };
  const path = save(at(`rate-${rateMmPerH}.plan.geojson`), plan);
  const run = await lotfall('design', path, '-e', demoElevation, '--rain', rain, '--json');
  const { basins } = JSON.parse(run.stdout) as {
    basins: { storm: { drain_down_h: number } }[];
  };
  return basins[0].storm.drain_down_h;
}

const built = (log: string, ...more: readonly string[]) =>
  lotfall('built', demoPlan, '-e', demoElevation, '--log', log, ...more);

describe('lotfall built', () => {
  it('finds the rate by which the demo would have dried so', async () => {
    const hours = await Promise.all(['30mm', '45mm'].map((rain) => reckoned(8, rain)));
    const log = logOf('made.csv', `2027-06-03,30 mm,${hours[0]}`, `2027-07-03,45 mm,${hours[1]}`);
    const run = await built(log, '--json');
    const [garden] = (JSON.parse(run.stdout) as { basins: GardenLog[] }).basins;
    expect(garden.refit?.rate_mm_per_h).toBeCloseTo(8, 1);
    expect(garden.designed_mm_per_h).toBeCloseTo(3.02, 2);
    expect(garden).toMatchObject({ result: 'pass' });
    expect(run.status).toBe(0);
  });

  it('says that a garden which stands too long fails, and what to do', async () => {
    const log = logOf(
      'slow.csv',
      '2027-06-03,30 mm,90',
      '2027-06-20,35 mm,>96',
      '2027-07-03,1 in,80',
    );
    const run = await built(log);
    expect(run.status).toBe(1);
    expect(run.stdout).toMatch(/It does not do what was designed\. As seen, it stood longer than/);
    expect(run.stdout).toMatch(/in 3 of 3 looks/);
    expect(run.stdout).toMatch(/Look for a crust/);
  });

  it('refuses in one sentence', async () => {
    const call = ['built', demoPlan, '-e', demoElevation];
    expectRefused(await lotfall(...call), /no log is named/);
    expectRefused(await built(logOf('none.csv')), /there is no look in it/);
    expectRefused(await built(logOf('two.csv', '3/6/2027,25 mm,18')), /may be Thu 3 Jun 2027/);
    const other = at('other.csv');
    writeFileSync(other, 'date,rain,hours,basin\n2027-06-03,25 mm,18,Pond\n');
    expectRefused(await built(other), /there is no basin 'Pond' in the plan/);
  });
});
