import { throwIfCancelled, type Progress } from '../errors';
import { separation } from '../setback/measure';
import { Scan, type Glimpse } from './scan';
import { scoreOf, scoreParts, type ScoreWeights } from './score';
import {
  sitingDefaults,
  type CandidateSite,
  type SitingInput,
  type SitingNote,
  type SitingResult,
} from './siting-input';
import { classDepthM } from './size-factors';
import { leastShare, Survey, type Sized } from './survey';

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
/** Two sites are told apart when their basins do not touch and their middles are this far apart, metres. */
const apartM = 3;
/**
 * Cells coarser than these are warned of and refused (design decision), the thousandth that a projection's scale may
 * add to a side of 2 or 5 m let pass.
 */
const coarseCellM = 2 * 1.001;
const tooCoarseCellM = 5 * 1.001;
/** Work this long without letting others run, milliseconds. */
const sliceMs = 30;

/**
 * Searches the own lot for places for a basin and ranks them.
 *
 * Every allowed cell (on large lots, every few) is looked at with every outline; the best places, kept apart from one
 * another, are then sized for what they catch, checked by every rule on their final rim, moved about for the better, and
 * scored. Only rules that must be met refuse a place; what cannot be judged stays, and shows in its findings.
 *
 * @returns up to `maxSites` sites; `refused` says for each rule how much of the lot it refuses; `notes` says why there
 *   are no sites, when there are none. Cells coarser than 5 m are refused with a note, coarser than 2 m warned of.
 * @throws {Cancelled}
 * Cost: cells of the lot times outlines times 64, then some 200 calls of `catchAt`.
 */
export async function searchSites(
  input: SitingInput,
  options: SearchOptions = {},
): Promise<SitingResult> {
  const { cellM } = input.elevation;
  const early = refusal(input);
  if (early !== undefined) {
    return { sites: [], refused: [], lot_m2: 0, allowed_m2: 0, reachable_m3: 0, notes: [early] };
  }
  const run = new Run(input, options);
  const sized = await run.search();
  const notes: SitingNote[] = [];
  if (cellM > coarseCellM) {
    notes.push({
      code: 'cells-coarse',
      text: `The elevation has cells of ${cellM.toFixed(1)} m; slopes and catchments of something as small as a rain garden are rough at that size.`,
    });
  }
  const sites = run.ranked(sized);
  const { refused, lotM2, allowedM2 } = run.survey.forbidden;
  if (sites.length === 0) notes.push(run.nowhere());
  if (sites.some((site) => site.area_m2 < leastShare * site.wanted_m2)) {
    notes.push({
      code: 'undersized',
      text: 'Some sites are smaller than the size factors ask for by more than 30 %: they hold less of the storm, or two gardens share the water.',
    });
  }
  return {
    sites,
    refused,
    lot_m2: lotM2,
    allowed_m2: allowedM2,
    reachable_m3: reachable(sized),
    notes,
  };
}

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

class Run {
  readonly survey: Survey;
  private readonly scan: Scan;
  private readonly weights: ScoreWeights;
  private readonly broken = new Map<string, number>();
  private sliceStart = Date.now();

  constructor(
    private readonly input: SitingInput,
    private readonly options: SearchOptions,
  ) {
    throwIfCancelled(options.signal);
    options.onProgress?.(0, 'Laying the rules over the lot');
    this.survey = new Survey(input);
    this.scan = new Scan(this.survey);
    this.weights = this.scan.weights;
  }

  async search(): Promise<Sized[]> {
    const glimpses = await this.look();
    const mostM3 = Math.max(0, ...glimpses.map((glimpse) => glimpse.scored.capturedM3));
    const seeds = await this.refine(this.spread(glimpses, mostM3), mostM3);
    const sized: Sized[] = [];
    for (const [i, seed] of seeds.entries()) {
      if (sized.length >= sizedAtMost || i >= triedAtMost) break;
      const found = this.size(seed);
      if (found !== null) {
        sized.push(found);
        this.options.onSites?.(this.ranked(sized));
      }
      await this.breathe(
        0.4 + 0.3 * (i / Math.min(seeds.length, sizedAtMost)),
        'Sizing and checking',
      );
    }
    return this.improve(sized);
  }

  /** First pass: every allowed cell on a mesh. */
  private async look(): Promise<Glimpse[]> {
    const { columns, rows } = this.survey.forbidden;
    let allowed = 0;
    for (let i = 0; i < columns * rows; i++) if (this.survey.isAllowed(i)) allowed++;
    const stride = Math.max(1, Math.ceil(Math.sqrt(allowed / placesAtMost)));
    const found: Glimpse[] = [];
    // The captured share is measured against the best place, which the first pass does not know yet.
    for (let row = Math.floor(stride / 2); row < rows; row += stride) {
      for (let column = Math.floor(stride / 2); column < columns; column += stride) {
        const glimpse = this.scan.glimpse(row * columns + column, this.possibleM3());
        if (glimpse !== null) found.push(glimpse);
      }
      await this.breathe(0.05 + 0.3 * (row / rows), 'Looking at every place');
    }
    // Where the mesh hit nothing, a small lot may still have room between its points.
    if (found.length === 0 && stride > 1) {
      for (let i = 0; i < columns * rows; i++) {
        const glimpse = this.scan.glimpse(i, this.possibleM3());
        if (glimpse !== null) found.push(glimpse);
        if (i % columns === 0) await this.breathe(0.35, 'Looking between');
      }
    }
    return found;
  }

