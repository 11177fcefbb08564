/** What the page's build adds: the worker that keeps a copy, the page's policy in the page itself, and headers. */
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import type { ServerResponse } from 'node:http';
import { join, relative, resolve, sep } from 'node:path';
import type { Plugin } from 'vite';
import { BUILD_MARK } from './build-mark.js';
import { WORKER_FILE } from './worker-file.js';

/**
 * A plugin that builds `service-worker.ts` beside the page and tells it the files of the build.
 *
 * @param policy - the content security policy, which goes into the page too: not every host sends headers.
 */
export function offlineBuild(policy: string): Plugin {
  let folder = '';
  return {
    name: 'lotfall-offline',
    apply: (_, { mode, command }) => mode !== 'library' && (command === 'build' || mode !== 'test'),
    configResolved({ root, build }) {
      folder = resolve(root, build.outDir);
    },
    buildStart() {
      if (this.environment.mode !== 'build') return;
      this.emitFile({
        type: 'chunk',
        id: new URL('./service-worker.ts', import.meta.url).pathname,
        fileName: WORKER_FILE,
      });
    },
    transformIndexHtml: {
      order: 'post',
      handler: (_, { server }) =>
        server === undefined
          ? [
              {
                tag: 'meta',
                attrs: { 'http-equiv': 'Content-Security-Policy', content: policy },
                injectTo: 'head-prepend',
              },
            ]
          : [],
    },
    // Not in `closeBundle`, which comes after a build that failed too and would hide why.
    writeBundle() {
      const path = join(folder, WORKER_FILE);
      const code = readFileSync(path, 'utf8');
      const build = JSON.stringify(builtFiles(folder));
      const marked = new RegExp(`(["'\`])${BUILD_MARK}\\1`);
      if (!marked.test(code)) throw new Error(`${WORKER_FILE} has no place for the files`);
      writeFileSync(
        path,
        code.replace(marked, () => JSON.stringify(build)),
      );
    },
    configurePreviewServer({ middlewares }) {
      middlewares.use(({ url }, response, next) => {
        // Whatever else is served is asked for again each time, which costs a line where nothing has changed.
        if (url?.startsWith('/assets/') === true) keepForGood(response);
        next();
      });
    },
  };
}

/** Names in `assets/` change with what is in them: who has one need not ask again. */
function keepForGood(response: ServerResponse): void {
  const write = response.writeHead.bind(response);
  response.writeHead = (status: number, ...rest: []) => {
    if (status === 200) response.setHeader('Cache-Control', 'public, max-age=31536000, immutable');
    return write(status, ...rest);
  };
}

/** All that a build wrote, with the page itself as what it is asked for by. */
function builtFiles(folder: string): { version: string; files: string[] } {
  const hash = createHash('sha256');
  const files = readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).split(sep).join('/'))
    .filter((file) => file !== WORKER_FILE && !file.endsWith('.map'))
    .sort();
  for (const file of files) hash.update(file).update(readFileSync(join(folder, file)));
  return {
    version: hash.digest('hex').slice(0, 16),
    files: files.map((file) => (file === 'index.html' ? './' : file)),
  };
}
