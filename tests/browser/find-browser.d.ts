/** The browser to test in, or null when there is none. */
export function findBrowser(): string | null;
/** Like `findBrowser`, and installs Chromium where none is found. */
export function findOrInstallBrowser(): string | null;
/** What to tell a person where no browser could be had. */
export const noBrowser: string;
