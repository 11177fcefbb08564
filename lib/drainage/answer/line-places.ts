/** Water that crosses a line at one point of it. */
export interface AlongLine {
  /** Metres from where the line begins. */
  readonly atM: number;
  readonly volumeM3: number;
  /** At most, m3/h; `null` where nobody knows. */
  readonly peakM3PerH: number | null;
}

/** A stretch of a line over which water crosses, or all that crosses outside of such stretches. */
export interface LinePlace {
  /** Its middle, metres from where the line begins; `null` for what is spread over the rest. */
  readonly atM: number | null;
  readonly widthM: number;
  readonly volumeM3: number;
  readonly peakM3PerH: number | null;
}

/** A stretch ends where less crosses a metre than this part of what crosses its fullest metre. Our choice, no source. */
const edgePart = 0.25;
/** So many stretches at most are told apart, and none of less than this part of all that crosses. Our choices, no source. */
const mostPlaces = 5;
const leastPart = 0.05;

/**
 * The places at which what crosses a closed line crosses most: each the fullest part that is left and what joins it on
 * either side, cut in parts of `partM`. What is left over is one row more. Volumes and peaks add up to what is given.
 *
 * @param aroundM - length of the line; its end is its beginning.
 */
export function linePlaces(
  crossings: readonly AlongLine[],
  aroundM: number,
  partM: number,
): LinePlace[] {
  const count = Math.max(1, Math.round(aroundM / partM));
  const widthM = aroundM / count;
  const partOf = ({ atM }: AlongLine): number =>
    Math.min(count - 1, Math.floor((atM / aroundM) * count));
  const volumes = new Float64Array(count);
  for (const crossing of crossings) volumes[partOf(crossing)] += crossing.volumeM3;
  const leastM3 = leastPart * volumes.reduce((sum, volume) => sum + volume, 0);
  const placeOf = new Int32Array(count).fill(-1);
  const stretches: { readonly from: number; readonly parts: number }[] = [];
  while (stretches.length < mostPlaces) {
    const stretch = fullest(volumes, placeOf);
    if (stretch === null) break;
    const parts = Array.from({ length: stretch.parts }, (_, k) => (stretch.from + k) % count);
    if (parts.reduce((sum, part) => sum + volumes[part], 0) < leastM3) break;
    for (const part of parts) placeOf[part] = stretches.length;
    stretches.push(stretch);
  }
  const sumOf = (place: number): Pick<LinePlace, 'volumeM3' | 'peakM3PerH'> => {
    const own = crossings.filter((crossing) => placeOf[partOf(crossing)] === place);
    return {
      volumeM3: own.reduce((sum, { volumeM3 }) => sum + volumeM3, 0),
      peakM3PerH: own.reduce<number | null>(
        (sum, { peakM3PerH }) => (sum === null || peakM3PerH === null ? null : sum + peakM3PerH),
        0,
      ),
    };
  };
  const places = stretches.map(({ from, parts }, place): LinePlace => ({
    atM: ((from + parts / 2) * widthM) % aroundM,
    widthM: parts * widthM,
    ...sumOf(place),
  }));
  const rest = { atM: null, widthM: restParts(volumes, placeOf) * widthM, ...sumOf(-1) };
  return rest.volumeM3 > 0 ? [...places, rest] : places;
}

/** The fullest part that no stretch has yet, and those on either side that go with it; `null` where none has any water. */
function fullest(
  volumes: Float64Array,
  placeOf: Int32Array,
): { from: number; parts: number } | null {
  const count = volumes.length;
  let most = -1;
  for (let part = 0; part < count; part++) {
    if (placeOf[part] === -1 && volumes[part] > 0 && !(volumes[part] <= volumes[most])) most = part;
  }
  if (most === -1) return null;
  const goesWith = (part: number): boolean =>
    placeOf[part] === -1 && volumes[part] >= edgePart * volumes[most];
  let parts = 1;
  let from = most;
  while (parts < count && goesWith((from + count - 1) % count)) {
    from = (from + count - 1) % count;
    parts++;
  }
  while (parts < count && goesWith((from + parts) % count)) parts++;
  return { from, parts };
}

function restParts(volumes: Float64Array, placeOf: Int32Array): number {
  return volumes.reduce(
    (sum, volume, part) => (volume > 0 && placeOf[part] === -1 ? sum + 1 : sum),
    0,
  );
}
