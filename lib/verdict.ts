/** How something stands to what is asked of it: `check` where it cannot be judged or hangs on a closer look. */
export type Verdict = 'pass' | 'check' | 'fail';
