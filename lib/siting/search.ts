import { throwIfCancelled, type Progress } from '../errors';
import { candidateSite, capture } from './candidate-site';
import { chooseJointly } from './joint-sites';
import { patternSearch, type Tried } from './pattern-search';
import { areApart, bestApart, rankSites } from './rank-sites';
import { Scan, type Glimpse } from './scan';
import { readWeights, scoreOf, scoreParts, type ScoreWeights } from './score';
import { leastShare, SearchedLot, type Sized } from './searched-lot';
import { basinOutline, type BasinForm, type BasinOutline } from './shapes';
import { sizeBySimulation, simulateSite, type Simulated } from './simulated-size';
import {
  sitingDefaults,
  type CandidateSite,
  type JointBasin,
  type JointSites,
  type SitingInput,
  type SitingNote,
  type SitingResult,
} from './siting-input';
import type { Portion } from './shared-water';
import { waysOut } from './ways-out';

export interface SearchOptions {
  readonly signal?: AbortSignal;
  readonly onProgress?: Progress;
  /** The best sites so far, ranked, each time that they may have changed. */
  readonly onSites?: (sites: readonly CandidateSite[]) => void;
}

/** No more places than this are looked at in the first pass; a larger lot is looked at on a wider mesh, then refined. */
const placesAtMost = 2500;
/** Places sized and checked in full. */
const sizedAtMost = 32;
/** Places tried to find those: the exact check may refuse some that the map allows. */
const triedAtMost = 160;
/** When moving a site about: rounds, and other outlines tried in each. */
const roundsAtMost = 3;
const outlinesTried = 3;
const moves = [
  [1, 0],
  [-1, 0],
  [0, 1],
  [0, -1],
] as const;
/** Places to size are kept apart by these shares of their radii: well apart first, then filling in between. */
const spreads = [0.75, 0.3];
/** Of the best sites so many are then moved, turned and resized freely. */
const optimisedAtMost = 3;
/** First steps of that: metres east and north, radians, shares of the aspect and of the area. */
const firstSteps = [0.5, 0.5, Math.PI / 12, 0.15, 0.08];
const halvings = 3;
const triesAtMost = 120;
/** Length over width within which a form is still that form. A judgement. */
const aspects: Readonly<Record<BasinForm, readonly [number, number]>> = {
  round: [1, 3.5],
  oval: [1, 3.5],
  kidney: [1.4, 3],
  teardrop: [1.2, 2.5],
};
/**
 * Cells coarser than these are warned of and refused (design decision), the thousandth that a projection's scale may
 * add to a side of 2 or 5 m let pass.
 */
const coarseCellM = 2 * 1.001;
const tooCoarseCellM = 5 * 1.001;
/** Places too small to stand alone that are looked at when several basins share the water. */
const smallAtMost = 16;
/** Work this long without letting others run, milliseconds. */
const sliceMs = 30;

/**
 * Searches the own lots for places for a basin and ranks them.
 *
 * Every allowed cell (on large lots, every few) is looked at with every outline; the best places, kept apart from one
 * another, are then sized for what they catch, checked by every rule on their final rim, and moved about for the better;
 * the best three are moved, turned and resized freely until no small change is better. Only rules that must be met
 * refuse a place; what cannot be judged stays, and shows in its findings.
 *
 * @returns up to `maxSites` sites; `refused` says for each rule how much of the lot it refuses; `notes` says why there
 *   are no sites, when there are none, and `ways_out` what would change that. Cells coarser than 5 m are refused with a
 *   note, coarser than 2 m warned of.
 * @throws {Cancelled}
 * Cost: cells of the lot times outlines times 64, then some 500 calls of `catchAt`; deterministic.
 */
export async function searchSites(
  input: SitingInput,
  options: SearchOptions = {},
): Promise<SitingResult> {
  const early = refusal(input);
  if (early !== undefined) return { ...emptyResult, notes: [early] };
  return new Run(input, options).result();
}

/** An answer without a site, before anything has been looked at. */
export const emptyResult: SitingResult = {
  sites: [],
  candidates: [],
  joint: null,
  ways_out: [],
  refused: [],
  lot_m2: 0,
  allowed_m2: 0,
  reachable_m3: 0,
  notes: [],
};

