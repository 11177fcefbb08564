import { readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { PlantingPlan } from '../../lib/planting/planting-plan';
import { demoElevation, demoPlan, tempFolder } from './inputs';
import { expectRefused, lotfall, lotfallBoth } from './run-lotfall';

const at = tempFolder();
const call = ['plants', demoPlan, '--elevation', demoElevation];
const reminder = /Check your local native and invasive lists/;

describe('lotfall plants', () => {
  it('sets a starter list in the zones of the demo’s basin', async () => {
    const { json, words } = await lotfallBoth(
      at('plants.txt'),
      ...[...call, '--region', 'upper-midwest', '--view', 'south'],
    );
    const { basins, reminder: said } = JSON.parse(json.stdout) as {
      basins: PlantingPlan[];
      reminder: string;
    };
    expect(said).toMatch(reminder);
    expect(words.stdout).toMatch(reminder);
    expect(basins[0].zones.map(({ zone }) => zone)).toEqual(['deep', 'middle', 'edge']);
    expect(basins[0].count).toBeGreaterThan(50);
    expect(words.stdout).toMatch(/Carex comosa \(bottlebrush sedge\).*spread: .*from memory/);
  });

  it('writes a row and a point for each plant of a list of one’s own', async () => {
    const own = at('own.csv');
    writeFileSync(own, 'name,zone,spread\n=Iris versicolor,deep,60 cm\n');
    await lotfall(...call, '--list', own, '--out', at('out.csv'));
    const rows = readFileSync(at('out.csv'), 'utf8').trimEnd().split('\r\n');
    expect(rows.length).toBeGreaterThan(10);
    expect(rows[1]).toMatch(/^Rain garden,deep,'=Iris versicolor,,-87\.1/);
    expect(rows[1]).toMatch(reminder);
  });

  it('refuses what names no plants, or two lists', async () => {
    const empty = at('empty.csv');
    writeFileSync(empty, 'name,zone,spread\n');
    expectRefused(await lotfall(...call), /no plants are named; add --region/);
    expectRefused(await lotfall(...call, '--region', 'mars'), /no list of plants for 'mars'/);
    expectRefused(await lotfall(...call, '--region', 'mid-atlantic', '--list', empty), /both/);
    expectRefused(await lotfall(...call, '--list', empty), /there is no plant in it/);
    expectRefused(
      await lotfall(...call, '--region', 'mid-atlantic', '--view', 'upwards'),
      /cannot be read as an angle/,
    );
  });
});
