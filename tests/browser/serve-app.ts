import { existsSync } from 'node:fs';
import type { TestProject } from 'vitest/node';
import { build, preview } from 'vite';

declare module 'vitest' {
  interface ProvidedContext {
    /** Address of the built app. */
    address: string;
  }
}

/** Serves the built app, with the headers it is served with, for all browser tests. */
export default async function serveApp(project: TestProject): Promise<() => Promise<void>> {
  if (!existsSync('dist/app/index.html')) await build({ logLevel: 'warn' });
  const server = await preview({ preview: { port: 0, strictPort: false }, logLevel: 'warn' });
  const address = server.resolvedUrls?.local[0];
  if (address === undefined) throw new Error('The preview server has no address');
  project.provide('address', address);
  return () => server.close();
}
