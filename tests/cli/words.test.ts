import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { demoElevation, featureOf, readDemoPlan, save, tempFolder } from './inputs';
import { documentOf, lotfalls, namesIn } from './run-lotfall';

const at = tempFolder();

/** Words of the workshop. People say pipe or drain, and that it rains. */
const workshop = /conduit|pour(s|ed|ing)?\b|fill-spill/i;

function wordsOf(value: unknown): string[] {
  if (typeof value === 'string') return [value];
  if (typeof value !== 'object' || value === null) return [];
  return Object.values(value).flatMap(wordsOf);
}

it('calls pipes and drains what they are in the documents of the commands', async () => {
  const plan = readDemoPlan();
  const [[corner]] = featureOf(plan, 'basin').geometry.coordinates as [[unknown]];
  plan.features.push({
    ...{ id: 'yard-drain', type: 'Feature' },
    properties: { kind: 'yard-drain', outlet: 'storm-sewer' },
    geometry: { type: 'Point', coordinates: corner },
  });
  const call = [save(at('drained.geojson'), plan), '-e', demoElevation, '--json'];
  const runs = await lotfalls(['drainage', ...call], ['design', ...call], ['setbacks', ...call]);
  const documents = runs.map(documentOf);
  for (const document of documents) {
    const words = [...namesIn(document), ...wordsOf(document)];
    expect(words.filter((word) => workshop.test(word))).toEqual([]);
  }
  const { drains } = documents[0] as { drains: { id: string }[] };
  expect(drains.map(({ id }) => id)).toEqual(['yard-drain']);
});

it.each(['README.md', 'DEVELOPERS.md'])('does so in %s, names of files apart', (name) => {
  const text = readFileSync(new URL(`../../${name}`, import.meta.url), 'utf8');
  expect(
    text
      .replace(/`[^`]*`/g, '')
      .split('\n')
      .filter((line) => workshop.test(line)),
  ).toEqual([]);
});
