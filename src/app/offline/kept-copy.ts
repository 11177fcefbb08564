/** What a build consists of, as its worker carries it. */
export interface BuiltFiles {
  /** Tells builds apart: equal only where every file is. */
  readonly version: string;
  /** Relative to the page. */
  readonly files: readonly string[];
}

/** What a copy needs of the browser. */
export interface CopyPlace {
  readonly caches: Pick<CacheStorage, 'open' | 'keys' | 'delete' | 'match'>;
  /** Where the page lies. */
  readonly scope: string;
}

const PREFIX = 'lotfall ';

/**
 * Fetches every file of a build into a store of its own. Nothing is kept where one cannot be had.
 *
 * Names in `assets/` change with what is in them, so a copy that the browser already holds is as good; others are asked
 * for anew.
 */
export async function keepCopy({ caches, scope }: CopyPlace, build: BuiltFiles): Promise<void> {
  const cache = await caches.open(PREFIX + build.version);
  await cache.addAll(
    build.files.map(
      (file) =>
        new Request(new URL(file, scope), {
          cache: file.startsWith('assets/') ? 'default' : 'no-cache',
        }),
    ),
  );
}

/**
 * Forgets copies of builds that no page can still be running: all but this one and the one before it, from which pages
 * that are open in other tabs go on fetching their parts.
 */
export async function forgetOldCopies({ caches }: CopyPlace, build: BuiltFiles): Promise<void> {
  const others = (await caches.keys()).filter(
    (name) => name.startsWith(PREFIX) && name !== PREFIX + build.version,
  );
  await Promise.all(others.slice(0, -1).map((name) => caches.delete(name)));
}

/**
 * The kept answer to a request, `undefined` where it has to go to the network: what is not the page's own, what is
 * asked for in part, and what no kept build has.
 */
export async function answerFromCopy(
  { caches, scope }: CopyPlace,
  request: Pick<Request, 'method' | 'url' | 'headers'>,
): Promise<Response | undefined> {
  if (request.method !== 'GET' || request.headers.has('range')) return undefined;
  const url = new URL(request.url);
  url.search = '';
  url.hash = '';
  if (!url.href.startsWith(scope)) return undefined;
  return caches.match(url.href, { ignoreVary: true });
}
