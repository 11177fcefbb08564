import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { usage } from '../usage';

/** The files that a command is called with. */
export interface PlanFiles {
  readonly paths: readonly string[];
  /** Whether several were named, or a pattern that may fit several: the answer is then a list, however many fit. */
  readonly many: boolean;
}

/**
 * The files that words of the call name, each once: paths as they are, patterns (`*`, `?`, `**`, `[ab]`, `{a,b}`) by
 * the files that they fit, in the order of their names. A shell may have unfolded a pattern already; a quoted one
 * comes here.
 *
 * @throws {InputError} `usage` when nothing is named, or a pattern fits no file.
 */
export function planFiles(words: readonly string[]): PlanFiles {
  if (words.length === 0)
    throw usage('no plan is named', 'give the path of a plan (*.plan.geojson)');
  let many = words.length > 1;
  const paths = words.flatMap((word) => {
    // A name that holds such signs and exists is a name.
    if (!/[*?[{]/.test(word) || existsSync(word)) return [word];
    many = true;
    const found = fitting(word);
    if (found.length === 0) {
      throw usage(`no file fits '${word}'`, 'check the folder and the ending that it names');
    }
    return found;
  });
  return { paths: [...new Set(paths)], many };
}

function fitting(pattern: string): string[] {
  const parts = pattern.split('/');
  const root = parts[0] === '' ? '/' : '';
  return walk(root, root === '' ? parts : parts.slice(1)).sort();
}

/** Files below a folder that the rest of a pattern fits. */
function walk(folder: string, parts: readonly string[]): string[] {
  const [part, ...rest] = parts;
  const last = rest.length === 0;
  if (part === '**') {
    const below = entriesOf(folder).filter(({ isFolder, name }) => isFolder && !hidden(name));
    return [
      ...(last ? [] : walk(folder, rest)),
      ...below.flatMap(({ name }) => walk(join(folder, name), parts)),
    ];
  }
  if (!/[*?[{]/.test(part)) {
    const path = join(folder, part);
    if (!last) return walk(path, rest);
    return existsSync(path) ? [path] : [];
  }
  const fits = asExpression(part);
  return entriesOf(folder)
    .filter(({ name, isFolder }) => fits.test(name) && isFolder !== last)
    .filter(({ name }) => !hidden(name) || part.startsWith('.'))
    .flatMap(({ name }) => {
      const path = join(folder, name);
      return last ? [path] : walk(path, rest);
    });
}

function hidden(name: string): boolean {
  return name.startsWith('.');
}

function entriesOf(folder: string): { name: string; isFolder: boolean }[] {
  try {
    return readdirSync(folder === '' ? '.' : folder, { withFileTypes: true }).map((entry) => ({
      name: entry.name,
      isFolder: entry.isDirectory(),
    }));
  } catch {
    // A folder that is not there or may not be read holds nothing that fits.
    return [];
  }
}

/** One part of a pattern, between slashes, as a regular expression for names. */
function asExpression(part: string): RegExp {
  let depth = 0;
  const source = part.replace(/\[[^\]]+\]|./g, (sign) => {
    if (sign.length > 1) return sign.replace(/^\[!/, '[^').replace(/\\/g, '\\\\');
    if (sign === '*') return '.*';
    if (sign === '?') return '.';
    if (sign === '{') {
      depth++;
      return '(?:';
    }
    if (sign === '}' && depth > 0) {
      depth--;
      return ')';
    }
    if (sign === ',' && depth > 0) return '|';
    return sign.replace(/[.+^$()|[\]\\{}]/, '\\$&');
  });
  return new RegExp(`^${source}${')'.repeat(depth)}$`, 'u');
}
