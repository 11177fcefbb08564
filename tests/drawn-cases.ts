import fc from 'fast-check';

/**
 * Cases that tests draw are the same in every run, so that a change is judged by what it changed. Others are drawn
 * with another seed: `LOTFALL_SEED=7 npx vitest run --project lib tests/property`.
 */
fc.configureGlobal({ seed: Number(process.env.LOTFALL_SEED ?? 1) });
