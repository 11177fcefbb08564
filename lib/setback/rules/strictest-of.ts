import { asksAsMuch } from './asks-as-much';
import { type Rule, type RuleSetInput } from './rule';
import { parseRuleSet } from './read-rule-set';

type RuleDocument = RuleSetInput['rules'][number];

/**
 * The rules that together ask as much as every one of some sets: all of them but those that another makes idle by asking
 * no less of the same, as bindingly. In the order in which the sets first name their ids.
 *
 * @param beside - rules that are in none of the sets.
 */
export function strictestOf(
  sets: readonly RuleSetInput[],
  beside: readonly RuleDocument[],
): RuleDocument[] {
  const ofNone = { id: 'beside', title: 'Beside', jurisdiction: 'No place in particular' };
  const all = [{ ...ofNone, rules: [...beside] }, ...sets].flatMap((set) => {
    const { rules } = parseRuleSet(set, set.id);
    return set.rules.map((document, i) => ({ document, set: set.id, rule: rules[i] }));
  });
  const isIdle = (rule: Rule, at: number): boolean =>
    all.some(
      (each, i) =>
        i !== at && asksAsMuch(each.rule, rule) && (i < at || !asksAsMuch(rule, each.rule)),
    );
  const kept = all.filter(({ rule }, i) => !isIdle(rule, i));
  const ids = [...new Set([...sets.flatMap(({ rules }) => rules), ...beside].map(({ id }) => id))];
  kept.sort((a, b) => ids.indexOf(a.document.id) - ids.indexOf(b.document.id));
  const takenIds = new Set<string>();
  const takenLetters = new Set<string>();
  return kept.map(({ document, set }) => {
    const id = takenIds.has(document.id) ? `${document.id}-${set}` : document.id;
    const letter = [document.letter, ...lettersAfter(document.letter)].find(
      (each) => !takenLetters.has(each),
    );
    const named = { ...document, id, letter: letter ?? document.letter };
    takenIds.add(named.id);
    takenLetters.add(named.letter);
    return named;
  });
}

/** Pairs of letters that begin as a letter does. */
function lettersAfter(letter: string): string[] {
  return Array.from({ length: 26 }, (_, i) => `${letter[0]}${String.fromCharCode(65 + i)}`);
}
