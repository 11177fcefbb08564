import { describe, expect, it } from 'vitest';
import { guessColumns, lengthIn } from '../../../lib/gather/guess-columns';
import { guessKind, useOf, wordOf } from '../../../lib/gather/guess-kind';
import { inchM } from '../../../lib/units/units';
import type { FoundPart } from '../../../lib/gather/found-layer';

const parts: Readonly<Record<string, FoundPart>> = {
  point: { type: 'Point', coordinates: [0, 0] },
  line: { type: 'LineString', coordinates: [[0, 0]] },
  area: { type: 'Polygon', coordinates: [[[0, 0]]] },
};

describe('guessing kinds', () => {
  it.each([
    ['Tax_Parcels', 'area', 'lot'],
    ['BuildingFootprints', 'area', 'building'],
    ['Bldg Roofs', 'area', 'roof'],
    ['streets', 'area', 'surface:paving'],
    ['V-TREE-DECID', 'point', 'tree'],
    ['gasMains', 'line', 'utility:gas'],
    ['Water Mains', 'line', 'utility:water'],
    ['storm_sewer', 'line', 'drain-pipe'],
    ['SanitarySewer', 'line', 'utility:sewer'],
    ['C-UTIL', 'line', null],
    ['Utilities', 'line', 'utility'],
    ['spot elevations', 'point', 'spot-height'],
    ['contours_1ft', 'line', null],
    ['Wetlands (NWI)', 'area', 'wetland'],
    ['water', 'area', null],
    ['trees', 'line', null],
    ['Layer1', 'area', null],
  ])('%s of %ss is %s', (name, part, word) => {
    const { use, why } = guessKind({
      file: 'x',
      name,
      shapes: [{ parts: [parts[part]], properties: {} }],
    });
    expect(use === null ? null : wordOf(use)).toBe(word);
    expect(why).not.toBe('');
  });

  it('reads kinds as they are written in a call', () => {
    expect(useOf('utility:gas')).toEqual({ kind: 'utility', service: 'gas' });
    expect(useOf('surface:lawn')).toEqual({ kind: 'surface', cover: 'lawn' });
    expect(useOf('house')).toMatch(/no kind; use one of lot, building/);
    expect(useOf('utility:lava')).toMatch(/none of a utility; use one of electric/);
    expect(useOf('basin')).toMatch(/designed, not found/);
    expect(useOf('tree:oak')).toMatch(/a tree has no 'oak'/);
  });
});

describe('guessing columns', () => {
  it('finds what they hold, and the unit in their names', () => {
    const names = [
      'OBJECTID',
      'SITE_NAME',
      'DBH_in',
      'CrownSpread_ft',
      'Fndtn',
      'Elev',
      'date_upd',
    ];
    const uses = guessColumns(names.map((name) => ({ name, samples: [] })));
    expect(uses).toEqual({
      name: { column: 'SITE_NAME', unitM: null },
      diameter: { column: 'DBH_in', unitM: inchM },
      canopy: { column: 'CrownSpread_ft', unitM: 0.3048 },
      foundation: { column: 'Fndtn', unitM: null },
      elevation: { column: 'Elev', unitM: null },
      date: { column: 'date_upd', unitM: null },
    });
  });

  it.each([
    [12, null, 1, { is: 'length', metres: 12 }],
    ['12,5', 0.01, null, { is: 'length', metres: 0.125 }],
    ['10 ft', 0.01, null, { is: 'length', metres: 3.048 }],
    ['10', null, null, { is: 'unit asked' }],
    ['unknown', 1, 1, { is: 'none' }],
    [null, 1, 1, { is: 'none' }],
  ])('reads %s by unit of cell, column (%s), call (%s)', (cell, column, call, expected) => {
    const shape = { parts: [], properties: { d: cell } };
    expect(lengthIn(shape, { column: 'd', unitM: column }, call)).toEqual(expected);
  });
});
