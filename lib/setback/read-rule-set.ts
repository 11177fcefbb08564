import { InputError } from '../errors';
import { jsonFault } from '../plan/json-fault';
import { parseRuleSet, type RuleSet, type RuleSetInput } from './rule';

/** A rule set from a file: its document, as it is kept in a plan, and what it says. */
export interface RuleSetRead {
  readonly document: RuleSetInput;
  readonly set: RuleSet;
}

/**
 * Reads a rule set from the text of a file.
 *
 * @param fileName - how the user knows the file; begins every message.
 * @throws {InputError} `rule-set-not-json`, or as `parseRuleSet` does.
 */
export function readRuleSet(text: string, fileName: string): RuleSetRead {
  const json = text.startsWith('\uFEFF') ? text.slice(1) : text;
  let document: unknown;
  try {
    document = JSON.parse(json);
  } catch (cause) {
    const at = jsonFault(json);
    throw new InputError(
      {
        code: 'rule-set-not-json',
        where: at === undefined ? fileName : `${fileName}, line ${at.line}, column ${at.column}`,
        problem:
          json.trim() === '' ? 'the file is empty' : `not JSON: expected ${at?.expected ?? 'JSON'}`,
        remedy:
          'correct that place in a text editor; rule-set.schema.json helps editors to check it',
      },
      { cause },
    );
  }
  const set = parseRuleSet(document, fileName);
  // What has been parsed is what the schema takes.
  return { document: document as RuleSetInput, set };
}
