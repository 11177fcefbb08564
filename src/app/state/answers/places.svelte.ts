import { proxy } from 'comlink';
import type { LngLat } from '../../../../lib/frame/frame';
import type { Plan, Settings } from '../../../../lib/plan/schema';
import { bestApart } from '../../../../lib/siting/sizing/rank-sites';
import { readWeights, scoreOf } from '../../../../lib/siting/sizing/score';
import { sitingDefaults } from '../../../../lib/siting/sizing/siting-input';
import type { PlacesTerms } from '../../worker/analysis-api';
import type { AskedPlace, FoundPlace, PlacesPicture } from '../../worker/places-picture';
import { Answer } from '../tasks/answer.svelte';
import type { GroundQuestion, GroundTasks } from '../tasks/ground-tasks';
import { settingsThatDiffer } from './settings-that-differ';

/** Settings that change nothing about which places comply and what they catch. */
const notOfPlaces: readonly string[] = ['site_weights', 'name', 'units', 'prices'];

function isOfPlaces(setting: string): boolean {
  return !notOfPlaces.includes(setting);
}

/** Places for a basin: those found on the lot, and the one asked about. */
export class Places {
  readonly #ground: GroundTasks;
  readonly #found = new Answer<GroundQuestion, PlacesPicture>();
  readonly #asked = new Answer<GroundQuestion, AskedPlace>();
  /** The best so far of the search that is going on, and the plan it goes on in. */
  #soFar = $state.raw<{ readonly plan: Plan; readonly picture: PlacesPicture } | null>(null);

  constructor(ground: GroundTasks) {
    this.#ground = ground;
  }

  /** What was found, or is the best so far. */
  get found(): PlacesPicture | null {
    return this.#soFar?.picture ?? this.#found.value;
  }

  /** What the place asked about answers. */
  get asked(): AskedPlace | null {
    return this.#asked.current;
  }

  /** Looks over the whole lot for places that keep every rule; the best so far are shown meanwhile. */
  find(plan: Plan, terms: PlacesTerms): void {
    this.#ground.ask(
      'places',
      'Looking for places',
      this.#found,
      this.#ground.on(plan),
      async (call) => {
        let isOver = false;
        const onPlaces = proxy((picture: PlacesPicture) => {
          // What is told late must not take the place of the whole answer.
          if (!isOver) this.#soFar = { plan, picture };
        });
        try {
          return await call.worker.places(call.task, call.asked, terms, call.onProgress, onPlaces);
        } finally {
          isOver = true;
          this.#soFar = null;
        }
      },
    );
  }

  /** The places found, ranked by the weights of some settings; no new search is made for other weights. */
  ranked({ site_weights }: Settings): FoundPlace[] {
    const { candidates } = this.found ?? { candidates: [] };
    const { weights } = readWeights(site_weights);
    const scores = candidates.map(({ site }) => scoreOf(site.parts, weights));
    const best = bestApart(
      candidates.map(({ site }) => site),
      scores,
      sitingDefaults.maxSites,
    );
    return best.map((i, rank) => ({
      ...candidates[i],
      site: { ...candidates[i].site, rank: rank + 1, score: scores[i] },
    }));
  }

  /** Asks why a basin can lie at a place, or why not. */
  ask(plan: Plan, terms: PlacesTerms, at: LngLat): void {
    this.#ground.ask(
      'ask place',
      'Looking at the place',
      this.#asked,
      this.#ground.on(plan),
      (call) => call.worker.askPlace(call.task, call.asked, terms, at, call.onProgress),
    );
  }

  /** Takes what the place asked about answers off the sheet. */
  dismiss(): void {
    this.#asked.forget();
  }

  /** Whether the places on the sheet were looked for in another plan: other rules, ground or storm. */
  isStale(plan: Plan): boolean {
    const of = this.#soFar?.plan ?? this.#found.of?.plan;
    if (of === undefined) return false;
    return of.features !== plan.features || settingsThatDiffer(of, plan).some(isOfPlaces);
  }

  /** Takes all off the sheet: the ground or the plan is another. */
  forget(): void {
    this.#found.forget();
    this.#asked.forget();
    this.#soFar = null;
  }
}
