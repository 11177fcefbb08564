import * as v from 'valibot';
import { InputError } from '../../errors';
import { jsonFault } from '../../plan/json-fault';
import { contradiction } from './contradiction';
import { ruleSetDocument, type RuleSet, type RuleSetInput } from './rule';
import { ruleSetFault } from './rule-set-fault';

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

/**
 * Reads a rule set from parsed JSON.
 *
 * @param where - the file's name, for the message.
 * @throws {InputError} `rule-set-invalid`, naming the first place that does not fit and what was expected there;
 *   `rule-set-contradictory` where every value fits but the rules cannot be meant so together.
 */
export function parseRuleSet(input: unknown, where: string): RuleSet {
  // The schema library takes a list for an object without members.
  if (Array.isArray(input)) {
    throw new InputError({
      code: 'rule-set-invalid',
      where,
      problem: 'expected an object with id, title, jurisdiction and rules, but it is a list',
      remedy: 'put the rules in such an object',
    });
  }
  const result = v.safeParse(ruleSetDocument, input, { abortEarly: true });
  if (!result.success) throw ruleSetFault(result.issues[0], input, where);
  const against = contradiction(result.output);
  if (against === undefined) return result.output;
  throw new InputError({
    code: 'rule-set-contradictory',
    where: `${where}, ${against.where}`,
    problem: against.problem,
    remedy: against.remedy,
  });
}
