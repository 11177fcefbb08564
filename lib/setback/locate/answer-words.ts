import type { AnswerState, ClearLocate, LocateParty, ServiceAnswer } from './locates';
import { isAnswered, locateParties } from './locates';

const who: Readonly<Record<LocateParty, string>> = {
  public: 'the public notice service',
  private: 'a private locator',
};

/** Answers that say the same about several services. */
interface AnswerGroup {
  readonly by: LocateParty;
  readonly state: AnswerState;
  readonly record: ClearLocate | undefined;
  readonly services: readonly ServiceAnswer['service'][];
}

/** Answers with those put together that rest on the same, in their order. */
function grouped(answers: readonly ServiceAnswer[]): AnswerGroup[] {
  const groups: (AnswerGroup & { services: ServiceAnswer['service'][] })[] = [];
  for (const { by, state, record, service } of answers) {
    const group = groups.find(
      (each) => each.by === by && each.state === state && each.record === record,
    );
    if (group === undefined) groups.push({ by, state, record, services: [service] });
    else group.services.push(service);
  }
  return groups;
}

/** What answers on record say where all that are expected count: who states what clear, and when. */
export function clearWords(answers: readonly ServiceAnswer[]): string {
  const groups = grouped(answers);
  const clear = groups.flatMap(({ by, record, services }) =>
    record === undefined
      ? []
      : [
          `stated clear by ${who[by]} on ${record.on}${referenceOf(record)}: ${listed(services, answers)}`,
        ],
  );
  const marked = groups.flatMap(({ by, state, services }) =>
    state === 'marked' ? [`marked by ${who[by]} and drawn: ${listed(services, answers)}`] : [],
  );
  return sentenceOf([...clear, ...marked]);
}

/** The same for one party's answers in a locate request, a line for each, with those that are lacking first. */
export function answerLines(answers: readonly ServiceAnswer[]): string[] {
  const groups = grouped(answers);
  const open = groups.filter(({ state }) => state !== 'clear' && state !== 'marked');
  const clear = groups.filter(({ state }) => state === 'clear');
  return [
    ...open.map(
      ({ state, record, services }) =>
        `about ${listed(services, answers)}: ${reasonOf(state, record)}`,
    ),
    ...clear.flatMap(({ record, services }) =>
      record === undefined
        ? []
        : [
            `stated clear on ${record.on}${referenceOf(record)}, until ${record.until}: ${listed(services, answers)}`,
          ],
    ),
  ];
}

/** What is to be asked of whom, where an answer is lacking. */
export function requestWords(answers: readonly ServiceAnswer[]): string {
  const parties = locateParties.flatMap((by) => {
    const groups = grouped(answers.filter((each) => each.by === by && !isAnswered(each)));
    if (groups.length === 0) return [];
    const abouts = groups.map(
      ({ state, record, services }) => `${listed(services, answers)} (${reasonOf(state, record)})`,
    );
    const side = by === 'private' ? ', on the owner’s side,' : '';
    return [`ask ${who[by]}${side} about ${abouts.join(' and about ')}`];
  });
  return sentenceOf(parties);
}

/** Why an answer does not count. */
function reasonOf(state: AnswerState, record: ClearLocate | undefined): string {
  const answer = record === undefined ? '' : `the answer of ${record.on}${referenceOf(record)}`;
  switch (state) {
    case 'elsewhere':
      return `${answer} is about other ground than is to be dug`;
    case 'no-ground':
      return `${answer} does not say about which ground`;
    case 'expired':
      return `${answer} ran out on ${record?.until ?? ''}`;
    case 'not-yet':
      return `${answer} is dated later`;
    case 'dates-in-doubt':
      return `${answer}, until ${record?.until ?? ''}, has dates more than a year off, check them`;
    case 'marked':
    case 'clear':
      return 'on record';
    case 'none':
      return 'no answer on record';
  }
}

/** Services in words; all that are expected are 'every service'. */
function listed(
  services: readonly ServiceAnswer['service'][],
  answers: readonly ServiceAnswer[],
): string {
  const expected = new Set(answers.map(({ service }) => service)).size;
  if (services.length === expected && expected > 1) return 'every service';
  const words = services.map((service) => service.replaceAll('-', ' '));
  return words.length < 2
    ? words.join('')
    : `${words.slice(0, -1).join(', ')} and ${words[words.length - 1]}`;
}

function referenceOf({ reference }: ClearLocate): string {
  return reference === undefined ? '' : ` (${reference})`;
}

function sentenceOf(parts: readonly string[]): string {
  const text = parts.join('; ');
  return text === '' ? '' : `${text[0].toUpperCase()}${text.slice(1)}.`;
}
