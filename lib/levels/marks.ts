import { InputError } from '../errors';
import { inverted } from './inverse';

/** A place with what it was read below, and its height where that is given. */
export interface TiedPlace {
  readonly name: string;
  readonly elevationM: number | null;
  readonly accuracyM: number;
  readonly ties: readonly { readonly mark: string; readonly dropM: number }[];
}

/** How a line of levelling came back to a place that it had been at. */
export interface Closing {
  /** Where it closes. */
  readonly name: string;
  readonly errorM: number;
  /** Marks that the loop went over. */
  readonly setUps: number;
  /** What the readings on the way bear, metres. */
  readonly allowedM: number;
}

/** Marks of a levelling above the common zero. */
export interface SettledMarks {
  readonly marksM: ReadonlyMap<string, number>;
  readonly closings: readonly Closing[];
}

/** A loop may miss by so many times what its readings together may be off by. Our choice, no source. */
const standardErrors = 3;
/** The zero that heights are given above, among the marks. */
const zero = Symbol('zero');
type Node = string | typeof zero;

interface Tied {
  readonly node: Node;
  /** Height of the place less that of the node. */
  readonly aboveM: number;
}

/**
 * The height of each mark. From the heights that are given, or from the first mark where none is, one goes on from mark
 * to mark over the places read from both; where a place is come to twice, the difference is the closing error, which
 * is shared out by least squares.
 *
 * @throws {InputError} `levels-two-zeros` where a mark cannot be come to, `levels-open-loop` where a loop misses by more than
 *   its readings bear.
 * Cost: cubic in the marks, of which a yard has a handful.
 */
export function settleMarks(places: readonly TiedPlace[], file: string): SettledMarks {
  const names = [...new Set(places.flatMap(({ ties }) => ties.map(({ mark }) => mark)))];
  const hasHeights = places.some(({ elevationM }) => elevationM !== null);
  const root: Node = hasHeights || names.length === 0 ? zero : names[0];
  const tied = places.map((place): Tied[] => [
    ...(place.elevationM === null ? [] : [{ node: zero, aboveM: place.elevationM } as const]),
    ...place.ties.map(({ mark, dropM }): Tied => ({ node: mark, aboveM: -dropM })),
  ]);
  const { heightM, depth, closings } = walked(root, places, tied);
  const untied = names.find((name) => !depth.has(name));
  if (untied !== undefined) throw twoZeros(file, untied);
  const open = closings.find(({ errorM, allowedM }) => Math.abs(errorM) > allowedM);
  if (open !== undefined) throw openLoop(file, open);
  const free = names.filter((name) => name !== root);
  const settled = closings.some(({ errorM }) => errorM !== 0)
    ? adjusted(free, tied)
    : new Map(free.map((name) => [name, heightM.get(name) ?? 0]));
  if (typeof root === 'string') settled.set(root, 0);
  return { marksM: settled, closings };
}

/** From the root from mark to mark, nearest first. */
function walked(root: Node, places: readonly TiedPlace[], tied: readonly (readonly Tied[])[]) {
  const heightM = new Map<Node, number>([[root, 0]]);
  const depth = new Map<Node, number>([[root, 0]]);
  const usedFrom = new Map<number, Node>();
  const closings: Closing[] = [];
  const queue: Node[] = [root];
  for (const from of queue) {
    tied.forEach((ties, place) => {
      const at = ties.find(({ node }) => node === from);
      if (at === undefined || usedFrom.has(place)) return;
      usedFrom.set(place, from);
      const placeM = (heightM.get(from) ?? 0) + at.aboveM;
      for (const { node, aboveM } of ties) {
        if (node === at.node) continue;
        const known = heightM.get(node);
        if (known !== undefined) {
          const setUps = (depth.get(from) ?? 0) + (depth.get(node) ?? 0);
          closings.push(closing(places[place], known + aboveM - placeM, setUps));
          continue;
        }
        heightM.set(node, placeM - aboveM);
        depth.set(node, (depth.get(from) ?? 0) + 1);
        queue.push(node);
      }
    });
  }
  return { heightM, depth, closings };
}

function closing({ name, accuracyM }: TiedPlace, errorM: number, setUps: number): Closing {
  const marks = Math.max(1, setUps);
  // Each set-up has a sight back and one forward.
  return {
    name,
    errorM,
    setUps: marks,
    allowedM: standardErrors * accuracyM * Math.sqrt(2 * marks),
  };
}

/** Heights of marks by which the places differ least from mark to mark; given heights stay. */
function adjusted(
  names: readonly string[],
  tied: readonly (readonly Tied[])[],
): Map<string, number> {
  const size = names.length;
  const matrix = new Float64Array(size * size);
  const right = new Float64Array(size);
  const index = new Map<Node, number>(names.map((name, i) => [name, i]));
  for (const ties of tied) {
    const given = ties.find(({ node }) => node === zero);
    const others = ties.filter(({ node }) => node !== zero);
    const share = given === undefined ? 1 / others.length : 0;
    for (const one of others) {
      const i = index.get(one.node);
      if (i === undefined) continue;
      matrix[i * size + i] += 1;
      right[i] += (given?.aboveM ?? 0) - one.aboveM;
      for (const other of others) {
        const j = index.get(other.node);
        if (j !== undefined) matrix[i * size + j] -= share;
        // The root stands at nought and adds only what the place lies above it.
        right[i] += share * other.aboveM;
      }
    }
  }
  const inverse = inverted(matrix, size);
  const heights = names.map((_, i) =>
    inverse === null
      ? 0
      : names.reduce((sum, _name, j) => sum + inverse[i * size + j] * right[j], 0),
  );
  return new Map(names.map((name, i) => [name, heights[i]]));
}

function twoZeros(file: string, mark: string): InputError {
  return new InputError({
    code: 'levels-two-zeros',
    where: file,
    problem: `its levels are read from two zeros, and nothing ties the drops below ${mark === '' ? 'the mark' : `‘${mark}’`} to the rest`,
    remedy:
      'read one place both ways and give it elevation_m and drop_m, or drops below both marks',
  });
}

function openLoop(file: string, { name, errorM, setUps, allowedM }: Closing): InputError {
  const ups = `${setUps} ${setUps === 1 ? 'set-up' : 'set-ups'}`;
  return new InputError({
    code: 'levels-open-loop',
    where: `${file}, ${name}`,
    problem: `the levelling that comes back there misses by ${cm(Math.abs(errorM))} over ${ups}, and its readings bear ${cm(allowedM)}`,
    remedy:
      'read the places that tie the set-ups together again, or take out the reading that slipped',
  });
}

function cm(metres: number): string {
  return `${(100 * metres).toFixed(1)} cm`;
}
