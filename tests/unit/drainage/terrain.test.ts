import { describe, expect, it } from 'vitest';
import { Cancelled, InputError } from '../../../lib/errors';
import { lowSpots } from '../../../lib/drainage/answer/low-spots';
import { catchmentCells } from '../../property/drainage/catchment-sums';
import { pourStorm } from '../../../lib/drainage/storm/pour-storm';
import { buildTerrain, type Terrain } from '../../../lib/drainage/terrain/terrain';
import { Workspace } from '../../../lib/drainage/terrain/workspace';

const gap = Number.NaN;

function ground(...rows: number[][]): Terrain {
  return buildTerrain(Float32Array.from(rows.flat()), rows[0].length, rows.length);
}

/** The tree as nested text, for example `(1 2)4`: low spots of the pits 1 and 2 merge and spill at 4. */
function drawn({ tree }: Terrain): string[] {
  const draw = (node: number): string =>
    node <= tree.pits
      ? `${node}@${tree.spill[node]}`
      : `(${draw(tree.child0[node])} ${draw(tree.child1[node])})@${tree.spill[node]}`;
  const roots: string[] = [];
  for (let node = 1; node < tree.nodes; node++) if (tree.isRoot[node] === 1) roots.push(draw(node));
  return roots;
}

describe('terrain of a hand-made ground', () => {
  it('has one low spot for one pit, which spills off the map at the lowest rim', () => {
    const terrain = ground(
      [9, 9, 9, 9, 9],
      [9, 5, 4, 6, 9],
      [9, 5, 2, 5, 7],
      [9, 5, 5, 5, 9],
      [9, 9, 9, 9, 9],
    );
    expect(drawn(terrain)).toEqual(['1@7']);
    expect(terrain.tree.pitCells[1]).toBe(12);
    expect(terrain.tree.destination[1]).toBe(0);
    expect(terrain.tree.spillTo[1]).toBe(14);
    expect(terrain.volume[1]).toBe(2 + 3 + 1 + 2 + 5 + 2 + 2 + 2 + 2);
    expect(terrain.cellsBelow[1]).toBe(9);
    expect([...terrain.filled.subarray(10, 15)]).toEqual([9, 7, 7, 7, 7]);
  });

  it('lets the higher of two low spots spill into the lower', () => {
    const terrain = ground([9, 9, 9, 9, 9, 9], [9, 4, 6, 2, 3, 3], [9, 9, 9, 9, 9, 9]);
    // pit 1 (height 4) spills at 6 into what leaves the map over the row's end at 3
    expect(drawn(terrain)).toEqual(['1@6', '2@3']);
    expect(terrain.tree.destination[1]).toBe(2);
    expect(terrain.tree.destination[2]).toBe(0);
  });

  it('merges two low spots that both lie below the way out', () => {
    const terrain = ground([9, 9, 9, 9, 9], [9, 2, 4, 3, 8], [9, 9, 9, 9, 9]);
    expect(drawn(terrain)).toEqual(['(1@4 2@4)@8']);
    expect([terrain.tree.destination[1], terrain.tree.destination[2]]).toEqual([2, 1]);
    expect(terrain.volume[3]).toBe(6 + 4 + 5);
    expect(terrain.volume[1]).toBe(2);
    expect(terrain.volume[2]).toBe(1);
  });

  it('nests three low spots', () => {
    const terrain = ground([9, 9, 9, 9, 9, 9, 9], [9, 2, 4, 3, 6, 1, 8], [9, 9, 9, 9, 9, 9, 9]);
    expect(drawn(terrain)).toEqual(['(3@6 (1@4 2@4)@6)@8']);
    expect(terrain.tree.destination[4]).toBe(3);
    expect(terrain.tree.destination[3]).toBe(2);
  });

  it('fills the same volume when a pass is tied two ways', () => {
    const terrain = ground([9, 9, 9, 9, 9], [5, 9, 2, 9, 5], [9, 5, 9, 5, 9], [9, 9, 5, 9, 9]);
    const [root, ...others] = drawn(terrain);
    expect(others).toEqual([]);
    expect(root).toBe('1@5');
    expect(terrain.volume[1]).toBe(3);
  });

  it('spills over a pass by the steepest of the ways down on the other side', () => {
    const terrain = ground(
      [9, 9, 9, 9, 9, 9],
      [9, 4, 4.5, 9, 9, 9],
      [9, 3, 3.5, 5, 3, 9],
      [9, 4, 4.5, 9, 9, 9],
      [9, 9, 9, 9, 9, 9],
    );
    const higher = terrain.catchment[16];
    expect(terrain.tree.spillFrom[higher]).toBe(15);
    expect(terrain.tree.spillTo[higher]).toBe(14);
  });

  it('has no low spot on a plateau with a way out, and one pit for a plateau without', () => {
    expect(drawn(ground([9, 9, 9, 9], [9, 3, 3, 3], [9, 3, 3, 9], [9, 9, 9, 9]))).toEqual(['1@3']);
    const closed = ground([9, 9, 9, 9], [9, 3, 3, 9], [9, 3, 3, 9], [9, 9, 9, 8]);
    expect(drawn(closed)).toEqual(['1@8']);
    expect(closed.volume[1]).toBe(20);
    const dented = ground(
      [9, 9, 9, 9, 9],
      [9, 3, 3, 3, 9],
      [9, 3, 1, 3, 9],
      [9, 3, 3, 3, 9],
      [9, 9, 9, 9, 3],
    );
    expect(drawn(dented)).toEqual(['1@3']);
    expect(dented.volume[1]).toBe(2);
  });

  it('lets water through where a wall of single cells runs diagonally', () => {
    const wall = (filler: number): Terrain =>
      ground(
        [9, 9, 9, 9, 9],
        [9, 2, 2, 9, 9],
        [9, 2, 9, filler, 9],
        [9, 9, filler, 1, 1],
        [9, 9, 9, 9, 9],
      );
    // (1,2) and (2,1) touch (2,3) and (3,2) at the corners beside the wall's cell
    expect(wall(2).filled[6]).toBe(2);
    expect(wall(9).filled[6]).toBe(9);
  });

  it('drains into a hole in the data', () => {
    const terrain = ground(
      [9, 9, 9, 9, 9, 9],
      [9, 2, 3, 5, 4, 9],
      [9, 2, 3, 5, gap, 9],
      [9, 9, 9, 9, 9, 9],
    );
    expect(terrain.outside).toBe(1);
    expect(drawn(terrain)).toEqual(['1@5']);
    expect(terrain.filled[16]).toBeNaN();
    expect(terrain.receiver[16]).toBe(8);
    expect(terrain.receiver[10]).toBe(9);
  });

  it.each([
    [1, 1],
    [1, 7],
    [7, 1],
    [2, 5],
  ])('has no low spots where all cells are at the edge: %i by %i', (width, height) => {
    const z = Float32Array.from({ length: width * height }, (_, i) => 1 + ((i * 5) % 7));
    const terrain = buildTerrain(z, width, height);
    expect(terrain.tree.nodes).toBe(1);
    expect(terrain.filled).toEqual(z);
    expect([...terrain.catchment]).toEqual(z.length === 0 ? [] : Array(z.length).fill(0));
    expect(pourStorm(terrain, catchmentCells(terrain)).outflow).toBe(z.length);
  });

  it('holds nothing on level ground, of any size', () => {
    const terrain = buildTerrain(new Float32Array(30).fill(4), 6, 5);
    expect(terrain.filled).toEqual(terrain.z);
    expect(Math.max(...terrain.volume)).toBe(0);
  });

  it('holds no water when there is no data at all', () => {
    const terrain = buildTerrain(new Float32Array(9).fill(gap), 3, 3);
    expect(terrain.outside).toBe(9);
    expect(catchmentCells(terrain)[0]).toBe(0);
    expect(terrain.filled).toEqual(terrain.z);
  });

  it('takes not-a-number of any sign for no data', () => {
    const z = new Float32Array(9).fill(5);
    new Int32Array(z.buffer)[4] = 0xffc00001 | 0;
    expect(buildTerrain(z, 3, 3).outside).toBe(1);
  });

  it('goes by the steepest way, not the lowest neighbour', () => {
    // south is 2 lower, south-east 2.5 lower but the square root of 2 away
    const terrain = ground([9, 9, 9, 9], [9, 6, 7, 9], [9, 4, 3.5, 9], [9, 9, 9, 9]);
    expect(terrain.receiver[5]).toBe(2);
  });
});

