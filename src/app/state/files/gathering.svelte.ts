import { InputError } from '../../../../lib/errors';
import type { FoundLayer } from '../../../../lib/gather/found-layer';
import type { ColumnUses, Role } from '../../../../lib/gather/guess-columns';
import type { KindUse } from '../../../../lib/gather/guess-kind';
import type { Gathered, GatheredLayer, GatherOptions } from '../../../../lib/gather/into-plan';
import type { PlacedSystem } from '../../../../lib/gather/system-of';
import { usualCloseM, usualNearM } from '../../../../lib/gather/usual-answers';
import { planOutline } from '../../../../lib/plan/plan-area';
import type { Plan, PlanFeature } from '../../../../lib/plan/schema';
import type * as gatherParts from './gather-parts';
import { purposeOf, withSides, type FileWithSides } from './given-files';
import type { Files } from './files.svelte';
import type { PlanStore } from '../plan/plan-store.svelte';
import type { Session } from '../session/session.svelte';

/** A layer that was found, and what is to become of it. */
export interface LayerChoice {
  readonly id: number;
  readonly layer: FoundLayer;
  /** Null where it is left out. */
  readonly use: KindUse | null;
  readonly why: string;
  readonly columns: ColumnUses;
}

/** What is answered for all layers. */
export interface GatherAnswers {
  /** How near the lot lies what is taken, metres; null for all. */
  readonly nearM: number | null;
  /** Whether lines whose ends meet become outlines. */
  readonly closes: boolean;
  readonly system: PlacedSystem | null;
  /** Whether systems on an older datum are taken as they stand. */
  readonly asWritten: boolean;
  /** Metres for one unit where a layer does not say; null where nobody has said. */
  readonly unitM: number | null;
}

const usualAnswers: GatherAnswers = {
  nearM: usualNearM,
  closes: false,
  system: null,
  asWritten: false,
  unitM: null,
};

/** What would become of the layers in a plan. */
interface Trial {
  readonly plan: Plan;
  readonly outcomes: ReadonlyMap<number, GatheredLayer>;
  readonly change: Gathered['change'];
  readonly refusal: string | null;
}

/** Brings files of others into the plan: what was found in them, what is to become of it, what came of it. */
export type Gathering = Readonly<GatheringStore>;

export class GatheringStore {
  choices = $state.raw<readonly LayerChoice[]>([]);
  answers = $state.raw<GatherAnswers>(usualAnswers);
  /** What is to be known of the files that were read, a sentence each. */
  notes = $state.raw<readonly string[]>([]);
  /** Why a file could not be read, a sentence each. */
  faults = $state.raw<readonly string[]>([]);
  /** Name of the file that is being read. */
  reading = $state<string | null>(null);
  #trial = $state.raw<Trial | null>(null);
  #added = $state.raw<Trial | null>(null);

  readonly #store: PlanStore;
  readonly #session: Session;
  readonly #files: Pick<Files, 'openPlan' | 'openElevation' | 'followLot'>;
  /** Counts what is begun and what is tried: what comes late is let be. */
  #visit = 0;
  #tries = 0;
  #nextId = 0;

  constructor(
    store: PlanStore,
    session: Session,
    files: Pick<Files, 'openPlan' | 'openElevation' | 'followLot'>,
  ) {
    this.#store = store;
    this.#session = session;
    this.#files = files;
  }

  get isOpen(): boolean {
    return this.reading !== null || this.choices.length > 0 || this.faults.length > 0;
  }

  /** Whether what was found is in the plan; no longer once that is undone. */
  get isAdded(): boolean {
    const first = this.#added?.change?.puts?.[0];
    return first !== undefined && this.#store.feature(first.id) !== undefined;
  }

  /** The plan for which it was worked out what would come in. */
  get triedOn(): Plan | null {
    return this.#trial?.plan ?? null;
  }

  /** What would come in, or came in; nothing before it has been worked out. */
  get features(): readonly PlanFeature[] {
    return this.#shown?.change?.puts ?? [];
  }

  /** Why the plan cannot take all that would come in, as a sentence. */
  get refusal(): string | null {
    return this.#shown?.refusal ?? null;
  }

  /** What would become, or became, of a layer; null of one that is left out. */
  outcome({ id }: LayerChoice): GatheredLayer | null {
    return this.#shown?.outcomes.get(id) ?? null;
  }

