import type { InferOutput } from 'valibot';
import { cover, kindNames, service, type Kind } from '../plan/schema';
import type { FoundLayer, FoundPart } from './found-layer';
import { wordsOf } from './words-of';

/** What a layer's shapes become in the plan. */
export interface KindUse {
  readonly kind: Kind;
  /** Of lines of a utility; taken from a column where not given. */
  readonly service?: InferOutput<typeof service>;
  /** Of surfaces; taken from a column where not given. */
  readonly cover?: InferOutput<typeof cover>;
}

/** A guess with its reason; `use` is null where the layer had better stay out, or nothing says what it is. */
export interface KindGuess {
  readonly use: KindUse | null;
  readonly why: string;
}

/** Kinds that come from design or from other work than a survey, and why they are not gathered. */
const notGathered: Readonly<Partial<Record<Kind, string>>> = {
  basin: 'a basin is designed, not found',
  downspout: 'a downspout belongs to a roof of the plan and is drawn on it',
  'soil-test': 'a soil test has readings that a layer does not hold',
};

/** The kinds that a layer can become. */
export const gatheredKinds: readonly Kind[] = kindNames.filter(
  (kind) => notGathered[kind] === undefined,
);

type Shape = FoundPart['type'];
const areas: readonly Shape[] = ['Polygon', 'LineString'];
const lines: readonly Shape[] = ['LineString'];
const spots: readonly Shape[] = ['Point', 'Polygon'];

/** Words of the trade in a layer's name, the more special first, and what a layer of such shapes then is. Our choice. */
const byName: readonly (readonly [words: RegExp, shapes: readonly Shape[], use: KindUse])[] = [
  [/septic field|leach|drain ?field|absorption field/, areas, { kind: 'septic-field' }],
  [/septic/, spots, { kind: 'septic-tank' }],
  [/easement|right of way|\brow\b|servitude/, areas, { kind: 'easement' }],
  [/wetland|marsh|bog|swamp/, areas, { kind: 'wetland' }],
  [/roof/, areas, { kind: 'roof' }],
  [/building|bldg|footprint|house|structure|garage|shed|dwelling/, areas, { kind: 'building' }],
  [
    /driveway|paving|pavement|paved|parking|road|street|sidewalk|patio|concrete|asphalt|impervious/,
    areas,
    { kind: 'surface', cover: 'paving' },
  ],
  [/gravel/, areas, { kind: 'surface', cover: 'gravel' }],
  [/lawn|grass|turf/, areas, { kind: 'surface', cover: 'lawn' }],
  [/planting|flower ?bed|\bbeds?\b|shrub/, areas, { kind: 'surface', cover: 'bed' }],
  [/meadow|prairie/, areas, { kind: 'surface', cover: 'meadow' }],
  [/wood(s|land)|forest/, ['Polygon'], { kind: 'surface', cover: 'woods' }],
  [/\bdeck/, areas, { kind: 'surface', cover: 'deck' }],
  [/bare (soil|ground|earth)/, areas, { kind: 'surface', cover: 'bare' }],
  [/parcel|\blots?\b|cadast|property|\bplots?\b|boundar|tract\b/, areas, { kind: 'lot' }],
  [/tree/, spots, { kind: 'tree' }],
  [/catch basin|yard drain|area drain|inlet|gully/, spots, { kind: 'yard-drain' }],
  [/sump/, spots, { kind: 'sump-outlet' }],
  [/\bwells?\b/, spots, { kind: 'well' }],
  [
    /spot|elevation point|height point|level point|survey point|ground point/,
    ['Point'],
    { kind: 'spot-height' },
  ],
  [/storm|drain/, lines, { kind: 'drain-pipe' }],
  [/reclaimed|recycled water/, lines, { kind: 'utility', service: 'reclaimed-water' }],
  [/\bgas/, lines, { kind: 'utility', service: 'gas' }],
  [/sewer|sanitary/, lines, { kind: 'utility', service: 'sewer' }],
  [/electric|\belec\b|power/, lines, { kind: 'utility', service: 'electric' }],
  [
    /comm(s|unications?)?\b|telecom|telephone|phone|fib(er|re)|cable|\bcatv\b/,
    lines,
    { kind: 'utility', service: 'communications' },
  ],
  [/stream|creek|river|brook|ditch|watercourse/, lines, { kind: 'watercourse' }],
  [/water/, lines, { kind: 'utility', service: 'water' }],
  [/utilit/, lines, { kind: 'utility' }],
  [/kerb|curb/, lines, { kind: 'kerb' }],
  [/\bwall/, lines, { kind: 'wall' }],
  [/swale/, lines, { kind: 'swale' }],
  [/berm|bund/, lines, { kind: 'berm' }],
];

