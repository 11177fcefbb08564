/** What reads files that were given and makes a change of them: fetched with the first of them. */
export { columnUse, guessColumns } from '../../../../lib/gather/guess-columns';
export { guessKind, useOf } from '../../../../lib/gather/guess-kind';
export { intoPlan } from '../../../../lib/gather/into-plan';
export { expectSize, readFound } from '../../../../lib/gather/read-found';
export { codeIn, systemOfCode } from '../../../../lib/gather/system-of';