function refusal(input: SitingInput): SitingNote | undefined {
  if (input.elevation.cellM > tooCoarseCellM) {
    return {
      code: 'cells-too-coarse',
      text: `The elevation has cells of ${input.elevation.cellM.toFixed(1)} m; a rain garden is no larger than one of them, so no site can be judged. Use cells of 5 m or less, better 1 m.`,
    };
  }
  if (!input.plan.of.lot.some((lot) => lot.feature.properties.own)) {
    return {
      code: 'no-own-lot',
      text: 'The plan has no lot that is your own; draw its line first.',
    };
  }
  return undefined;
}

interface SizeSeeds {
  readonly partial?: boolean;
  readonly atMost?: number;
  readonly tell?: ((sized: readonly Sized[]) => void) | undefined;
}

class Run {
  private readonly searched: SearchedLot;
  private readonly scan: Scan;
  private readonly weights: ScoreWeights;
  private readonly broken = new Map<string, number>();
  private readonly gains = new Map<Sized, number>();
  private readonly simulated = new Map<Sized, Simulated>();
  private sliceStart = Date.now();

  constructor(
    private readonly input: SitingInput,
    private readonly options: SearchOptions,
  ) {
    throwIfCancelled(options.signal);
    options.onProgress?.(0, 'Laying the rules over the lot');
    this.searched = new SearchedLot(input);
    this.scan = new Scan(this.searched);
    this.weights = readWeights(input.weights).weights;
  }

  async result(): Promise<SitingResult> {
    const sized = await this.search();
    const candidates = this.candidates(sized);
    const sites = rankSites(candidates, this.weights, this.maxSites);
    const { refused, lotM2, allowedM2 } = this.searched.forbidden;
    const pause = (): Promise<void> => this.breathe(0.97, 'Asking what would change it');
    const ways_out = sites.length === 0 ? await waysOut(this.searched, pause) : [];
    const joint = await this.joint(sized);
    return {
      sites,
      candidates,
      joint,
      ways_out,
      refused,
      lot_m2: lotM2,
      allowed_m2: allowedM2,
      reachable_m3: reachable(sized),
      notes: this.notes(sites, joint),
    };
  }

  private get maxSites(): number {
    return this.input.maxSites ?? sitingDefaults.maxSites;
  }

  private async search(): Promise<Sized[]> {
    const glimpses = await this.look();
    const mostM3 = Math.max(0, ...glimpses.map((glimpse) => glimpse.scored.capturedM3));
    const seeds = await this.refine(this.spread(glimpses, mostM3), mostM3);
    let sized = await this.sizeSeeds(seeds, { tell: this.tell });
    // A garden that is small for what arrives is better than none.
    if (sized.length === 0) sized = await this.partialPlaces(this.tell);
    return this.fill(await this.optimise(await this.improve(sized)));
  }

  private async sizeSeeds(
    seeds: readonly Glimpse[],
    { partial = false, atMost = sizedAtMost, tell }: SizeSeeds,
  ): Promise<Sized[]> {
    const sized: Sized[] = [];
    for (const [i, seed] of seeds.entries()) {
      if (sized.length >= atMost || i >= triedAtMost) break;
      const found = this.size(seed, partial);
      if (found !== null) {
        sized.push(found);
        tell?.(sized);
      }
      await this.breathe(0.35 + 0.25 * (i / Math.min(seeds.length, atMost)), 'Sizing and checking');
    }
    return sized;
  }

  /** First pass: every allowed cell on a mesh. */
  private async look(partial = false): Promise<Glimpse[]> {
    const { mesh } = this.searched.forbidden;
    const { columns, rows } = mesh;
    let allowed = 0;
    for (let i = 0; i < columns * rows; i++) if (this.searched.isAllowed(i)) allowed++;
    const stride = Math.max(1, Math.ceil(Math.sqrt(allowed / placesAtMost)));
    const found: Glimpse[] = [];
    // The captured share is measured against the best place, which the first pass does not know yet.
    for (let row = Math.floor(stride / 2); row < rows; row += stride) {
      for (let column = Math.floor(stride / 2); column < columns; column += stride) {
        const glimpse = this.scan.glimpse(row * columns + column, this.scan.possibleM3, partial);
        if (glimpse !== null) found.push(glimpse);
      }
      await this.breathe(0.05 + 0.25 * (row / rows), 'Looking at every place');
    }
    // Where the mesh hit nothing, a small lot may still have room between its points.
    if (found.length === 0 && stride > 1) {
      for (let i = 0; i < columns * rows; i++) {
        const glimpse = this.scan.glimpse(i, this.scan.possibleM3, partial);
        if (glimpse !== null) found.push(glimpse);
        if (i % columns === 0) await this.breathe(0.3, 'Looking between');
      }
    }
    return found;
  }

