import { formatArea, formatLength, formatVolume } from '../../units/format';
import { formatRate } from '../../units/rate';
import { hourS, inchM, type UnitSystem } from '../../units/units';
import { usualDiameterM } from '../../ground/pipe-capacity';
import { drainFromFullS } from '../filling/drain-from-full';
import { areaForShare, basinAt, leastOf, sizeBounds, tryBowl, type SizingTask } from './sizing';
import type { Layer } from '../form/layers';

/** Something that could be done where water stands too long, worked out. */
export interface SlowSoilRemedy {
  readonly kind: 'shallower-and-wider' | 'deeper-layers' | 'underdrain' | 'faster-soil';
  /** Whether it keeps the limit and captures what is wanted. */
  readonly works: boolean;
  readonly areaM2: number;
  readonly pondingDepthM: number;
  readonly digDepthM: number;
  /** Of the soil below, metres a second. */
  readonly rateMPerS: number;
  readonly afterRainH: number | null;
  readonly fromFullH: number | null;
  readonly capturedShare: number;
  readonly underdrainM3: number;
  readonly why: string;
}

export interface SlowSoilAim {
  readonly limitH: number;
  readonly wantedShare: number;
  /** Largest area that there is room for, m2. */
  readonly mostAreaM2: number;
  /** That the words are in. */
  readonly units: UnitSystem;
}

/** Handbooks' excavations end here: 24 in of soil mix (Western Washington, 2013, p. 40, seen). */
const deepestLayersM = 24 * inchM;
/** Fastest soil looked at: sand as Rawls has it, 11.78 cm/h. */
const fastestMPerS = 0.1178 / hourS;

/**
 * What would make a basin drain in time on its soil, each computed with the basin's own storm: less depth on more area; more of
 * the water in the pores of deeper layers; an underdrain; the soil that it would take, to look for elsewhere. None is
 * advised that does not work, and each says what it comes to.
 *
 * Cost: some sixty runs of the storm.
 */
export function slowSoilRemedies(task: SizingTask, aim: SlowSoilAim): SlowSoilRemedy[] {
  return [
    shallowerAndWider(task, aim),
    deeperLayers(task, aim),
    ...(task.underdrain === undefined ? [withUnderdrain(task, aim)] : []),
    fasterSoil(task, aim),
  ];
}

/** Whether nothing that can be done in this place works. */
export function nothingWorks(remedies: readonly SlowSoilRemedy[]): boolean {
  return remedies.every(({ kind, works }) => kind === 'faster-soil' || !works);
}

type Outcome = Omit<SlowSoilRemedy, 'kind' | 'works' | 'why'>;

function outcome(task: SizingTask): Outcome {
  const summary = tryBowl(task);
  const fromFullS = drainFromFullS(basinAt(task), { strips: 5 });
  return {
    areaM2: task.bowl.areaM2,
    pondingDepthM: task.bowl.pondingDepthM,
    digDepthM: task.layers.reduce((sum, { thicknessM }) => sum + thicknessM, 0),
    rateMPerS: task.subsoil?.conductivityMPerS ?? 0,
    afterRainH: summary.drainDownS === null ? null : summary.drainDownS / hourS,
    fromFullH: fromFullS === null ? null : fromFullS / hourS,
    capturedShare: summary.capturedShare,
    underdrainM3: summary.underdrainM3,
  };
}

function isIn(hours: number | null, limitH: number): boolean {
  return hours !== null && hours <= limitH;
}

function percent(share: number): string {
  return `${Math.round(share * 100)} %`;
}

function shallowerAndWider(task: SizingTask, aim: SlowSoilAim): SlowSoilRemedy {
  const { limitH, wantedShare, mostAreaM2, units } = aim;
  const drains = (pondingDepthM: number, areaM2: number): boolean => {
    const tried = { ...task, bowl: { ...task.bowl, pondingDepthM, areaM2 } };
    return isIn(hoursFromFull(tried), limitH);
  };
  const tooDeep = leastOf(
    (depthM) => !drains(depthM, task.bowl.areaM2),
    0.01,
    Math.max(0.011, task.bowl.pondingDepthM),
  );
  // a hair less than the depth at which it first takes too long
  const pondingDepthM = (tooDeep ?? task.bowl.pondingDepthM) * 0.995;
  const areaM2 = areaForShare(task, wantedShare, pondingDepthM);
  const tried = {
    ...task,
    bowl: { ...task.bowl, pondingDepthM, areaM2: Math.min(areaM2 ?? mostAreaM2, mostAreaM2) },
  };
  const found = outcome(tried);
  const works =
    areaM2 !== null &&
    areaM2 <= mostAreaM2 &&
    isIn(found.fromFullH, limitH) &&
    isIn(found.afterRainH, limitH);
  const deep = formatLength(pondingDepthM, units, 0.001);
  const wide = (area: number): string => formatArea(area, units);
  return {
    ...found,
    kind: 'shallower-and-wider',
    works,
    why: works
      ? `Ponding of ${deep} on ${wide(areaM2)} drains in time and captures ${percent(found.capturedShare)}.`
      : areaM2 === null
        ? `At the ${deep} that drain in time no area up to ${wide(sizeBounds.areaM2[1])} captures ${percent(wantedShare)}.`
        : areaM2 > mostAreaM2
          ? `At the ${deep} that drain in time it would need ${wide(areaM2)}; there is room for ${wide(mostAreaM2)}, which captures ${percent(found.capturedShare)}.`
          : `Even ${deep} of ponding on ${wide(areaM2)} does not drain in time in this storm.`,
  };
}

