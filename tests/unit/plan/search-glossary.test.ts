import { describe, expect, it } from 'vitest';
import { InputError } from '../../../lib/errors';
import { glossary } from '../../../lib/plan/glossary';
import { readPlan } from '../../../lib/plan/read-plan';
import { asFeature } from '../../../lib/plan/as-feature';
import { geometryTypeOf } from '../../../lib/plan/schema';
import { kindsMeant, searchGlossary } from '../../../lib/plan/search-glossary';

const first = (typed: string): string | undefined => searchGlossary(typed).at(0)?.term;

describe('searching what people call things', () => {
  it.each([
    ['patio', 'patio'],
    ['Drive', 'driveway'],
    ['french drain', 'French drain'],
    ['dry well', 'soakaway'],
    ['catch-basin', 'yard drain'],
    ['pop up', 'outlet'],
    ['downpipe', 'downspout'],
    ['property line', 'lot line'],
    ['perc test', 'soil test'],
    ['topo', 'spot height'],
    ['negative grading', 'falls towards the wall'],
    ['call before', 'locate request'],
    ['drives', 'driveway'],
    ['how big', 'size of the basin'],
  ])('finds %s', (typed, term) => {
    expect(first(typed)).toBe(term);
  });

  it('finds while one types, after a slip of the keys, and by what is said of a thing', () => {
    expect(first('soa')).toBe('soakaway');
    expect(first('retainign wall')).toBe('wall');
    expect(searchGlossary('sewage').map(({ term }) => term)).toContain('septic tank');
  });

  it('finds nothing for nothing and for noise', () => {
    expect(searchGlossary('  ')).toEqual([]);
    expect(searchGlossary('qqqqzzzz')).toEqual([]);
  });

  it('lists no name twice, and only properties that their kind takes', () => {
    const names = glossary.flatMap(({ term, also }) => [term, ...also]);
    const doubled = names.filter((name, i) => names.indexOf(name) !== i);
    expect(doubled).toEqual([]);
    for (const { kind, preset } of glossary) {
      if (kind === null || preset === undefined) continue;
      const ring = [
        [0, 0],
        [1, 0],
        [1, 1],
        [0, 0],
      ];
      const coordinates = { Polygon: [ring], LineString: ring, Point: ring[0] }[
        geometryTypeOf(kind)
      ];
      expect(
        asFeature({
          type: 'Feature',
          id: 'a',
          geometry: { type: geometryTypeOf(kind), coordinates },
          properties: { kind, ...preset },
        }),
      ).not.toBeNull();
    }
  });
});

describe('kinds that an unknown one may mean', () => {
  it.each([
    ['patio', 'surface (cover paving)'],
    ['shed', 'building (foundation none)'],
    ['retaining-wall', 'wall'],
    ['rain-garden', 'basin'],
    ['gutter', 'roof'],
    ['septic_feild', 'septic-field'],
    ['dry-well', 'soakaway'],
    ['channel drain', 'trench-drain'],
  ])('answers %s', (kind, said) => {
    const plan = {
      type: 'FeatureCollection',
      features: [{ type: 'Feature', properties: { kind } }],
    };
    expect(() => readPlan(JSON.stringify(plan), 'p.geojson')).toThrow(
      new InputError({
        code: 'feature-kind',
        where: 'p.geojson, feature 1, kind',
        problem: `unknown kind "${kind}"`,
        remedy: `did you mean ${said}`,
      }),
    );
  });

  it('has no guess for noise', () => {
    expect(kindsMeant('qqqqzzzz')).toEqual([]);
  });
});