/**
 * Guesses what a layer is from its name, else its file's, and the shapes that most of it are. Cost: linear in the shapes.
 */
export function guessKind(layer: Pick<FoundLayer, 'file' | 'name' | 'shapes'>): KindGuess {
  const own = guessFrom(wordsOf(layer.name), layer, 'its name');
  return own ?? guessFrom(wordsOf(layer.file), layer, "its file's name") ?? nameless;
}

const nameless: KindGuess = { use: null, why: 'nothing in its name says what it is' };

function guessFrom(
  name: string,
  layer: Pick<FoundLayer, 'shapes'>,
  whose: string,
): KindGuess | null {
  if (/contour|isoline/.test(name)) {
    return {
      use: null,
      why: 'contours: the ground comes from elevation, and the plan has no contours',
    };
  }
  const common = commonShapes(layer);
  if (common.length === 0) return { use: null, why: 'there is no shape in it' };
  for (const [words, shapes, use] of byName) {
    const met = words.exec(name);
    if (met !== null && common.some((shape) => shapes.includes(shape)))
      return { use, why: `'${met[0]}' in ${whose}` };
  }
  return null;
}

/** What most shapes of a layer can be taken for: closed lines also for outlines, and symbols for points. */
function commonShapes({ shapes }: Pick<FoundLayer, 'shapes'>): readonly Shape[] {
  const counts = { Point: 0, Polygon: 0, closed: 0, LineString: 0 };
  for (const { parts, at } of shapes) {
    if (at !== undefined) counts.Point += 1;
    else for (const part of parts) counts[isClosedLine(part) ? 'closed' : part.type]++;
  }
  const most = Math.max(...Object.values(counts));
  if (most === 0) return [];
  const names = Object.keys(counts) as (keyof typeof counts)[];
  const name = names.find((each) => counts[each] === most) ?? 'closed';
  return name === 'closed' ? ['Polygon', 'LineString'] : [name];
}

function isClosedLine({ type, coordinates }: FoundPart): boolean {
  if (type !== 'LineString' || coordinates.length < 4) return false;
  const [first, last] = [coordinates[0], coordinates[coordinates.length - 1]];
  return first[0] === last[0] && first[1] === last[1];
}

/**
 * What a word such as `building`, `utility:gas` or `surface:lawn` asks for; a sentence without a full stop where it is
 * none.
 */
export function useOf(word: string): KindUse | string {
  const [kind, detail, ...more] = word.split(':');
  const known = kindNames.find((name) => name === kind);
  if (known === undefined || more.length > 0) {
    return `'${word}' is no kind; use one of ${gatheredKinds.join(', ')}`;
  }
  const never = notGathered[known];
  if (never !== undefined) return `'${word}' cannot be gathered: ${never}`;
  if (detail === undefined) return { kind: known };
  const line = service.options.find((name) => name === detail);
  if (known === 'utility' && line !== undefined) return { kind: known, service: line };
  const ground = cover.options.find((name) => name === detail);
  if (known === 'surface' && ground !== undefined) return { kind: known, cover: ground };
  const choices = detailsOf(known);
  return choices.length === 0
    ? `a ${kind} has no '${detail}'; leave it at ${kind}`
    : `'${detail}' is none of a ${kind}; use one of ${choices.join(', ')}`;
}

/** What a kind may be given beside its name: the services of a utility, the covers of a surface. */
export function detailsOf(kind: Kind): readonly string[] {
  if (kind === 'utility') return service.options;
  return kind === 'surface' ? cover.options : [];
}

/** A use as it is written on a command line. */
export function wordOf({ kind, service: line, cover: ground }: KindUse): string {
  const detail = line ?? ground;
  return detail === undefined ? kind : `${kind}:${detail}`;
}
