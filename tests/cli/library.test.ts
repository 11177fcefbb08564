import { execFile } from 'node:child_process';
import { mkdir, readFile, rm, writeFile } from 'node:fs/promises';
import { promisify } from 'node:util';
import { expect, it } from 'vitest';

const run = promisify(execFile);

it("runs the README's example of the library as it stands there", async () => {
  const readme = await readFile('README.md', 'utf8');
  const example = /```js\n([\s\S]*?)```/.exec(readme)?.[1] ?? '';
  expect(example).toContain("from 'lotfall'");
  // The built module is what a reader gets; it is built afresh so that it is not that of older sources.
  await run('npx', ['vite', 'build', '--mode', 'library', '--logLevel', 'error']);
  await mkdir('dist', { recursive: true });
  await writeFile('dist/readme-example.mjs', example);
  const { stdout } = await run('node', ['dist/readme-example.mjs']);
  await rm('dist/readme-example.mjs');
  const lines = stdout.trim().split('\n');
  expect(lines.length).toBeGreaterThan(3);
  for (const line of lines) expect(line).toMatch(/^\d+\.\d m3, \d+ cm deep$/);
}, 120_000);
