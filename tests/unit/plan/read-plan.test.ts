import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../../lib/errors';
import { mostVerticesPerFeature } from '../../../lib/plan/read-feature';
import { mostVerticesPerPlan, readPlan } from '../../../lib/plan/read-plan';
import { writePlan } from '../../../lib/plan/write-plan';
import { ownMsSince } from '../own-time';

const folder = new URL('../../../fixtures/plans/', import.meta.url);

/** For each broken plan: the error's code and what its sentence must name. */
const broken: Record<string, [code: string, ...names: string[]]> = {
  'bad-antimeridian': ['feature-antimeridian', "'gas'", '180 degree meridian'],
  'bad-building-reference': ['feature-reference', "'house-roof'", "'barn'", 'house'],
  'bad-cover': ['feature-property', "'yard'", 'cover', 'lawn', '"grass"'],
  'bad-crossing-lot-line': ['feature-crosses-itself', "'lot'", '[-70.3998000, 39.7701500]'],
  'bad-crs': ['plan-crs', 'EPSG::26916', 'EPSG:4326'],
  'bad-day': ['feature-property', 'located.on', '2026-02-31'],
  'bad-duplicate-id': ['plan-duplicate-id', 'features 1 and 2', "'lot'"],
  'bad-empty': ['plan-not-json', 'empty'],
  'bad-far-apart': ['plan-far-apart', "'spout'", '171 km'],
  'bad-geometry': ['feature-geometry', "'lot'", 'Polygon', 'LineString'],
  'bad-hole-outside': ['feature-hole', "'house'", 'outside'],
  'bad-json': ['plan-not-json', 'line 60, column 26', 'double quotes'],
  'bad-kind': ['feature-kind', "'house'", 'Bilding', 'building'],
  'bad-later-version': ['plan-version', 'version 7', 'later release'],
  'bad-located-dates': ['feature-property', "'gas'", 'located', 'until'],
  'bad-multi': ['feature-multi', "'house'", '2 parts', 'split'],
  'bad-no-area': ['feature-no-area', "'house'", 'no area'],
  'bad-no-kind': ['feature-kind', "'house'", 'no kind', 'downspout'],
  'bad-not-collection': ['plan-not-collection', 'FeatureCollection', '"Feature"'],
  'bad-null-geometry': ['feature-geometry', "'lot'", 'null'],
  'bad-off-globe': ['feature-position', "'spout'", '-186.4'],
  'bad-own-missing': ['feature-property', "'lot-east'", 'own', 'true or false', 'missing'],
  'bad-pole': ['feature-position', "'spout'", 'pole'],
  'bad-projected': ['feature-position', "'spout'", 'projected coordinates', 'WGS 84'],
  'bad-property': ['feature-property', "'spout'", 'share', 'at most 1', '1.5'],
  'bad-roof-reference': ['feature-reference', "'spout'", "'barn-roof'", 'house-roof'],
  'bad-settings': ['plan-settings', 'lotfall.storm.rain_mm', 'a number', '40 mm'],
  'bad-swapped': ['feature-position', "'spout'", 'longitude first'],
};