  get #shown(): Trial | null {
    return this.isAdded ? this.#added : this.#trial;
  }

  /** Takes files as they are given: plans and elevations are opened, all else is looked through for layers. */
  async take(given: readonly File[]): Promise<void> {
    const purposes = await Promise.all(given.map(purposeOf));
    const files = (purpose: (typeof purposes)[number]): File[] =>
      given.filter((_, i) => purposes[i] === purpose);
    const plan = files('plan').at(-1);
    const elevation = files('elevation').at(-1);
    const layers = files('layers');
    if (layers.length > 0) {
      this.#session.open('here');
      this.#session.pullUp(true);
    }
    if (plan !== undefined) await this.#files.openPlan(plan);
    if (elevation !== undefined) {
      await this.#files.openElevation({ name: elevation.name, blob: elevation });
    }
    if (layers.length > 0) await this.#read(layers);
  }

  /** Says what a layer becomes, by a word such as `utility:gas`; null leaves it out. */
  async choose(id: number, word: string | null): Promise<void> {
    const { useOf } = await parts();
    const use = word === null ? null : useOf(word);
    if (typeof use === 'string') throw new Error(`No kind to choose: ${use}`);
    this.#change(id, { use, why: 'as chosen' });
    await this.#try();
  }

  /** Says which column of a layer holds something; null for none. */
  async useColumn(id: number, role: Role, column: string | null): Promise<void> {
    const { columnUse } = await parts();
    const before = this.choices.find((each) => each.id === id)?.columns ?? {};
    const columns = {
      ...before,
      [role]: column === null ? undefined : columnUse(column),
    };
    this.#change(id, { columns });
    await this.#try();
  }

  async answer(answers: Partial<GatherAnswers>): Promise<void> {
    this.answers = { ...this.answers, ...answers };
    await this.#try();
  }

  /**
   * Names the system of layers that do not say theirs, as `EPSG:26916` or `26916`; nothing takes it back. What is no
   * known code is told in a sentence, and what was named before stays.
   */
  async nameSystem(text: string): Promise<void> {
    const { codeIn, systemOfCode } = await parts();
    const code = codeIn(text) ?? (/^\s*\d{4,6}\s*$/.test(text) ? Number(text) : null);
    try {
      if (code === null && text.trim() !== '') {
        throw new InputError({
          code: 'gather-system',
          where: 'coordinate system',
          problem: `'${text.trim()}' is no code of a system`,
          remedy: 'write it as EPSG:26916',
        });
      }
      const system = code === null ? null : await systemOfCode(code, `EPSG:${code}`);
      this.#session.closeComplaint();
      await this.answer({ system });
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      this.#session.complain(error.message);
    }
  }

  /** Works out anew what would come in where the plan has changed. */
  async followPlan(): Promise<void> {
    if (this.isAdded || this.choices.length === 0) return;
    if (this.triedOn !== this.#store.plan) await this.#try();
  }

  /** Adds everything that comes in by one change. */
  async add(): Promise<void> {
    if (this.isAdded) return;
    await this.#try();
    const trial = this.#trial;
    if (trial === null || trial.change === null || trial.plan !== this.#store.plan) return;
    this.#added = trial;
    this.#store.commit(trial.change);
    await this.#files.followLot();
  }

  /** Lets go of what was found. */
  close(): void {
    this.#visit++;
    this.#tries++;
    this.choices = [];
    this.answers = usualAnswers;
    this.notes = [];
    this.faults = [];
    this.reading = null;
    this.#trial = null;
    this.#added = null;
  }

  async #read(given: readonly File[]): Promise<void> {
    if (this.isAdded) this.close();
    const visit = this.#visit;
    this.faults = [];
    for (const item of withSides(given)) {
      this.reading = item.file.name;
      try {
        const { layers, notes } = await foundIn(item);
        if (visit !== this.#visit) return;
        this.choices = [
          ...this.choices,
          ...layers.map((each) => ({ id: ++this.#nextId, ...each })),
        ];
        this.notes = [...this.notes, ...notes];
      } catch (error) {
        if (visit !== this.#visit) return;
        if (!(error instanceof InputError)) {
          this.reading = null;
          throw error;
        }
        this.faults = [...this.faults, error.message];
      }
    }
    await this.#try();
    if (visit === this.#visit) this.reading = null;
  }

  #change(id: number, change: Partial<LayerChoice>): void {
    this.choices = this.choices.map((each) => (each.id === id ? { ...each, ...change } : each));
  }

  /** Works out what would come in as things are chosen now. */
  async #try(): Promise<void> {
    const mine = ++this.#tries;
    const { plan } = this.#store;
    const chosen = this.choices.flatMap(({ id, layer, use, columns }) =>
      use === null ? [] : [{ id, layer, use, columns }],
    );
    const { intoPlan } = await parts();
    const { change, layers, refusal } = await intoPlan(plan, chosen, this.#options(plan));
    if (mine !== this.#tries) return;
    const outcomes = new Map(layers.map((layer, i) => [chosen[i].id, layer]));
    this.#trial = { plan, outcomes, change, refusal: refusal?.message ?? null };
  }

  #options(plan: Plan): GatherOptions {
    const { nearM, closes, system, asWritten, unitM } = this.answers;
    // On an empty sheet nothing is near anything.
    const isNear = nearM !== null && planOutline(plan) !== null;
    return {
      ...(isNear ? { nearM } : {}),
      ...(closes ? { closeM: usualCloseM } : {}),
      ...(system === null ? {} : { system }),
      ...(unitM === null ? {} : { unitM }),
      asWritten,
    };
  }
}

/** Fetched with the first file, so that the page does not wait for it. */
function parts(): Promise<typeof gatherParts> {
  return import('./gather-parts');
}

interface FoundIn {
  readonly layers: readonly Omit<LayerChoice, 'id'>[];
  readonly notes: readonly string[];
}

async function foundIn({ file, beside }: FileWithSides): Promise<FoundIn> {
  const { expectSize, guessColumns, guessKind, readFound } = await parts();
  expectSize(file.name, file.size);
  const sides = new Map<string, Uint8Array>();
  for (const [ending, side] of beside) sides.set(ending, await bytesOf(side));
  const { layers, notes } = await readFound({
    name: file.name,
    bytes: await bytesOf(file),
    beside: sides,
  });
  return {
    layers: layers.map((layer) => ({
      layer,
      ...guessKind(layer),
      columns: guessColumns(layer.columns),
    })),
    notes,
  };
}

async function bytesOf(file: File): Promise<Uint8Array> {
  try {
    return new Uint8Array(await file.arrayBuffer());
  } catch (error) {
    throw new InputError(
      {
        code: 'file-not-read',
        where: file.name,
        problem: 'it cannot be read',
        remedy: 'check that it is still there, and choose it again',
      },
      { cause: error },
    );
  }
}