  /** What the largest basin could hold at most, m3: a stand-in for the best place until that is known. */
  private possibleM3(): number {
    return this.survey.maxAreaM2 * classDepthM.deep;
  }

  /** The best places, kept apart so that they are not all one place. */
  private spread(glimpses: readonly Glimpse[], mostM3: number): Glimpse[] {
    const order = glimpses
      .map((glimpse) => ({ glimpse, score: this.scan.score(glimpse, mostM3) }))
      .sort((a, b) => b.score - a.score || a.glimpse.cell - b.glimpse.cell);
    const kept: Glimpse[] = [];
    for (const share of spreads) {
      for (const { glimpse } of order) {
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
    const { columns } = this.survey.forbidden;
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
      await this.breathe(0.35 + 0.05 * (i / seeds.length), 'Looking closer');
    }
    return [...new Map(refined.map((each) => [each.cell, each])).values()];
  }

  private size({ at, outline }: Pick<Glimpse, 'at' | 'outline'>): Sized | null {
    const found = this.survey.size(at, outline);
    if (found === null) return null;
    if (!Array.isArray(found)) return found;
    for (const rule of found) this.broken.set(rule, (this.broken.get(rule) ?? 0) + 1);
    return null;
  }

  /** Moves the leading sites about and tries other outlines there, by full sizing and checking. */
  private async improve(sized: Sized[]): Promise<Sized[]> {
    const most = reachable(sized);
    const leaders = this.apart(sized, most);
    const better: Sized[] = [];
    const stepM = this.survey.forbidden.mesh.cellM;
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
        await this.breathe(0.7 + (0.3 * i) / leaders.length, 'Moving the best sites about');
        if (best === from) break;
      }
      better.push(best);
      this.options.onSites?.(this.ranked([...better, ...leaders.slice(i + 1)]));
    }
    return [...better, ...sized.filter((each) => !leaders.includes(each))];
  }

  private scoreOf(sized: Sized, reachableM3: number): number {
    return scoreOf(scoreParts(sized.scored, reachableM3), this.weights);
  }

  /** The best of some sites that lie apart from one another, best first. */
  private apart(sized: readonly Sized[], reachableM3: number): Sized[] {
    const order = [...sized].sort(
      (a, b) => this.scoreOf(b, reachableM3) - this.scoreOf(a, reachableM3),
    );
    const kept: Sized[] = [];
    for (const each of order) {
      if (kept.length >= (this.input.maxSites ?? sitingDefaults.maxSites)) break;
      if (kept.every((other) => areApart(each, other))) kept.push(each);
    }
    return kept;
  }

  ranked(sized: readonly Sized[]): CandidateSite[] {
    const most = reachable(sized);
    return this.apart(sized, most).map((each, i) => this.site(each, i + 1, most));
  }

  private site(sized: Sized, rank: number, reachableM3: number): CandidateSite {
    const { scored, outline } = sized;
    const parts = scoreParts(scored, reachableM3);
    const runOffM3 = this.input.runOffDepthM * sized.catchesM2;
    const { infiltrationMPerS } = this.input;
    return {
      rank,
      at: sized.at,
      rim: sized.rim,
      form: outline.form,
      aspect: outline.aspect,
      turn_rad: outline.turnRad,
      area_m2: sized.areaM2,
      wanted_m2: sized.wantedM2,
      ponding_depth_m: classDepthM[sized.depth],
      depth_class: sized.depth,
      slope: scored.slopeRatio,
      catches_m2: sized.catchesM2,
      by_itself_m2: sized.byItselfM2,
      led: sized.led,
      bowl_m3: scored.bowlM3,
      cut_m3: scored.cutM3,
      captured_m3: scored.capturedM3,
      captured_fraction: runOffM3 > 0 ? scored.capturedM3 / runOffM3 : 0,
      drain_down_h:
        infiltrationMPerS === undefined || infiltrationMPerS <= 0
          ? null
          : classDepthM[sized.depth] / infiltrationMPerS / 3600,
      score: scoreOf(parts, this.weights),
      parts,
      setbacks: sized.setbacks,
    };
  }

  /** Why there are no sites, with the rules that bind most. */
  nowhere(): SitingNote {
    const { lotM2, allowedM2, refused } = this.survey.forbidden;
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
      .map(([id]) => refused.find(({ rule }) => rule === id)?.title ?? id);
    const most = onRims.length > 0 ? `${onRims.join(', ')} (on the rims that were tried)` : list;
    return {
      code: 'does-not-fit',
      text: `The rules leave ${percent(allowedM2 / lotM2)}, but no basin of ${this.survey.minAreaM2.toFixed(1)} m² or more fits there. What binds most: ${most}.`,
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

function radiusOf({ areaM2 }: Glimpse): number {
  return Math.sqrt(areaM2 / Math.PI);
}

function reachable(sized: readonly Sized[]): number {
  return Math.max(0, ...sized.map((each) => each.scored.capturedM3));
}

function areApart(a: Sized, b: Sized): boolean {
  const gapM = Math.hypot(a.at[0] - b.at[0], a.at[1] - b.at[1]);
  return gapM >= apartM && separation(a.around, b.around).distanceM > 0;
}

function percent(share: number): string {
  return `${Math.round(100 * share)} % of the lot`;
}