function failureOf(text: string, fileName: string): InputError {
  try {
    readPlan(text, fileName);
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error(`${fileName} was read without an error`);
}

describe('a made-up plan', () => {
  const demo = new URL('../../../fixtures/demo/lot.plan.geojson', import.meta.url);
  const files = readdirSync(folder).map((name) => new URL(name, folder));
  it.each([demo, ...files].map((url) => [url.pathname.split('/').at(-1), url] as const))(
    '%s says that it is made up',
    (_, url) => {
      const text = readFileSync(url, 'utf8');
      // What is empty or no collection has no place for it.
      if (text.includes('"lotfall"'))
        expect(text).toMatch(/"note": "Made up: .* where nobody lives/);
    },
  );
});

function twoLots(): string {
  return readFileSync(new URL('two-lots.plan.geojson', folder), 'utf8');
}

/** A plan of one lot whose line is a circle of so many corners. */
function roundLot(corners: number, lots = 1): string {
  const ring = Array.from({ length: corners + 1 }, (_, i) => {
    const turn = ((i % corners) / corners) * 2 * Math.PI;
    return [-70.4 + 1e-3 * Math.cos(turn), 39.77 + 1e-3 * Math.sin(turn)];
  });
  const features = Array.from({ length: lots }, (_, i) => ({
    type: 'Feature',
    properties: { kind: 'lot', own: i === 0 },
    geometry: { type: 'Polygon', coordinates: [ring] },
  }));
  return JSON.stringify({ type: 'FeatureCollection', features });
}

describe('readPlan', () => {
  const files = readdirSync(folder).filter((name) => name.startsWith('bad-'));

  it('has an expectation for each broken plan', () => {
    expect(files.map((name) => name.replace('.geojson', '')).sort()).toEqual(
      Object.keys(broken).sort(),
    );
  });

  for (const [name, [code, ...words]] of Object.entries(broken)) {
    it(`refuses ${name} in one sentence that names file, place and remedy`, () => {
      const file = `${name}.geojson`;
      const error = failureOf(readFileSync(new URL(file, folder), 'utf8'), file);
      expect(error.code).toBe(code);
      expect(error.message.startsWith(file)).toBe(true);
      expect(error.message.endsWith('.')).toBe(true);
      for (const word of words) expect(error.message).toContain(word);
    });
  }

  it('reads a good plan without notes, and with what it does not know', () => {
    const raw = JSON.parse(twoLots()) as { features: { properties: object }[]; origin?: string };
    raw.origin = 'a survey';
    Object.assign(raw.features[0].properties, { surveyor_mark: [1, { two: null }] });
    const { plan, notes } = readPlan(JSON.stringify(raw), 'a.geojson');
    expect(notes).toEqual([]);
    expect(plan).toMatchObject({ origin: 'a survey' });
    expect(plan.features[0].properties).toMatchObject({ surveyor_mark: [1, { two: null }] });
    expect(plan.lotfall.storm?.rain_mm).toBe(25);
  });

  it('takes numbers as ids, also where another feature names them', () => {
    const text = twoLots().replaceAll('"house-roof"', '12').replaceAll('"house"', '7');
    const { plan } = readPlan(text, 'a.geojson');
    expect(plan.features.map(({ id }) => id)).toContain('12');
    expect(plan.features.find(({ id }) => id === 'spout')?.properties).toMatchObject({
      roof: '12',
    });
    expect(plan.features.find(({ id }) => id === '12')?.properties).toMatchObject({
      building: '7',
    });
  });

  it('gives an id where there is none, never one that is taken, and says so', () => {
    const raw = JSON.parse(twoLots()) as { features: { id?: string }[] };
    raw.features[1].id = 'lot-1';
    delete raw.features[0].id;
    const { plan, notes } = readPlan(JSON.stringify(raw), 'a.geojson');
    expect(plan.features[0].id).toBe('lot-2');
    expect(notes).toEqual(['lot-2: id given, as the file has none']);
  });

  it('closes an open ring and says so', () => {
    const raw = JSON.parse(twoLots()) as { features: { geometry: { coordinates: unknown[][] } }[] };
    const ring = raw.features[0].geometry.coordinates[0];
    const first = ring[0];
    ring.pop();
    const { plan, notes } = readPlan(JSON.stringify(raw), 'a.geojson');
    const { geometry } = plan.features[0];
    expect(geometry.type === 'Polygon' && geometry.coordinates[0].at(-1)).toEqual(first);
    expect(notes).toEqual(['lot: ring closed']);
  });

  it('takes a Multi geometry of one part, and says so', () => {
    const raw = JSON.parse(twoLots()) as {
      features: { geometry: { type: string; coordinates: unknown } }[];
    };
    const { geometry } = raw.features[0];
    geometry.type = 'MultiPolygon';
    geometry.coordinates = [geometry.coordinates];
    const { plan, notes } = readPlan(JSON.stringify(raw), 'a.geojson');
    expect(plan.features[0].geometry.type).toBe('Polygon');
    expect(notes[0]).toMatch(/^lot: one part/);
  });

  it('names members that are nearly known ones, asks about a trunk wider than trees grow, and keeps both', () => {
    const raw = JSON.parse(twoLots()) as {
      features: { id: string; properties: object; geometry: object }[];
      lotfall: Record<string, unknown>;
    };
    const tree = (id: string, properties: object) => ({
      type: 'Feature',
      id,
      properties: { kind: 'tree', ...properties },
      geometry: { type: 'Point', coordinates: [-70.4, 39.77] },
    });
    raw.features = [
      tree('oak', { trunk_diameter_in: 24, leaves: 'many' }),
      tree('elm', { trunk_diameter_m: 0.6, trunk_diameter_in: 24 }),
      tree('ash', { trunk_diameter_m: 24 }),
      tree('yew', { trunk_diameter_m: 5 }),
    ];
    raw.lotfall = { version: 1, ruleset: 'x', storm: { rain_mm: 40, durationh: 6 } };
    const { plan, notes } = readPlan(JSON.stringify(raw), 'a.geojson');
    expect(notes.filter((note) => !note.includes('your own'))).toEqual([
      'The plan\'s settings: ruleset ("x") is not known and not used; did you mean rule_set?',
      "The plan's settings: storm.durationh (6) is not known and not used; did you mean storm.duration_h?",
      'oak: trunk_diameter_in (24) is not known and not used; did you mean trunk_diameter_m?',
      'ash: is a trunk of 24 m right? trunk_diameter_m is in metres; it is used as it stands',
    ]);
    expect(plan.features[0].properties).toMatchObject({ trunk_diameter_in: 24, leaves: 'many' });
    expect(plan.lotfall).toMatchObject({ ruleset: 'x' });
  });

  it('has no doubts about the plans that are handed out', () => {
    const demo = readFileSync(new URL('../demo/lot.plan.geojson', folder), 'utf8');
    for (const text of [demo, twoLots()]) expect(readPlan(text, 'a.geojson').notes).toEqual([]);
  });

  it('fills in settings that are missing', () => {
    const { plan, notes } = readPlan('{"type":"FeatureCollection","features":[]}', 'a.geojson');
    expect(plan.lotfall).toEqual({ version: 1 });
    expect(notes).toHaveLength(2);
    expect(notes[1]).toContain('No lot is marked as your own');
  });

  it('drops a reference system that says nothing new, and a byte order mark', () => {
    const raw = JSON.parse(twoLots()) as object;
    const crs = { type: 'name', properties: { name: 'urn:ogc:def:crs:OGC:1.3:CRS84' } };
    const { plan } = readPlan(`\uFEFF${JSON.stringify({ ...raw, crs })}`, 'a.geojson');
    expect(plan).not.toHaveProperty('crs');
  });

  it('refuses a ring that touches itself at a corner, and one that runs back over itself', () => {
    const raw = JSON.parse(twoLots()) as { features: { geometry: { coordinates: unknown } }[] };
    const at = (x: number, y: number) => [-70.4 + x * 1e-5, 39.77 + y * 1e-5];
    for (const ring of [
      [at(0, 0), at(20, 0), at(20, 20), at(10, 0), at(0, 20), at(0, 0)],
      [at(0, 0), at(20, 0), at(20, 20), at(20, 30), at(20, 20), at(0, 20), at(0, 0)],
    ]) {
      raw.features[0].geometry.coordinates = [ring];
      expect(failureOf(JSON.stringify(raw), 'a').code).toBe('feature-crosses-itself');
    }
  });

  it('answers at once when there is far too much', () => {
    const start = process.cpuUsage();
    expect(failureOf(roundLot(100_000), 'big.geojson').message).toContain(
      `more than ${mostVerticesPerFeature} corners`,
    );
    const lots = Math.ceil(mostVerticesPerPlan / 5000) + 1;
    expect(failureOf(roundLot(5000, lots), 'many.geojson').message).toContain(
      `more than ${mostVerticesPerPlan} corners`,
    );
    expect(ownMsSince(start)).toBeLessThan(5000);
  });

  it('reads a lot line of some thousand corners', () => {
    const { plan } = readPlan(roundLot(9000), 'a.geojson');
    expect(plan.features).toHaveLength(1);
  });

  it('reads what writePlan wrote', () => {
    const { plan } = readPlan(twoLots(), 'a.geojson');
    const text = writePlan(plan);
    expect(readPlan(text, 'a.geojson').plan).toEqual(plan);
    expect(text.indexOf('"lotfall"')).toBeLessThan(text.indexOf('"features"'));
    expect(text).toMatch(/\n {12}\[-70\.4, 39\.77\],\n/);
  });
});
