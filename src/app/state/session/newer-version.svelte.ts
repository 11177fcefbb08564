import { WORKER_FILE } from '../../offline/worker-file';

/** What is needed of a browser that can keep the page. */
export type PageKeeping = Pick<
  ServiceWorkerContainer,
  'register' | 'controller' | 'addEventListener'
>;

/** Asked again at most so often whether there is a newer version, ms. A choice. */
const asksAfterMs = 3_600_000;

/**
 * Has the browser keep a copy of the page, and says when a newer version has come. It is used only when the user says
 * so: work is never interrupted.
 */
export class NewerVersion {
  /** Whether a newer version waits and has not been put off. */
  isReady = $state(false);

  readonly #keeping: PageKeeping | undefined;
  readonly #reload: () => void;
  #waiting: ServiceWorker | null = null;
  #isTaken = false;
  #askedAtMs = 0;
  #ask: (() => Promise<unknown>) | null = null;

  /**
   * @param keeping - `navigator.serviceWorker`; undefined where the browser has none, or the page is not built.
   * @param reload - opens the page anew.
   */
  constructor(keeping: PageKeeping | undefined, reload: () => void) {
    this.#keeping = keeping;
    this.#reload = reload;
  }

  async start(): Promise<void> {
    const keeping = this.#keeping;
    if (keeping === undefined) return;
    keeping.addEventListener('controllerchange', () => {
      // On a first visit the copy begins to serve as well: nothing is newer then.
      if (this.#isTaken) this.#reload();
    });
    let registration: ServiceWorkerRegistration | undefined;
    try {
      registration = await keeping.register(WORKER_FILE);
    } catch {
      // Private windows and full disks refuse: the page works all the same, with a network.
      return;
    }
    if (registration === undefined) return;
    const found = registration;
    this.#ask = () => found.update();
    this.#askedAtMs = Date.now();
    if (found.waiting !== null) this.#found(found.waiting);
    found.addEventListener('updatefound', () => {
      const coming = found.installing;
      coming?.addEventListener('statechange', () => {
        if (coming.state === 'installed') this.#found(coming);
      });
    });
  }

  /** The page is looked at again: whether there is a newer version is asked now and then. */
  lookedAt(): void {
    if (this.#ask === null || Date.now() - this.#askedAtMs < asksAfterMs) return;
    this.#askedAtMs = Date.now();
    // Without a network there is no newer version.
    this.#ask().catch(() => undefined);
  }

  /** The user takes the newer version; the page opens anew with it. What is to be kept must be kept before. */
  use(): void {
    this.#isTaken = true;
    this.#waiting?.postMessage('use it');
  }

  putOff(): void {
    this.isReady = false;
  }

  #found(worker: ServiceWorker): void {
    // What the first visit fetches is not newer than anything.
    if (this.#keeping === undefined || this.#keeping.controller === null) return;
    this.#waiting = worker;
    this.isReady = true;
  }
}
