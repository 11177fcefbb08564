import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

const guide = readFileSync('DEVELOPERS.md', 'utf8');

/** Folders below some that hold code, but for those named. */
function foldersBelow(top: string): string[] {
  return readdirSync(top, { withFileTypes: true }).flatMap((entry) =>
    entry.isDirectory() ? [join(top, entry.name), ...foldersBelow(join(top, entry.name))] : [],
  );
}

/** The folders of the tree in the guide, each with its purpose. */
function foldersInGuide(): Map<string, string> {
  const [, block] = guide.split('```');
  const found = new Map<string, string>();
  const above: string[] = [];
  for (const line of block.split('\n')) {
    const match = /^( *)([\w./-]+)\/ +(\S.*)$/.exec(line);
    if (match === null) continue;
    const depth = match[1].length / 2;
    above.length = depth;
    above.push(match[2]);
    found.set(above.join('/'), match[3]);
  }
  return found;
}

describe('the guide', () => {
  it('gives every folder of lib and src a purpose, and names none that is not there', () => {
    const named = foldersInGuide();
    for (const folder of [...foldersBelow('lib'), ...foldersBelow('src')]) {
      expect(named.has(folder), `${folder} stands in DEVELOPERS.md`).toBe(true);
    }
    for (const folder of named.keys()) expect(existsSync(folder), folder).toBe(true);
  });

  it('names only files that are there', () => {
    const files = ['lib', 'src', 'tests', 'fixtures', 'public'].flatMap((top) =>
      [top, ...foldersBelow(top)].flatMap((folder) =>
        readdirSync(folder).map((file) => `/${join(folder, file)}`),
      ),
    );
    const named = [
      ...guide.matchAll(/`([\w./-]*\/)?([\w-]+(?:\.[\w-]+)*\.(?:ts|svelte|js|json))`/g),
    ];
    expect(named.length).toBeGreaterThan(30);
    for (const [whole, folder = '', name] of named) {
      // what is built, not kept
      if (['index.js', 'index.d.ts', 'command.js'].includes(name)) continue;
      const isThere =
        existsSync(`${folder}${name}`) || files.some((file) => file.endsWith(`/${folder}${name}`));
      expect(isThere, whole).toBe(true);
    }
  });
});
