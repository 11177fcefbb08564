import { proxy, type Remote } from 'comlink';
import type { LngLat } from '../../../lib/frame/frame';
import type { Plan, Settings } from '../../../lib/plan/schema';
import { bestApart } from '../../../lib/siting/rank-sites';
import { readWeights, scoreOf } from '../../../lib/siting/score';
import { sitingDefaults } from '../../../lib/siting/siting-input';
import type { AnalysisApi, PlacesQuestion } from '../worker/analysis-api';
import type { AskedPlace, FoundPlace, PlacesPicture } from '../worker/places-picture';
import { settingsThatDiffer } from './settings-that-differ';
import type { Tasks } from './tasks.svelte';

/** Settings that change nothing about which places comply and what they catch. */
const notOfPlaces: readonly string[] = ['site_weights', 'name', 'units', 'prices'];

function isOfPlaces(setting: string): boolean {
  return !notOfPlaces.includes(setting);
}

/** Places for a basin: those found on the lot, and the one asked about. */
export class Places {
  found = $state.raw<PlacesPicture | null>(null);
  asked = $state.raw<AskedPlace | null>(null);

  readonly #worker: Remote<AnalysisApi>;
  readonly #tasks: Tasks;
  #of = $state.raw<Plan | null>(null);
  /** Task that looks for places. */
  #searching: number | null = null;

  constructor(worker: Remote<AnalysisApi>, tasks: Tasks) {
    this.#worker = worker;
    this.#tasks = tasks;
  }

  /** Looks over the whole lot for places that keep every rule; the best so far are shown meanwhile. */
  find(question: PlacesQuestion): void {
    this.#tasks.latest('places', async () => {
      const before = this.found;
      const places = await this.#tasks.run('Looking for places', (task, onProgress) => {
        this.#searching = task;
        return this.#worker.places(
          task,
          question,
          onProgress,
          proxy((soFar: PlacesPicture) => {
            // What is told late must not take the place of the whole answer.
            if (this.#searching === task) this.found = soFar;
          }),
        );
      });
      this.#searching = null;
      this.found = places ?? before;
      if (places !== null) this.#of = question.plan;
    });
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
  ask(question: PlacesQuestion, at: LngLat): void {
    this.#tasks.latest('ask place', async () => {
      this.asked = await this.#tasks.run('Looking at the place', (task, onProgress) =>
        this.#worker.askPlace(task, question, at, onProgress),
      );
    });
  }

  /** Whether the places on the sheet were looked for in another plan: other rules, ground or storm. */
  isStale(plan: Plan): boolean {
    const of = this.#of;
    if (this.found === null || of === null) return false;
    return of.features !== plan.features || settingsThatDiffer(of, plan).some(isOfPlaces);
  }

  /** Takes all off the sheet: the ground is another. */
  forget(): void {
    this.found = null;
    this.asked = null;
  }
}