  /** The best places, kept apart so that they are not all one place; of several lots each in turn. */
  private spread(glimpses: readonly Glimpse[], mostM3: number): Glimpse[] {
    const order = glimpses
      .map((glimpse) => ({
        glimpse,
        score: this.scan.score(glimpse, mostM3),
        lot: this.searched.lotAt(glimpse.at),
      }))
      .sort((a, b) => b.score - a.score || a.glimpse.cell - b.glimpse.cell);
    const byLot = new Map<string | null, Glimpse[]>();
    for (const { glimpse, lot } of order) {
      const ofLot = byLot.get(lot);
      if (ofLot === undefined) byLot.set(lot, [glimpse]);
      else ofLot.push(glimpse);
    }
    const inTurn = interleaved([...byLot.values()]);
    const kept: Glimpse[] = [];
    for (const share of spreads) {
      for (const glimpse of inTurn) {
        if (kept.length >= triedAtMost) break;
        const near = kept.some(
          (other) =>
            Math.hypot(other.at[0] - glimpse.at[0], other.at[1] - glimpse.at[1]) <
            share * (radiusOf(glimpse) + radiusOf(other)),
        );
        if (!near) kept.push(glimpse);
      }
    }
    return kept;
  }

  /** Moves each place to the best cell near by, as far as the estimates can tell. */
  private async refine(seeds: readonly Glimpse[], mostM3: number): Promise<Glimpse[]> {
    const { columns } = this.searched.forbidden.mesh;
    const refined: Glimpse[] = [];
    for (const [i, seed] of seeds.entries()) {
      if (i >= 2 * sizedAtMost) {
        refined.push(seed);
        continue;
      }
      let best = seed;
      let bestScore = this.scan.score(seed, mostM3);
      for (let step = 0; step < 6; step++) {
        const from = best.cell;
        for (const move of [1, -1, columns, -columns]) {
          const glimpse = this.scan.glimpse(from + move, mostM3);
          if (glimpse === null) continue;
          const score = this.scan.score(glimpse, mostM3);
          if (score > bestScore + 1e-9) {
            best = glimpse;
            bestScore = score;
          }
        }
        if (best.cell === from) break;
      }
      refined.push(best);
      await this.breathe(0.3 + 0.05 * (i / seeds.length), 'Looking closer');
    }
    return [...new Map(refined.map((each) => [each.cell, each])).values()];
  }

  private size({ at, outline }: Pick<Glimpse, 'at' | 'outline'>, partial = false): Sized | null {
    const found = this.searched.size(at, outline, partial);
    if (found === null) return null;
    if (!Array.isArray(found)) return found;
    this.countBroken(found);
    return null;
  }

  private countBroken(rules: readonly string[]): void {
    for (const rule of rules) this.broken.set(rule, (this.broken.get(rule) ?? 0) + 1);
  }

  /** Moves the leading sites about by a cell and tries other outlines there, by full sizing and checking. */
  private async improve(sized: readonly Sized[]): Promise<Sized[]> {
    const most = reachable(sized);
    const leaders = this.leaders(sized, most, this.maxSites);
    const better: Sized[] = [];
    const stepM = this.searched.forbidden.mesh.cellM;
    for (const [i, leader] of leaders.entries()) {
      let best = leader;
      for (let round = 0; round < roundsAtMost; round++) {
        const from = best;
        const tries = [
          ...this.scan
            .outlinesAt(from.at, from.areaM2, most)
            .filter((outline) => outline !== from.outline)
            .slice(0, outlinesTried)
            .map((outline) => ({ at: from.at, outline })),
          ...moves.map(([dx, dy]) => ({
            at: [from.at[0] + dx * stepM, from.at[1] + dy * stepM] as const,
            outline: from.outline,
          })),
        ];
        for (const each of tries) {
          const found = this.size(each);
          if (found !== null && this.scoreOf(found, most) > this.scoreOf(best, most)) best = found;
        }
        await this.breathe(0.6 + (0.15 * i) / leaders.length, 'Moving the best sites about');
        if (best === from) break;
      }
      better.push(best);
      this.tell([...better, ...leaders.slice(i + 1)]);
    }
    return [...better, ...sized.filter((each) => !leaders.includes(each))];
  }

