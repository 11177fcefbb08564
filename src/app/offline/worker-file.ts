/** The worker's file, beside the page. */
export const WORKER_FILE = 'offline.js';
