import { execFile } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect } from 'vitest';
import { main } from '../../src/cli/main';

const program = fileURLToPath(new URL('../../src/cli/lotfall.js', import.meta.url));

/** What a run of the command leaves. */
export interface Run {
  readonly status: number;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs the command in this process, where what it needs is loaded once for a whole file of tests. */
export async function lotfall(...args: readonly string[]): Promise<Run> {
  let stdout = '';
  let stderr = '';
  const status = await main(args, {
    print: (text) => (stdout += text),
    fault: (text) => (stderr += text),
    progress: () => undefined,
    done: () => undefined,
  });
  return { status, stdout, stderr };
}

/** Runs the command as a user does, in a process of its own. */
export function lotfallProcess(...args: readonly string[]): Promise<Run> {
  return new Promise((resolve) => {
    execFile(
      process.execPath,
      [program, ...args],
      { maxBuffer: 64 * 1024 * 1024 },
      (error, stdout, stderr) => {
        resolve({ status: error === null ? 0 : Number(error.code), stdout, stderr });
      },
    );
  });
}

/** Runs several at once and keeps their order. */
export function lotfalls(...calls: readonly (readonly string[])[]): Promise<Run[]> {
  return Promise.all(calls.map((args) => lotfall(...args)));
}

/**
 * One run told both ways: its document, and its words from the file that they are written to beside it.
 *
 * @param file - ends in .txt; what it holds is what the call prints without `--json`.
 */
export async function lotfallBoth(
  file: string,
  ...call: readonly string[]
): Promise<{ readonly json: Run; readonly words: Run }> {
  const json = await lotfall(...call, '--json', '--out', file);
  return { json, words: { ...json, stdout: readFileSync(file, 'utf8') } };
}

/** Asserts a refusal: status 2, nothing on standard output, one sentence that holds all the given parts. */
export function expectRefused(run: Run, ...parts: readonly (string | RegExp)[]): void {
  expect(run).toMatchObject({ status: 2, stdout: '' });
  expect(run.stderr.trimEnd()).toMatch(/^[^\n]+: [^\n]+; [^\n]+[^.]\.$/);
  for (const part of parts) expect(run.stderr).toMatch(part);
}

/** The one JSON document that a run printed. */
export function documentOf({ stdout, stderr }: Run): unknown {
  expect(stderr).toBe('');
  return JSON.parse(stdout);
}

/** Every number of a document, with the path to it. */
export function numbersIn(value: unknown, path = ''): [string, number][] {
  if (typeof value === 'number') return [[path, value]];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, part]) => numbersIn(part, `${path}.${key}`));
}

/** Every name of a member in a document. */
export function namesIn(value: unknown): Set<string> {
  const names = new Set<string>();
  const visit = (part: unknown): void => {
    if (typeof part !== 'object' || part === null) return;
    for (const [key, inner] of Object.entries(part)) {
      if (!Array.isArray(part)) names.add(key);
      visit(inner);
    }
  };
  visit(value);
  return names;
}