  /** Moves, turns, stretches and resizes the best few freely, by the true score and every rule. */
  private async optimise(sized: readonly Sized[]): Promise<Sized[]> {
    const most = reachable(sized);
    const leaders = this.leaders(sized, most, this.maxSites);
    const now = [...sized];
    for (const [i, leader] of leaders.slice(0, optimisedAtMost).entries()) {
      const others = leaders.filter((each) => each !== leader);
      const before = this.scoreOf(leader, most);
      const { what: best } = await patternSearch<Sized>(
        (at) => this.tried(leader, at, others, most),
        [...leader.at, leader.outline.turnRad, leader.outline.aspect, leader.areaM2],
        { value: before, what: leader },
        firstSteps.map((step, axis) =>
          axis < 3 ? step : step * (axis === 3 ? leader.outline.aspect : leader.areaM2),
        ),
        {
          halvings,
          triesAtMost,
          pause: () => this.breathe(0.75 + (0.15 * i) / optimisedAtMost, 'Fitting the best sites'),
        },
      );
      if (best === leader) continue;
      this.gains.set(best, this.scoreOf(best, most) - before);
      leaders[i] = best;
      now[now.indexOf(leader)] = best;
      this.tell(now);
    }
    return now;
  }

  /** One try of the free search: `null` where it breaks a rule, touches another site or has not the size asked for. */
  private tried(
    leader: Sized,
    [x, y, turnRad, aspect, areaM2]: readonly number[],
    others: readonly Sized[],
    mostM3: number,
  ): Tried<Sized> | null {
    const { form } = leader.outline;
    const [least, widest] = aspects[form];
    if (aspect < least || aspect > widest) return null;
    if (areaM2 < this.searched.minAreaM2 || areaM2 > this.searched.maxAreaM2) return null;
    const outline = outlineNear(leader.outline, form, aspect, turnRad);
    const found = this.searched.sizeAt([x, y], outline, areaM2);
    if (found === null || Array.isArray(found)) return null;
    const wantedM2 = this.searched.bounded(found.wantedM2);
    // Neither smaller than does most of the work nor larger than asked for, or than it was.
    const tooSmall = areaM2 < Math.min(leastShare * wantedM2, leader.areaM2);
    if (tooSmall || areaM2 > Math.max(1.02 * wantedM2, leader.areaM2)) return null;
    if (!others.every((other) => areApart(found, other))) return null;
    return { value: this.scoreOf(found, mostM3), what: found };
  }

  /** Sends the storm through the places that will be shown, and gives them the size that it asks for. */
  private async fill(sized: readonly Sized[]): Promise<Sized[]> {
    const { simulate } = this.input;
    if (typeof simulate !== 'function') return [...sized];
    const leaders = this.leaders(sized, reachable(sized), this.maxSites);
    const shown = [...leaders];
    const now: Sized[] = [];
    for (const [i, place] of shown.entries()) {
      const found = sizeBySimulation(this.searched, place, simulate, (resized) =>
        shown.every((other) => other === place || areApart(resized, other)),
      );
      shown[i] = found.sized;
      this.keep(now, place, found);
      await this.breathe(0.9 + (0.05 * i) / shown.length, 'Filling and draining');
    }
    const rest = sized.filter((place) => !leaders.includes(place));
    for (const place of rest) {
      this.keep(now, place, {
        sized: place,
        simulated: simulateSite(this.searched, place, simulate),
      });
      await this.breathe(0.95, 'Filling and draining');
    }
    return now;
  }

  /** Takes a place over once it is known how long water stands in it, unless a binding rule forbids that. */
  private keep(
    kept: Sized[],
    before: Sized,
    { sized, simulated }: { readonly sized: Sized; readonly simulated: Simulated },
  ): void {
    const place = this.searched.checked(sized, simulated.filled.drainDownH ?? Infinity);
    if (Array.isArray(place)) {
      this.countBroken(place);
      return;
    }
    kept.push(place);
    this.simulated.set(place, simulated);
    this.gains.set(place, this.gains.get(before) ?? 0);
  }

