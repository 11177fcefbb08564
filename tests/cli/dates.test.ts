import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { demoPlan, readDemoPlan, save, tempFolder } from './inputs';
import { expectRefused, lotfall } from './run-lotfall';

const at = tempFolder();
const dates = (...args: readonly string[]) => lotfall('dates', demoPlan, ...args);

describe('lotfall dates', () => {
  it('lists the days, names what clashes and writes a calendar', async () => {
    const file = at('job.ics');
    const run = await dates(
      ...['--dig', '2027-05-08', '--days', '10', '--notice', '3 business days'],
      ...['--valid', '10 days', '--date', '2027-04-01', '--out', file],
    );
    expect(run).toMatchObject({ status: 0, stderr: '' });
    expect(run.stdout).toMatch(/^Tue 4 May 2027 +Ask the public service/m);
    expect(run.stdout).toMatch(/The locate ends on Fri 14 May 2027, before digging does/);
    // the plan's own gas service was located for another year
    expect(run.stdout).toMatch(/The locate of Gas service ends/);
    expect(readFileSync(file, 'utf8')).toMatch(/DTSTART;VALUE=DATE:20270508\r\n/);
  });

  it('asks for what it may not assume, each in one sentence', async () => {
    const plan = readDemoPlan();
    plan.features = plan.features.filter(({ properties }) => properties['kind'] !== 'basin');
    const bare = save(at('bare.plan.geojson'), plan);
    const notice = ['--notice', '3 days'];
    expectRefused(await dates('--dig', '2027-05-08'), /differs by place; ask the service/);
    expectRefused(await dates(...notice), /no day of digging is named/);
    expectRefused(await dates('--dig', '5/8/2027', ...notice), /may be Thu 5 Aug.* or Sat 8 May/);
    expectRefused(await dates('--dig', '2027-05-08', '--notice', 'a while'), /no number of days/);
    expectRefused(await lotfall('dates', bare, '--dig', '2027-05-08', ...notice), /no basin/);
  });
});
