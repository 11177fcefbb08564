import { existsSync, readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import type { DrainageResult } from '../../lib/drainage/answer/drainage-result';
import type { Ledger } from '../../lib/drainage/answer/ledger';
import {
  broken,
  demoElevation,
  demoPlan,
  readDemoPlan,
  save,
  squareLot,
  tempFolder,
} from './inputs';
import {
  documentOf,
  lotfall,
  lotfallBoth,
  lotfalls,
  namesIn,
  numbersIn,
  type Run,
} from './run-lotfall';

const at = tempFolder();
const call = ['drainage', demoPlan, '-e', demoElevation];

/** The call as it stands, and in inches of rain. */
let plain: { readonly json: Run; readonly words: Run };
let inch: Run;
beforeAll(async () => {
  plain = await lotfallBoth(at('plain.txt'), ...call);
  inch = await lotfall(...call, '-r', '1 in', '--json');
});

/** What comes in less what is accounted for, over what comes in. */
function imbalance(ledger: Ledger): number {
  const { rain_m3, run_on_m3, sump_m3, soaked_m3, standing_m3, basin_m3 } = ledger;
  const comesIn = rain_m3 + run_on_m3 + sump_m3;
  const held = soaked_m3 + standing_m3 + basin_m3 + ledger.barrel_m3;
  return (comesIn - held - ledger.sewer_m3 - ledger.passed_on_m3) / comesIn;
}

function ledgerOf(result: DrainageResult): Ledger {
  if (result.ledger === null) throw new Error('no ledger');
  return result.ledger;
}

describe('lotfall drainage --json', () => {
  it('is one document with the fields of the contract, all figures finite, and it balances', () => {
    expect(plain.json.status).toBe(0);
    const result = documentOf(plain.json) as DrainageResult;
    expect(result.grid.crs).toBe('NAD83 / UTM zone 16N');
    // Ground metres: the projection shrinks them by 0.04 % here.
    expect(result.grid.cell_m).toBeCloseTo(0.5 / 0.9996, 4);
    expect(result.rain_mm).toBe(40);
    // The basin takes water in by the soil's rate.
    expect(result.notes.join()).toContain('screening test');
    expect(result.notes.join()).toMatch(/cells .* hold 3 % less up to the sill/);
    for (const { wall_fall, outlet_rule } of result.buildings) {
      expect(wall_fall.asked.source.title).toContain('section R401.3');
      expect(outlet_rule).toMatchObject({ least_m: 1.524, source: { mark: 'seen' } });
    }
    for (const spot of result.low_spots) {
      expect(spot).toMatchObject({ id: expect.any(String) as string });
      expect(spot.volume_m3).toBeLessThanOrEqual(spot.area_m2 * spot.depth_m * (1 + 1e-9));
      for (const [lng, lat] of [spot.deepest, spot.spill]) {
        expect(lng).toBeCloseTo(-87.107, 2);
        expect(lat).toBeCloseTo(42.51, 2);
      }
    }
    for (const row of result.standing) {
      const spot = result.low_spots.find(({ id }) => id === row.id);
      expect(row.volume_m3).toBeLessThanOrEqual((spot?.volume_m3 ?? 0) * (1 + 1e-6));
    }
    const ledger = ledgerOf(result);
    expect(ledger.rain_m3).toBeCloseTo(0.04 * 2340, 0);
    expect(Math.abs(imbalance(ledger))).toBeLessThan(1e-6);
    expect(Math.abs(ledger.error_m3)).toBeLessThan(1e-6 * ledger.rain_m3);
    expect(result.contributing.map(({ feature }) => feature)).toContain('basin');
    for (const row of result.contributing) {
      const parts = row.by_source.reduce((sum, { area_m2 }) => sum + area_m2, 0);
      expect(parts).toBeCloseTo(row.area_m2, 6);
      expect(row.storm_area_m2).toBeLessThanOrEqual(row.area_m2 * (1 + 1e-9));
      expect(row.cut_by_edge).toBe(false);
    }
    expect(result.run_off?.run_off_m3).toBeCloseTo(ledger.rain_m3 - ledger.soaked_m3, 9);
    expect(result.run_off?.area_m2).toBeCloseTo(ledger.rain_m3 / 0.04, 6);
    expect(result.run_off?.averaged?.lost_m3).toBeGreaterThan(1);
    for (const [path, value] of numbersIn(result)) expect(value, path).toSatisfy(Number.isFinite);
    for (const name of namesIn(result)) expect(name).toMatch(/^[a-z][a-z0-9_]*$/);
  });

  it('takes rain in millimetres and inches, and a plan in US units gives the same figures', async () => {
    const us = readDemoPlan();
    us.lotfall['units'] = 'us';
    const plan = save(at('us.geojson'), us);
    const metric = await lotfall(...call, '--rain', '25mm', '--json');
    const american = await lotfallBoth(at('us.txt'), 'drainage', plan, '-e', demoElevation);
    const { words } = american;
    const small = documentOf(metric) as DrainageResult;
    const large = documentOf(inch) as DrainageResult;
    expect(small.rain_mm).toBe(25);
    expect(large.rain_mm).toBeCloseTo(25.4, 9);
    expect(ledgerOf(large).rain_m3 / ledgerOf(small).rain_m3).toBeCloseTo(1.016, 6);
    expect(ledgerOf(small).soaked_m3).toBeLessThan(ledgerOf(large).soaked_m3);
    expect(american.json.stdout).toBe(plain.json.stdout);
    expect(words.stdout).toMatch(/^Marl Hollow 12: 1\.57 in of rain/);
    expect(words.stdout).toMatch(/ft²/);
    expect(words.stdout).not.toMatch(/\d m[²³]?\b/);
  });
});

describe('what a basin spills from', () => {
  it('is the same figure whatever storm is poured', async () => {
    const heavy = await lotfall(...call, '--rain', '100mm', '--json');
    const spillsFrom = [plain.json, inch, heavy].map((run) => {
      const { low_spots } = documentOf(run) as DrainageResult;
      return low_spots[0].spills_from_mm;
    });
    expect(spillsFrom[0]).toBeGreaterThan(10);
    expect(spillsFrom).toEqual([spillsFrom[0], spillsFrom[0], spillsFrom[0]]);
  });
});

describe('lotfall drainage for people', () => {
  it('says where water stands, what comes in and where it ends', () => {
    const { stdout, stderr, status } = plain.words;
    expect({ stderr, status }).toEqual({ stderr: '', status: 0 });
    expect(stdout).toMatch(/^Marl Hollow 12: 40 mm of rain\n/);
    expect(stdout).toMatch(/^Water stands by House: \d+ cm deep, .* against the wall\.$/m);
    const [, comesIn, endsUp] = /^Comes in +(11\d m³)$[^]*^Ends up +(11\d m³)$/m.exec(stdout) ?? [];
    expect(comesIn).toBeDefined();
    expect(endsUp).toBe(comesIn);
    expect(stdout).toMatch(/^ {2}run-on from Marl Hollow 10 +18 m³$/m);
    expect(stdout).toMatch(
      /^[\d.]+ m³ of a 40 mm storm stand on Marl Hollow 12, what basins hold/m,
    );
    expect(stdout).toMatch(
      /^\d+ .* the basin Rain garden .*, its bowl alone spills from \d+ mm of rain/m,
    );
    expect(stdout).toMatch(/^low spot 2 +[\d,]+ m²/m);
    expect(stdout).not.toMatch(/low-\d/);
    expect(stdout).toMatch(/^ {2}soaked in or held on surfaces +\d+ m³$/m);
    expect(stdout).not.toContain('at least');
    expect(stdout).not.toMatch(/NaN|undefined|null|lot-uphill/);
  });

  it('says what runs off surface by surface, what averaging would lose, and what a drive over lawn is credited', async () => {
    const spreading = readDemoPlan();
    const drive = spreading.features.find(({ id }) => id === 'driveway');
    Object.assign(drive?.properties ?? {}, { unconnected: true });
    const spread = save(at('spreading.geojson'), spreading);
    const credited = await lotfall('drainage', spread, '-e', demoElevation);
    const { words } = plain;
    expect(words.stdout).toMatch(/^roofs +232 m² +98 +34 mm +8\.0 m³$/m);
    expect(words.stdout).toMatch(/^the lot +2,340 m² +\d+ mm +27 m³$/m);
    expect(words.stdout).toMatch(
      /^One curve number .* averaging would lose 4\.\d m³, 16 %\. \(.* chapter 10/m,
    );
    expect(words.stdout).not.toContain('unconnected');
    expect(credited.stdout).toMatch(/^paving, unconnected +66 m² +98 +27 mm/m);
    expect(credited.stdout).toMatch(/^Unconnected paving is credited with 0\.5\d m³/m);
    expect(credited.stdout).toMatch(/^Note: Of the 2\.3 m³ .* TR-55 \(figure 2-4/m);
  });

  it('marks what the end of the data cuts short, and says what was assumed', async () => {
    const lot = save(at('edge.geojson'), squareLot(4, 4, 12));
    const small = ['drainage', lot, '-e', broken('sound.tif')];
    const { json, words } = await lotfallBoth(at('edge.txt'), ...small);
    expect(words.stdout).toMatch(/^lot +at least \d+ m² +at least \d+ m²/m);
    expect(words.stdout).toMatch(/^Comes in +at least /m);
    expect(words.stdout).toMatch(/^ {2}rain on the lot +[\d.]+ (m³|L)$/m);
    const { contributing, notes } = documentOf(json) as DrainageResult;
    expect(contributing[0].cut_by_edge).toBe(true);
    for (const said of [/edge of the elevation data/, /32 mm is taken/, /RMSE.*10 cm is taken/]) {
      expect(notes.filter((note) => said.test(note))).toHaveLength(1);
    }
    for (const note of notes) expect(words.stdout).toContain(`\nNote: ${note}`);
  });

  it('writes the same to files by their endings and then prints nothing', async () => {
    const lot = save(at('small.geojson'), squareLot(4, 4, 12));
    const small = ['drainage', lot, '-e', broken('sound.tif')];
    const [text, json, both, printed, words] = await lotfalls(
      [...small, '--out', at('a.txt')],
      [...small, '--out', at('a.JSON')],
      [...small, '--json', '--out', at('b.txt')],
      [...small, '--json'],
      small,
    );
    for (const run of [text, json]) expect(run).toEqual({ status: 0, stdout: '', stderr: '' });
    expect(words.stdout).toMatch(/^Bare lot/);
    expect(readFileSync(at('a.txt'), 'utf8')).toBe(words.stdout);
    expect(readFileSync(at('b.txt'), 'utf8')).toBe(words.stdout);
    expect(readFileSync(at('a.JSON'), 'utf8')).toBe(printed.stdout);
    expect(both.stdout).toBe(printed.stdout);
    expect(existsSync(at('b.json'))).toBe(false);
  });
});
