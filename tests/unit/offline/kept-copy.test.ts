import { beforeEach, describe, expect, it } from 'vitest';
import { answerFromCopy, forgetOldCopies, keepCopy } from '../../../src/app/offline/kept-copy';

const scope = 'https://example.org/lotfall/';

/** A browser's stores, with a network that has so many files. */
class Stores {
  readonly all = new Map<string, Map<string, string>>();
  readonly asked: [string, string][] = [];
  missing = '';

  open(name: string): Promise<Cache> {
    const kept = this.all.get(name) ?? new Map<string, string>();
    this.all.set(name, kept);
    const cache = {
      addAll: (requests: Request[]) => {
        if (requests.some(({ url }) => url.endsWith(this.missing) && this.missing !== '')) {
          return Promise.reject(new Error('404'));
        }
        for (const { url, cache: how } of requests) {
          this.asked.push([url, how]);
          kept.set(url, `${name}: ${url}`);
        }
        return Promise.resolve();
      },
    };
    return Promise.resolve(cache as unknown as Cache);
  }

  keys(): Promise<string[]> {
    return Promise.resolve([...this.all.keys()]);
  }

  delete(name: string): Promise<boolean> {
    return Promise.resolve(this.all.delete(name));
  }

  match(url: string): Promise<Response | undefined> {
    for (const kept of this.all.values()) {
      const body = kept.get(url);
      if (body !== undefined) return Promise.resolve(new Response(body));
    }
    return Promise.resolve(undefined);
  }
}

let stores: Stores;
let place: { caches: CacheStorage; scope: string };
beforeEach(() => {
  stores = new Stores();
  place = { caches: stores as unknown as CacheStorage, scope };
});

const build = (version: string, ...files: string[]) => ({ version, files });
const ask = async (path: string, init?: RequestInit) =>
  (await answerFromCopy(place, new Request(new URL(path, scope), init)))?.text();

describe('the copy of a build', () => {
  it('holds every file; those whose name changes with them come from what the browser has', async () => {
    await keepCopy(place, build('1', './', 'assets/a-1.js'));
    expect(stores.asked).toEqual([
      [scope, 'no-cache'],
      [`${scope}assets/a-1.js`, 'default'],
    ]);
    expect(await ask('./?from=home#top')).toBe(`lotfall 1: ${scope}`);
    expect(await ask('assets/a-1.js')).toBe(`lotfall 1: ${scope}assets/a-1.js`);
  });

  it('is not made where a file is missing', async () => {
    stores.missing = 'a-1.js';
    await expect(keepCopy(place, build('1', './', 'assets/a-1.js'))).rejects.toThrow('404');
    expect(await ask('./')).toBeUndefined();
  });

  it('answers nothing that is sent, asked for in part, elsewhere or not there', async () => {
    await keepCopy(place, build('1', './', 'assets/a-1.js'));
    expect(await ask('./', { method: 'POST' })).toBeUndefined();
    expect(await ask('./', { headers: { range: 'bytes=0-9' } })).toBeUndefined();
    expect(await ask('https://tiles.example.org/0/0/0.png')).toBeUndefined();
    expect(await ask('../other/')).toBeUndefined();
    expect(await ask('assets/none.js')).toBeUndefined();
  });

  it('of the build before stays for pages that still run it; older ones and no others go', async () => {
    stores.all.set('of another page', new Map());
    for (const version of ['1', '2', '3']) {
      await keepCopy(place, build(version, './', `assets/a-${version}.js`));
    }
    await forgetOldCopies(place, build('3', './'));
    expect(await stores.keys()).toEqual(['of another page', 'lotfall 2', 'lotfall 3']);
    expect(await ask('assets/a-2.js')).toBeDefined();
    expect(await ask('assets/a-1.js')).toBeUndefined();
  });
});