function hoursFromFull(task: SizingTask): number | null {
  const fromFullS = drainFromFullS(basinAt(task), { strips: 5 });
  return fromFullS === null ? null : fromFullS / hourS;
}

/** The layer made thicker: the thickest of soil, or a new one where there is none. */
function deepened(layers: readonly Layer[], byM: number): Layer[] {
  const soils = layers.filter(({ material }) => material !== 'mulch');
  if (soils.length === 0) return [...layers];
  const thickest = soils.reduce((a, b) => (b.thicknessM > a.thicknessM ? b : a));
  return layers.map((each) =>
    each === thickest ? { ...each, thicknessM: each.thicknessM + byM } : each,
  );
}

function deeperLayers(
  task: SizingTask,
  { limitH, wantedShare, units }: SlowSoilAim,
): SlowSoilRemedy {
  const nowM = task.layers.reduce((sum, { thicknessM }) => sum + thicknessM, 0);
  const mostM = Math.max(nowM, deepestLayersM);
  const at = (digM: number): SizingTask => ({
    ...task,
    layers: deepened(task.layers, digM - nowM),
  });
  const holds = (digM: number): boolean => {
    const { drainDownS, capturedShare } = tryBowl(at(digM));
    return drainDownS !== null && drainDownS <= limitH * hourS && capturedShare >= wantedShare;
  };
  const digM = leastOf(holds, nowM, mostM);
  const found = outcome(at(digM ?? mostM));
  return {
    ...found,
    kind: 'deeper-layers',
    works: digM !== null && !isIn(outcome(task).afterRainH, limitH),
    why:
      digM === null
        ? `Layers down to ${formatLength(mostM, units)} below the floor do not take enough of this storm into their pores.`
        : digM === nowM
          ? 'In this storm its layers take enough already; it is when they are full that water stands too long, and deeper ones fill up as well.'
          : `Dug ${formatLength(digM, units)} below the floor and filled with loose soil, it takes this storm into its pores; when they are full from an earlier one, water stands as long as before.`,
  };
}

function withUnderdrain(task: SizingTask, aim: SlowSoilAim): SlowSoilRemedy {
  const { limitH, wantedShare, mostAreaM2, units } = aim;
  const drained = { ...task, underdrain: { diameter_m: usualDiameterM, height_m: 0 } };
  const askedM2 = areaForShare(drained, wantedShare) ?? Infinity;
  const areaM2 = Math.max(task.bowl.areaM2, Math.min(askedM2, mostAreaM2));
  const found = outcome({ ...drained, bowl: { ...task.bowl, areaM2 } });
  const inTime = isIn(found.afterRainH, limitH) && isIn(found.fromFullH, limitH);
  const works = inTime && found.capturedShare >= wantedShare;
  const pipe = `An underdrain of ${formatLength(usualDiameterM, units)} at the bottom of the layers`;
  const on = areaM2 > task.bowl.areaM2 ? `, on ${formatArea(areaM2, units)},` : '';
  return {
    ...found,
    kind: 'underdrain',
    works,
    why:
      task.layers.length === 0
        ? 'An underdrain needs layers to lie in; there are none.'
        : works
          ? `${pipe}${on} empties it in time; it leads ${formatVolume(found.underdrainM3, units)} of this storm away, which needs a lower place to go to.`
          : inTime
            ? `${pipe}${on} empties it in time, but only ${percent(found.capturedShare)} of the storm is captured.`
            : `${pipe} does not empty it in time: the layers above let too little through.`,
  };
}

function fasterSoil(task: SizingTask, { limitH, units }: SlowSoilAim): SlowSoilRemedy {
  const at = (rateMPerS: number): SizingTask => ({
    ...task,
    subsoil: {
      ...(task.subsoil ?? { suctionM: 0, deficit: 0 }),
      conductivityMPerS: rateMPerS,
    },
  });
  const drains = (rateMPerS: number): boolean => {
    const tried = at(rateMPerS);
    const { drainDownS } = tryBowl(tried);
    return (
      drainDownS !== null && drainDownS <= limitH * hourS && isIn(hoursFromFull(tried), limitH)
    );
  };
  const rateMPerS = leastOf(drains, 1e-9, fastestMPerS);
  const found = outcome(at(rateMPerS ?? fastestMPerS));
  return {
    ...found,
    kind: 'faster-soil',
    works: rateMPerS !== null,
    why:
      rateMPerS === null
        ? 'As it is built it would not drain in time even on sand: its layers let too little through.'
        : `As it is built it needs soil that takes ${formatRate(rateMPerS, units)}: test other places on the lot.`,
  };
}