describe('building a terrain', () => {
  const z = Float32Array.from({ length: 400 }, (_, i) => 1 + ((i * 7919) % 101));

  it.each([
    ['below the sea', -150, 1],
    ['at the sea', -40, 1],
    ['a thousandth as high', -40, 2 ** -10],
    ['beyond all mountains', -40, 2 ** 70],
    ['as high as numbers go', -2, 2 ** 120],
  ])('is the same ground in heights that are %s', (_, upM, times) => {
    const moved = z.map((height) => (height + upM) * times);
    moved[37] = NaN;
    const usual = z.slice();
    usual[37] = NaN;
    const [there, here] = [buildTerrain(moved, 20, 20), buildTerrain(usual, 20, 20)];
    expect(there.z).toBe(moved);
    expect(there.receiver).toEqual(here.receiver);
    expect(there.catchment).toEqual(here.catchment);
    expect(there.cellsBelow).toEqual(here.cellsBelow);
    expect(there.filled).toEqual(here.filled.map((height) => (height + upM) * times));
    expect(there.tree.spill.slice(1)).toEqual(
      here.tree.spill.slice(1).map((height) => (height + upM) * times),
    );
    expect(there.volume).toEqual(here.volume.map((volume) => volume * times));
    const spots = (terrain: Terrain, unit: number) =>
      lowSpots(terrain, { cellAreaM2: 1, minDepthM: 5 * unit }).map(({ areaM2, cells }) => ({
        areaM2,
        cells,
      }));
    expect(spots(there, times)).toEqual(spots(here, 1));
    expect(spots(here, 1).length).toBeGreaterThan(1);
  });

  it('says in a sentence when heights and cells do not fit', () => {
    for (const [width, height] of [
      [20, 19],
      [0, 0],
      [2.5, 160],
    ]) {
      expect(() => buildTerrain(z, width, height)).toThrow(InputError);
    }
    expect(() => buildTerrain(new Float32Array(0), 0, 0)).toThrow(/0 heights are given for 0 by 0/);
  });

  it('stops when it is cancelled', () => {
    expect(() => buildTerrain(z, 20, 20, { signal: AbortSignal.abort() })).toThrow(Cancelled);
  });

  it('tells how far it is', () => {
    const fractions: number[] = [];
    buildTerrain(z, 20, 20, { onProgress: (fraction) => fractions.push(fraction) });
    expect(fractions).toEqual(fractions.toSorted((a, b) => a - b));
    expect(fractions.at(-1)).toBe(1);
  });

  it('allocates nothing large for the next ground of the same size', () => {
    const workspace = new Workspace();
    const first = buildTerrain(z, 20, 20, { workspace });
    const { bytes } = workspace;
    const second = buildTerrain(z.toReversed(), 20, 20, { workspace });
    expect(second.filled.buffer).toBe(first.filled.buffer);
    expect(workspace.bytes).toBeLessThan(bytes * 1.3);
    buildTerrain(z, 20, 20, { workspace });
    expect(workspace.bytes).toBeLessThan(bytes * 1.3);
  });
});
