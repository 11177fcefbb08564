import { describe, expect, it } from 'vitest';
import { demoElevation, demoPlan, tempFolder } from './inputs';
import { expectRefused, lotfall, lotfallBoth } from './run-lotfall';
import type { WorkStep } from '../../lib/handover/building/steps';

const at = tempFolder();
const call = ['work', demoPlan, '--elevation', demoElevation];

describe('lotfall work', () => {
  it('has the steps in order, each caution at the step that it belongs to', async () => {
    const { json, words } = await lotfallBoth(at('work.txt'), ...call, '--people', '3');
    const { basins, time } = JSON.parse(json.stdout) as {
      basins: { steps: WorkStep[] }[];
      time: { days: [number, number]; people: number };
    };
    const keys = basins[0].steps.map(({ key }) => key);
    expect(keys.slice(0, 4)).toEqual(['mark', 'white-line', 'strip', 'dig']);
    expect(keys.indexOf('loosen')).toBeLessThan(keys.indexOf('layer-1'));
    expect(keys.indexOf('fill')).toBeLessThan(keys.indexOf('plant'));
    const dig = basins[0].steps[3];
    // 15 cm of ponding and 45 cm of layers, as drawn
    expect(dig.how[0]).toMatch(/^Dig to 60 cm below the sill/);
    expect(dig.caution.join(' ')).toMatch(/tolerance zone.*root circle/);
    for (const { check } of basins[0].steps) expect(check.length).toBeGreaterThan(0);
    expect(time.people).toBe(3);
    expect(words.stdout).toMatch(/^Time: \d+ to \d+ hours of one person; with 3 of them/m);
  });

  it('refuses a crew of none', async () => {
    expectRefused(await lotfall(...call, '--people', '0'), /'0' people/);
    expectRefused(await lotfall(...call, '--wheel', '0'), /no way to wheel/);
  });
});
