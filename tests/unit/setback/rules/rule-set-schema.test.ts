import { toJsonSchema } from '@valibot/to-json-schema';
import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { ruleSetDocument } from '../../../../lib/setback/rules/rule';

const file = fileURLToPath(new URL('../../../../public/rule-set.schema.json', import.meta.url));

/** The schema of rule-set documents as editors read it, made from the one that the program reads them by. */
function published(): object {
  return {
    $schema: 'http://json-schema.org/draft-07/schema#',
    title: 'Lotfall rule set',
    description:
      'Setback rules for a rain garden as data. Lengths in metres, slopes as rise over run, each figure with its words as published and its source.',
    ...toJsonSchema(ruleSetDocument, { typeMode: 'input', errorMode: 'ignore' }),
  };
}

describe('public/rule-set.schema.json', () => {
  it('says what the program accepts (REGEN=1 writes it anew)', () => {
    if (process.env['REGEN'] === '1') {
      writeFileSync(file, `${JSON.stringify(published(), null, 2)}\n`);
    }
    expect(JSON.parse(readFileSync(file, 'utf8'))).toEqual(published());
  });
});
