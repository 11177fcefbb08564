/** Stands in the worker until the build puts its files there. */
export const BUILD_MARK = '@files-of-this-build@';