  /** Several basins that share the water, when asked for. */
  private async joint(sized: readonly Sized[]): Promise<JointSites | null> {
    const count = this.input.basins ?? 1;
    if (count < 2) return null;
    const pause = (): Promise<void> => this.breathe(0.97, 'Sharing the water among basins');
    const small = await this.partialPlaces(undefined, smallAtMost);
    const isNew = ({ at }: Sized): boolean =>
      sized.every((each) => Math.hypot(each.at[0] - at[0], each.at[1] - at[1]) > 1);
    const pool = [...sized, ...small.filter(isNew)];
    const found = await chooseJointly(this.searched, pool, count, this.weights, pause);
    if (found === null) return null;
    const catchesM2 = found.portions.reduce((sum, each) => sum + each.catchesM2, 0);
    const inflowM3 = found.portions.reduce((sum, each) => sum + each.inflowM3, 0);
    return {
      basins: found.basins.map((_, i) => this.jointBasin(found, i, catchesM2)),
      area_m2: found.basins.reduce((sum, each) => sum + each.areaM2, 0),
      catches_m2: catchesM2,
      inflow_m3: inflowM3,
      captured_m3: found.capturedM3,
      captured_fraction: inflowM3 > 0 ? found.capturedM3 / inflowM3 : 0,
      single_captured_m3: reachable(sized),
      score: found.score,
    };
  }

  private jointBasin(
    found: { readonly basins: readonly Sized[]; readonly portions: readonly Portion[] },
    i: number,
    allM2: number,
  ): JointBasin {
    const basin = found.basins[i];
    const portion = found.portions[i];
    const shared: Sized = {
      ...basin,
      led: portion.led,
      byItselfM2: portion.catch.areaM2,
      roofsByItselfM2: portion.roofM2 - portion.led.reduce((sum, roof) => sum + roof.area_m2, 0),
      catchesM2: portion.catchesM2,
      inflowM3: portion.inflowM3,
      wantedM2: portion.wantedM2,
      scored: { ...basin.scored, capturedM3: portion.capturedM3 },
    };
    const { simulate } = this.input;
    const simulated =
      typeof simulate === 'function' ? simulateSite(this.searched, shared, simulate) : null;
    const site = candidateSite(shared, {
      input: this.input,
      reachableM3: this.scan.possibleM3,
      weights: this.weights,
      simulated,
      gain: 0,
    });
    return {
      ...site,
      ...capture(shared, this.input, simulated),
      share: allM2 > 0 ? portion.catchesM2 / allM2 : 0,
      from_overflow_m3: portion.fromOverflowM3,
      overflow_m3: portion.overflowM3,
      overflows_to: portion.overflowsTo === -1 ? null : portion.overflowsTo + 1,
    };
  }

  /** Places too small for all that arrives, which would do for a part of it. */
  private async partialPlaces(
    tell?: (sized: readonly Sized[]) => void,
    atMost = sizedAtMost,
  ): Promise<Sized[]> {
    const glimpses = await this.look(true);
    const mostM3 = Math.max(0, ...glimpses.map((glimpse) => glimpse.scored.capturedM3));
    return this.sizeSeeds(this.spread(glimpses, mostM3), { partial: true, atMost, tell });
  }

  private scoreOf(sized: Sized, reachableM3: number): number {
    return scoreOf(scoreParts(sized.scored, reachableM3), this.weights);
  }

  /** The best of some places that lie apart from one another, best first. */
  private leaders(sized: readonly Sized[], reachableM3: number, atMost: number): Sized[] {
    const scores = sized.map((each) => this.scoreOf(each, reachableM3));
    return bestApart(sized, scores, atMost).map((i) => sized[i]);
  }

  private candidates(sized: readonly Sized[]): CandidateSite[] {
    const reachableM3 = reachable(sized);
    return sized.map((each) =>
      candidateSite(each, {
        input: this.input,
        reachableM3,
        weights: this.weights,
        simulated: this.simulated.get(each) ?? null,
        gain: this.gains.get(each) ?? 0,
      }),
    );
  }

  private readonly tell = (sized: readonly Sized[]): void => {
    this.options.onSites?.(rankSites(this.candidates(sized), this.weights, this.maxSites));
  };

  private notes(sites: readonly CandidateSite[], joint: JointSites | null): SitingNote[] {
    const notes: SitingNote[] = [];
    const { cellM } = this.input.elevation;
    if (cellM > coarseCellM) {
      notes.push({
        code: 'cells-coarse',
        text: `The elevation has cells of ${cellM.toFixed(1)} m; slopes and catchments of something as small as a rain garden are rough at that size.`,
      });
    }
    if (sites.length === 0) notes.push(this.nowhere());
    else notes.push(...this.lotsWithout(sites));
    if (sites.some((site) => site.area_m2 < leastShare * site.wanted_m2)) {
      notes.push({
        code: 'undersized',
        text: 'Some sites are smaller than the size factors ask for by more than 30 %: they hold less of the storm, or two gardens share the water.',
      });
    }
    if (joint === null && (this.input.basins ?? 1) > 1) {
      notes.push({
        code: 'no-second-basin',
        text: `There is no room for ${this.input.basins} basins that lie apart from one another.`,
      });
    }
    return notes;
  }

  /** Of several own lots, those on which no place was found. */
  private lotsWithout(sites: readonly CandidateSite[]): SitingNote[] {
    const own = this.input.plan.of.lot.filter((lot) => lot.feature.properties.own);
    if (own.length < 2) return [];
    return own
      .filter((lot) => sites.every((site) => site.lot !== lot.id))
      .map((lot) => ({
        code: 'lot-without-place',
        text: `None of the places shown lies on ${lot.feature.properties.name ?? lot.id}: they are better elsewhere, or the rules leave no room there.`,
      }));
  }

  /** Why there are no sites, with the rules that bind most. */
  private nowhere(): SitingNote {
    const { lotM2, allowedM2, refused } = this.searched.forbidden;
    const binding = refused
      .filter((rule) => rule.binding === 'must' && rule.area_m2 > 0)
      .slice(0, 3);
    const list = binding
      .map((rule) => `${rule.title} (refuses ${percent(rule.area_m2 / lotM2)})`)
      .join(', ');
    if (allowedM2 <= 0) {
      return {
        code: 'nowhere',
        text: `Nowhere on this lot complies. What binds most: ${list}.`,
      };
    }
    const onRims = [...this.broken.entries()]
      .sort((a, b) => b[1] - a[1])
      .map(([id]) => this.input.ruleSet.rules.find((rule) => rule.id === id)?.title ?? id);
    const most = onRims.length > 0 ? `${onRims.join(', ')} (on the rims that were tried)` : list;
    return {
      code: 'does-not-fit',
      text: `The rules leave ${percent(allowedM2 / lotM2)}, but no basin of ${this.searched.minAreaM2.toFixed(1)} m² or more fits there. What binds most: ${most}.`,
    };
  }

  /** Reports, lets others run when the slice is used up, and stops when asked to. */
  private async breathe(fraction: number, stage: string): Promise<void> {
    throwIfCancelled(this.options.signal);
    if (Date.now() - this.sliceStart < sliceMs) return;
    this.options.onProgress?.(Math.min(1, fraction), stage);
    await new Promise((resolve) => setTimeout(resolve, 0));
    this.sliceStart = Date.now();
    throwIfCancelled(this.options.signal);
  }
}

/** The same outline when nothing of it is changed, so that what is known about it stays so. */
function outlineNear(
  outline: BasinOutline,
  form: BasinForm,
  aspect: number,
  turnRad: number,
): BasinOutline {
  if (outline.aspect === aspect && outline.turnRad === turnRad) return outline;
  // A round basin that is stretched is an oval.
  return basinOutline(form === 'round' && aspect > 1 ? 'oval' : form, aspect, turnRad);
}

/** One of each list in turn. */
function interleaved<T>(lists: readonly (readonly T[])[]): T[] {
  const longest = Math.max(0, ...lists.map((list) => list.length));
  return Array.from({ length: longest }, (_, i) =>
    lists.flatMap((list) => (i < list.length ? [list[i]] : [])),
  ).flat();
}

function radiusOf({ areaM2 }: Glimpse): number {
  return Math.sqrt(areaM2 / Math.PI);
}

function reachable(sized: readonly Sized[]): number {
  return Math.max(0, ...sized.map((each) => each.scored.capturedM3));
}

function percent(share: number): string {
  return `${Math.round(100 * share)} % of the lot`;
}
